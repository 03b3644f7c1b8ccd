"""Prose as comments of a file."""

from collections.abc import Iterator
from textwrap import wrap

from trackprep.syntax.layout import WIDTH


def commented(*texts: str) -> Iterator[str]:
    """The texts as comments, no wider than the layout; an empty one parts two others."""
    for text in texts:
        yield from (f"# {line}".rstrip() for line in _lines(text) or [""])


def _lines(text: str) -> list[str]:
    return wrap(text, WIDTH - 2, break_long_words=False, break_on_hyphens=False)
