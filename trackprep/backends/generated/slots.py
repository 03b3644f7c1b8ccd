"""The row that a declaration becomes: one small number for each thing a ruleset looks at.

| slot | a declared value becomes | undeclared |
|---|---|---|
| `ChoiceSlot` | the place of the choice in the fact's list, from 1 | 0 |
| `GradeSlot` | the same, as a float | NaN |
| `FlagSlot`, `SettledSlot` | `True` or `False` | `None` |
| `SetSlot` | a bit for each choice, and the lowest bit set | 0 |
| `PlaceSlot` | the place among the constants that it is compared with | NaN |
| `DaySlot` | the ordinal of the first or the last day it may be | NaN |

Every comparison with NaN is false, which is what an unknown needs: the generated code asks
whether a test is true and whether it is false. A number's place is found with floats, and
exactly where its float is that of a constant: rounding keeps the order of what it tells apart.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from fractions import Fraction
from math import nan
from typing import TypeAlias, assert_never

from attrs import frozen

from trackprep.backends.days import Values
from trackprep.backends.generated.lowering import Settled
from trackprep.backends.readings import possible
from trackprep.backends.terms import named, numbers
from trackprep.dates import Span
from trackprep.rules.conditions import ChoiceLookup, NumberOf, Term
from trackprep.rules.model import Choosing, Rules
from trackprep.rules.values import Amount
from trackprep.truth import Truth

Code: TypeAlias = int | float | None
Encoder: TypeAlias = Callable[[Values], Code]


@frozen
class ChoiceSlot:
    """A choice."""

    path: str


@frozen
class GradeSlot:
    """A choice whose order counts."""

    path: str


@frozen
class FlagSlot:
    """A yes or no."""

    path: str


@frozen
class SetSlot:
    """Several choices."""

    path: str


@frozen
class PlaceSlot:
    """A number among the constants that it is compared with."""

    term: Term


@frozen
class DaySlot:
    """The first day a date may be, or the last."""

    path: str
    last: bool


@frozen
class SettledSlot:
    """A test answered as a whole."""

    settled: Settled


Slot: TypeAlias = ChoiceSlot | GradeSlot | FlagSlot | SetSlot | PlaceSlot | DaySlot | SettledSlot
Constants: TypeAlias = Mapping[Term, tuple[Fraction, ...]]
"""For each number, the constants it is compared with, in ascending order."""


def paths_of(slot: Slot) -> Iterator[str]:
    """The facts that a slot is about."""
    match slot:
        case PlaceSlot(term):
            yield from named(term)
        case SettledSlot(settled):
            yield from named(settled.test)
        case _:
            yield slot.path


def words_of(rules: Rules, path: str) -> tuple[str, ...]:
    """The choice words of a fact, in order."""
    kind = rules.facts[path].type
    assert isinstance(kind, Choosing)
    return kind.words


def bits_of(words: Iterable[str], known: tuple[str, ...]) -> int:
    """The bits that stand for choices in a `SetSlot`."""
    return sum(1 << known.index(word) + 1 for word in words)


def place_of(constant: Fraction, constants: tuple[Fraction, ...]) -> float:
    """The place of one of the constants themselves: an odd number; even ones lie between."""
    return float(2 * bisect_left(constants, constant) + 1)


def encoder(slot: Slot, rules: Rules, constants: Constants) -> Encoder:
    """What turns prepared values into the slot's code."""
    match slot:
        case ChoiceSlot(path):
            return _choice_code(path, words_of(rules, path))
        case GradeSlot(path):
            return _grade_code(path, words_of(rules, path))
        case FlagSlot(path):
            return lambda values: values.get(path)  # type: ignore[return-value]
        case SetSlot(path):
            return _set_code(path, words_of(rules, path))
        case PlaceSlot(term):
            return _place(term, constants[term])
        case DaySlot(path, last):
            return _day_code(path, last=last)
        case SettledSlot(settled):
            return lambda values: answer(settled, values, date.min)
        case _:
            assert_never(slot)


def answer(settled: Settled, values: Values, event: date) -> Truth:
    """What a test answers as a whole."""
    truths = possible(settled.test, values, event)
    return next(iter(truths)) if len(truths) == 1 else None


def _choice_code(path: str, words: tuple[str, ...]) -> Encoder:
    codes: dict[object, int] = {word: place for place, word in enumerate(words, 1)}
    return lambda values: codes.get(values.get(path), 0)


def _grade_code(path: str, words: tuple[str, ...]) -> Encoder:
    codes: dict[object, float] = {word: float(place) for place, word in enumerate(words, 1)}
    return lambda values: codes.get(values.get(path), nan)


def _set_code(path: str, words: tuple[str, ...]) -> Encoder:
    def code(values: Values) -> int:
        declared = values.get(path)
        return bits_of(declared, words) | 1 if isinstance(declared, frozenset) else 0

    return code


def _day_code(path: str, *, last: bool) -> Encoder:
    def code(values: Values) -> float:
        span = values.get(path)
        if not isinstance(span, Span):
            return nan
        return float((span.last if last else span.first).toordinal())

    return code


def _place(term: Term, constants: tuple[Fraction, ...]) -> Encoder:
    try:
        rounded = [float(constant) for constant in constants]
    except OverflowError:
        rounded = []

    # One object for each code, so that many rows share them and stay in the cache.
    codes = tuple(float(code) for code in range(2 * len(constants) + 1))

    def place(number: Fraction) -> float:
        try:
            near = number.numerator / number.denominator
        except OverflowError:
            return exact_place(number)
        below = bisect_left(rounded, near)
        if not rounded or (below < len(rounded) and rounded[below] == near):
            return exact_place(number)
        return codes[2 * below]

    def exact_place(number: Fraction) -> float:
        below = bisect_left(constants, number)
        equal = below < len(constants) and constants[below] == number
        return codes[2 * below + equal]

    def code_of_fact(values: Values) -> float:
        amount = values.get(path)
        return place(amount.value) if isinstance(amount, Amount) else nan

    def code_of_term(values: Values) -> float:
        (number,) = numbers(term, values, date.min)
        return place(number) if isinstance(number, Fraction) else nan

    match term:
        case NumberOf(path):
            return code_of_fact
        case ChoiceLookup(path=path, rows=rows):
            places: dict[object, float] = {word: place(number) for word, number in rows}
            return lambda values: places.get(values.get(path), nan)
        case _:
            return code_of_term
