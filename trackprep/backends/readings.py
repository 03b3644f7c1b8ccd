"""What a declaration says of a single test: every truth that it may have.

Exactly, over all the days that its dates may mean.
"""

from datetime import date
from fractions import Fraction
from itertools import product
from math import prod
from typing import assert_never

from trackprep.backends.days import Values, day_span, days_of, each_day
from trackprep.backends.terms import (
    COMPARE,
    MOST_READINGS,
    Truths,
    both_ends,
    named,
    number_truths,
)
from trackprep.dates import Span, age_holds, without_future
from trackprep.rules.conditions import (
    AgeTest,
    Between,
    ChoiceTest,
    DayTest,
    FlagTest,
    GradeTest,
    NumberTest,
    SetTest,
    Test,
)
from trackprep.rules.model import Dated, Rules
from trackprep.rules.values import Value
from trackprep.truth import Truth

NEVER: Truths = frozenset((False,))
ALWAYS: Truths = frozenset((True,))
UNKNOWN: Truths = frozenset((None,))
EITHER: Truths = frozenset((True, False))


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


def possible(test: Test | Between, values: Values, event: date) -> Truths:
    """Every truth that the test may have: a single one where the days make no difference.

    `None` is the truth where a fact is undeclared, where a number has no value
    and where it is too close to the limit to be told from it.
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
        case Between():
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


def _over_days(
    test: NumberTest | DayTest | AgeTest | Between, values: Values, event: date
) -> Truths:
    """The truths over all days; of a date that the test names twice, one day at a time."""
    names = list(named(test))
    spans = [
        (path, span)
        for path in dict.fromkeys(names)
        if isinstance(span := values.get(path), Span) and not span.exact and names.count(path) > 1
    ]
    if not spans:
        return _comparison(test, values, event)
    if prod((span.last - span.first).days + 1 for _, span in spans) > MOST_READINGS:
        return frozenset((True, False, None))
    truths: set[Truth] = set()
    for days in product(*(each_day(span) for _, span in spans)):
        chosen = {path: day for (path, _), day in zip(spans, days, strict=True)}
        truths |= _comparison(test, {**values, **chosen}, event)
    return frozenset(truths)


def _comparison(
    test: NumberTest | DayTest | AgeTest | Between, values: Values, event: date
) -> Truths:
    """The truths of a comparison whose two sides are independent of each other."""
    match test:
        case Between(least, most):
            if isinstance(least, NumberTest):
                return number_truths(test, values, event)
            low, high = possible(least, values, event), possible(most, values, event)
            return frozenset(both_ends(*ends) for ends in product(low, high))
        case NumberTest():
            return number_truths(test, values, event)
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
    one, other = days_of(test.left, values, event), days_of(test.right, values, event)
    if one.isdisjoint(other):
        return NEVER
    return ALWAYS if len(one) == len(other) == 1 else EITHER
