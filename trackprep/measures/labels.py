"""The date that a maker prints on a label: `06/2021`, `Jun 2021`, `2021-06`."""

import re
from datetime import date

from trackprep.dates import Span, long_form, span_of
from trackprep.dates.spans import MONTHS

_MONTH_AND_YEAR = re.compile(r"([0-9]{1,2}) ?[/.-] ?([0-9]{4})")
_YEAR_AND_MONTH = re.compile(r"([0-9]{4}) ?[/.] ?([0-9]{1,2})")
_TWO_AND_TWO = re.compile(r"([0-9]{1,2}) ?[/.-] ?([0-9]{2})")
_SPELLED = re.compile(r"([A-Za-z]{3,9})\.?[ ,/-]*([0-9]{4})")


def span_on_label(text: str) -> Span:
    """The days that a label's date may mean; mostly those of a month.

    Raises:
        ValueError: One sentence for the writer: what is wrong, and what to write.
    """
    text = " ".join(text.split())
    if found := _MONTH_AND_YEAR.fullmatch(text):
        return _month(text, found[2], int(found[1]))
    if found := _YEAR_AND_MONTH.fullmatch(text):
        return _month(text, found[1], int(found[2]))
    if found := _SPELLED.fullmatch(text):
        name = found[1].lower()
        near = [place for place, month in enumerate(MONTHS, 1) if month.lower().startswith(name)]
        if name == "sept":
            near = [9]
        if len(near) != 1:
            raise ValueError(f"`{text}` names no month: write it like `2021-06` or `Jun 2021`")
        return _month(text, found[2], near[0])
    if found := _TWO_AND_TWO.fullmatch(text):
        raise ValueError(_two_readings(text, int(found[1]), int(found[2])))
    return span_of(text)


def _month(text: str, year: str, month: int) -> Span:
    if not 1 <= month <= 12:
        raise ValueError(f"`{text}` has no month from 1 to 12: write it like `2021-06`")
    return span_of(f"{year}-{month:02}")


def _two_readings(text: str, one: int, other: int) -> str:
    """The sentence about two numbers of two digits, with each date that they may be."""
    said: list[tuple[str, str]] = []
    for month, year in ((one, other), (other, one)):
        if 1 <= month <= 12:
            span = span_of(f"20{year:02}-{month:02}")
            said.append((long_form(span), f"`20{year:02}-{month:02}`"))
    said = list(dict.fromkeys(said))
    for month, day in ((one, other), (other, one)):
        if len(said) == 1 and _is_day(month, day):
            said.append((f"{day} {MONTHS[month - 1]} of a year that is not told", ""))
    if not said:
        return f"`{text}` is no month and year: write it like `2021-06`"
    readings = " or ".join(reading for reading, _ in said)
    spellings = [spelling for _, spelling in said if spelling]
    if len(spellings) == 1:
        return f"`{text}` could be {readings}: write {spellings[0]} if it is {said[0][0]}"
    return f"`{text}` could be {readings}: write {' or '.join(spellings)}"


def _is_day(month: int, day: int) -> bool:
    try:
        date(2000, month, day)
    except ValueError:
        return False
    return True
