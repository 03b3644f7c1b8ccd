"""Tyres: speed symbols, load index, tread and cuts."""

from fractions import Fraction

import pytest
from doors import amount, club_says, figure, met, refusal

from trackprep import measure

R75 = "UNECE R75, speed categories"
LOADS = "UNECE R75, Annex 4"


# Speed symbols and load index


@pytest.mark.parametrize(
    ("symbol", "speed", "source"),
    [
        ("B", 50, R75),
        ("F", 80, R75),
        ("G", 90, f"{R75}, from memory"),
        ("J", 100, R75),
        ("K", 110, R75),
        ("L", 120, R75),
        ("M", 130, R75),
        ("N", 140, R75),
        ("P", 150, R75),
        ("Q", 160, R75),
        ("R", 170, R75),
        ("S", 180, R75),
        ("T", 190, R75),
        ("U", 200, R75),
        ("H", 210, R75),
        ("V", 240, R75),
        ("W", 270, R75),
        ("ZR", 240, f"{R75}: ZR alone means over 240 km/h, by how much is not told"),
        ("(V)", 240, f"{R75}: above 240 km/h, from memory"),
        ("(W)", 270, f"{R75}: above 270 km/h, by how much the tyre's maker tells"),
    ],
)
def test_a_tyre_does_for_the_speed_of_its_symbol(symbol: str, speed: int, source: str) -> None:
    """What is sure of it, and not a kilometre an hour more."""
    demand = "speed-of(tyre.front.speed-symbol) is at least track.top-speed"
    for asked, answer in ((speed, "met"), (speed + 1, "not-met")):
        declared = {"tyre.front.speed-symbol": symbol, "track.top-speed": f"{asked} km/h"}
        assert met(demand, declared) == answer, source


def test_a_tyre_without_a_symbol_has_no_speed() -> None:
    declared = {"tyre.front.speed-symbol": "unmarked", "track.top-speed": "20 km/h"}
    demand = "speed-of(tyre.front.speed-symbol) is at least track.top-speed"
    assert met(demand, declared) == "unsettled"


def test_y_is_no_symbol_of_a_motorcycle_tyre() -> None:
    """UNECE R75 has no Y, from memory: it is one of passenger cars."""
    assert "`Y` is no choice" in refusal("tyre.front.speed-symbol", "Y")


@pytest.mark.parametrize(
    ("index", "load", "source"),
    [
        (index, load, LOADS)
        for index, load in {
            40: 140, 45: 165, 50: 190, 52: 200, 54: 212, 55: 218, 57: 230, 58: 236, 60: 250,
            63: 272, 65: 290, 66: 300, 69: 325, 71: 345, 73: 365, 75: 387, 76: 400, 77: 412,
            78: 425, 80: 450,
        }.items()
    ],
)  # fmt: skip
def test_a_tyre_bears_the_load_of_its_index(index: int, load: int, source: str) -> None:
    demand = "load-of(tyre.front.load-index) is at least machine.weight"
    for asked, answer in ((load, "met"), (load + 1, "not-met")):
        declared = {"tyre.front.load-index": index, "machine.weight": f"{asked} kg"}
        assert met(demand, declared) == answer, source


@pytest.mark.parametrize(
    ("size", "index", "load", "symbol", "speed", "source"),
    [
        ("120/90-18 65S", 65, "290 kg", "S", "180 km/h", f"{R75}; {LOADS}"),
        ("180/55 ZR17 M/C (73W)", 73, "365 kg", "(W)", "270 km/h", f"{R75}; {LOADS}"),
    ],
)
def test_a_sidewall_is_read_as_load_and_speed(
    size: str, index: int, load: str, symbol: str, speed: str, source: str
) -> None:
    assert str(index) in size
    assert measure("load-index", index)["load of one tyre"] == amount(load), source
    assert measure("speed-symbol", symbol)["speed"] == amount(speed), source


# Tread and cuts


@pytest.mark.parametrize(
    ("club", "enough", "too_little", "source"),
    [
        ("tarn-hollow", "1 mm", "0.99 mm", "Construction and Use Regulations 1986, regulation 27"),
        ("common-practice", "1.6 mm", "1.59 mm", "StVZO, section 36; KDV, section 4(4)"),
    ],
)
def test_tread_down_to_the_legal_depth(
    club: str, enough: str, too_little: str, source: str
) -> None:
    for depth, answer in ((enough, "met"), (too_little, "not-met")):
        declared = {
            "tyre.front.kind": "road", "tyre.front.tread": depth,
            "tyre.rear.kind": "road", "tyre.rear.tread": "5 mm",
        }  # fmt: skip
        assert club_says(club, "tread", declared) == answer, source


@pytest.mark.parametrize(
    ("width", "longest", "source"),
    [
        (120, "25", "Construction and Use Regulations 1986, regulation 27(1)(d)"),
        (180, "25", "Construction and Use Regulations 1986, regulation 27(1)(d)"),
        (249, "25", "computed: 25 mm below a width of 250 mm"),
        (250, "25", "computed: both are 25 mm"),
        (260, "26", "computed: a tenth of the width, being greater"),
    ],
)
def test_a_cut_may_be_25_mm_or_a_tenth_of_the_width(width: int, longest: str, source: str) -> None:
    assert figure(f"tyre-cut-limit({width} mm)", "mm") == Fraction(longest), source


@pytest.mark.parametrize(
    ("thirty_seconds", "millimetres", "source"),
    [
        (1, "0.79375", "COMAR 11.14.03.05 A: 1/32 in; 49 CFR 571.119, S6.4 prints 0.8 mm"),
        (2, "1.5875", "state codes as a tyre maker names them: 2/32 in"),
    ],
)
def test_depths_in_32nds_are_exact(thirty_seconds: int, millimetres: str, source: str) -> None:
    found = measure("tread", f"{thirty_seconds}/32 in")["millimetres"]
    assert found == amount(f"{millimetres} mm"), source
