"""What a declaration says of a single test: the numbers and days it names, and every
truth it may have over the days that its dates may mean. All of it exact."""

import operator
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from math import prod
from typing import TypeAlias, assert_never

from trackprep.dates import Span, age_holds, completed_years_range, without_future
from trackprep.rules.conditions import (
    AgeTest,
    Arithmetic,
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
from trackprep.rules.model import Dated, Rules
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth

Values: TypeAlias = Mapping[str, Value]
"""Path to value, of the declared facts alone."""
Truths: TypeAlias = frozenset[Truth]

MOST_READINGS = 10_000
"""The most readings of one test's dates that are tried; past it the test is unknown."""

NEVER: Truths = frozenset((False,))
ALWAYS: Truths = frozenset((True,))
UNKNOWN: Truths = frozenset((None,))
EITHER: Truths = frozenset((True, False))

COMPARE: Mapping[str, Callable[[Fraction, Fraction], bool]] = {
    "at least": operator.ge,
    "at most": operator.le,
    "more than": operator.gt,
    "less than": operator.lt,
    "equal": operator.eq,
    "not equal": operator.ne,
}


def prepared(rules: Rules, values: Values, event: date) -> tuple[dict[str, Value], tuple[str, ...]]:
    """What is known on the event's day, and the facts all of whose days lie after it.

    What the event itself settles is laid over what is declared. Days after the event are
    cut from past dates and week codes; where none is left the fact counts as undeclared.
    """
    known = {**values, **rules.here}
    future: list[str] = []
    for path, value in list(known.items()):
        kind = rules.facts[path].type
        if isinstance(value, Span) and isinstance(kind, Dated) and kind.past:
            if left := without_future(value, event):
                known[path] = left
            else:
                del known[path]
                future.append(path)
    return known, tuple(future)


# ---- tests ------------------------------------------------------------------


def possible(test: Test, values: Values, event: date) -> Truths:
    """Every truth that the test may have: a single one where the days make no difference.

    `None` is the truth where a fact is undeclared, where a number is divided by zero and
    where the calendar does not have the day.
    """
    match test:
        case ChoiceTest(path, words, negated):
            word = values.get(path)
            return UNKNOWN if word is None else _sure((word in words) is not negated)
        case FlagTest(path, value):
            declared = values.get(path)
            return UNKNOWN if declared is None else _sure(declared is value)
        case SetTest():
            return _set_test(test, values)
        case GradeTest():
            return _grade_test(test, values)
        case NumberTest() | DayTest() | AgeTest():
            return _over_days(test, values, event)
        case _:
            assert_never(test)


def _sure(holds: bool) -> Truths:
    return ALWAYS if holds else NEVER


def _set_test(test: SetTest, values: Values) -> Truths:
    declared = values.get(test.path)
    if not isinstance(declared, frozenset):
        return UNKNOWN
    match test.how:
        case "any":
            return _sure(not test.words.isdisjoint(declared))
        case "all":
            return _sure(test.words <= declared)
        case "none":
            return _sure(test.words.isdisjoint(declared))
        case _:
            assert_never(test.how)


def _grade_test(test: GradeTest, values: Values) -> Truths:
    word = values.get(test.path)
    bound = test.word if test.other is None else values.get(test.other)
    if not isinstance(word, str) or not isinstance(bound, str):
        return UNKNOWN
    grade, limit = test.grades.index(word), test.grades.index(bound)
    return _sure(COMPARE[test.comparison](Fraction(grade), Fraction(limit)))


def _over_days(test: NumberTest | DayTest | AgeTest, values: Values, event: date) -> Truths:
    """The truths over all days; of a date that the test names twice, one day at a time."""
    spans = [
        (path, span)
        for path, count in Counter(named(test)).items()
        if count > 1 and isinstance(span := values.get(path), Span) and not span.exact
    ]
    if not spans:
        return _comparison(test, values, event)
    if prod((span.last - span.first).days + 1 for _, span in spans) > MOST_READINGS:
        return UNKNOWN
    truths: set[Truth] = set()
    for days in product(*(_each_day(span) for _, span in spans)):
        chosen = {path: day for (path, _), day in zip(spans, days, strict=True)}
        truths |= _comparison(test, {**values, **chosen}, event)
    return frozenset(truths)


def _each_day(span: Span) -> Iterator[Span]:
    for days in range((span.last - span.first).days + 1):
        yield Span.of_day(span.first + timedelta(days=days))


def _comparison(test: NumberTest | DayTest | AgeTest, values: Values, event: date) -> Truths:
    """The truths of a comparison whose two sides are independent of each other."""
    match test:
        case NumberTest(left, comparison, right):
            sides = product(numbers(left, values, event), numbers(right, values, event))
            compare = COMPARE[comparison]
            return frozenset(
                None if one is None or other is None else compare(one, other)
                for one, other in sides
            )
        case DayTest():
            return _day_test(test, values, event)
        case AgeTest(of, on, comparison, months, days, grain):
            made, then = day_span(of, values, event), day_span(on, values, event)
            if made is None or then is None:
                return UNKNOWN
            truth = age_holds(
                made, then, comparison, months=months or 0, days=days or 0, grain=grain
            )
            return EITHER if truth is None else _sure(truth)
        case _:
            assert_never(test)


def _day_test(test: DayTest, values: Values, event: date) -> Truths:
    left, right = day_span(test.left, values, event), day_span(test.right, values, event)
    if left is None or right is None:
        return UNKNOWN
    match test.comparison:
        case "at least":
            return _order(left.first >= right.last, left.last >= right.first)
        case "at most":
            return _order(left.last <= right.first, left.first <= right.last)
        case "more than":
            return _order(left.first > right.last, left.last > right.first)
        case "less than":
            return _order(left.last < right.first, left.first < right.last)
        case "equal":
            return _same_day(test, values, event)
        case "not equal":
            return frozenset(not truth for truth in _same_day(test, values, event))
        case _:
            assert_never(test.comparison)


def _order(every_pair: bool, some_pair: bool) -> Truths:
    return ALWAYS if every_pair else EITHER if some_pair else NEVER


def _same_day(test: DayTest, values: Values, event: date) -> Truths:
    """Whether both sides are one day. A span of days with months added can have gaps."""
    one, other = _days(test.left, values, event), _days(test.right, values, event)
    if one.isdisjoint(other):
        return NEVER
    return ALWAYS if len(one) == len(other) == 1 else EITHER


def _days(term: DayTerm, values: Values, event: date) -> frozenset[Span | None]:
    """Every day that `term`, which has a value, may be."""
    if isinstance(term, Shifted):
        inner = _days(term.day, values, event)
        return frozenset(day and day.shifted(months=term.months, days=term.days) for day in inner)
    span = day_span(term, values, event)
    return frozenset(_each_day(span)) if span else frozenset()


# ---- days and numbers -------------------------------------------------------


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
            try:
                return inner and inner.shifted(months=months, days=days)
            except OverflowError:
                return None
        case _:
            assert_never(term)


def numbers(term: Term, values: Values, event: date) -> frozenset[Fraction | None]:
    """Every number that `term` may be; None among them where it has no value."""
    match term:
        case Constant(value):
            return frozenset((value,))
        case NumberOf(path):
            amount = values.get(path)
            return frozenset((amount.value if isinstance(amount, Amount) else None,))
        case DerivedNumber(_, definition):
            return numbers(definition, values, event)
        case Arithmetic(sign, left, right):
            ones, others = numbers(left, values, event), numbers(right, values, event)
            if len(ones) * len(others) > MOST_READINGS:
                return frozenset((None,))
            return frozenset(_calculated(one, sign, other) for one, other in product(ones, others))
        case CompletedYears(of, on):
            born, then = day_span(of, values, event), day_span(on, values, event)
            if born is None or then is None:
                return frozenset((None,))
            least, most = completed_years_range(born, then)
            return frozenset(map(Fraction, range(least, most + 1)))
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


def named(node: Test | Term | DayTerm) -> Iterator[str]:
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
