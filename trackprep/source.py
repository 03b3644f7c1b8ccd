"""A text somebody wrote, and a place in it."""

import re
from bisect import bisect_right
from functools import cached_property

from attrs import field

from trackprep.frozen import frozen


@frozen(slots=False)
class Source:
    """A text with the name people know it by (usually a path)."""

    name: str
    text: str = field(repr=False)

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0, *(found.end() for found in re.finditer("\n", self.text))]

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column of `offset`, both counted from 1, in characters."""
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def line_text(self, line: int) -> str:
        """The text of `line` (from 1), without its line break."""
        start = self._line_starts[line - 1]
        end = self.text.find("\n", start)
        return self.text[start : len(self.text) if end < 0 else end].rstrip("\r")


@frozen
class Place:
    """A stretch of a source: from `start` up to, not including, `end` (offsets in characters)."""

    source: Source
    start: int
    end: int

    @property
    def line(self) -> int:
        """The line, from 1."""
        return self.source.position(self.start)[0]

    @property
    def column(self) -> int:
        """The column in characters, from 1."""
        return self.source.position(self.start)[1]

    @property
    def text(self) -> str:
        """What is written there."""
        return self.source.text[self.start : self.end]

    def __str__(self) -> str:
        return f"{self.source.name}:{self.line}:{self.column}"
