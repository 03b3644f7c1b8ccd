"""What a number term is worth on a declaration: every number that it may be.

Exactly; what is irrational is enclosed, and a test of it is unknown where its enclosure does
not lie on one side of the limit.
"""

import operator
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from fractions import Fraction
from itertools import product
from math import prod
from typing import TypeAlias, assert_never

from trackprep import enclosures
from trackprep.backends.connectives import alike, in_play, tests_of, truth_of
from trackprep.backends.days import Values, day_span
from trackprep.dates import completed_years_range
from trackprep.enclosures import Real, calculated
from trackprep.rules.conditions import (
    AgeTest,
    Arithmetic,
    Between,
    ByCase,
    Called,
    ChoiceLookup,
    ChoiceTest,
    Comparison,
    CompletedYears,
    Condition,
    Constant,
    DayOf,
    DayTerm,
    DayTest,
    DerivedNumber,
    EventDay,
    Extreme,
    FixedDay,
    FlagTest,
    FormulaNumber,
    Function,
    GradeTest,
    NumberLookup,
    NumberOf,
    NumberTest,
    Rounded,
    SetTest,
    Shifted,
    Term,
    Test,
)
from trackprep.rules.values import Amount
from trackprep.truth import Truth

__all__ = [
    "COMPARE",
    "MOST_READINGS",
    "Numbers",
    "Truths",
    "Values",
    "both_ends",
    "compared",
    "day_span",
    "named",
    "number_truths",
    "numbers",
    "operands",
    "row_holds",
    "worked_out",
]

Truths: TypeAlias = frozenset[Truth]
Numbers: TypeAlias = tuple[Real | None, ...]
"""Every number that a term may be; None among them where it has no value."""

MOST_READINGS = 10_000
"""The most readings of one test that are tried; past it the test is unknown."""

# ---- numbers ----------------------------------------------------------------

FUNCTIONS: Mapping[Function, Callable[[Real], Real | None]] = {
    "log10": enclosures.log10,
    "ten-to": enclosures.ten_to,
    "sqrt": enclosures.sqrt,
}


def numbers(term: Term, values: Values, event: date) -> Numbers:
    """Every number that `term` may be; None among them where it has no value.

    There is more than one where days are not known, or which row of a formula holds.
    """
    match term:
        case Constant(value):
            return (value,)
        case NumberOf(path):
            amount = values.get(path)
            return (amount.value if isinstance(amount, Amount) else None,)
        case DerivedNumber(definition=inner) | FormulaNumber(definition=inner):
            return numbers(inner, values, event)
        case ChoiceLookup(path=path, rows=rows):
            return (dict[object, Fraction](rows).get(values.get(path)),)
        case CompletedYears(of, on):
            born, then = day_span(of, values, event), day_span(on, values, event)
            if born is None or then is None:
                return (None,)
            least, most = completed_years_range(born, then)
            return tuple(map(Fraction, range(least, most + 1)))
        case ByCase():
            return _by_case(term, values, event)
        case Arithmetic() | Called() | Extreme() | Rounded() | NumberLookup():
            several = [numbers(inner, values, event) for inner in operands(term)]
            if prod(map(len, several)) > MOST_READINGS:
                return (None,)
            return tuple(dict.fromkeys(worked_out(term, known) for known in product(*several)))
        case _:
            assert_never(term)


def _by_case(term: ByCase, values: Values, event: date) -> Numbers:
    rows = in_play(term.rows, lambda when: row_holds(when, values, event))
    found = dict.fromkeys(number for row in rows for number in numbers(row.value, values, event))
    return tuple(found) if len(found) <= MOST_READINGS else (None,)


def row_holds(condition: Condition, values: Values, event: date) -> Truth:
    """Whether the condition of a formula's row holds; its tests are of numbers alone."""

    def answer(test: Test | Between) -> Truth:
        assert isinstance(test, NumberTest | Between), "a formula compares numbers alone"
        return alike(number_truths(test, values, event))

    return truth_of(condition, answer)


