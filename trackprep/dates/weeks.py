"""Tyre week codes, by 49 CFR 574.5(b)(3)."""

from datetime import date, timedelta

from trackprep.dates.spans import Span


def week_code(text: str) -> Span:
    """The week that a tyre's date code `WWYY` names, in the year 20YY.

    By 49 CFR 574.5(b)(3) weeks run Sunday to Saturday and week 01 is the first full
    one, so it begins on the year's first Sunday; the last may end in the next year.

    Raises:
        ValueError: One sentence for the writer, for a code that names no week.
    """
    if not (len(text) == 4 and text.isascii() and text.isdigit()):
        raise ValueError(_why_no_week_code(text))
    week, year = int(text[:2]), 2000 + int(text[2:])
    sunday = _first_sunday(year) + timedelta(weeks=week - 1)
    if week == 0 or sunday.year > year:
        last = 53 if (_first_sunday(year) + timedelta(weeks=52)).year == year else 52
        raise ValueError(
            f"`{text}` is not a week code: {year} has weeks 01 to {last}; "
            "the first two digits are the week, the last two the year"
        )
    return Span(sunday, sunday + timedelta(days=6))


def week_code_on(day: date) -> str:
    """The code of a tyre made on `day`; it reads back only where its week is of 20YY."""
    sunday = day - timedelta(days=day.isoweekday() % 7)
    week = (sunday.timetuple().tm_yday - 1) // 7 + 1
    return f"{week:02}{sunday.year % 100:02}"


def _why_no_week_code(text: str) -> str:
    """The sentence about a text that does not have the form of a week code."""
    shown = text if len(text) <= 40 else text[:37] + "..."
    if len(text) == 3 and text.isascii() and text.isdigit():
        # 64 FR 36807 (8 July 1999) replaced three digits with four.
        return (
            f"`{text}` has three digits, as on tyres made before 2000, and does not say "
            "which decade: a week code here has four digits, such as `2319`"
        )
    return (
        f"`{shown}` is not a week code: write the last four digits after DOT on the "
        "sidewall, such as `2319` for week 23 of 2019"
    )


def _first_sunday(year: int) -> date:
    """The first Sunday of the year, on which its week 01 begins."""
    new_year = date(year, 1, 1)
    return new_year + timedelta(days=-new_year.isoweekday() % 7)
