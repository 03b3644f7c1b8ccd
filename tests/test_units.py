"""Units and exact quantities, against Pint's factors and published conversions."""

import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pint
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from trackprep.units import (
    NUMBER,
    ONE,
    SPELLINGS,
    Dimension,
    Unit,
    difference_to_base,
    from_base,
    from_base_difference,
    from_pint,
    nearest_unit,
    read_number,
    read_quantity,
    show,
    show_apart,
    to_base,
    to_pint,
    unit,
    unit_end,
    written,
)

UNITS = sorted(set(SPELLINGS.values()), key=lambda unit: unit.name)
EVERY_UNIT = pytest.mark.parametrize("its_unit", UNITS, ids=lambda unit: unit.name)
NUMBERS = st.fractions(-10_000, 10_000, max_denominator=10_000)
DECIMALS = st.decimals(-10_000, 10_000, places=3).map(Fraction)
NEAR_ZERO = st.one_of(
    st.just(Fraction(0)),
    st.integers(-99, 99).flatmap(
        lambda top: st.integers(0, 12).map(lambda n: Fraction(top, 10**n))
    ),
    st.fractions(-1, 1, max_denominator=10**9),
)
RATIONAL_PINT: pint.UnitRegistry[Any] = pint.UnitRegistry(non_int_type=Fraction)

PINT_BASES = {
    "a number": "dimensionless",
    "a length": "meter",
    "an area": "meter**2",
    "a volume": "meter**3",
    "a mass": "kilogram",
    "a duration": "second",
    "a temperature": "kelvin",
    "a sound level": "decibel",
    "an angle": "degree",
    "a voltage": "volt",
    "a number of months or years": "month",
    "a speed": "meter/second",
    "an acceleration": "meter/second**2",
    "an engine speed": "turn/second",
    "a force": "newton",
    "a pressure": "pascal",
    "a torque": "newton*meter",
    "a power": "watt",
    "a spring rate": "newton/meter",
}
"""The base unit of each dimension, as Pint names it."""


def named(spelling: str) -> Unit:
    """The unit so spelled, which is on the list."""
    found = unit(spelling)
    assert found is not None
    return found


def base(text: str) -> Fraction:
    """The value of a quantity's text in base units."""
    return to_base(*read_quantity(text))


def convert(text: str, spelling: str) -> Fraction:
    """The value of a quantity's text in another unit of its dimension."""
    value, its_unit = read_quantity(text)
    other = named(spelling)
    assert its_unit.dimension == other.dimension
    return from_base(to_base(value, its_unit), other)


def refusal(text: str) -> str:
    """What is said of a text that is no quantity."""
    with pytest.raises(ValueError) as refused:
        read_quantity(text)
    return str(refused.value)


# The table, against outside values


@EVERY_UNIT
def test_every_factor_and_zero_is_pints(its_unit: Unit) -> None:
    """Equal, not near: Pint computes in fractions here."""
    pint_base = PINT_BASES[its_unit.dimension.words]
    zero, one = (
        to_pint(Fraction(number), its_unit, RATIONAL_PINT).to(pint_base).magnitude
        for number in (0, 1)
    )
    assert to_base(Fraction(0), its_unit) == zero
    assert to_base(Fraction(1), its_unit) == one


