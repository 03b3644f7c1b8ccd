"""The allow-list: every unit that a file may name, its spellings and its exact factor.

Bases are the metre, kilogram, second, kelvin, decibel, degree of angle, volt and
calendar month. Factors follow from definitions: the inch is 25.4 mm and the pound
0.45359237 kg (24 FR 5348, 1 July 1959), standard gravity is 9.80665 m/s^2 (3rd CGPM,
1901), the rest is arithmetic on them (NIST SP 811, appendix B). Fluid ounces, quarts and
gallons without a word before them are those of the United States.
"""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from attrs import field

from trackprep.frozen import frozen
from trackprep.units.dimensions import (
    ACCELERATION,
    ANGLE,
    AREA,
    ENGINE_SPEED,
    FORCE,
    LENGTH,
    LEVEL,
    MASS,
    MONTHS,
    NUMBER,
    POWER,
    PRESSURE,
    SPEED,
    SPRING_RATE,
    TEMPERATURE,
    TIME,
    TORQUE,
    VOLTAGE,
    VOLUME,
    Dimension,
)


@frozen
class Unit:
    """A unit of the allow-list; its name tells it from every other.

    A value in the unit, times `factor`, plus `offset`, is the value in base units.
    """

    name: str
    """The spelling that is printed, `N*m`; empty for the plain number."""
    dimension: Dimension = field(eq=False)
    factor: Fraction = field(eq=False)
    offset: Fraction = field(eq=False, default=Fraction(0))
    """Where the scale's zero lies, in kelvin: of temperatures only, as points."""
    calendar: Literal["days", "months"] | None = field(eq=False, default=None)
    """What the unit counts on a calendar: of days and weeks (which are also a fixed
    number of seconds), and of months and years (which are not)."""


ONE = Unit("", NUMBER, Fraction(1))
"""The unit of counts and other plain numbers."""

_MILLI = Fraction(1, 1000)
_CENTI = Fraction(1, 100)
_INCH = Fraction(254, 10_000)
_FOOT = 12 * _INCH
_MILE = 5280 * _FOOT
_GRAM = _MILLI
_POUND = Fraction(45_359_237, 10**8)
_GRAVITY = Fraction(980_665, 10**5)
_KGF = _GRAVITY
_LBF = _POUND * _GRAVITY
_MINUTE = Fraction(60)
_HOUR = 60 * _MINUTE
_DAY = 24 * _HOUR
_LITRE = Fraction(1, 1000)
_GALLON = 231 * _INCH**3  # US, NIST Handbook 44, appendix C
_IMPERIAL_GALLON = Fraction(454_609, 10**5) * _LITRE  # Weights and Measures Act 1985, schedule 1
_MM_OF_MERCURY = Fraction(135_951, 10) * _GRAVITY * _MILLI  # conventional density, ISO 80000-4
_CELSIUS_ZERO = Fraction(27_315, 100)
_RANKINE = Fraction(5, 9)
_FAHRENHEIT_ZERO = Fraction(45_967, 100) * _RANKINE

_LENGTHS: dict[str, Fraction] = {
    "mm": _MILLI,
    "cm": _CENTI,
    "m": Fraction(1),
    "km": Fraction(1000),
    "um | µm": _MILLI**2,
    "in | inch | inches": _INCH,
    "32nds | 32nd": _INCH / 32,
    "thou": _INCH / 1000,
    "ft | foot | feet": _FOOT,
    "yd": 3 * _FOOT,
    "mi | mile | miles": _MILE,
}
_AREAS = {
    "mm^2 | mm2 | mm²": _MILLI**2,
    "cm^2 | cm2 | cm²": _CENTI**2,
    "m^2 | m2 | m²": Fraction(1),
    "in^2 | in2 | in² | sq in": _INCH**2,
}
_VOLUMES = {
    "cc": _CENTI**3,
    "cm^3 | cm3 | cm³": _CENTI**3,
    "mL | ml": _LITRE / 1000,
    "L | l": _LITRE,
    "in^3 | in3 | in³ | cu in": _INCH**3,
    "fl oz | fl. oz | US fl oz": _GALLON / 128,
    "qt | US qt": _GALLON / 4,
    "gal | US gal": _GALLON,
    "imp fl oz": _IMPERIAL_GALLON / 160,
    "imp gal": _IMPERIAL_GALLON,
}
_MASSES = {
    "kg": Fraction(1),
    "g": _GRAM,
    "lb | lbs": _POUND,
    "oz": _POUND / 16,
}
_TIMES = {
    "s | second | seconds": Fraction(1),
    "ms": _MILLI,
    "min | minute | minutes": _MINUTE,
    "h | hour | hours": _HOUR,
}
_SPEEDS = {
    "km/h | kph": 1000 / _HOUR,
    "mph": _MILE / _HOUR,
    "m/s": Fraction(1),
    "ft/s": _FOOT,
}
_FORCES = {
    "N": Fraction(1),
    "kN": Fraction(1000),
    "lbf": _LBF,
    "kgf": _KGF,
}
_PRESSURES = {
    "psi | lbf/in^2 | lbf/in2 | lbf/in²": _LBF / _INCH**2,
    "kPa": Fraction(1000),
    "bar": Fraction(100_000),
    "Pa": Fraction(1),
    "hPa": Fraction(100),
    "MPa": Fraction(10**6),
    "mbar": Fraction(100),
    "kgf/cm^2 | kgf/cm2 | kgf/cm²": _KGF / _CENTI**2,
    "atm": Fraction(101_325),
    "mmHg": _MM_OF_MERCURY,
    "inHg": _MM_OF_MERCURY * _INCH / _MILLI,
}
_TORQUES = {
    "N*m | Nm": Fraction(1),
    "N*cm | Ncm": _CENTI,
    "lbf*ft | ft*lbf": _LBF * _FOOT,
    "lbf*in | in*lbf": _LBF * _INCH,
    "kgf*m": _KGF,
    "kgf*cm": _KGF * _CENTI,
}
_SPRING_RATES = {
    "N/mm": 1 / _MILLI,
    "kgf/mm": _KGF / _MILLI,
    "lbf/in": _LBF / _INCH,
}
_POWERS = {
    "kW": Fraction(1000),
    "W": Fraction(1),
    "hp": 550 * _FOOT * _LBF,  # mechanical
    "PS": 75 * _KGF,  # metric
}
_OTHERS: dict[Dimension, dict[str, Fraction]] = {
    NUMBER: {"%": _CENTI},
    ACCELERATION: {"m/s^2 | m/s2 | m/s²": Fraction(1)},
    ENGINE_SPEED: {"rpm | r/min | rev/min | 1/min | min^-1": 1 / _MINUTE},
    LEVEL: {"dB | dB(A) | dBA": Fraction(1)},
    ANGLE: {"° | deg": Fraction(1)},
    VOLTAGE: {"V": Fraction(1), "mV": _MILLI},
}


