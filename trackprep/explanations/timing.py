"""How far off a date or an age is, and from which day on it would do."""

from datetime import date, timedelta

from trackprep.backends.terms import day_span
from trackprep.dates import Boundary, Grain, Span, add, add_months, age_boundary
from trackprep.explanations.phrases import fact_first
from trackprep.explanations.situation import Situation
from trackprep.explanations.wording import counted
from trackprep.frozen import frozen
from trackprep.rules.conditions import AgeTest, DayTest

MOST_DAYS_SAID = 60
"""Up to how many days a stretch of time is counted in days; a longer one in months or years."""
_GRAIN_MONTHS: dict[Grain, int] = {"day": 0, "month": 1, "year": 12}


@frozen
class AgeGap:
    """An age test that failed for every day of a span.

    Attributes:
        old: Whether it is too old; else it is too recent.
        turn: The first day on which it is too old, or no longer too recent.
        days: How many days too old, or until it is no longer too recent.
        boundary: The days that would do.
    """

    old: bool
    turn: date
    days: int
    boundary: Boundary


def age_gap(test: AgeTest, situation: Situation) -> AgeGap | None:
    """How far off the age is; None where the calendar has no such day."""
    made = day_span(test.of, situation.values, situation.event)
    then = day_span(test.on, situation.values, situation.event)
    if made is None or then is None:
        return None
    old = test.comparison in ("at most", "less than")
    day = then.first if old else then.last
    months, days = test.months or 0, test.days or 0
    try:
        turn = _turn(test, made.last if old else made.first)
        boundary = age_boundary(day, test.comparison, months=months, days=days, grain=test.grain)
    except OverflowError:
        return None
    gap = (day - turn).days + 1 if old else (turn - day).days
    return AgeGap(old, turn, gap, boundary)


def _turn(test: AgeTest, made: date) -> date:
    """The first day on which what was made on `made` has the age, or is past it."""
    match test.grain:
        case "month":
            made = made.replace(day=1)
        case "year":
            made = made.replace(month=1, day=1)
        case "day":
            pass
    reached = add(made, months=test.months or 0, days=test.days or 0)
    if test.comparison in ("less than", "at least"):
        return reached
    past = _GRAIN_MONTHS[test.grain]
    return add_months(reached, past) if past else reached + timedelta(days=1)


@frozen
class DayGap:
    """A comparison of two days that failed for all of their days.

    Attributes:
        test: The test, the declared day on its left.
        bound: The right side.
        days: How many days too late; below zero, too early.
    """

    test: DayTest
    bound: Span
    days: int


def day_gap(test: DayTest, situation: Situation) -> DayGap | None:
    """How far off the day is; None where a side has none."""
    test = fact_first(test)
    left = day_span(test.left, situation.values, situation.event)
    right = day_span(test.right, situation.values, situation.event)
    if left is None or right is None:
        return None
    strict = test.comparison in ("more than", "less than")
    if left.last < right.first or test.comparison in ("at least", "more than"):
        days = (left.last - right.first).days - strict
    else:
        days = (left.first - right.last).days + strict
    return DayGap(test, right, days)


def stretch(days: int, until: date) -> str:
    """So many days up to `until`, in words: `12 days`, `over 3 months`, `2 years`."""
    if days <= MOST_DAYS_SAID:
        return counted(days, "day")
    start = until - timedelta(days=days)
    months = (until.year - start.year) * 12 + until.month - start.month
    if add_months(start, months) > until:
        months -= 1
    if months < 12:
        said, exact = counted(months, "month"), add_months(start, months) == until
    else:
        years = months // 12
        said, exact = counted(years, "year"), add_months(start, 12 * years) == until
    return said if exact else f"over {said}"