@pytest.mark.parametrize(
    ("given_", "wanted", "printed"),
    [  # NIST SP 811 (2008), appendix B.8, mantissas as printed
        ("1 lbf*ft", "N*m", "1.355818"),
        ("1 lbf*in", "N*m", "0.1129848"),
        ("1 kgf*m", "N*m", "9.80665"),
        ("1 psi", "kPa", "6.894757"),
        ("1 bar", "kPa", "100"),
        ("1 atm", "kPa", "101.325"),
        ("1 inHg", "kPa", "3.386389"),
        ("1 in", "mm", "25.4"),
        ("1 mph", "km/h", "1.609344"),
        ("1 lb", "kg", "0.4535924"),
        ("1 qt", "L", "0.9463529"),
        ("1 fl oz", "mL", "29.57353"),
        ("1 gal", "L", "3.785412"),
        ("1 imp gal", "L", "4.54609"),
        # Computed from the exact definitions in the same document, to the digits shown
        ("80 lbf*ft", "N*m", "108.4654"),
        ("33 lbf*ft", "N*m", "44.7420"),
        ("108 lbf*in", "N*m", "12.2024"),
        ("100 N*m", "lbf*ft", "73.7562"),
        ("10 kgf*m", "N*m", "98.0665"),
        ("33 psi", "kPa", "227.5270"),
        ("33 psi", "bar", "2.27527"),
        ("36 psi", "kPa", "248.2113"),
        ("2.5 bar", "psi", "36.2594"),
        ("29 psi", "kPa", "199.948"),
        ("5/8 in", "mm", "15.875"),
        ("168 mph", "km/h", "270.3698"),
        ("149 mph", "km/h", "239.7923"),
        ("805 lb", "kg", "365.1419"),
        ("16 fl oz", "mL", "473.1765"),
        ("250 mL", "fl oz", "8.4535"),
        ("29.92 inHg", "kPa", "101.3207"),  # of the conventional 13.5951 g/cm^3, not of 3.386389
        ("1 32nds", "mm", "0.79375"),
        ("2 32nds", "mm", "1.5875"),
    ],
)
def test_conversions_are_those_that_nist_prints(given_: str, wanted: str, printed: str) -> None:
    """Within half of the last printed digit."""
    _, _, decimals = printed.partition(".")
    half = Fraction(1, 2 * 10 ** len(decimals))
    assert abs(convert(given_, wanted) - Fraction(printed)) <= half


@pytest.mark.parametrize(
    ("one", "other"),
    [  # exact by definition: NIST SP 811, appendix B
        ("1.2 in", "30.48 mm"),
        ("3/32 in", "2.38125 mm"),
        ("3 32nds", "3/32 in"),
        ("108 lbf*in", "9 lbf*ft"),
        ("14.5 lb", "6.577089365 kg"),
        ("20 °C", "68 °F"),
        ("-40 °C", "-40 °F"),
        ("0 K", "-273.15 °C"),
        ("0 K", "-459.67 °F"),
        ("250 cc", "250 mL"),
        ("0.5 L", "500 cm^3"),
        ("50 %", "500/10 %"),
        ("2 weeks", "14 days"),
        ("1 day", "86400 s"),
        ("5 years", "60 months"),
        ("100 PS", "73.549875 kW"),  # DIN 66036: 75 kgf m/s
    ],
)
def test_equal_quantities_are_equal_in_any_units(one: str, other: str) -> None:
    """Nobody is turned away by the last bit of a float."""
    assert base(one) == base(other)
    assert read_quantity(one)[1].dimension == read_quantity(other)[1].dimension


@pytest.mark.parametrize(
    ("less", "more"),
    [  # NIST SP 811: rule books round, and 1/16 in is not 1.6 mm
        ("2/32 in", "1.6 mm"),
        ("1/32 in", "0.8 mm"),
        ("149 mph", "240 km/h"),
        ("29 psi", "200 kPa"),
        ("760 mm", "30 in"),
        ("0.999999999999 lb", "0.45359237 kg"),
    ],
)
def test_near_quantities_are_told_apart(less: str, more: str) -> None:
    """Exactly, and on the page too."""
    assert base(less) < base(more)
    its_unit = read_quantity(more)[1]
    assert len(set(show_apart(base(less), base(more), its_unit))) == 2


def test_pressures_subtract_without_rounding() -> None:
    """`36 psi - 31 psi` is at most 5 psi."""
    assert base("36 psi") - base("31 psi") == base("5 psi")


def test_months_never_mix_with_seconds_and_days_do() -> None:
    """A calendar year has no fixed length."""
    assert named("years").dimension != named("days").dimension == named("s").dimension
    assert [named(name).calendar for name in ("days", "weeks", "months", "years", "h")] == [
        "days", "days", "months", "months", None,
    ]  # fmt: skip


