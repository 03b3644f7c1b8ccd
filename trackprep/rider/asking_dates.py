"""Dates as people write and say them, to the one form that a declaration has.

Nothing is guessed: where two dates may be meant, both are shown and the rider is asked again.
"""

import re
from collections.abc import Iterable, Iterator

from trackprep.dates import long_form, span_of
from trackprep.dates.spans import MONTHS

_NAMED = re.compile(r"(?:([0-9]{1,2})(?:st|nd|rd|th)?\s+(?:of\s+)?)?([a-z]{3,9})\.?,?\s+([0-9]{4})")
_MONTH_FIRST = re.compile(r"([a-z]{3,9})\.?\s+([0-9]{1,2})(?:st|nd|rd|th)?,?\s+([0-9]{4})")
_YEAR_FIRST = re.compile(r"([0-9]{4})[\s./-]+([0-9]{1,2})(?:[\s./-]+([0-9]{1,2}))?")
_YEAR_LAST = re.compile(r"(?:([0-9]{1,2})[\s./-]+)?([0-9]{1,2})[\s./-]+([0-9]{4})")
_SHORT = re.compile(r"([0-9]{1,2})[\s./-]+([0-9]{1,2})(?:[\s./-]+([0-9]{2}))?")
_SHORT_NAMED = re.compile(r"(?:([0-9]{1,2})\s+)?([a-z]{3,9})\.?\s+'?([0-9]{1,2})")


def written_date(text: str) -> str:
    """The ISO 8601 form of `Apr 2023`, `04/2023`, `17 April 2023` and the like.

    A text in no such form is given back as it is, for the reader of declarations to judge.

    Raises:
        ValueError: One sentence for the writer: it may be two dates, with both.
    """
    plain = " ".join(text.lower().split())
    full = list(dict.fromkeys(_full(plain)))
    readings = list(filter(_possible, full)) or full[:1]
    if len(readings) == 1:
        return readings[0]  # an impossible one too: the reader says why it is
    if readings:
        said = [long_form(span_of(reading)) for reading in readings]
        raise ValueError(
            f"`{text}` could be {_or(said)}: write {_or(f'`{words}`' for words in said)}"
        )
    if short := dict(_short(plain)):
        could = "could be" if len(short) > 1 else "does not say the century of"
        raise ValueError(
            f"`{text}` {could} {_or(short)}: write the year in full, {_or(short.values())}"
        )
    return text


def _or(texts: Iterable[str]) -> str:
    *most, last = texts
    return f"{', '.join(most)} or {last}" if most else last


def _full(plain: str) -> Iterator[str]:
    """The dates with a year of four digits that the text may be, in ISO form."""
    if (found := _NAMED.fullmatch(plain)) and (month := _month(found[2])):
        day, _, year = found.groups()
        yield _iso(year, month, day)
    elif (found := _MONTH_FIRST.fullmatch(plain)) and (month := _month(found[1])):
        _, day, year = found.groups()
        yield _iso(year, month, day)
    elif found := _YEAR_FIRST.fullmatch(plain):
        year, number, day = found.groups()
        yield _iso(year, int(number), day)
    elif found := _YEAR_LAST.fullmatch(plain):
        one, other, year = found.groups()
        yield _iso(year, int(other), one)
        if one:
            yield _iso(year, int(one), other)


def _short(plain: str) -> Iterator[tuple[str, str]]:
    """What a date without its century, or its year, may mean, and how to write that."""
    if (found := _SHORT_NAMED.fullmatch(plain)) and (month := _month(found[2])):
        day, _, last = found.groups()
        yield from _with_century(last, month, day)
        if not day:
            yield from _without_year(month, last)
    elif found := _SHORT.fullmatch(plain):
        one, other, last = found.groups()
        if last:
            for year, number, day in ((last, other, one), (last, one, other), (one, other, last)):
                yield from _with_century(year, int(number), day)
            return
        for number, year in ((one, other), (other, one)):
            yield from _with_century(year, int(number), None)
        for number, day in ((one, other), (other, one)):
            yield from _without_year(int(number), day)


def _with_century(year: str, month: int, day: str | None) -> Iterator[tuple[str, str]]:
    """The date in the year of two digits that riders most likely have to do with."""
    reading = _iso(f"{'20' if year < '50' else '19'}{year}", month, day)
    if len(year) == 2 and _possible(reading):
        said = long_form(span_of(reading))
        yield said, f"`{said}`"


def _without_year(month: int, day: str) -> Iterator[tuple[str, str]]:
    if _possible(_iso("2024", month, day)):  # a leap year has every day
        said = f"{int(day)} {MONTHS[month - 1]}"
        yield said, f"`{said}` and its year"


def _month(name: str) -> int:
    """The month's number by its name or the beginning of it; 0 of no month."""
    if name == "sept":
        return 9
    matching = [n for n, month in enumerate(MONTHS, 1) if month.lower() == name]
    short = [n for n, month in enumerate(MONTHS, 1) if month.lower()[:3] == name]
    return (matching or short or [0])[0]


def _iso(year: str, month: int, day: str | None) -> str:
    return f"{year}-{month:02}" + (f"-{int(day):02}" if day else "")


def _possible(iso: str) -> bool:
    try:
        span_of(iso)
    except ValueError:
        return False
    return True
