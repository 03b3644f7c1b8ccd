"""Dates as far as they are known: a day, a month or a year, read and printed."""

import re
from datetime import date

from attrs import field

from trackprep.dates.arithmetic import add, month_length
from trackprep.frozen import frozen

FIRST_YEAR, LAST_YEAR = 1900, 2199
"""The years a file may name; our own choice, wide enough for any rider's birth."""

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July",
    "August", "September", "October", "November", "December",
)  # fmt: skip
_ISO = re.compile(r"([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?")
_UNPADDED = re.compile(r"([0-9]{4})-([0-9]{1,2})(?:-([0-9]{1,2}))?")
_YEAR_LAST = re.compile(r"([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4})")


@frozen
class Span:
    """The days from `first` to `last`, both included: some one of them is meant."""

    first: date
    last: date = field()

    @last.validator
    def _not_before_first(self, _attribute: object, last: date) -> None:
        if last < self.first:
            raise ValueError(f"a span from {self.first} cannot end on {last}")

    @classmethod
    def of_day(cls, day: date) -> "Span":
        """The span of one day."""
        return cls(day, day)

    @property
    def exact(self) -> bool:
        """Whether the day is known."""
        return self.first == self.last

    def shifted(self, *, months: int = 0, days: int = 0) -> "Span":
        """The span with the duration added to both ends; either may be negative."""
        return Span(
            add(self.first, months=months, days=days),
            add(self.last, months=months, days=days),
        )


def without_future(span: Span, event: date) -> Span | None:
    """The span's days up to the event, or None if all of it lies after."""
    if span.first > event:
        return None
    return Span(span.first, min(span.last, event))


def long_form(when: date | Span) -> str:
    """`4 March 2026`; of a span `April 2023`, `2023` or `9 to 15 June 2019`."""
    if isinstance(when, date):
        return f"{when.day} {MONTHS[when.month - 1]} {when.year}"
    first, last = when.first, when.last
    if first == last:
        return long_form(first)
    starts_month = first.day == 1
    ends_month = last.day == month_length(last.year, last.month)
    same_year = first.year == last.year
    same_month = same_year and first.month == last.month
    if same_year and (first.month, first.day, last.month, last.day) == (1, 1, 12, 31):
        return f"{first.year}"
    if same_month and starts_month and ends_month:
        return f"{MONTHS[first.month - 1]} {first.year}"
    start = long_form(first)
    if same_month:
        start = f"{first.day}"
    elif same_year:
        start = f"{first.day} {MONTHS[first.month - 1]}"
    return f"{start} to {long_form(last)}"


# Reading


def span_of(text: str) -> Span:
    """Read `2023-04-17`, `2023-04` or `2023` (ISO 8601 calendar dates).

    Raises:
        ValueError: One sentence for the writer: what is wrong, and what to write.
    """
    if not (found := _ISO.fullmatch(text)):
        raise ValueError(_why_no_date(text))
    year, month, day = (int(part) if part else None for part in found.groups())
    assert year is not None
    if fault := _impossible(year, month, day):
        raise ValueError(f"`{text}` is not a date: {fault}")
    if month is None:
        return Span(date(year, 1, 1), date(year, 12, 31))
    if day is None:
        return Span(date(year, month, 1), date(year, month, month_length(year, month)))
    return Span.of_day(date(year, month, day))


def _impossible(year: int, month: int | None, day: int | None) -> str | None:
    """Why these numbers are no date, or None if they are one."""
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return f"the year must lie from {FIRST_YEAR} to {LAST_YEAR}"
    if month is None:
        return None
    if not 1 <= month <= 12:
        return f"there is no month {month}; write the year, the month, then the day"
    length = month_length(year, month)
    if day is not None and not 1 <= day <= length:
        return f"{MONTHS[month - 1]} {year} has days 1 to {length}"
    return None


def _why_no_date(text: str) -> str:
    """The sentence about a text that does not have the form of a date."""
    shown = text if len(text) <= 40 else text[:37] + "..."
    readings: list[str] = []
    if found := _UNPADDED.fullmatch(text):
        year, *rest = (int(part) for part in found.groups() if part)
        readings = _readings(year, [rest])
    elif found := _YEAR_LAST.fullmatch(text):
        one, other, year = (int(part) for part in found.groups())
        readings = _readings(year, [[other, one], [one, other]])
    if len(readings) == 2:
        one_long, other_long = (long_form(span_of(reading)) for reading in readings)
        return (
            f"`{shown}` could be {one_long} or {other_long}: "
            f"write `{readings[0]}` or `{readings[1]}`"
        )
    if readings:
        return f"`{shown}` is not how a date is written here: write `{readings[0]}`"
    return (
        f"`{shown}` is not a date: write it like `2026-06-14`, "
        "or `2026-06` or `2026` when no more is known"
    )


def _readings(year: int, rests: list[list[int]]) -> list[str]:
    """The different possible dates among month and day pairs, as they should be written."""
    written = (
        "-".join([f"{year:04}", *(f"{part:02}" for part in rest)])
        for rest in rests
        if not _impossible(year, *[*rest, None][:2])
    )
    return list(dict.fromkeys(written))
