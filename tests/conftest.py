"""What tests of several modules stand on."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import BROWSER, NAMES
from hypothesis import settings
from processes import fill

# A busy machine is no failure; where CI is set, Hypothesis's own `ci` profile holds.
settings.register_profile("unhurried", deadline=None)
if settings.get_current_profile_name() == "default":
    settings.load_profile("unhurried")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a small ruleset, four riders, and `bin/trackprep`."""
    fill(tmp_path)
    return tmp_path


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    """A real browser of the system (`apt-get install chromium`); none is downloaded."""
    if BROWSER is None:
        pytest.skip(f"no browser: one of {', '.join(NAMES)}")
    sync_api = pytest.importorskip("playwright.sync_api")
    with sync_api.sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield started
        started.close()
