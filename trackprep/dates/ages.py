"""Calendar ages on a day, each comparison of them brought down to one boundary day.

That one day is enough because adding months never puts a later day before an earlier one.
"""

from datetime import date, timedelta
from typing import Literal

from trackprep.dates.arithmetic import add, add_months, month_length, month_on
from trackprep.dates.spans import Span
from trackprep.frozen import frozen

Comparison = Literal["at most", "less than", "at least", "more than"]
Grain = Literal["day", "month", "year"]


@frozen
class Boundary:
    """A test on a date: on or after `day` if `since`, before `day` if not."""

    day: date
    since: bool

    def holds(self, made: Span) -> bool | None:
        """Whether every day of `made` meets it (True), none does (False), or some (None)."""
        if made.first >= self.day:
            return self.since
        if made.last < self.day:
            return not self.since
        return None


def age_boundary(
    event: date,
    comparison: Comparison,
    *,
    months: int = 0,
    days: int = 0,
    grain: Grain = "day",
) -> Boundary:
    """The boundary on the date D for which `age of D is COMPARISON N` holds on `event`.

    With N so many months, or so many days, and E the event: `at most` is E <= D + N,
    `less than` E < D + N, `at least` E >= D + N, `more than` E > D + N. By `month` or
    `year` D and E are first cut to the first day of theirs. A boundary before the year
    1 is put at its start.

    Raises:
        ValueError: Both months and days; days by month or year; months that are not
            whole years by year.
    """
    if days and (months or grain != "day"):
        raise ValueError("an age limit in days has no months, and is compared by the day")
    if grain == "year" and months % 12:
        raise ValueError("an age compared by the year has a limit of whole years")
    # "at least" is where "less than" fails, "more than" where "at most" fails.
    reached = comparison in ("at most", "more than")
    since = comparison in ("at most", "less than")
    # D + N > E is D + N >= the next day, month or year.
    target = event if reached else _next(event, grain)
    try:
        day = _first_to_reach(_cut(target, grain), months) - timedelta(days=days)
    except (ValueError, OverflowError):
        day = date.min
    return Boundary(day, since)


def _next(day: date, grain: Grain) -> date:
    """The day after, or the same day of the next month or year."""
    return add(day, days=1) if grain == "day" else add(day, months=1 if grain == "month" else 12)


def _cut(day: date, grain: Grain) -> date:
    """The day itself, or the first of its month or year."""
    match grain:
        case "day":
            return day
        case "month":
            return day.replace(day=1)
        case "year":
            return day.replace(month=1, day=1)


def _first_to_reach(event: date, months: int) -> date:
    """The first D whose `add_months(D, months)` is `event` or later.

    Days of the month that lies `months` back come to the event's month with their own
    number or its last, so they reach the event from its own number on; where that month
    is too short to have it, the next month's first day is the first to do.
    """
    year, month = month_on(event, -months)
    if event.day <= month_length(year, month):
        return date(year, month, event.day)
    return date(year, month, month_length(year, month)) + timedelta(days=1)


def age_holds(
    made: Span,
    on: Span,
    comparison: Comparison,
    *,
    months: int = 0,
    days: int = 0,
    grain: Grain = "day",
) -> bool | None:
    """Whether the age comparison holds for every pair of days, for none, or for some."""
    first, last = (
        age_boundary(day, comparison, months=months, days=days, grain=grain).holds(made)
        for day in (on.first, on.last)
    )
    return first if first is last else None


def completed_years(born: date, on: date) -> int:
    """Whole calendar years from `born` to `on`: the age in years as people say it.

    Who was born on 29 February is a year older on 28 February of a common year.
    """
    years = on.year - born.year
    return years if add_months(born, 12 * years) <= on else years - 1


def completed_years_range(born: Span, on: Span) -> tuple[int, int]:
    """The least and the most completed years over all days of both spans."""
    return completed_years(born.last, on.first), completed_years(born.first, on.last)
