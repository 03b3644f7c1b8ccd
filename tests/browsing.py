"""A page of ours in a real browser: nothing but its file is asked for, and nothing is logged."""

import shutil
from pathlib import Path
from typing import Any

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER = next(filter(None, map(shutil.which, NAMES)), None)
PHONE, DESK, SHEET = 390, 1200, 720  # px; the last is A4 with its margins
SMALLEST_TARGET = 24  # px; WCAG 2.2, 2.5.8


def opened(browser: Any, file: Path, width: int = DESK, scheme: str = "light") -> Any:
    """The file in a window of that width; whatever the console says is a failure."""
    window = {"width": width, "height": 900}
    page = browser.new_context(viewport=window, color_scheme=scheme).new_page()
    page.on("console", lambda message: pytest.fail(f"the console says: {message.text}"))
    page.on("request", lambda asked: _only_the_file(asked.url))
    page.goto(file.as_uri())
    return page


def _only_the_file(address: str) -> None:
    if not address.startswith("file:"):
        pytest.fail(f"the page asks for {address}")
