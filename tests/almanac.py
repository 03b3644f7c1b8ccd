"""Days and ages the slow way: listed, counted and stepped one at a time."""

import calendar
from datetime import date, timedelta
from functools import cache


@cache
def add(day: date, count: int, unit: str) -> date:
    """The day so many days or months on, counted one month at a time."""
    if unit == "days":
        return day + timedelta(days=count)
    year, month = day.year, day.month
    for _ in range(abs(count)):
        month += 1 if count > 0 else -1
        if month == 13:
            year, month = year + 1, 1
        if month == 0:
            year, month = year - 1, 12
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


@cache
def days_of_year(year: int) -> tuple[date, ...]:
    return tuple(
        date(year, 1, 1) + timedelta(days=n) for n in range(366 if calendar.isleap(year) else 365)
    )


@cache
def days_of(text: str) -> tuple[date, ...]:
    """The days that `2023`, `2023-04` or `2023-04-17` may mean."""
    return tuple(day for day in days_of_year(int(text[:4])) if day.isoformat().startswith(text))


@cache
def days_of_code(code: str) -> tuple[date, ...]:
    """The days of a tyre's week code, by 49 CFR 574.5: weeks begin on a year's Sundays."""
    sundays = [
        day for day in days_of_year(2000 + int(code[2:])) if day.weekday() == calendar.SUNDAY
    ]
    first = sundays[int(code[:2]) - 1]
    return tuple(first + timedelta(days=n) for n in range(7))


def cut(day: date, grain: str) -> date:
    return {"day": day, "month": day.replace(day=1), "year": day.replace(month=1, day=1)}[grain]


@cache
def completed_years(born: date, on: date) -> int:
    years = on.year - born.year + 1
    while add(born, 12 * years, "months") > on:
        years -= 1
    return years
