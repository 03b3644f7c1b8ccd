"""Both sides of a number test that failed, in one unit, and how far they lie apart."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Literal, TypeAlias, assert_never

from trackprep.backends.terms import numbers
from trackprep.enclosures import Enclosure
from trackprep.explanations.mentions import terms_in
from trackprep.explanations.phrases import turned
from trackprep.explanations.situation import Situation
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
from trackprep.rules.model import Measured, Rules
from trackprep.units import ONE, SPELLINGS, Dimension, Unit

Nature: TypeAlias = Literal["point", "difference", "either"]


@frozen
class Measure:
    """The two sides of a number test, in base units: exact, or the middle of an enclosure.

    A test that failed holds for no number of the enclosure, so its middle is on the side
    of the bound that was proved.

    Attributes:
        test: The test, its constant on the right.
        values: Every number that the left side may be, in order.
        value: The one of them that is nearest to the bound.
        unit: The unit to show both sides in: the rule's.
        difference: Whether both are differences, of temperatures or levels.
    """

    test: NumberTest
    values: tuple[Fraction, ...]
    value: Fraction
    bound: Fraction
    unit: Unit
    difference: bool

    @property
    def gap(self) -> Fraction:
        """How much more the left side would have to be; below zero, how much less."""
        return self.bound - self.value

    @property
    def relative_gap(self) -> Fraction:
        """The gap as a part of the larger side."""
        largest = max(abs(self.bound), abs(self.value))
        return abs(self.gap) / largest if largest else Fraction(0)


def measured(test: NumberTest, situation: Situation) -> Measure | None:
    """Both sides of the test, or None if one of them has no value."""
    test = turned(test)
    left, right = (
        sorted(
            number.middle if isinstance(number, Enclosure) else number
            for number in numbers(side, situation.values, situation.event)
            if number is not None
        )
        for side in (test.left, test.right)
    )
    if not left or not right:
        return None
    value, bound = min(
        ((one, other) for one in left for other in right), key=lambda pair: abs(pair[0] - pair[1])
    )
    unit = unit_of(test.right, situation.rules) or unit_of(test.left, situation.rules) or ONE
    return Measure(test, tuple(left), value, bound, unit, _nature(test.right) == "difference")


def unit_of(term: Term, rules: Rules) -> Unit | None:
    """The unit to show a number in; None for a product that has no unit in the table."""
    match term:
        case Constant(unit=unit) | DerivedNumber(unit=unit) | FormulaNumber(unit=unit):
            return unit
        case ChoiceLookup(unit=unit) | NumberLookup(unit=unit):
            return unit
        case Rounded(step=step):
            return step.unit
        case Called("sqrt", of):
            return _root(of, rules)
        case Called() | CompletedYears():
            return ONE
        case Extreme(_, parts):
            return _first(parts, rules)
        case ByCase(rows):
            return _first((row.value for row in rows), rules)
        case NumberOf(path):
            fact = rules.facts.get(path)
            return fact.type.unit if fact and isinstance(fact.type, Measured) else None
        case Arithmetic(operator, left, right):
            one, other = unit_of(left, rules), unit_of(right, rules)
            if operator in "+-":
                return one or other
            if one is None or other is None:
                return None
            return _composed(operator, one, other)
        case _:
            assert_never(term)


def _first(terms: Iterable[Term], rules: Rules) -> Unit | None:
    units = (unit_of(term, rules) for term in terms)
    return next((unit for unit in units if unit is not None), None)


def _root(of: Term, rules: Rules) -> Unit | None:
    """The unit whose square measures `of`: one that stands in it, or the first in the table."""
    whole = unit_of(of, rules)
    if whole is None:
        return None
    inside = (unit_of(term, rules) for term in terms_in(of))
    units = (*(unit for unit in inside if unit), ONE, *SPELLINGS.values())
    return next((u for u in units if u.dimension * u.dimension == whole.dimension), None)


def _composed(operator: str, one: Unit, other: Unit) -> Unit | None:
    """The unit of a product or a quotient: one of its sides', or the first of its dimension."""
    dimension: Dimension = (
        one.dimension * other.dimension if operator == "*" else one.dimension / other.dimension
    )
    named = (unit for unit in (one, other) if unit.dimension == dimension)
    listed = (unit for unit in (ONE, *SPELLINGS.values()) if unit.dimension == dimension)
    return next(named, next(listed, None))


# ---- points and differences -------------------------------------------------


def _nature(term: Term) -> Nature:
    """Of temperatures and levels a point or a difference; a literal in K or dB may be either."""
    match term:
        case Constant(difference=True) | DerivedNumber(difference=True):
            return "difference"
        case FormulaNumber(difference=True):
            return "difference"
        case Constant(unit=unit) | ChoiceLookup(unit=unit) | NumberLookup(unit=unit):
            return "either" if unit.name in ("K", "dB") else "point"
        case Rounded(of):
            return _nature(of)
        case Extreme(_, parts):
            return _settled(map(_nature, parts))
        case ByCase(rows):
            return _settled(_nature(row.value) for row in rows)
        case Arithmetic("+", left, right):
            return _settled((_nature(left), _nature(right)))
        case Arithmetic("-", left, right):
            return _less(_nature(left), _nature(right))
        case Arithmetic():
            return "difference"  # a point is no factor
        case _:
            return "point"


def _settled(natures: Iterable[Nature]) -> Nature:
    """What numbers are together: a point if one of them is."""
    known = frozenset(natures)
    return "point" if "point" in known else "difference" if "difference" in known else "either"


def _less(left: Nature, right: Nature) -> Nature:
    if right == "point":
        return "difference"
    return left
