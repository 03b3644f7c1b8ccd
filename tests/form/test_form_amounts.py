"""Numbers and units in the browser: read, ranged and printed as Python does."""

import re
from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trackprep.problems import Problem
from trackprep.publishing.form.units import plain_units
from trackprep.rider.asking_answers import reply
from trackprep.rules.model import Fact, Measured
from trackprep.rules.values import Amount
from trackprep.units import ONE, SPELLINGS, show, to_base

NIST = "NIST SP 811 (2008), appendix B.8"
DAY = date(2026, 6, 14)
UNITS = sorted(set(SPELLINGS.values()), key=lambda unit: unit.name)
PLAIN_UNITS = plain_units(UNITS)
FEW = settings(max_examples=25)

READ = """(asked, units) =>
  asked.map(([text, fact]) => readAmount(text, fact, units))"""


def fact_in(
    unit: str, low: str | None = None, high: str | None = None, *, whole: bool = False
) -> Fact:
    ends = [None if end is None else Fraction(end) for end in (low, high)]
    its = ONE if whole else SPELLINGS[unit]
    ends = [None if end is None else to_base(end, its) for end in ends]
    return Fact("a.fact", "A fact", Measured(its, *ends, whole=whole))


def plain_fact(fact: Fact) -> dict[str, Any]:
    its = fact.type
    assert isinstance(its, Measured)
    ends = {"low": its.low, "high": its.high}
    found = {"path": fact.path, "kind": "number", "unit": its.unit.name, "whole": its.whole}
    texts = {key: str(end) for key, end in ends.items() if end is not None}
    return {key: value for key, value in {**found, **texts}.items() if value}


def read(call: Any, asked: Iterable[tuple[str, Fact]]) -> list[Any]:
    given = [(text, plain_fact(fact)) for text, fact in asked]
    found = call(READ, given, PLAIN_UNITS)
    assert isinstance(found, list)
    return found


def by_python(text: str, fact: Fact) -> Amount | None:
    said = reply([fact], text, DAY)
    if isinstance(said, Problem):
        return None
    assert isinstance(said.value, Amount)
    return said.value


def assert_alike(call: Any, asked: Sequence[tuple[str, Fact]]) -> int:
    """How many of the texts are amounts, after the two agree on each."""
    count = 0
    for (text, fact), found in zip(asked, read(call, asked), strict=True):
        said = reply([fact], text, DAY)
        if isinstance(said, Problem):
            assert list(found) == ["problem"], (text, fact.type, found, said.message)
            assert found["problem"].endswith("."), found
        else:
            count += 1
            assert isinstance(said.value, Amount)
            wanted = {"plain": str(said.value.value), "written": said.written}
            assert found == wanted, (text, fact.type)
            again = by_python(found["written"], fact)
            assert again is not None
            assert again.value == said.value.value
    return count


FACTS = (
    fact_in("mm", "0", "12"),
    fact_in("mm"),
    fact_in("in", "4", "30"),
    fact_in("psi", "5", "60"),
    fact_in("°C", "-30", "50"),
    fact_in("N*m", "1", "100"),
    fact_in("dB", "40", "140"),
    fact_in("%", "0", "100"),
    fact_in("°", "0", "90"),
    fact_in("rpm", "500", "20000"),
    fact_in("months", "0", "24"),
    fact_in("", "0", "8", whole=True),
    fact_in("", whole=True),
)
NUMBERS = ("0", "3", "007", "3.5", "3.50", "12", "95", "3/32", "1 1/4", "1  1/4", "0 3/2",
           "1 3/2", "1 2/2", "3/0", "1,5", "1,500", "1 500", ".5", "5.", "+5", "1e3",
           "1.2.3", "1/2/3", "3.5/2", "2023-04", "", "1234567890123456789012",
           "12345678901234567890.5", "٣")  # fmt: skip
SIGNS = ("", "-", "−", "- ", "--")
GAPS = ("", " ", "  ", "\t", "\u00a0", "\u2009", "\u3000", "-", ".")
BEHIND = ("", " ", " # by hand", "#", " 3", ",", ".", "s", " mm", '"')


def test_every_number_and_spelling_is_read_as_python_reads_it(call: Any) -> None:
    numbers = list(product(SIGNS, NUMBERS))
    spellings = [*SPELLINGS, "", "lbf·ft", "N⋅m", "μm", "º", "˚", "fl  oz", "MM", "kilo", "foo"]
    asked = [(f"{sign}{number} {name}", FACTS[0]) for sign, number in numbers
             for name in ("mm", "in", "32nds", "", "kg")]  # fmt: skip
    asked += [(f"{sign}{number} mm", FACTS[1]) for sign, number in numbers]
    asked += [(f"{number}{gap}{name}", fact) for name in spellings
              for number, gap, fact in (("25", " ", FACTS[1]), ("6", "", FACTS[1]))]  # fmt: skip
    asked += [(f"20 {name}", fact) for name in spellings for fact in FACTS]
    asked += [(f"{sign}7{gap}mm{end}", FACTS[0]) for sign in SIGNS for gap in GAPS
              for end in BEHIND]  # fmt: skip
    asked += [(f"{sign}{number}{end}", FACTS[-2]) for sign, number in numbers for end in BEHIND]
    assert len(asked) > 3_000
    assert assert_alike(call, asked) > 150  # most are slips


