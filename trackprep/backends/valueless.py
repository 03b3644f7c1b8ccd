"""Why a test of numbers is unknown although what it names is declared."""

from collections.abc import Iterator
from datetime import date
from itertools import product
from math import prod
from typing import Literal, TypeAlias, assert_never

from trackprep.backends.connectives import alike, in_play, tests_of
from trackprep.backends.days import Values
from trackprep.backends.terms import (
    MOST_READINGS,
    compared,
    number_truths,
    numbers,
    operands,
    row_holds,
    worked_out,
)
from trackprep.enclosures import Real, may_be_zero
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    Arithmetic,
    Between,
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
    Test,
)

Why: TypeAlias = Literal[
    "division by zero", "root below zero", "logarithm not above zero", "power out of range",
    "no row", "out of size",
]  # fmt: skip


@frozen
class Valueless:
    """A term that has no value although its operands have.

    Attributes:
        term: The innermost such term: the division, the function, the look-up.
        why: `out of size` is a product or quotient past all bounds (`enclosures.MOST_BITS`).
        of: What that is due to: the divisor, the argument, or what is looked up in vain, in base
            units or as the choice word.
    """

    term: Term
    why: Why
    of: Real | str


@frozen
class TooClose:
    """Two numbers that are not told apart, at least one of them enclosed and not exact."""

    test: NumberTest
    left: Real
    right: Real


def why_unknown(
    test: Test | Between, values: Values, event: date
) -> Iterator[Valueless | TooClose]:
    """What keeps a test of numbers unknown apart from undeclared facts and coarse dates.

    Nothing of a test that is known, and of tests that are not of numbers. First what has no
    value, then what is too close to tell; what a formula's rows hang on is part of both.
    Nothing is said twice.
    """
    yield from dict.fromkeys(_reasons(test, values, event))


def _reasons(test: Test | Between, values: Values, event: date) -> Iterator[Valueless | TooClose]:
    match test:
        case Between(NumberTest() as least, NumberTest() as most):
            ends: tuple[NumberTest, ...] = (least, most)
        case NumberTest():
            ends = (test,)
        case _:
            return
    if alike(number_truths(test, values, event)) is not None:
        return
    for end in ends:
        for side in (end.left, end.right):
            yield from valueless(side, values, event)
    for end in ends:
        yield from _too_close(end, values, event)


def valueless(term: Term, values: Values, event: date) -> Iterator[Valueless | TooClose]:
    """What in the term has no value although its operands have, innermost first.

    Of a formula by rows also what leaves unknown which row holds, and that may be `TooClose`.
    """
    if isinstance(term, ByCase):
        for row in in_play(term.rows, lambda when: row_holds(when, values, event)):
            if row.condition is not None:
                for test in tests_of(row.condition):
                    yield from _reasons(test, values, event)
            yield from valueless(row.value, values, event)
        return
    for inner in operands(term):
        yield from valueless(inner, values, event)
    match term:
        case ChoiceLookup(path=path):
            word = values.get(path)
            if isinstance(word, str) and None in numbers(term, values, event):
                yield Valueless(term, "no row", word)
        case Arithmetic() | Called() | NumberLookup():
            yield from _of_operands(term, values, event)
        case Constant() | NumberOf() | CompletedYears() | DerivedNumber() | FormulaNumber():
            return
        case Extreme() | Rounded():
            return
        case _:
            assert_never(term)


def _of_operands(
    term: Arithmetic | Called | NumberLookup, values: Values, event: date
) -> Iterator[Valueless]:
    """The first of the operands' numbers of which the term makes none."""
    several = [numbers(inner, values, event) for inner in operands(term)]
    if prod(map(len, several)) > MOST_READINGS:
        return
    for known in product(*several):
        last = known[-1]
        if None not in known and last is not None and worked_out(term, known) is None:
            yield Valueless(term, _why(term, last), last)
            return


def _why(term: Arithmetic | Called | NumberLookup, last: Real) -> Why:
    match term:
        case Arithmetic("/") if may_be_zero(last):
            return "division by zero"
        case Arithmetic():
            return "out of size"
        case Called("sqrt"):
            return "root below zero"
        case Called("log10"):
            return "logarithm not above zero"
        case Called("ten-to"):
            return "power out of range"
        case NumberLookup():
            return "no row"
        case _:
            raise AssertionError(term)


def _too_close(test: NumberTest, values: Values, event: date) -> Iterator[TooClose]:
    sides = (numbers(side, values, event) for side in (test.left, test.right))
    for one, other in product(*sides):
        if one is None or other is None:
            continue
        if compared(one, test.comparison, other) is None:
            yield TooClose(test, one, other)
            return
