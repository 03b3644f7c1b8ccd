"""Tyre week codes, by 49 CFR 574.5(b)(3)."""

from datetime import date, timedelta

from trackprep.dates.spans import Span, long_form

_FOUR_DIGITS = date(2000, 7, 2)
"""Since when a code must have four digits (from memory)."""


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


def three_digit_weeks(text: str) -> tuple[Span, ...]:
    """The weeks that a date code `WWY` of three digits may name, the earliest first.

    Tyres carried such codes from 1971 (from memory) until four digits replaced them (64 FR
    36807, 8 July 1999). None for a text of another form.
    """
    if not (len(text) == 3 and text.isascii() and text.isdigit()):
        return ()
    week = int(text[:2])
    years = [year for year in range(1971, 2001) if year % 10 == int(text[2])]
    return tuple(
        Span(sunday, sunday + timedelta(days=6))
        for year in years
        if (sunday := _first_sunday(year) + timedelta(weeks=week - 1)).year == year
        and week > 0
        and sunday < _FOUR_DIGITS
    )


def _why_no_week_code(text: str) -> str:
    """The sentence about a text that does not have the form of a week code."""
    shown = text if len(text) <= 40 else text[:37] + "..."
    if possible := three_digit_weeks(text):
        *most, last = map(long_form, possible)
        days = f"{', '.join(most)} or {last}" if most else last
        return (
            f"`{text}` has three digits, as on tyres made before 2000, and does not say "
            f"which decade: it may be {days}; a week code here has four digits, such as `2319`"
        )
    return (
        f"`{shown}` is not a week code: write the last four digits after DOT on the "
        "sidewall, such as `2319` for week 23 of 2019"
    )


def _first_sunday(year: int) -> date:
    """The first Sunday of the year, on which its week 01 begins."""
    new_year = date(year, 1, 1)
    return new_year + timedelta(days=-new_year.isoweekday() % 7)
