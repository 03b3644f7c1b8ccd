"""Values in a unit to values in base units and back, exactly.

A temperature is a point on its scale, where the zero counts, or a difference of two,
where it does not; of every other unit the two are the same.
"""

from fractions import Fraction

from trackprep.units.table import Unit


def to_base(value: Fraction, unit: Unit) -> Fraction:
    """The value, in `unit`, in base units: `20 °C` is 293.15."""
    scaled = difference_to_base(value, unit)
    return scaled + unit.offset if unit.offset else scaled


def difference_to_base(value: Fraction, unit: Unit) -> Fraction:
    """The difference, in `unit`, in base units: one of 20 °C is 20."""
    return value * unit.factor


def from_base(value: Fraction, unit: Unit) -> Fraction:
    """The value, in base units, in `unit`: 293.15 is 20 °C."""
    return from_base_difference(value - unit.offset if unit.offset else value, unit)


def from_base_difference(value: Fraction, unit: Unit) -> Fraction:
    """The difference, in base units, in `unit`: 20 is one of 20 °C."""
    return value / unit.factor
