"""Where a test may change its answer as one number grows: finitely many places, exactly.

Between two neighbouring thresholds of a fact a test has one answer. A term is followed
backwards from the values that it is compared with, its targets, to the fact inside it.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from math import floor
from typing import assert_never

from trackprep.backends.terms import Values, named, numbers
from trackprep.enclosures import LARGEST_POWER, Enclosure, Real, log10, ten_to
from trackprep.explanations.mentions import tests_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    Arithmetic,
    ByCase,
    Called,
    ChoiceLookup,
    CompletedYears,
    Constant,
    DerivedNumber,
    Extreme,
    FormulaNumber,
    NumberLookup,
    NumberOf,
    NumberTest,
    Rounded,
    Term,
)
from trackprep.units import ONE

Targets = frozenset[Fraction]


class NotExactError(Exception):
    """A term whose thresholds cannot be told exactly, such as a fact times itself."""


@frozen
class Surroundings:
    """What is given while one fact varies: the values of the others, and the event's day."""

    values: Values
    event: date


def thresholds(test: NumberTest, around: Surroundings) -> frozenset[Fraction]:
    """The numbers of the one open fact of a test at which its answer may change.

    Raises:
        NotExactError: They cannot be told exactly.
    """
    return frozenset(_of_test(test, around))


def steps_of(test: NumberTest, path: str, around: Surroundings) -> frozenset[Fraction] | None:
    """Where a fact changes a test that hangs on it only by rows of formulas and tables.

    None where it has a part of its own in the arithmetic, so that every number counts.

    Raises:
        NotExactError: The places cannot be told without the other facts.
    """
    found: set[Fraction] = set()
    for side in (test.left, test.right):
        for term in _outermost(side):
            if term == NumberOf(path):
                return None
            found.update(_rows(term, path, around))
    return frozenset(found)


def _outermost(term: Term) -> Iterator[Term]:
    """What a term is worked out from, without what only chooses rows."""
    match term:
        case DerivedNumber(_, definition) | FormulaNumber(definition=definition):
            yield from _outermost(definition)
        case Arithmetic(_, left, right):
            yield from _outermost(left)
            yield from _outermost(right)
        case Extreme(_, parts):
            for part in parts:
                yield from _outermost(part)
        case Rounded(of=of) | Called(of=of):
            yield from _outermost(of)
        case ByCase(rows):
            yield term
            for row in rows:
                yield from _outermost(row.value)
        case _:
            yield term


def _rows(term: Term, path: str, around: Surroundings) -> Iterator[Fraction]:
    """Where a fact chooses another row of a formula or a table."""
    tests: list[NumberTest] = []
    if isinstance(term, NumberLookup):
        keys = (Constant(key, ONE) for key, _ in term.rows)
        tests = [NumberTest(term.of, "equal", key) for key in keys]
    elif isinstance(term, ByCase):
        conditions = [row.condition for row in term.rows if row.condition is not None]
        inner = (test for condition in conditions for test in tests_in(condition))
        tests = [test for test in inner if isinstance(test, NumberTest)]
    for test in tests:
        open_facts = {p for p in named(test) if p not in around.values}
        if path in open_facts:
            if open_facts != {path}:
                raise NotExactError
            yield from _of_test(test, around)


def _of_test(test: NumberTest, around: Surroundings) -> Iterator[Fraction]:
    left, right = _known(test.left, around), _known(test.right, around)
    if left is not None and right is not None:
        return
    if right is not None:
        yield from _of_term(test.left, _targets(right), around)
    elif left is not None:
        yield from _of_term(test.right, _targets(left), around)
    else:
        difference = Arithmetic("-", test.left, test.right)
        yield from _of_term(difference, frozenset({Fraction(0)}), around)


def _known(term: Term, around: Surroundings) -> tuple[Real, ...] | None:
    """What a term without the open fact is worth; None where the fact is in it."""
    if all(path in around.values for path in named(term)):
        worth = numbers(term, around.values, around.event)
        return tuple(number for number in worth if number is not None)
    return None


def _targets(worth: Iterable[Real]) -> Targets:
    """The values as exact targets; an enclosure gives both its ends."""
    return frozenset(end for number in worth for end in _ends(number))


def _ends(number: Real | None) -> tuple[Fraction, ...]:
    match number:
        case None:
            return ()
        case Enclosure(low, high):
            return (low, high)
        case _:
            return (number,)


