"""Units in the browser: converted as is published, printed as Python does, offered by system."""

from fractions import Fraction
from typing import Any

import pytest
from form.measured import PLAIN_UNITS, UNITS, fact_in, plain_fact, read
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.publishing.form.units import plain_units
from trackprep.units import ONE, SPELLINGS, show, to_base

NIST = "NIST SP 811 (2008), appendix B.8"
FEW = settings(max_examples=100 if THOROUGH else 12)


# ---- published conversions --------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "unit", "printed", "source"),
    [
        ("1 in", "mm", "25.4", NIST),
        ("1 ft", "m", "0.3048", NIST),
        ("1 mi", "km", "1.609344", NIST),
        ("1 mph", "km/h", "1.609344", NIST),
        ("1 lb", "kg", "0.45359237", NIST),
        ("1 oz", "g", "28.34952", NIST),
        ("1 psi", "kPa", "6.894757", NIST),
        ("1 bar", "kPa", "100", NIST),
        ("1 kgf/cm2", "kPa", "98.0665", NIST),
        ("1 atm", "kPa", "101.325", NIST),
        ("1 inHg", "kPa", "3.386389", NIST),
        ("1 ft·lbf", "N*m", "1.355818", NIST),
        ("1 in*lbf", "N*m", "0.1129848", NIST),
        ("1 kgf*m", "N*m", "9.80665", NIST),
        ("1 gal", "L", "3.785412", NIST),
        ("1 qt", "L", "0.9463529", NIST),
        ("1 fl oz", "mL", "29.57353", NIST),
        ("1 hp", "W", "745.6999", f"{NIST}, of 550 ft*lbf/s"),
        ("1 PS", "W", "735.4988", f"{NIST}, metric"),
        ("212 degF", "°C", "100", f"{NIST}: (t - 32)/1.8"),
        ("-40 °F", "°C", "-40", f"{NIST}: (t - 32)/1.8"),
        ("0 °C", "K", "273.15", f"{NIST}: t + 273.15"),
    ],
)
def test_a_published_conversion(
    call: Any, typed: str, unit: str, printed: str, source: str
) -> None:
    plain = read(call, [(typed, fact_in(unit))])[0]["plain"]
    (factor, offset) = (SPELLINGS[unit].factor, SPELLINGS[unit].offset)
    value = (Fraction(plain) - offset) / factor
    decimals = len(printed.partition(".")[2])
    assert abs(value - Fraction(printed)) <= Fraction(1, 2 * 10**decimals), source
    shown = call("(...given) => showAmount(...given)", plain, unit, PLAIN_UNITS)
    assert shown == show(Fraction(plain), SPELLINGS[unit])


# ---- printing ---------------------------------------------------------------

VALUES = st.one_of(
    st.fractions(-10_000, 10_000, max_denominator=10_000),
    st.decimals(-10_000, 10_000, places=3).map(Fraction),
    st.tuples(st.integers(-2000, 2000), st.sampled_from((16, 32, 64))).map(lambda p: Fraction(*p)),
    st.fractions(-1, 1, max_denominator=10**9),
    st.integers(-3, 3).map(Fraction),
    # Ends in the middle between two numbers of four digits.
    st.tuples(st.integers(1000, 9999), st.integers(8, 12)).map(
        lambda pair: Fraction(10 * pair[0] + 5, 10 ** pair[1])
    ),
)
SHOWN = st.tuples(VALUES, st.sampled_from([*UNITS, ONE]), st.booleans(), st.booleans())


@FEW
@given(shown=st.lists(SHOWN, min_size=40, max_size=150))
def test_an_amount_is_printed_as_python_prints_it(call: Any, shown: list[Any]) -> None:
    asked, wanted = [], []
    for number, unit, in_unit, difference in shown:
        value = to_base(number, unit) if in_unit else number
        asked.append((str(value), unit.name, difference))
        wanted.append(show(value, unit, difference=difference))
    script = """(asked, units) => asked.map(([plain, name, difference]) =>
      showAmount(plain, name, units, difference))"""
    found = call(script, asked, PLAIN_UNITS)
    assert found == wanted


# ---- what is offered --------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "metric", "imperial"),
    [
        ("mm", ["mm", "cm", "in", "32nds"], ["in", "32nds", "mm", "cm"]),
        ("in", ["mm", "cm", "in", "32nds"], ["in", "32nds", "mm", "cm"]),
        ("psi", ["bar", "kPa", "psi"], ["psi", "bar", "kPa"]),
        ("kPa", ["kPa", "bar", "psi"], ["psi", "kPa", "bar"]),
        ("km/h", ["km/h", "mph"], ["mph", "km/h"]),
        ("°C", ["°C", "°F"], ["°F", "°C"]),
        ("kg", ["kg", "lb"], ["lb", "kg"]),
        ("dB", ["dB"], ["dB"]),
        ("rpm", ["rpm"], ["rpm"]),
        ("", [""], [""]),
    ],
)
def test_the_units_of_the_system_are_offered_first(
    call: Any, unit: str, metric: list[str], imperial: list[str]
) -> None:
    script = """(fact, units) =>
      ["metric", "imperial"].map((system) => offeredUnits(fact, units, system))"""
    fact = plain_fact(fact_in(unit, whole=not unit))
    assert call(script, fact, PLAIN_UNITS) == [metric, imperial]


def test_only_units_of_the_wanted_dimensions_are_data() -> None:
    found = plain_units([SPELLINGS["mm"], SPELLINGS["°C"]])
    assert {row["is"] for row in found.values()} == {"a length", "a temperature"}
    assert [name for name, row in found.items() if "offered" in row] == ["mm", "°C"]
    assert Fraction(found["in"]["factor"]) == Fraction("0.0254"), NIST


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.name)
def test_every_spelling_and_factor_is_in_the_data(unit: Any) -> None:
    row = PLAIN_UNITS[unit.name]
    assert Fraction(row.get("factor", 1)) == unit.factor
    assert Fraction(row.get("offset", 0)) == unit.offset
    spellings = {unit.name, *row.get("also", ())}
    assert spellings == {spelling for spelling, its in SPELLINGS.items() if its == unit}
    assert unit.name in row["offered"]
    assert all(SPELLINGS[name].dimension == unit.dimension for name in row["offered"])