def operands(term: Term) -> tuple[Term, ...]:
    """The terms that stand directly in a term, also in the conditions of its rows."""
    match term:
        case Constant() | NumberOf() | ChoiceLookup() | CompletedYears():
            return ()
        case Arithmetic(_, left, right):
            return left, right
        case Called(_, of) | Rounded(of) | NumberLookup(of=of):
            return (of,)
        case Extreme(_, of):
            return of
        case DerivedNumber(definition=inner) | FormulaNumber(definition=inner):
            return (inner,)
        case ByCase(rows):
            asked = (row.condition for row in rows if row.condition is not None)
            tests = (test for condition in asked for test in tests_of(condition))
            sides = (side for test in tests for side in _sides(test))
            return (*sides, *(row.value for row in rows))
        case _:
            assert_never(term)


def _sides(test: Test | Between) -> tuple[Term, ...]:
    match test:
        case NumberTest(left, _, right):
            return left, right
        case Between(least, most):
            return *_sides(least), *_sides(most)
        case _:
            raise AssertionError(test)


def worked_out(
    term: Arithmetic | Called | Extreme | Rounded | NumberLookup, known: Numbers
) -> Real | None:
    """What the term makes of its operands, in their order; None if it has no value."""
    there = [number for number in known if number is not None]
    if len(there) < len(known):
        return None
    match term:
        case Arithmetic(sign):
            return calculated(there[0], sign, there[1])
        case Called(function):
            return FUNCTIONS[function](there[0])
        case Extreme("minimum"):
            return enclosures.minimum(there)
        case Extreme():
            return enclosures.maximum(there)
        case Rounded(_, step, down):
            return enclosures.rounded(there[0], step.value, down=down)
        case NumberLookup(rows=rows):
            return dict[object, Fraction](rows).get(there[0])
        case _:
            assert_never(term)


# ---- tests of numbers -------------------------------------------------------

COMPARE: Mapping[Comparison, Callable[[Fraction, Fraction], bool]] = {
    "at least": operator.ge,
    "at most": operator.le,
    "more than": operator.gt,
    "less than": operator.lt,
    "equal": operator.eq,
    "not equal": operator.ne,
}


def number_truths(test: NumberTest | Between, values: Values, event: date) -> Truths:
    """Every truth that a test of numbers may have, its terms independent of each other."""
    match test:
        case NumberTest(left, comparison, right):
            sides = product(numbers(left, values, event), numbers(right, values, event))
            return frozenset(compared(one, comparison, other) for one, other in sides)
        case Between(NumberTest(subject) as least, NumberTest() as most):
            ends = (numbers(end.right, values, event) for end in (least, most))
            return frozenset(
                both_ends(
                    compared(one, least.comparison, low), compared(one, most.comparison, high)
                )
                for one, low, high in product(numbers(subject, values, event), *ends)
            )
        case _:
            raise AssertionError(test)


def compared(one: Real | None, comparison: Comparison, other: Real | None) -> Truth:
    """Whether the number stands so to the other; None where that is not known."""
    if one is None or other is None:
        return None
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return COMPARE[comparison](one, other)
    order = enclosures.order(one, other)
    return None if order is None else COMPARE[comparison](Fraction(order), Fraction(0))


def both_ends(least: Truth, most: Truth) -> Truth:
    """What a range answers, as one test: where one end is unknown, so is the whole."""
    return None if least is None or most is None else least and most


# ---- facts ------------------------------------------------------------------


def named(node: Test | Between | Term | DayTerm) -> Iterator[str]:
    """The facts that a test or a term names, in reading order, each as often as it is named.

    Of a formula, those that its definition reads; of its rows, the conditions first.
    """
    match node:
        case ChoiceTest(path) | SetTest(path) | FlagTest(path) | NumberOf(path) | DayOf(path):
            yield path
        case ChoiceLookup(path=path):
            yield path
        case GradeTest(path, other=other):
            yield path
            if other is not None:
                yield other
        case NumberTest(left, _, right):
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
        case Shifted(day):
            yield from named(day)
        case FixedDay() | EventDay():
            return
        case _:
            for term in operands(node):
                yield from named(term)