def test_the_trades_spellings_are_all_read() -> None:
    """Every spelling that the language promises."""
    promised = (
        "N*m N·m N⋅m Nm lbf*ft lbf·ft ft*lbf ft·lbf kgf*m mm cm m in psi kPa bar °C °F K degC degF "
        "dB dB(A) kg g lb oz km/h mph m/s rpm cc cm^3 mL L kW hp PS N lbf ft deg ° % V s min h "
        "day week month year days weeks months years 32nds"
    )
    assert [spelling for spelling in promised.split() if unit(spelling) is None] == []
    assert unit("fl oz") == unit("fl\u00a0oz") == unit("fl  oz") == named("US fl oz")


def test_capitals_and_abbreviations_are_not_guessed() -> None:
    """What is nearly a unit is none."""
    wrong = [
        "MM",
        "Psi",
        "yrs",
        "yr",
        '"',
        "mil",
        "mW",
        "mPa",
        "",
        "N m",
        "lb*ft",
        "pound",
        "dB(C)",
    ]
    assert [spelling for spelling in wrong if unit(spelling)] == []


@EVERY_UNIT
def test_every_unit_is_read_by_its_own_name(its_unit: Unit) -> None:
    """What is printed can be written."""
    assert unit(its_unit.name) is its_unit


@pytest.mark.parametrize(
    ("wrong", "meant"),
    [
        ("yrs", "years"),
        ("yr", "years"),
        ("MM", "mm"),
        ("Psi", "psi"),
        ("newton-metre", "N*m"),
        ("Newton metres", "N*m"),
        ("nm", "N*m"),
        ("N m", "N*m"),
        ("kpa", "kPa"),
        ("degrees", "deg"),
        ("degrees C", "°C"),
        ("Celcius", "°C"),
        ("ft-lb", "lbf*ft"),
        ("ft lbs", "lbf*ft"),
        ("lb/ft", "lbf*ft"),
        ("in-lbs", "lbf*in"),
        ("kg·m", "kgf*m"),
        ("kg/cm2", "kgf/cm^2"),
        ("lbs/in", "lbf/in"),
        ("PSIG", "psi"),
        ("milimetres", "mm"),
        ('"', "in"),
        ("nds", "32nds"),
        ("hrs", "h"),
        ("mins.", "min"),
        ("bhp", "hp"),
        ("percent", "%"),
        ("KMH", "km/h"),
        ("banana", None),
        ("dB(C)", None),
        ("mil", None),
        ("", None),
    ],
)
def test_a_wrong_unit_leads_to_the_right_one(wrong: str, meant: str | None) -> None:
    """The nearest spelling, or none at all."""
    assert nearest_unit(wrong) == meant
    assert meant is None or unit(meant)


@pytest.mark.parametrize("spelling", SPELLINGS)
def test_a_suggestion_for_a_right_unit_is_that_unit(spelling: str) -> None:
    """Capitals alone never lead from one unit to another."""
    assert unit(nearest_unit(spelling) or "") == SPELLINGS[spelling]


# Dimensions


@pytest.mark.parametrize(
    ("spelling", "words"),
    [
        ("mm", "a length"),
        ("psi", "a pressure"),
        ("N*m", "a torque"),
        ("°C", "a temperature"),
        ("dB", "a sound level"),
        ("km/h", "a speed"),
        ("rpm", "an engine speed"),
        ("kg", "a mass"),
        ("in^2", "an area"),
        ("fl oz", "a volume"),
        ("hp", "a power"),
        ("kgf", "a force"),
        ("weeks", "a duration"),
        ("years", "a number of months or years"),
        ("%", "a number"),
        ("V", "a voltage"),
        ("N/mm", "a spring rate"),
    ],
)
def test_a_dimension_has_a_name_in_words(spelling: str, words: str) -> None:
    """As it stands in a message."""
    assert named(spelling).dimension.words == words


