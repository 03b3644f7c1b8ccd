"""Conversions: the exact factors, against NIST SP 811 and SciPy's constants, and their traps."""

from fractions import Fraction

import pytest
from doors import as_printed, base, club_says, inside, met
from scipy import constants

from trackprep import measure
from trackprep.units import SPELLINGS, from_base, to_base

NIST = "NIST SP 811 (2008), appendix B.8"
EXACT = f"computed from the exact definitions in {NIST}"

# The units' own factors stand in `test_units.py`, against what NIST prints.


@pytest.mark.parametrize(
    ("spelling", "si", "source"),
    [
        (spelling, si, f"scipy.constants, {name}")
        for spelling, si, name in [
            ("in", constants.inch, "inch"),
            ("ft", constants.foot, "foot"),
            ("yd", constants.yard, "yard"),
            ("mi", constants.mile, "mile"),
            ("thou", constants.mil, "mil"),
            ("um", constants.micron, "micron"),
            ("mph", constants.mph, "mph"),
            ("km/h", constants.kmh, "kmh"),
            ("lb", constants.pound, "pound"),
            ("oz", constants.ounce, "ounce"),
            ("lbf", constants.pound_force, "pound_force"),
            ("kgf", constants.kilogram_force, "kilogram_force"),
            ("psi", constants.psi, "psi"),
            ("bar", constants.bar, "bar"),
            ("atm", constants.atmosphere, "atmosphere"),
            ("US gal", constants.gallon_US, "gallon_US"),
            ("imp gal", constants.gallon_imp, "gallon_imp"),
            ("US fl oz", constants.fluid_ounce_US, "fluid_ounce_US"),
            ("imp fl oz", constants.fluid_ounce_imp, "fluid_ounce_imp"),
            ("L", constants.liter, "liter"),
            ("hp", constants.horsepower, "horsepower"),
            ("min", constants.minute, "minute"),
            ("h", constants.hour, "hour"),
            ("day", constants.day, "day"),
            ("week", constants.week, "week"),
        ]
    ],
)
def test_a_unit_is_as_large_as_scipy_has_it(spelling: str, si: float, source: str) -> None:
    """Its numbers are floats that were multiplied, so that the last digits may differ."""
    assert float(base(f"1 {spelling}")) == pytest.approx(si, rel=4e-16), source


@pytest.mark.parametrize("degrees", [-459.67, -40, 0, 32, 59, 70, 98.6, 212, 500])
def test_temperatures_are_converted_as_scipy_does(degrees: float) -> None:
    for scale, unit in (("Fahrenheit", "°F"), ("Celsius", "°C")):
        if scale == "Celsius" and degrees < -273.15:
            continue
        kelvins = constants.convert_temperature(degrees, scale, "Kelvin")
        assert float(base(f"{degrees} {unit}")) == pytest.approx(kelvins, abs=1e-12)


@pytest.mark.parametrize(
    ("given", "unit", "printed", "source"),
    [
        ("1 lbf*ft", "N*m", "1.3558179483314004", EXACT),
        ("1 lbf*in", "N*m", "0.1129848290276167", EXACT),
        ("1 kgf*m", "N*m", "9.80665", NIST),
        ("1 psi", "kPa", "6.894757293168361", EXACT),
        ("1 bar", "kPa", "100", NIST),
        ("1 atm", "kPa", "101.325", NIST),
        ("1 inHg", "kPa", "3.386389", f"{NIST}, a conventional constant"),
        ("1 in", "mm", "25.4", NIST),
        ("1 mph", "km/h", "1.609344", NIST),
        ("1 lb", "kg", "0.45359237", EXACT),
        ("1 US qt", "L", "0.946352946", EXACT),
        ("1 US fl oz", "mL", "29.5735295625", EXACT),
        ("1 fl oz", "mL", "29.5735295625", f"{EXACT}: of the United States"),
        ("1 imp fl oz", "mL", "28.4130625", f"{EXACT}: not of the United States"),
        ("1 US gal", "L", "3.785411784", EXACT),
        ("1 imp gal", "L", "4.54609", NIST),
        ("80 lbf*ft", "N*m", "108.4654", EXACT),
        ("33 lbf*ft", "N*m", "44.7420", EXACT),
        ("108 lbf*in", "N*m", "12.2024", EXACT),
        ("108 lbf*in", "lbf*ft", "9", EXACT),
        ("100 N*m", "lbf*ft", "73.7562", EXACT),
        ("10 kgf*m", "N*m", "98.0665", EXACT),
        ("33 psi", "kPa", "227.5270", EXACT),
        ("33 psi", "bar", "2.27527", EXACT),
        ("36 psi", "kPa", "248.2113", EXACT),
        ("2.5 bar", "psi", "36.2594", EXACT),
        ("29 psi", "kPa", "199.948", EXACT),
        ("1/32 in", "mm", "0.79375", EXACT),
        ("2/32 in", "mm", "1.5875", EXACT),
        ("5/8 in", "mm", "15.875", EXACT),
        ("168 mph", "km/h", "270.3698", EXACT),
        ("149 mph", "km/h", "239.7923", EXACT),
        ("805 lb", "kg", "365.1419", EXACT),
        ("16 US fl oz", "mL", "473.1765", EXACT),
        ("250 mL", "US fl oz", "8.4535", EXACT),
        ("101.325 kPa", "psi", "14.69595", f"{EXACT}: the standard atmosphere"),
    ],
)
def test_a_quantity_is_shown_in_the_other_unit(
    given: str, unit: str, printed: str, source: str
) -> None:
    result = measure("units", given)[f"in {SPELLINGS[unit].name}"]
    assert as_printed(inside(result, unit), printed), source


