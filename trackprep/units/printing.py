"""Exact values to text, as people write them, and never rounded into another verdict."""

from fractions import Fraction

from trackprep.frozen import frozen
from trackprep.units.quantities import from_base, from_base_difference
from trackprep.units.reading import MOST_DIGITS
from trackprep.units.table import SPELLINGS, Unit

MOST_DECIMALS = 6
"""How many decimals are printed of a number that ends."""
SIGNIFICANT = 4
"""How many digits are printed of one that does not, or not soon enough."""

_SINGULARS = {
    "days": "day", "weeks": "week", "months": "month", "years": "year", "32nds": "32nd",
}  # fmt: skip
_RULER_PARTS = (16, 32, 64)


@frozen
class _Numeral:
    """A number as printed, and the value that a reader takes from it."""

    text: str
    value: Fraction
    ruler: bool = False


def show(value: Fraction, unit: Unit, *, difference: bool = False) -> str:
    """The value, in base units, as text in `unit`: `3.5 mm`, `5 %`, `1 year`, `20 °C`.

    A number that ends within six decimals is exact; any other has four significant
    digits and `about` before it. Inches that a ruler marks are fractions, `1 3/32 in`.
    A temperature that is a `difference` is in kelvin.
    """
    number, shown_unit = _in_unit(value, unit, difference=difference)
    return _with_unit(_numeral(number, shown_unit), shown_unit)


def show_apart(
    value: Fraction, limit: Fraction, unit: Unit, *, difference: bool = False
) -> tuple[str, str]:
    """Both values as `show` prints them, with the digits it takes to tell them apart.

    Different values read differently and in their right order, so that nothing reads
    "95 dB is over 95 dB"; equal ones read the same.
    """
    number, shown_unit = _in_unit(value, unit, difference=difference)
    bound, _ = _in_unit(limit, unit, difference=difference)
    one, other = _numeral(number, shown_unit), _numeral(bound, shown_unit)
    if one.ruler != other.ruler:
        # Nobody compares 3/32 with 0.093 at a glance.
        one, other = _decimal(number), _decimal(bound)
    digits = SIGNIFICANT
    while _order(one.value, other.value) != _order(number, bound):
        digits += 1
        one, other = _decimal(number, digits), _decimal(bound, digits)
    return _with_unit(one, shown_unit), _with_unit(other, shown_unit)


def written(value: Fraction, unit: Unit) -> str | None:
    """The value, in base units, exactly as a file may spell it in `unit`.

    It reads back to the same value. None where that takes more digits than a file's
    number may have, as with most psi in kPa.
    """
    number = from_base(value, unit)
    decimals = _decimals_of(number)
    if decimals is not None:
        text = _fixed(number, decimals)
    else:
        text = f"{number.numerator}/{number.denominator}"
    if sum(sign.isdigit() for sign in text) > MOST_DIGITS:
        return None
    return _with_unit(_Numeral(text, number), unit)


def _in_unit(value: Fraction, unit: Unit, *, difference: bool) -> tuple[Fraction, Unit]:
    """The number to print, and the unit to print it in."""
    if not difference:
        return from_base(value, unit), unit
    if unit.offset:
        unit = SPELLINGS["K"]
    return from_base_difference(value, unit), unit


def _with_unit(numeral: _Numeral, unit: Unit) -> str:
    """The numeral and the unit's name, singular after exactly 1."""
    if not unit.name:
        return numeral.text
    if unit.name == "°":
        return f"{numeral.text}°"
    name = _SINGULARS.get(unit.name, unit.name) if numeral.text == "1" else unit.name
    return f"{numeral.text} {name}"


def _numeral(number: Fraction, unit: Unit) -> _Numeral:
    """The number as people write it in this unit."""
    if unit.name == "in" and number.denominator in _RULER_PARTS:
        return _ruler(number)
    return _decimal(number)


def _ruler(number: Fraction) -> _Numeral:
    """`3/32` or `1 3/32`."""
    whole, above = divmod(abs(number.numerator), number.denominator)
    sign = "-" if number < 0 else ""
    text = f"{sign}{f'{whole} ' if whole else ''}{above}/{number.denominator}"
    return _Numeral(text, number, ruler=True)


def _decimal(number: Fraction, digits: int = SIGNIFICANT) -> _Numeral:
    """The number exactly if it ends soon enough, else to so many significant digits."""
    decimals = _decimals_of(number)
    if decimals is not None and decimals <= max(MOST_DECIMALS, digits):
        return _Numeral(_fixed(number, decimals), number)
    places = _places(number, digits)
    return _Numeral(f"about {_fixed(number, places)}", round(number, places))


def _decimals_of(number: Fraction) -> int | None:
    """How many decimals the number has; None if it never ends or has more than it may."""
    for decimals in range(MOST_DIGITS + 1):
        if 10**decimals % number.denominator == 0:
            return decimals
    return None


def _places(number: Fraction, digits: int) -> int:
    """How many decimals make so many significant digits; whole digits are never cut."""
    size = abs(number)
    places = digits - len(str(int(size))) if size >= 1 else digits
    while size and size * 10**places < 10 ** (digits - 1) and size < 1:
        places += 1
    return max(places, 0)


def _fixed(number: Fraction, places: int) -> str:
    """The number rounded to so many decimals, without zeros at its end."""
    scaled = round(number * 10**places)
    sign = "-" if scaled < 0 else ""
    digits = f"{abs(scaled):0{places + 1}}"
    whole, decimals = digits[: len(digits) - places], digits[len(digits) - places :].rstrip("0")
    return f"{sign}{whole}.{decimals}" if decimals else f"{sign}{whole}"


def _order(one: Fraction, other: Fraction) -> int:
    """-1, 0 or 1 as one is below, equal to or above the other."""
    return (one > other) - (one < other)