def test_composed_dimensions_are_named_by_their_parts() -> None:
    """The simplest two that make it."""
    length, mass, time = (named(name).dimension for name in ("m", "kg", "s"))
    assert (mass / length).words == "a mass over a length"
    assert (NUMBER / length).words == "a number over a length"
    assert (named("psi").dimension / named("K").dimension).words == "a pressure over a temperature"
    assert (named("K").dimension * length).words == "a length times a temperature"
    fifth = length * length * length * length * length * mass * mass / time / time / time
    assert fifth.words == (
        "a length to the power of 5 times a mass to the power of 2 "
        "over a duration to the power of 3"
    )


@given(*[st.tuples(*[st.integers(-3, 3)] * 8).map(Dimension)] * 2)
def test_multiplying_and_dividing_undo_each_other(one: Dimension, other: Dimension) -> None:
    """Law: a group, with words for every member."""
    assert one * other / other == one
    assert one * other == other * one
    assert one / one == NUMBER
    assert one.words


# Reading


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("3", Fraction(3)),
        ("3.5", Fraction(7, 2)),
        ("0.10", Fraction(1, 10)),
        ("007", Fraction(7)),
        ("3/32", Fraction(3, 32)),
        ("1 1/4", Fraction(5, 4)),
        ("-5", Fraction(-5)),
        ("-1 1/4", Fraction(-5, 4)),
        ("−5", Fraction(-5)),
        ("99999999999999999999", Fraction(99_999_999_999_999_999_999)),
        ("-0.9999999999999999999", Fraction(-9_999_999_999_999_999_999, 10**19)),
    ],
)
def test_numbers_are_read_exactly(text: str, value: Fraction) -> None:
    """Decimals, fractions and mixed fractions."""
    assert read_number(text) == value


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1,5", "`1,5` could be two numbers: write `1.5` or `15`"),
        ("1,500.5", "`1,500.5` has a comma: write `1500.5`"),
        ("1 500", "`1 500` has a space inside: write `1500`"),
        (".5", "`.5` lacks its first digit: write `0.5`"),
        ("5.", "`5.` ends in a point: write `5`"),
        ("+5", "`+5` has a plus sign: write `5`"),
        ("1e400", "`1e400` has an exponent: write all its digits"),
        ("3/0", "`3/0` divides by zero"),
        ("1 5/4", "`1 5/4` is no mixed fraction: its second part must be below 1"),
        (
            "1234567890123456789.01",
            "`1234567890123456789.01` has 21 digits: the most is 20",
        ),
        ("1" * 50, f"`{'1' * 37}...` has 50 digits: the most is 20"),
        ("1/" + "1" * 20, "`1/11111111111111111111` has 21 digits: the most is 20"),
        ("nan", "`nan` is not a number: write it like `3`, `3.5`, `3/32` or `1 1/4`"),
        ("9**9**9", "`9**9**9` is not a number: write it like `3`, `3.5`, `3/32` or `1 1/4`"),
        ("٣", "`٣` is not a number: write it like `3`, `3.5`, `3/32` or `1 1/4`"),
    ],
)
def test_what_is_no_number_is_refused_with_what_to_write(text: str, message: str) -> None:
    """One sentence each; nothing is guessed."""
    with pytest.raises(ValueError) as refused:
        read_number(text)
    assert str(refused.value) == message