def _plain() -> Iterator[tuple[Unit, list[str]]]:
    """The units that have a factor and nothing else, each with its spellings."""
    tables: dict[Dimension, dict[str, Fraction]] = {
        LENGTH: _LENGTHS,
        AREA: _AREAS,
        VOLUME: _VOLUMES,
        MASS: _MASSES,
        TIME: _TIMES,
        SPEED: _SPEEDS,
        FORCE: _FORCES,
        PRESSURE: _PRESSURES,
        TORQUE: _TORQUES,
        SPRING_RATE: _SPRING_RATES,
        POWER: _POWERS,
        **_OTHERS,
    }
    for dimension, rows in tables.items():
        for row, factor in rows.items():
            spellings = row.split(" | ")
            yield Unit(spellings[0], dimension, factor), spellings


def _temperatures() -> Iterator[tuple[Unit, list[str]]]:
    yield Unit("K", TEMPERATURE, Fraction(1)), ["K"]
    yield Unit("°C", TEMPERATURE, Fraction(1), _CELSIUS_ZERO), ["°C", "degC", "℃"]
    yield Unit("°F", TEMPERATURE, _RANKINE, _FAHRENHEIT_ZERO), ["°F", "degF", "℉"]


def _calendar() -> Iterator[tuple[Unit, list[str]]]:
    yield Unit("days", TIME, _DAY, calendar="days"), ["days", "day"]
    yield Unit("weeks", TIME, 7 * _DAY, calendar="days"), ["weeks", "week"]
    yield Unit("months", MONTHS, Fraction(1), calendar="months"), ["months", "month"]
    yield Unit("years", MONTHS, Fraction(12), calendar="months"), ["years", "year"]


SPELLINGS: Mapping[str, Unit] = MappingProxyType(
    {
        spelling: unit
        for units in (_plain(), _temperatures(), _calendar())
        for unit, spellings in units
        for spelling in spellings
    }
)
"""Every spelling that is read, with `*` for the raised dot; a unit's own name is first."""

# What word processors and keyboards put for the same sign.
_SAME_SIGN = str.maketrans({
    "·": "*", "⋅": "*", "∙": "*", "º": "°", "˚": "°", "μ": "µ", "\u00a0": " ", "\u202f": " ",
})  # fmt: skip


def unit(spelling: str) -> Unit | None:
    """The unit so spelled, or None; capitals count, as `MPa` and `mPa` differ."""
    return SPELLINGS.get(spelling) or SPELLINGS.get(normal_spelling(spelling))


def normal_spelling(text: str) -> str:
    """The text with one sign for each of the raised dots, degrees and spaces."""
    return " ".join(text.translate(_SAME_SIGN).split())


def _by_first_sign() -> dict[str, list[list[str]]]:
    """The words of every spelling by the sign that they begin with, the longer ones first."""
    found: dict[str, list[list[str]]] = {}
    for spelling in sorted(SPELLINGS, key=len, reverse=True):
        found.setdefault(spelling[0], []).append(spelling.split(" "))
    return found


_BY_FIRST_SIGN = _by_first_sign()
_GOES_ON = re.compile(
    r"[\w^(°º˚µμ²³%℃℉]"  # the word, or the unit
    r"|[-.][A-Za-z]"  # a name or a path
    r"|[*·⋅∙/][A-Za-z°µ]{1,3}(?![\w.-])"  # a compound that the list lacks, `N*dm`
)


def unit_end(text: str, start: int = 0) -> int | None:
    """Where the unit ends that stands at `start`, as behind a number; None if none does.

    It never stops inside a word, a path or a longer unit. A compound that the list lacks is
    not read by its first half; so a fact of up to three letters needs a space before its `*`.
    """
    # Looked up, as one pattern of all spellings takes 3 ms of every start to compile.
    for words in _BY_FIRST_SIGN.get(text[start : start + 1].translate(_SAME_SIGN), ()):
        end = _end_of(words, text, start)
        if end is not None and not _GOES_ON.match(text, end):
            return end
    return None


def _end_of(words: list[str], text: str, start: int) -> int | None:
    """Where the words end, if they stand there with one space or more between them."""
    end = start
    for place, word in enumerate(words):
        if place > 0:
            after = end
            while text[end : end + 1].translate(_SAME_SIGN) == " ":
                end += 1
            if end == after:
                return None
        if text[end : end + len(word)].translate(_SAME_SIGN) != word:
            return None
        end += len(word)
    return end
