"""Terms of constants worked out at once, where the result is exact."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Literal

from attrs import evolve

from trackprep.rules import conditions as c
from trackprep.units import ONE


def arithmetic(sign: Literal["+", "-", "*", "/"], one: c.Term, other: c.Term) -> c.Term:
    """The arithmetic, worked out where both sides are constants; a division by zero is not."""
    if not isinstance(one, c.Constant) or not isinstance(other, c.Constant):
        return c.Arithmetic(sign, one, other)
    match sign:
        case "+":
            value = one.value + other.value
        case "-":
            value = one.value - other.value
        case "*":
            value = one.value * other.value
        case "/" if other.value == 0:
            return c.Arithmetic(sign, one, other)
        case "/":
            value = one.value / other.value
    shown = one.unit if sign in "+-" or other.unit == ONE else ONE
    return c.Constant(value, other.unit if sign == "*" and one.unit == ONE else shown)


def rounded(of: c.Term, step: c.Constant, down: bool) -> c.Term:
    """The term rounded to a multiple of the step."""
    if not isinstance(of, c.Constant):
        return c.Rounded(of, step, down)
    # Decimal arithmetic, which a ruleset that rounds no constant need not load.
    from trackprep import enclosures

    value = enclosures.rounded(of.value, step.value, down=down)
    assert isinstance(value, Fraction)
    return evolve(of, value=value, limit=None)


def extreme(which: Literal["minimum", "maximum"], terms: Iterable[c.Term]) -> c.Term:
    """The least or the greatest of the terms."""
    of = tuple(terms)
    constants = [term for term in of if isinstance(term, c.Constant)]
    if len(constants) < len(of):
        return c.Extreme(which, of)
    return (min if which == "minimum" else max)(constants, key=lambda constant: constant.value)


def looked_up(lookup: c.NumberLookup) -> c.Term:
    """What a table says of a number; of a constant without a row nothing is worked out."""
    if not isinstance(lookup.of, c.Constant):
        return lookup
    value = dict(lookup.rows).get(lookup.of.value)
    return lookup if value is None else c.Constant(value, lookup.unit)