@pytest.mark.parametrize(
    ("text", "value", "name"),
    [
        ("3.5 mm", Fraction(7, 2), "mm"),
        ("22N·m", Fraction(22), "N*m"),
        ("1 1/4 in", Fraction(5, 4), "in"),
        ("3 32nds", Fraction(3), "32nds"),
        ("-5 ºC", Fraction(-5), "°C"),
        ("95 dB(A)", Fraction(95), "dB"),
        ("8000 1/min", Fraction(8000), "rpm"),
        ("12\u00a0fl oz", Fraction(12), "fl oz"),
        ("45°", Fraction(45), "°"),
        ("3%", Fraction(3), "%"),
    ],
)
def test_quantities_are_read_exactly(text: str, value: Fraction, name: str) -> None:
    """With or without a space before the unit."""
    assert read_quantity(text) == (value, named(name))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("1,5 mm", "`1,5` could be two numbers: write `1.5` or `15`"),
        ("1 500 mm", "`1 500` has a space inside: write `1500`"),
        ("31", "`31` has no unit: write the unit after it, as in `3.5 mm`"),
        ("5 1/4", "`5 1/4` has no unit: write the unit after it, as in `3.5 mm`"),
        ("5 yrs", "`yrs` is not a unit that is read here: did you mean `years`?"),
        ('3/32"', '`"` is not a unit that is read here: did you mean `in`?'),
        ("5 mm; 3", "`mm; 3` is not a unit that is read here"),
        ("9**9**9 mm", "`**9**9 mm` is not a unit that is read here"),
        ("nan mm", "`nan mm` is not a quantity: write a number and its unit, like `3.5 mm`"),
        ("", "`` is not a quantity: write a number and its unit, like `3.5 mm`"),
    ],
)
def test_what_is_no_quantity_is_refused_with_what_to_write(text: str, message: str) -> None:
    """What a general units parser takes for something else: lesson of `1,5 mm` read as 15."""
    assert refusal(text) == message


@pytest.mark.parametrize(
    ("text", "matched"),
    [
        ("mm, and", "mm"),
        ("mm*2", "mm"),
        ("mm * 2", "mm"),
        ("mm)", "mm"),
        ("min in the paddock", "min"),
        ("N*m", "N*m"),
        ("N·m\n", "N·m"),
        ("in", "in"),
        ("in^3", "in^3"),
        ("fl  oz", "fl  oz"),
        ("dB(A)", "dB(A)"),
        ("°C", "°C"),
        ("°", "°"),
        ("%,", "%"),
        ("32nds", "32nds"),
        ("kgf/cm^2", "kgf/cm^2"),
        ("N/2", "N"),
        ("mm*tyre.count", "mm"),
        ("inspect", None),
        ("some", None),
        ("mile-post", None),
        ("m.front", None),
        ("N*dm", None),
        ("km/day", None),
        ("in^4", None),
        ("dB(C)", None),
        ("Nms", None),
        ("yrs", None),
    ],
)
def test_unit_end_takes_a_whole_unit_or_nothing(text: str, matched: str | None) -> None:
    """Neither the head of a word nor half of a compound."""
    end = unit_end(text)
    assert (None if end is None else text[:end]) == matched
    assert matched is None or unit(matched)


@given(st.sampled_from(sorted(SPELLINGS)), st.sampled_from(["", " ", ",", ")", "\n", "]", "*2"]))
def test_unit_end_takes_every_spelling_whole(spelling: str, after: str) -> None:
    """Law: the longest spelling wins, whatever may follow."""
    assert unit_end(spelling + after) == len(spelling)


# Converting


@given(st.sampled_from(UNITS), NUMBERS)
def test_converting_and_back_is_the_same_value(its_unit: Unit, value: Fraction) -> None:
    """Law: round trip, of points and of differences."""
    assert from_base(to_base(value, its_unit), its_unit) == value
    assert from_base_difference(difference_to_base(value, its_unit), its_unit) == value


def test_a_difference_of_temperatures_has_no_zero() -> None:
    """20 °C is 293.15 K; 20 degrees warmer is 20 K warmer."""
    assert to_base(Fraction(20), named("°C")) == Fraction("293.15")
    assert difference_to_base(Fraction(20), named("°C")) == 20
    assert difference_to_base(Fraction(9), named("°F")) == 5


# Printing


