"""Both sides of a number test that failed, in one unit, and how far they lie apart."""

from fractions import Fraction

from trackprep.backends.terms import numbers
from trackprep.explanations.phrases import turned
from trackprep.explanations.situation import Situation
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    Arithmetic,
    CompletedYears,
    Constant,
    DerivedNumber,
    NumberOf,
    NumberTest,
    Term,
)
from trackprep.rules.model import Measured, Rules
from trackprep.units import ONE, SPELLINGS, Dimension, Unit


@frozen
class Measure:
    """The two sides of a number test, exact and in base units.

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
            number
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
    return Measure(test, tuple(left), value, bound, unit, _is_difference(test.right))


def unit_of(term: Term, rules: Rules) -> Unit | None:
    """The unit to show a number in; None for a product that has no unit in the table."""
    match term:
        case Constant(unit=unit) | DerivedNumber(unit=unit):
            return unit
        case NumberOf(path):
            fact = rules.facts.get(path)
            return fact.type.unit if fact and isinstance(fact.type, Measured) else None
        case CompletedYears():
            return ONE
        case Arithmetic(operator, left, right):
            one, other = unit_of(left, rules), unit_of(right, rules)
            if operator in "+-":
                return one or other
            if one is None or other is None:
                return None
            return _composed(operator, one, other)


def _composed(operator: str, one: Unit, other: Unit) -> Unit | None:
    """The unit of a product or a quotient: one of its sides', or the first of its dimension."""
    dimension: Dimension = (
        one.dimension * other.dimension if operator == "*" else one.dimension / other.dimension
    )
    named = (unit for unit in (one, other) if unit.dimension == dimension)
    listed = (unit for unit in (ONE, *SPELLINGS.values()) if unit.dimension == dimension)
    return next(named, next(listed, None))


def _is_difference(term: Term) -> bool:
    match term:
        case Constant(difference=difference) | DerivedNumber(difference=difference):
            return difference
        case Arithmetic("-", left, right):
            return _is_difference(left) == _is_difference(right)
        case Arithmetic("+", left, right):
            return _is_difference(left) and _is_difference(right)
        case _:
            return False