def _of_term(term: Term, targets: Targets, around: Surroundings) -> Iterator[Fraction]:
    """Where the open fact makes the term cross or leave one of the targets."""
    match term:
        case NumberOf(path):
            if path not in around.values:
                yield from targets
        case Constant() | CompletedYears() | ChoiceLookup():
            return  # a choice is given; completed years change with days
        case DerivedNumber(_, definition) | FormulaNumber(definition=definition):
            yield from _of_term(definition, targets, around)
        case Arithmetic():
            yield from _of_arithmetic(term, targets, around)
        case Extreme(_, parts):
            for part in parts:
                yield from _of_term(part, targets, around)
        case Rounded(of, step, _):
            yield from _of_term(of, _steps(targets, step.value), around)
        case Called():
            yield from _of_term(term.of, _arguments(term, targets), around)
        case NumberLookup(of=of, rows=rows):
            yield from _of_term(of, frozenset(key for key, _ in rows), around)
        case ByCase(rows):
            for row in rows:
                if row.condition is not None:
                    for test in tests_in(row.condition):
                        if isinstance(test, NumberTest):
                            yield from _of_test(test, around)
                yield from _of_term(row.value, targets, around)
        case _:
            assert_never(term)


def _of_arithmetic(term: Arithmetic, targets: Targets, around: Surroundings) -> Iterator[Fraction]:
    left, right = _known(term.left, around), _known(term.right, around)
    if left is not None and right is not None:
        return
    if left is None and right is None:
        yield from _of_linear(term, targets, around)
    elif right is not None:
        for number in _targets(right):
            yield from _of_term(term.left, _undone(term.operator, number, targets), around)
    else:
        for number in _targets(left or ()):
            yield from _of_term(term.right, _undone_right(term.operator, number, targets), around)


def _undone(operator: str, right: Fraction, targets: Targets) -> Targets:
    """What the left side is where `left OPERATOR right` is a target."""
    match operator:
        case "+":
            return frozenset(target - right for target in targets)
        case "-":
            return frozenset(target + right for target in targets)
        case "*":
            return frozenset(target / right for target in targets) if right else frozenset()
        case _:
            return frozenset(target * right for target in targets)


def _undone_right(operator: str, left: Fraction, targets: Targets) -> Targets:
    """What the right side is where `left OPERATOR right` is a target."""
    match operator:
        case "+" | "*":
            return _undone(operator, left, targets)
        case "-":
            return frozenset(left - target for target in targets)
        case _:
            zero = frozenset({Fraction(0)})  # where the quotient has no value
            return zero | frozenset(left / target for target in targets if target)


def _of_linear(term: Term, targets: Targets, around: Surroundings) -> Iterator[Fraction]:
    """Of a term that names the open fact on both sides, if it is linear in it."""
    slope, start = _line(term, around)
    if slope:
        yield from ((target - start) / slope for target in targets)


def _line(term: Term, around: Surroundings) -> tuple[Fraction, Fraction]:
    """The slope and the start of a term that is linear in the open fact."""
    known = _known(term, around)
    if known is not None:
        if len(known) == 1 and isinstance(known[0], Fraction):
            return Fraction(0), known[0]
        raise NotExactError
    match term:
        case NumberOf():
            return Fraction(1), Fraction(0)
        case DerivedNumber(_, definition) | FormulaNumber(definition=definition):
            return _line(definition, around)
        case Arithmetic(operator, left, right):
            (one, start), (other, shift) = _line(left, around), _line(right, around)
            match operator:
                case "+":
                    return one + other, start + shift
                case "-":
                    return one - other, start - shift
                case "*" if not one or not other:
                    return one * shift + other * start, start * shift
                case "/" if not other and shift:
                    return one / shift, start / shift
    raise NotExactError


def _steps(targets: Targets, step: Fraction) -> Targets:
    """Where a number leaves one multiple of the step for the next, around the targets.

    To the nearest it does so halfway between two, downwards at each.
    """
    halves = range(-2, 5)
    return frozenset(
        (floor(target / step) + Fraction(half, 2)) * step for target in targets for half in halves
    )


def _arguments(term: Called, targets: Targets) -> Targets:
    """The arguments for which a function gives a target, and the ends of where it gives one."""
    match term.function:
        case "sqrt":
            return frozenset({Fraction(0), *(t * t for t in targets if t >= 0)})
        case "log10":
            found = (end for target in targets for end in _ends(ten_to(target)))
            return frozenset({Fraction(0), *found})
        case "ten-to":
            found = (end for target in targets if target > 0 for end in _ends(log10(target)))
            return frozenset({Fraction(-LARGEST_POWER), Fraction(LARGEST_POWER), *found})
        case _:
            assert_never(term.function)