@pytest.mark.parametrize(
    ("value", "spelling", "text"),
    [
        (base("3.5 mm"), "mm", "3.5 mm"),
        (base("31 psi"), "psi", "31 psi"),
        (base("31 psi"), "kPa", "about 213.7 kPa"),
        (base("5 %"), "%", "5 %"),
        (base("20 °C"), "°C", "20 °C"),
        (base("20 °C"), "°F", "68 °F"),
        (base("-5 °C"), "°C", "-5 °C"),
        (base("45 deg"), "deg", "45°"),
        (base("1 year"), "years", "1 year"),
        (base("5 years"), "years", "5 years"),
        (base("1 32nds"), "32nds", "1 32nd"),
        (base("22 N*m"), "Nm", "22 N*m"),
        (base("3/32 in"), "in", "3/32 in"),
        (base("3/32 in"), "mm", "2.38125 mm"),
        (base("1 5/16 in"), "in", "1 5/16 in"),
        (base("1 1/4 in"), "in", "1.25 in"),
        (base("1 mm"), "in", "about 0.03937 in"),
        (base("0 mm"), "mm", "0 mm"),
        (base("100 mm"), "mm", "100 mm"),
        (base("-1/3 mm"), "mm", "about -0.3333 mm"),
        (base("123456 1/7 mm"), "mm", "about 123456 mm"),
        (base("1/70000 mm"), "mm", "about 0.00001429 mm"),
        (base("0.0000001 mm"), "mm", "about 0.0000001 mm"),
    ],
)
def test_values_are_printed_as_people_write_them(value: Fraction, spelling: str, text: str) -> None:
    """Exact where that is short, `about` where it is not."""
    assert show(value, named(spelling)) == text


def test_plain_numbers_are_printed_without_a_unit() -> None:
    """Counts are whole."""
    assert show(Fraction(4), ONE) == "4"
    assert show(Fraction(1, 3), ONE) == "about 0.3333"


def test_a_difference_of_temperatures_is_printed_in_kelvin() -> None:
    """The only unit in which a file may write it."""
    assert show(Fraction(20), named("°C"), difference=True) == "20 K"
    assert show(Fraction(5), named("dB"), difference=True) == "5 dB"
    assert show_apart(Fraction(20), Fraction(5), named("°F"), difference=True) == ("20 K", "5 K")


@pytest.mark.parametrize(
    ("value", "limit", "spelling", "texts"),
    [
        ("95.04 dB", "95 dB", "dB", ("95.04 dB", "95 dB")),
        ("29 psi", "200 kPa", "psi", ("29 psi", "about 29.01 psi")),
        ("29 psi", "200 kPa", "kPa", ("about 199.9 kPa", "200 kPa")),
        ("2 psi", "13.7895 kPa", "kPa", ("about 13.79 kPa", "13.7895 kPa")),
        ("3/32 in", "2.38125 mm", "in", ("3/32 in", "3/32 in")),
        ("3/32 in", "2.38 mm", "in", ("0.09375 in", "about 0.0937 in")),
        ("31 psi", "213.7 kPa", "kPa", ("about 213.74 kPa", "213.7 kPa")),
        ("31 psi", "213.7375 kPa", "kPa", ("about 213.7 kPa", "213.7375 kPa")),
    ],
)
def test_two_values_are_printed_with_the_digits_it_takes(
    value: str, limit: str, spelling: str, texts: tuple[str, str]
) -> None:
    """Never "95 dB is over 95 dB"."""
    assert show_apart(base(value), base(limit), named(spelling)) == texts


def printed_value(text: str) -> Fraction:
    """What a reader takes a printed value for."""
    return read_quantity(text.removeprefix("about "))[0]


@settings(max_examples=400)
@given(st.sampled_from(UNITS), NUMBERS, NEAR_ZERO)
def test_printed_values_read_in_their_true_order(
    its_unit: Unit, value: Fraction, apart: Fraction
) -> None:
    """Law: order is kept, however near the two lie."""
    one, other = to_base(value, its_unit), to_base(value + apart, its_unit)
    shown, shown_other = show_apart(one, other, its_unit)
    assert (shown == shown_other) == (one == other)
    assert (printed_value(shown) < printed_value(shown_other)) == (one < other)
    assert (printed_value(shown) > printed_value(shown_other)) == (one > other)


