"""What a term is worth on a declaration: the days and the numbers that it may be, exactly."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from typing import TypeAlias, assert_never

from trackprep.dates import Span, add, completed_years_range
from trackprep.rules.conditions import (
    AgeTest,
    Arithmetic,
    Between,
    ChoiceTest,
    CompletedYears,
    Constant,
    DayOf,
    DayTerm,
    DayTest,
    DerivedNumber,
    EventDay,
    FixedDay,
    FlagTest,
    GradeTest,
    NumberOf,
    NumberTest,
    SetTest,
    Shifted,
    Term,
    Test,
)
from trackprep.rules.values import Amount, Value

Values: TypeAlias = Mapping[str, Value]
"""Path to value, of the declared facts alone."""

MOST_READINGS = 10_000
"""The most readings of one test's dates that are tried; past it the test is unknown."""

LAST_DAY = date(9998, 12, 31)
"""Where durations that would leave the calendar stop: an age needs a year after it."""

# ---- days -------------------------------------------------------------------


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


# ---- numbers ----------------------------------------------------------------


def numbers(term: Term, values: Values, event: date) -> tuple[Fraction | None, ...]:
    """Every number that `term` may be; None among them where it has no value."""
    match term:
        case Constant(value):
            return (value,)
        case NumberOf(path):
            amount = values.get(path)
            return (amount.value if isinstance(amount, Amount) else None,)
        case DerivedNumber(_, definition):
            return numbers(definition, values, event)
        case Arithmetic(sign, left, right):
            ones, others = numbers(left, values, event), numbers(right, values, event)
            if len(ones) * len(others) > MOST_READINGS:
                return (None,)
            results = (_calculated(one, sign, other) for one, other in product(ones, others))
            return tuple(dict.fromkeys(results))
        case CompletedYears(of, on):
            born, then = day_span(of, values, event), day_span(on, values, event)
            if born is None or then is None:
                return (None,)
            least, most = completed_years_range(born, then)
            return tuple(map(Fraction, range(least, most + 1)))
        case _:
            assert_never(term)


def _calculated(one: Fraction | None, sign: str, other: Fraction | None) -> Fraction | None:
    """The result, or None if it has none."""
    if one is None or other is None:
        return None
    match sign:
        case "+":
            return one + other
        case "-":
            return one - other
        case "*":
            return one * other
        case "/":
            return one / other if other else None
        case _:
            raise AssertionError(sign)


# ---- facts ------------------------------------------------------------------


def named(node: Test | Between | Term | DayTerm) -> Iterator[str]:
    """The facts that a test or a term names, in reading order, each as often as it is named."""
    match node:
        case ChoiceTest(path) | SetTest(path) | FlagTest(path) | NumberOf(path) | DayOf(path):
            yield path
        case GradeTest(path, other=other):
            yield path
            if other is not None:
                yield other
        case NumberTest(left, _, right) | Arithmetic(_, left, right):
            yield from named(left)
            yield from named(right)
        case DayTest(left, _, right):
            yield from named(left)
            yield from named(right)
        case Between(least, most):
            yield from named(least)
            yield from named(most)
        case AgeTest(of, on) | CompletedYears(of, on):
            yield from named(of)
            yield from named(on)
        case DerivedNumber(_, definition):
            yield from named(definition)
        case Shifted(day):
            yield from named(day)
        case Constant() | FixedDay() | EventDay():
            return
        case _:
            assert_never(node)
