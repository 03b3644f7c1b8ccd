"""Quantities of Pint to values of the allow-list and back: the one place that knows Pint.

Pint takes a quarter of a second to import, so it is imported only where a caller has, or
asks for, one of its quantities. Text never reaches its parser but our own names below.
"""

import numbers
from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from trackprep.units.reading import MOST_DIGITS
from trackprep.units.table import ONE, SPELLINGS, Unit

if TYPE_CHECKING:
    import pint

PINT_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "": "dimensionless",
        "%": "percent",
        "mm": "millimeter",
        "cm": "centimeter",
        "m": "meter",
        "km": "kilometer",
        "um": "micrometer",
        "in": "inch",
        "thou": "thou",
        "ft": "foot",
        "yd": "yard",
        "mi": "mile",
        "mm^2": "millimeter**2",
        "cm^2": "centimeter**2",
        "m^2": "meter**2",
        "in^2": "inch**2",
        "cc": "cubic_centimeter",
        "cm^3": "centimeter**3",
        "mL": "milliliter",
        "L": "liter",
        "in^3": "inch**3",
        "fl oz": "fluid_ounce",
        "qt": "quart",
        "gal": "gallon",
        "imp fl oz": "imperial_fluid_ounce",
        "imp gal": "imperial_gallon",
        "kg": "kilogram",
        "g": "gram",
        "lb": "pound",
        "oz": "ounce",
        "s": "second",
        "ms": "millisecond",
        "min": "minute",
        "h": "hour",
        "days": "day",
        "weeks": "week",
        "months": "month",
        "years": "year",
        "km/h": "kilometer/hour",
        "mph": "mile/hour",
        "m/s": "meter/second",
        "ft/s": "foot/second",
        "N": "newton",
        "kN": "kilonewton",
        "lbf": "force_pound",
        "kgf": "force_kilogram",
        "psi": "pound_force_per_square_inch",
        "kPa": "kilopascal",
        "bar": "bar",
        "Pa": "pascal",
        "hPa": "hectopascal",
        "MPa": "megapascal",
        "mbar": "millibar",
        "kgf/cm^2": "force_kilogram/centimeter**2",
        "atm": "standard_atmosphere",
        "mmHg": "millimeter_Hg",
        "inHg": "inch_Hg",
        "N*m": "newton*meter",
        "N*cm": "newton*centimeter",
        "lbf*ft": "force_pound*foot",
        "lbf*in": "force_pound*inch",
        "kgf*m": "force_kilogram*meter",
        "kgf*cm": "force_kilogram*centimeter",
        "N/mm": "newton/millimeter",
        "kgf/mm": "force_kilogram/millimeter",
        "lbf/in": "force_pound/inch",
        "kW": "kilowatt",
        "W": "watt",
        "hp": "horsepower",
        "PS": "metric_horsepower",
        "m/s^2": "meter/second**2",
        "rpm": "revolutions_per_minute",
        "dB": "decibel",
        "°": "degree",
        "V": "volt",
        "mV": "millivolt",
        "K": "kelvin",
        "°C": "degree_Celsius",
        "°F": "degree_Fahrenheit",
    }
)
"""What Pint calls each unit; it has no 32nds of an inch."""

_OTHER_PINT_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "mile_per_hour": "mph",
        "kilometer_per_hour": "km/h",
        "meter_per_second": "m/s",
        "foot_per_second": "ft/s",
        "revolution/minute": "rpm",
        "force_pound/inch**2": "psi",
        "foot_pound": "lbf*ft",
        "square_inch": "in^2",
        "cubic_inch": "in^3",
        "degree_Kelvin": "K",
    }
)
"""More of Pint's names, for units that it has twice."""


def from_pint(quantity: "pint.Quantity[Any]") -> tuple[Fraction, Unit]:
    """The value of a Pint quantity in a unit of the allow-list, and that unit.

    Exact for integers, fractions and decimals; a float counts as the shortest decimal
    that names it, so 3.5 is 3.5 and 0.1 is one tenth.

    Raises:
        ValueError: One sentence: the unit is not on the allow-list, or the magnitude is
            no number of at most 20 digits.
        TypeError: The magnitude is no single number.
    """
    unit = _pint_units().get(_items(quantity.unit_items()))
    if unit is None:
        written = str(quantity.units)
        if "delta_" in written:
            raise ValueError(f"`{quantity}` is a difference of temperatures, not a temperature")
        raise ValueError(f"`{written}` is not a unit that is read here: convert it to one that is")
    return _exact(quantity.magnitude), unit


def to_pint(
    value: Fraction, unit: Unit, registry: "pint.UnitRegistry[Any] | None" = None
) -> "pint.Quantity[Any]":
    """A Pint quantity of a value in `unit`, its magnitude an exact fraction.

    Of Pint's application registry unless another is given; 32nds of an inch, which Pint
    lacks, become inches.
    """
    # A quarter of a second, which only callers of Pint should pay.
    import pint

    if unit.name == "32nds":
        value, unit = value / 32, SPELLINGS["in"]
    make = (registry or pint.application_registry).Quantity
    quantity: pint.Quantity[Any] = make(value, PINT_NAMES[unit.name])
    return quantity


def _items(items: Iterable[tuple[str, Any]]) -> frozenset[tuple[str, Fraction]]:
    return frozenset((name, Fraction(exponent)) for name, exponent in items)


@cache
def _pint_units() -> Mapping[frozenset[tuple[str, Fraction]], Unit]:
    """Our units by the product of Pint's own unit names that each is."""
    # A quarter of a second, which only callers of Pint should pay.
    import pint

    named = [(pint_name, SPELLINGS.get(name, ONE)) for name, pint_name in PINT_NAMES.items()]
    named += [(pint_name, SPELLINGS[name]) for pint_name, name in _OTHER_PINT_NAMES.items()]
    make = pint.application_registry.Quantity
    return {_items(make(1, pint_name).unit_items()): unit for pint_name, unit in named}


def _exact(magnitude: object) -> Fraction:
    """The magnitude as an exact number, bounded as numbers in a file are."""
    if isinstance(magnitude, bool) or not isinstance(magnitude, numbers.Real | Decimal):
        raise TypeError(f"`{magnitude}` is not one number")
    if isinstance(magnitude, Decimal):
        return _of_decimal(magnitude)
    if isinstance(magnitude, numbers.Rational):
        value = Fraction(int(magnitude.numerator), int(magnitude.denominator))
    else:
        return _of_decimal(Decimal(float.__repr__(float(magnitude))))
    return _bounded(value)


def _of_decimal(magnitude: Decimal) -> Fraction:
    """The decimal as a fraction, its size asked before any power of ten is made."""
    if not magnitude.is_finite():
        raise ValueError(f"`{magnitude}` is not a number")
    if abs(magnitude.adjusted()) > MOST_DIGITS:
        raise ValueError(_TOO_LONG)
    return _bounded(Fraction(magnitude))


_TOO_LONG = f"a number here has at most {MOST_DIGITS} digits"


def _bounded(value: Fraction) -> Fraction:
    if max(abs(value.numerator), value.denominator) > 10**MOST_DIGITS:
        raise ValueError(_TOO_LONG)
    return value
