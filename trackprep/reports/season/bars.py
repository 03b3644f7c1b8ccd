"""A season as bars of characters: plain ASCII, or the block characters of a terminal."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from trackprep.backends.statuses import Status
from trackprep.dates.spans import MONTHS
from trackprep.reports.season.words import Piece, Row

ASCII: dict[Status, str] = {"met": "=", "unsettled": "?", "not-met": "X", "not-asked": "."}
BLOCKS: dict[Status, str] = {"met": "━", "unsettled": "▒", "not-met": "█", "not-asked": "·"}
_WORST_LAST: tuple[Status, ...] = ("not-asked", "met", "unsettled", "not-met")
ROOM = 6
"""Columns that a month's name takes, or a year's."""
MANY = 24
"""Months of more than a season or two: years count then."""
MOST_COLUMNS = 92
"""A bar that is longer says no more."""


def bar_lines(
    rows: Iterable[Row], first: date, last: date, columns: int, signs: dict[Status, str]
) -> tuple[str, ...]:
    """A ruler of months, the rows with their names above, and what the signs mean."""
    days = (last - first).days + 1
    length = max(1, min(columns, MOST_COLUMNS, days))
    lines = [_ruler(first, last, length)]
    for row in rows:
        lines += [row.label if row.event else f"- {row.label}", _bar(row.pieces, first, days,
                                                                     length, signs)]  # fmt: skip
    meaning = (
        f"{signs['met']} ready, met", f"{signs['unsettled']} incomplete, unsettled",
        f"{signs['not-met']} not ready, not met", f"{signs['not-asked']} not asked",
    )  # fmt: skip
    return (*lines, "   ".join(meaning))


def _bar(
    pieces: Sequence[Piece], first: date, days: int, length: int, signs: dict[Status, str]
) -> str:
    """A column for some days in a row, with the worst of them: no bad day is lost."""
    states = [
        piece.state
        for piece in pieces
        for _ in range((piece.span.last - piece.span.first).days + 1)
    ]
    columns = (
        states[place * days // length : max((place + 1) * days // length, 1)]
        for place in range(length)
    )
    return "".join(signs[max(column, key=_WORST_LAST.index)] for column in columns)


def _ruler(first: date, last: date, length: int) -> str:
    """The months that have room, each from the column of its first day on."""
    days, line = (last - first).days + 1, ""
    starts = months(first, last)
    for month in named_months(starts, room=length, each=ROOM):
        place = max((month - first).days, 0) * length // days
        name = month_name(month, starts)
        if place >= len(line) and place + len(name) < length:
            line = f"{line.ljust(place)}|{name}"
    return line or "|"


def named_months(starts: Sequence[date], *, room: float, each: float) -> list[date]:
    """Those of the months that are named where each name takes so much of the room.

    Of few months all; of more, every second or third from January on; of many, Januaries.
    """
    step = next((step for step in (1, 2, 3, 6) if step * room >= each * len(starts)), 12)
    return [month for month in starts if (month.month - 1) % step == 0]


def months(first: date, last: date) -> list[date]:
    """The first days of the months of a season; of the month it begins in too."""
    found, month = [], first.replace(day=1)
    while month <= last:
        found.append(month)
        month = (month + timedelta(days=31)).replace(day=1)
    return found


def month_name(month: date, starts: Sequence[date]) -> str:
    """`Mar`; a January says its year, unless it is the first of a short season."""
    if month.month == 1 and (month > starts[0] or len(starts) > MANY):
        return str(month.year)
    return MONTHS[month.month - 1][:3]