UNIT_TEXTS = st.sampled_from([*SPELLINGS, "", "", "mm", "mm", "MM", "lb", "c", '"'])
NUMBER_TEXTS = st.one_of(
    st.integers(-200, 30_000).map(str),
    st.decimals(-100, 1000, places=3).map(str),
    st.tuples(st.integers(0, 12), st.integers(0, 40), st.integers(0, 64)).map(
        lambda parts: "{} {}/{}".format(*parts)
    ),
    st.sampled_from(NUMBERS),
)
TYPED = st.one_of(
    st.tuples(
        st.sampled_from(("", "", "", *SIGNS)),
        NUMBER_TEXTS,
        st.sampled_from((" ", " ", *GAPS)),
        UNIT_TEXTS,
        st.sampled_from(("", "", "", *BEHIND)),
    ).map("".join),
    st.text("0123456789/.-, #\"mNkPaibrlfnd°CF*·²'–−\\", max_size=12),
    st.text(st.characters(exclude_characters="\r\n\ufeff", codec="utf-8"), max_size=8),
)


@FEW
@given(asked=st.lists(st.tuples(TYPED, st.sampled_from(FACTS)), min_size=40, max_size=120))
def test_whatever_is_typed_means_the_same_in_both(call: Any, asked: list[tuple[str, Fact]]) -> None:
    assert_alike(call, asked)


def test_what_is_written_reads_back_to_the_same_value(call: Any) -> None:
    """As a field does with what it shows, where nothing was rounded."""
    fact = FACTS[1]
    texts = ["1 3/32 in", "−0.25 mm", "2  1/2   in # cold", "3/32 in", "17 32nds", "25.4mm"]
    first = read(call, [(text, fact) for text in texts])
    again = read(call, [(one["written"], fact) for one in first])
    assert again == first


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
      [showAmount, amountIn].map((shown) => shown(plain, name, units, difference)))"""
    found = call(script, asked, PLAIN_UNITS)
    assert [text for text, _ in found] == wanted
    for (_, alone), text in zip(found, wanted, strict=True):
        assert text.removeprefix("about ").startswith(alone)
        assert re.fullmatch(r"-?(\d+ )?\d+(\.\d+|/\d+)?", alone), alone


@pytest.mark.parametrize(
    ("typed", "unit", "alone"),
    [
        ("1 1/2 in", "in", "1.5"),
        ("1 3/32 in", "in", "1 3/32"),
        ("-5 °C", "°C", "-5"),
        ("250 kPa", "bar", "2.5"),
    ],
)
def test_a_number_in_a_field_reads_back_where_it_is_exact(
    call: Any, typed: str, unit: str, alone: str
) -> None:
    fact = fact_in(unit)
    plain = read(call, [(typed, fact)])[0]["plain"]
    assert call("(...given) => amountIn(...given)", plain, unit, PLAIN_UNITS) == alone
    assert read(call, [(f"{alone} {unit}", fact)])[0]["plain"] == plain


# ---- what a rider is told ---------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "typed", "problem"),
    [
        ("mm", "5", "The unit is missing: write `5 mm`, `5 cm`, `5 in` or `5 32nds`."),
        ("mm", "5 kg", "`kg` is a mass, and this is a length: write it in `mm`, `cm`, `in` or "
                       "`32nds`."),
        ("mm", "5 foo", "`foo` is no unit for a length: write it in `mm`, `cm`, `in` or `32nds`."),
        ("mm", "5 Millimeters", "`Millimeters` is not read here: write `5 mm`."),
        ("mm", '2"', "`\"` is not read here: write `2 in`."),
        ("mm", "2,5 mm", "Numbers are written without a comma here: write `2.5 mm` or `25 mm`."),
        ("rpm", "12,500.5 rpm", "Numbers are written without a comma here: write `12500.5 rpm`."),
        ("mm", ".5 mm", "Write `0.5 mm`."),
        ("mm", "+5 mm", "Write `5 mm`."),
        ("mm", "1 3/2 in", "`1 3/2` is no mixed fraction: its second part must be below 1."),
        ("mm", "50 mm", "`50 mm` cannot be right: this is a number and its unit, from 0 mm to "
                        "40 mm. Measure once more, or mend the unit."),
        ("mm", "", "Write a number and its unit, from 0 mm to 40 mm."),
        ("mm", "thick", "`thick` is not a number that is read here: write a number and its unit, "
                        "from 0 mm to 40 mm."),
        ("psi", "2 kg", "A gauge in kg reads kgf to the square centimetre: write `2 kgf/cm^2`."),
        ("N*m", "20 ft-lbs", "`ft-lbs` is not read here: write `20 lbf*ft`."),
        ("%", "30", "`30` cannot be right: this is a number and its unit, from 0 % to 40 %. If you "
                    "mean `30 %`, write that."),
    ],
)  # fmt: skip
def test_a_problem_says_what_to_write(call: Any, unit: str, typed: str, problem: str) -> None:
    assert read(call, [(typed, fact_in(unit, "0", "40"))]) == [{"problem": problem}]


def test_a_count_is_whole_and_has_no_unit(call: Any) -> None:
    fact = fact_in("", "0", "8", whole=True)
    found = read(call, [(typed, fact) for typed in ("2.5", "4/2", "9", "2 mm", "3")])
    assert found == [
        {"problem": "`2.5` is no whole number: write a whole number from 0 to 8."},
        {"problem": "`4/2` is no whole number: write a whole number from 0 to 8."},
        {"problem": "`9` cannot be right: this is a whole number from 0 to 8. Count once more."},
        {"problem": "Write the number alone, without `mm`."},
        {"plain": "3", "written": "3"},
    ]


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