@given(st.sampled_from(UNITS), DECIMALS)
def test_what_is_printed_without_about_is_exact(its_unit: Unit, value: Fraction) -> None:
    """Law: printing a short decimal and reading it again is the same value."""
    text = show(to_base(value, its_unit), its_unit)
    assert "about" not in text
    assert read_quantity(text) == (value, its_unit)


@given(st.sampled_from(UNITS), NUMBERS)
def test_what_is_written_reads_back(its_unit: Unit, value: Fraction) -> None:
    """Law: round trip through a file's own spelling."""
    text = written(to_base(value, its_unit), its_unit)
    assert text is not None
    assert read_quantity(text) == (value, its_unit)


def test_what_takes_too_many_digits_is_not_written() -> None:
    """None, not a rounded value."""
    assert written(base("31 psi"), named("kPa")) is None
    assert written(base("1 mm"), named("in")) == "5/127 in"


# Pint's own quantities


@given(st.sampled_from(UNITS), NUMBERS)
def test_a_quantity_of_pint_and_back_is_the_same(its_unit: Unit, value: Fraction) -> None:
    """Law: round trip; 32nds come back as inches, which Pint has."""
    assume(its_unit.name != "32nds")
    assert from_pint(to_pint(value, its_unit)) == (value, its_unit)


def test_32nds_become_inches_for_pint() -> None:
    """3 32nds is 3/32 in."""
    assert from_pint(to_pint(Fraction(3), named("32nds"))) == (Fraction(3, 32), named("in"))


@pytest.mark.parametrize(
    ("magnitude", "pint_name", "value", "name"),
    [
        (3.1, "psi", Fraction(31, 10), "psi"),
        (0.1, "millimeter", Fraction(1, 10), "mm"),
        (Decimal("2.50"), "bar", Fraction(5, 2), "bar"),
        (60, "mph", Fraction(60), "mph"),
        (60, "mile / hour", Fraction(60), "mph"),
        (3, "foot * force_pound", Fraction(3), "lbf*ft"),
        (20, "degC", Fraction(20), "°C"),
        (95, "dB", Fraction(95), "dB"),
        (5, "year", Fraction(5), "years"),
        (0.5, "dimensionless", Fraction(1, 2), ""),
    ],
)
def test_a_quantity_of_pint_is_read_exactly(
    magnitude: Any, pint_name: str, value: Fraction, name: str
) -> None:
    """A float counts as the shortest decimal that names it."""
    quantity = pint.application_registry.Quantity(magnitude, pint_name)
    assert from_pint(quantity) == (value, unit(name) or ONE)


@pytest.mark.parametrize(
    ("magnitude", "pint_name", "message"),
    [
        (3, "parsec", "`parsec` is not a unit that is read here: convert it to one that is"),
        (3, "delta_degC", "`3 delta_degree_Celsius` is a difference of temperatures, not a"),
        (float("nan"), "mm", "`NaN` is not a number"),
        (float("inf"), "mm", "`Infinity` is not a number"),
        (1e300, "mm", "a number here has at most 20 digits"),
        (Decimal("1e999999"), "mm", "a number here has at most 20 digits"),
        (Fraction(1, 10**30), "mm", "a number here has at most 20 digits"),
    ],
)
def test_what_pint_has_and_the_list_lacks_is_refused(
    magnitude: Any, pint_name: str, message: str
) -> None:
    """One sentence each."""
    quantity = pint.application_registry.Quantity(magnitude, pint_name)
    with pytest.raises(ValueError) as refused:
        from_pint(quantity)
    assert str(refused.value).startswith(message)


def test_reading_and_printing_never_import_pint() -> None:
    """It costs a quarter of a second, which nobody should pay for `3.5 mm`."""
    program = (
        "import sys; from trackprep.units import read_quantity, show, to_base;"
        "value, unit = read_quantity('3.5 mm'); show(to_base(value, unit), unit);"
        "sys.exit('pint' in sys.modules or 'difflib' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
