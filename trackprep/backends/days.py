"""Which days a day term may be on a declaration, exactly."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import TypeAlias, assert_never

from trackprep.dates import Span, add
from trackprep.rules.conditions import DayOf, DayTerm, EventDay, FixedDay, Shifted
from trackprep.rules.values import Value

Values: TypeAlias = Mapping[str, Value]
"""Path to value, of the declared facts alone."""

LAST_DAY = date(9998, 12, 31)
"""Where durations that would leave the calendar stop: an age needs a year after it."""


def day_span(term: DayTerm, values: Values, event: date) -> Span | None:
    """The first and the last day that `term` may be, or None if it is not known at all."""
    match term:
        case DayOf(path):
            declared = values.get(path)
            return declared if isinstance(declared, Span) else None
        case FixedDay(day):
            return Span.of_day(day)
        case EventDay(year_start):
            return Span.of_day(date(event.year, 1, 1) if year_start else event)
        case Shifted(day, months, days):
            inner = day_span(day, values, event)
            return inner and _shifted(inner, months, days)
        case _:
            assert_never(term)


def _shifted(span: Span, months: int, days: int) -> Span:
    """Both ends with the duration added; what would leave the calendar stops at its end."""
    first, last = (_added(day, months, days) for day in (span.first, span.last))
    return Span(first, last)


def _added(day: date, months: int, days: int) -> date:
    try:
        return min(add(day, months=months, days=days), LAST_DAY)
    except OverflowError:
        return LAST_DAY if months >= 0 and days >= 0 else date.min


def days_of(term: DayTerm, values: Values, event: date) -> frozenset[Span]:
    """Every day that `term`, which has a value, may be."""
    if isinstance(term, Shifted):
        inner = days_of(term.day, values, event)
        return frozenset(_shifted(day, term.months, term.days) for day in inner)
    span = day_span(term, values, event)
    return frozenset(each_day(span)) if span else frozenset()


def each_day(span: Span) -> Iterator[Span]:
    """Every day of the span."""
    for days in range((span.last - span.first).days + 1):
        yield Span.of_day(span.first + timedelta(days=days))
