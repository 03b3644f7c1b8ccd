"""Pieces of text to lines of at most 100 columns, each knowing what of the source it holds."""

import re
from collections.abc import Iterable, Iterator, Sequence
from enum import Enum
from typing import NamedTuple

from attrs import define, field

WIDTH = 100
FIRST_HANG = 4
"""Where a line goes on that starts at the margin, or that is a clause of what does."""


class Joint(Enum):
    """What stands between a piece and the one before it: a space, or the end of a line.

    A clause that is too long for a line is parted at its `EACH`s and `OPEN`s; what is still
    too long, at its `INNER`s; and what is too long even then, at the last two.
    """

    TIED = "a space"
    EACH = "the end of a line unless the whole clause fits on one"
    OPEN = "the end of a line if need be"
    INNER = "the same within a part"
    LOOSE = "the same where nothing better is left"
    SPLIT = "as `LOOSE`, within prose: the string is closed before and opened again after"


_TIERS = ((Joint.EACH, Joint.OPEN), (Joint.INNER,), (Joint.LOOSE, Joint.SPLIT))


class Piece(NamedTuple):
    """A text that stays on one line, and where in the source it begins and ends, if known."""

    text: str
    joint: Joint = Joint.TIED
    start: int | None = None
    end: int | None = None


class Line(NamedTuple):
    """A printed line.

    Attributes:
        indent: Columns before it.
        text: What it says.
        start: Where in the source what it holds begins; None where that is not known.
        end: Where in the source it ends, as far as is known.
        continued: Whether it goes on with the clause of the line before.
        spaced: Whether the layout asks for a blank line above it.
    """

    indent: int
    text: str
    start: int | None
    end: int | None
    continued: bool = False
    spaced: bool = False


def quoted(text: str) -> str:
    """`text` as a string of the language."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


_SINGLE_SPACE = re.compile(r"(?<=[^ ]) (?=[^ ])")


def prose(text: str, joint: Joint = Joint.LOOSE) -> list[Piece]:
    """A string that may go on as another one, since adjacent strings join with one space."""
    first, *rest = _SINGLE_SPACE.split(quoted(text))
    return [Piece(first, joint), *(Piece(word, Joint.SPLIT) for word in rest)]


def joined(pieces: Iterable[Piece]) -> str:
    """The pieces on one line."""
    return " ".join(piece.text for piece in pieces)


def laid_out(pieces: Sequence[Piece], indent: int, end: int | None = None) -> list[Line]:
    """The lines of one clause; `end` is where it ends in the source, if known."""
    rows = _rows(pieces, indent)
    last = len(rows) - 1
    lines = []
    for number, row in enumerate(rows):
        opening = '"' if number and row[0].joint is Joint.SPLIT else ""
        closing = '"' if number < last and rows[number + 1][0].joint is Joint.SPLIT else ""
        ends = [piece.end for piece in row if piece.end is not None]
        if number == last and end is not None:
            ends.append(end)
        lines.append(
            Line(
                indent=hang(indent) if number else indent,
                text=opening + joined(row) + closing,
                start=next((piece.start for piece in row if piece.start is not None), None),
                end=max(ends, default=None),
                continued=number > 0,
            )
        )
    return lines


def hang(indent: int) -> int:
    """Where a clause that starts at `indent` goes on in the next line."""
    return FIRST_HANG if indent < FIRST_HANG else indent + 2


@define
class _Filling:
    """Pieces filled greedily into rows, what belongs together kept together if it fits."""

    first: int
    hang: int
    rows: list[list[Piece]] = field(init=False, factory=lambda: [[]])
    column: int = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.column = self.first - 1  # as if a space came before the first piece

    def fill(self, run: Sequence[Piece], tier: int = 0, closing: int = 0) -> None:
        """Puts a run in; `closing` columns are to be left behind it."""
        width = _width(run)
        if run[0].joint is Joint.EACH and self.rows[-1]:
            self._end_row(run[0])
        if tier and self.column + 1 + width + closing <= WIDTH:
            self._put(run, width)
        elif tier == len(_TIERS) or (tier and self.hang + width + closing <= WIDTH):
            if self.rows[-1]:
                self._end_row(run[0])
            self._put(run, width)
        else:
            parts = list(_parted(run, _TIERS[tier]))
            for number, part in enumerate(parts, 1):
                last = number == len(parts)
                behind = closing if last else parts[number][0].joint is Joint.SPLIT
                self.fill(part, tier + 1, behind)

    def _put(self, run: Sequence[Piece], width: int) -> None:
        self.rows[-1].extend(run)
        self.column += 1 + width

    def _end_row(self, following: Piece) -> None:
        self.rows.append([])
        opening = following.joint is Joint.SPLIT
        self.column = self.hang + opening - 1


def _rows(pieces: Sequence[Piece], indent: int) -> Sequence[Sequence[Piece]]:
    if indent + _width(pieces) <= WIDTH:
        return [pieces]
    filling = _Filling(indent, hang(indent))
    filling.fill(pieces)
    return filling.rows


def _parted(pieces: Sequence[Piece], joints: tuple[Joint, ...]) -> Iterator[list[Piece]]:
    """The pieces in runs, a new one at each of the `joints`."""
    run: list[Piece] = []
    for piece in pieces:
        if run and piece.joint in joints:
            yield run
            run = []
        run.append(piece)
    yield run


def _width(pieces: Sequence[Piece]) -> int:
    return sum(len(piece.text) for piece in pieces) + len(pieces) - 1
