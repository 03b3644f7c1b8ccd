"""Calendar arithmetic: months that keep the day of the month, or take its last."""

from datetime import date, timedelta

_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def add_months(day: date, months: int) -> date:
    """The same day of the month so many months on, or that month's last day.

    29 February and 12 months is 28 February.

    Raises:
        OverflowError: The year would not be one of 1 to 9999.
    """
    year, month = month_on(day, months)
    if not date.min.year <= year <= date.max.year:
        raise OverflowError(f"{months} months from {day} is out of range")
    return date(year, month, min(day.day, month_length(year, month)))


def add(day: date, *, months: int = 0, days: int = 0) -> date:
    """The day so many months on, then so many days on."""
    return add_months(day, months) + timedelta(days=days)


def subtract(day: date, *, months: int = 0, days: int = 0) -> date:
    """The day so many months back, then so many days back."""
    return add(day, months=-months, days=-days)


def month_on(day: date, months: int) -> tuple[int, int]:
    """The year and the month so many months on; the year may be no calendar's."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return year, month + 1


def month_length(year: int, month: int) -> int:
    """How many days the month has, in the Gregorian calendar carried on to any year."""
    # The standard library's `calendar` imports `locale`: a millisecond of every start.
    if month == 2 and year % 4 == 0 and (year % 100 != 0 or year % 400 == 0):
        return 29
    return _LENGTHS[month - 1]
