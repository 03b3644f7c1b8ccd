"""The script of the page: the back end that answers, and the form around it."""

from functools import cache
from pathlib import Path

from trackprep.backends.page import pieces

_FILES = (
    "elements", "amounts", "days", "declaration", "questions", "work", "ahead", "pressures",
)  # fmt: skip


@cache
def form_script() -> str:
    """All of it in one frame, so that the page sees no name of it."""
    return f'(() => {{\n"use strict";\n{form_pieces()}}})();\n'


@cache
def form_pieces() -> str:
    """All of it without a frame, the back end first."""
    folder = Path(__file__).parent
    own = (folder.joinpath(f"{name}.js").read_text(encoding="utf-8") for name in _FILES)
    return "\n".join((pieces(), *own))
