"""Tyre pressure at another temperature and altitude."""

from fractions import Fraction

import pytest
from doors import as_printed, base, figure, inside, met

from trackprep import measure
from trackprep.units import read_quantity

LAW = "law of Gay-Lussac with the standard atmosphere of NIST SP 811, computed"
THUMB = "a vehicle handbook: about 3 psi (21 kPa) for 30 °F (17 °C)"
ISA = "ISO 2533, the standard atmosphere, computed"

ROWS = [
    # gauge pressure, set at, now at, printed, what the ratio of gauge pressures would give
    ("30 psi", "70 °F", "80 °F", "30.8438", "30.5664", LAW),
    ("30 psi", "60 °F", "100 °F", "33.4403", "32.3092", LAW),
    ("32 psi", "70 °F", "60 °F", "31.1184", "31.3959", LAW),
    ("32 psi", "70 °F", "180 °F", "41.6977", "38.6456", LAW),
    ("36 psi", "41 °F", "77 °F", "39.6452", "38.5885", LAW),
    ("31 psi", "68 °F", "176 °F", "40.3527", "37.3449", LAW),
    ("31 psi", "20 °C", "80 °C", "40.3527", "37.3449", LAW),
    ("2.1 bar", "20 °C", "80 °C", "2.73720", "2.52981", LAW),
    ("2.5 bar", "20 °C", "0 °C", "2.26031", "2.32944", LAW),
    ("1.9 bar", "25 °C", "75 °C", "2.38855", None, LAW),
]


def now(pressure: str, then: str, later: str) -> Fraction:
    """The pressure that `trackprep.measure` gives, in the unit it was set in."""
    found = measure("pressure", pressure, set_at=then, now=later)["pressure now"]
    return inside(found, pressure.split()[1])


@pytest.mark.parametrize(("pressure", "then", "later", "printed", "of_gauge", "source"), ROWS)
def test_a_pressure_follows_the_absolute_temperature(
    pressure: str, then: str, later: str, printed: str, of_gauge: str | None, source: str
) -> None:
    """The gas follows gauge pressure and air together, never the gauge pressure alone."""
    found = now(pressure, then, later)
    assert as_printed(found, printed), source
    if of_gauge is not None:
        ratio = read_quantity(pressure)[0] * base(later) / base(then)
        assert as_printed(ratio, of_gauge), "the row's own trap"
        assert not as_printed(found, of_gauge)
        assert abs(found - ratio) > abs(found - Fraction(printed)) * 100


@pytest.mark.parametrize(("pressure", "then", "later", "printed", "of_gauge", "source"), ROWS)
def test_a_limit_of_the_hot_pressure_lies_between_its_digits(
    pressure: str, then: str, later: str, printed: str, of_gauge: str | None, source: str
) -> None:
    """A rule that asks for the pressure when hot is met and not met on either side of it."""
    unit = pressure.split()[1]
    step = Fraction(1, 10 ** len(printed.partition(".")[2]))
    hot = f"pressure-at-sea(tyre.front.cold-pressure, {then}, {later})"
    for limit, answer in ((Fraction(printed) + step, "met"), (Fraction(printed) - step, "not-met")):
        demand = f"{hot} is at most {float(limit):.5f} {unit}"
        assert met(demand, {"tyre.front.cold-pressure": pressure}) == answer, source


@pytest.mark.parametrize(
    ("gauge", "printed", "source"),
    [
        ("20", "0.655", LAW),
        ("25", "0.749", LAW),
        ("30", "0.844", LAW),
        ("33", "0.900", LAW),
        ("36", "0.957", LAW),
        ("38.27", "1.000", f"{LAW}: the one pressure at which the rule of thumb is right"),
        ("40", "1.033", LAW),
    ],
)
def test_ten_degrees_fahrenheit_are_worth_more_in_a_harder_tyre(
    gauge: str, printed: str, source: str
) -> None:
    gained = now(f"{gauge} psi", "70 °F", "80 °F") - Fraction(gauge)
    assert as_printed(gained, printed), source


def by_thumb(pressure: str, then: str, later: str) -> Fraction:
    """What the rule of thumb adds, in the unit of the pressure."""
    found = measure("pressure", pressure, set_at=then, now=later)["now, by rule of thumb"]
    return inside(found, pressure.split()[1]) - read_quantity(pressure)[0]


@pytest.mark.parametrize(
    ("pressure", "then", "later", "printed", "source"),
    [
        ("30 psi", "70 °F", "80 °F", "1", THUMB),
        ("33 psi", "60 °F", "90 °F", "3", THUMB),
        ("33 psi", "90 °F", "60 °F", "-3", THUMB),
        ("230 kPa", "5 °C", "22 °C", "21", THUMB),
    ],
)
def test_the_rule_of_thumb_is_a_pound_for_ten_degrees(
    pressure: str, then: str, later: str, printed: str, source: str
) -> None:
    assert as_printed(by_thumb(pressure, then, later), printed), source


@pytest.mark.parametrize(
    ("altitude", "printed", "source"),
    [("0 m", "0.000", ISA), ("1000 m", "1.661", ISA), ("1500 m", "2.432", ISA)],
)
@pytest.mark.parametrize("pressure", ["20 psi", "33 psi"])
def test_a_gauge_shows_more_at_an_altitude(
    pressure: str, altitude: str, printed: str, source: str
) -> None:
    """At one temperature, by what the air outside lacks, whatever the pressure."""
    found = measure(
        "pressure", pressure, set_at="20 °C", now="20 °C", set_altitude="0 m", altitude=altitude
    )
    assert as_printed(inside(found["more than set"], "psi"), printed), source


def test_the_air_at_sea_level_is_one_atmosphere() -> None:
    """NIST SP 811, appendix B.8: 101.325 kPa exactly, 14.695 95 psi."""
    assert figure("outside-pressure(0 m)", "atm") == 1
    assert as_printed(figure("outside-pressure(0 m)", "psi"), "14.69595")


@pytest.mark.parametrize(
    ("temperature", "kelvins", "source"),
    [
        ("0 °C", "273.15", "NIST SP 811, appendix B.8, from memory"),
        ("-459.67 °F", "0", "NIST SP 811, appendix B.8, from memory"),
        ("20 °C", "293.15", "NIST SP 811, appendix B.8, from memory"),
    ],
)
def test_temperatures_are_counted_from_absolute_zero(
    temperature: str, kelvins: str, source: str
) -> None:
    assert figure(f"absolute({temperature})", "K") == Fraction(kelvins), source