def test_inches_of_mercury_are_conventional_ones() -> None:
    """29.92 inHg by the printed 3.386 389 kPa, which is itself rounded (NIST SP 811, B.8)."""
    found = from_base(base("29.92 inHg"), SPELLINGS["kPa"])
    of_printed = Fraction("29.92") * Fraction("3.386389")
    assert abs(found - of_printed) <= Fraction("29.92") / 2_000_000


@pytest.mark.parametrize(
    ("demand", "just_below", "at_least", "source"),
    [
        ("tyre.front.cold-pressure is at least 200 kPa", "29 psi", "2 bar", EXACT),
        ("tyre.front.tread is at least 1.6 mm", "2/32 in", "1.6 mm", EXACT),
        ("tyre.front.above-wear-bar is at least 0.8 mm", "1/32 in", "0.8 mm", EXACT),
        ("track.top-speed is at least 240 km/h", "149 mph", "240 km/h", EXACT),
        ("bars.width is at least 30 in", "760 mm", "762 mm", EXACT),
    ],
)
def test_a_rounded_figure_is_not_the_exact_one(
    demand: str, just_below: str, at_least: str, source: str
) -> None:
    path = demand.split()[0]
    assert met(demand, {path: just_below}) == "not-met", source
    assert met(demand, {path: at_least}) == "met", source


def test_two_32nds_of_an_inch_are_too_little_where_1_6_mm_are_asked() -> None:
    """NIST SP 811: 1.5875 mm; StVZO, section 36: 1.6 mm."""
    declared = {"tyre.front.kind": "road", "tyre.front.tread": "2/32 in"}
    assert club_says("common-practice", "tread", declared) == "not-met"


@pytest.mark.parametrize(
    ("weight", "answer", "source"),
    [
        ("805 lb", "not-met", f"{EXACT}: 365.1419 kg"),
        ("804 lb", "met", EXACT),
    ],
)
def test_pounds_are_held_against_the_kilograms_of_an_index(
    weight: str, answer: str, source: str
) -> None:
    """Load index 73 is 365 kg (UNECE R75, Annex 4)."""
    declared = {"tyre.front.load-index": 73, "machine.weight": weight}
    demand = "load-of(tyre.front.load-index) is at least machine.weight"
    assert met(demand, declared) == answer, source


@pytest.mark.parametrize(
    ("symbol", "speed", "answer", "source"),
    [
        ("V", "149 mph", "met", f"{EXACT}: 239.7923 km/h, and V is 240 (UNECE R75)"),
        ("W", "168 mph", "not-met", f"{EXACT}: 270.3698 km/h, and W is 270 (UNECE R75)"),
        ("W", "167 mph", "met", f"{EXACT}: 268.7604 km/h"),
    ],
)
def test_miles_are_held_against_the_kilometres_of_a_symbol(
    symbol: str, speed: str, answer: str, source: str
) -> None:
    declared = {"tyre.front.speed-symbol": symbol, "track.top-speed": speed}
    demand = "speed-of(tyre.front.speed-symbol) is at least track.top-speed"
    assert met(demand, declared) == answer, source


def test_absolute_zero_has_its_offsets() -> None:
    """NIST SP 811, appendix B.8, from memory: K = °C + 273.15, °R = °F + 459.67."""
    assert base("0 °C") == Fraction("273.15") == Fraction(str(constants.zero_Celsius))
    assert to_base(Fraction("-459.67"), SPELLINGS["°F"]) == 0
