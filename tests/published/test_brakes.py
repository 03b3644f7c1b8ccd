"""Brake fluid, pads and stopping."""

from fractions import Fraction

import pytest
from doors import CLUBS, as_printed, base, club_says, figure, met, row, shipped
from scipy import constants

from trackprep import RulesetError, measure, parse_ruleset

FMVSS = "49 CFR 571.116 (FMVSS 116), S5.1.1 and S5.1.2"


@pytest.mark.parametrize(
    ("grade", "state", "celsius", "fahrenheit", "source"),
    [
        ("DOT 3", "dry", 205, 401, FMVSS),
        ("DOT 3", "wet", 140, 284, FMVSS),
        ("DOT 4", "dry", 230, 446, FMVSS),
        ("DOT 4", "wet", 155, 311, FMVSS),
        ("DOT 5", "dry", 260, 500, FMVSS),
        ("DOT 5", "wet", 180, 356, FMVSS),
        ("DOT 5.1", "dry", 260, 500, f"{FMVSS}, from memory"),
        ("DOT 5.1", "wet", 180, 356, f"{FMVSS}, from memory"),
    ],
)
def test_a_grade_boils_no_sooner_than_its_two_figures(
    grade: str, state: str, celsius: int, fahrenheit: int, source: str
) -> None:
    """The printed degrees Celsius and Fahrenheit are one temperature, exactly."""
    found = row(f"{state}-boiling-point", grade)
    assert found.value == base(f"{celsius} °C") == base(f"{fahrenheit} °F"), source
    path = f"brake.fluid.{state}-boiling-point"
    for limit, answer in (
        (f"{fahrenheit} °F", "met"), (f"{celsius} °C", "met"), (f"{fahrenheit}.1 °F", "not-met"),
    ):  # fmt: skip
        assert met(f"{path} is at least {limit}", {"brake.fluid.grade": grade}) == answer
    answered = measure("brake-fluid", grade)
    assert any(result.amount == found for result in answered.results)


LABEL = """\
fact label.wet "Wet boiling point on the can" measured in °C
  ask "Which wet boiling point is printed on the can?"
"""


@pytest.mark.parametrize(
    ("printed", "answer", "source"),
    [
        ("320 °F", "met", "NHTSA letter 12089mls: a can may print the fluid's own, higher figure"),
        ("311 °F", "met", FMVSS),
        ("155 °C", "met", FMVSS),
        ("310 °F", "not-met", FMVSS),
    ],
)
def test_a_can_prints_at_least_the_minimum_of_its_grade(
    printed: str, answer: str, source: str
) -> None:
    demand = "label.wet is at least brake.fluid.wet-boiling-point"
    declared = {"label.wet": printed, "brake.fluid.grade": "DOT 4"}
    assert met(demand, declared, also=LABEL) == answer, source


@pytest.mark.parametrize(
    ("grade", "answer", "source"),
    [
        ("DOT 4", "met", FMVSS),
        ("DOT 5.1", "met", f"{FMVSS}, from memory: not silicone"),
        ("DOT 5", "not-met", f"{FMVSS}: silicone, though it boils as late"),
        ("DOT 3", "not-met", FMVSS),
    ],
)
def test_dot_4_or_better_is_no_matter_of_the_number(grade: str, answer: str, source: str) -> None:
    for club in ("fenwhistle", "common-practice"):
        assert club_says(club, "brake-fluid", {"brake.fluid.grade": grade}) == answer, source


@pytest.mark.parametrize("club", CLUBS)
def test_silicone_is_admitted_nowhere(club: str) -> None:
    """49 CFR 571.116: DOT 5 shares the figures of DOT 5.1, not its chemistry."""
    assert club_says(club, "brake-fluid", {"brake.fluid.grade": "DOT 5"}) == "not-met"
    assert "DOT 5" not in shipped(club).rules.lists["dot-4-or-better"].words


def test_grades_have_no_order_to_ask_for() -> None:
    """So that nobody can write `is at least "DOT 4"` and let silicone in."""
    demand = 'brake.fluid.grade is at least "DOT 4"'
    with pytest.raises(RulesetError, match="have no order"):
        parse_ruleset(f'ruleset a "A"\nuse "standard"\nrule b "B"\n  require {demand}\n')


# Pads, discs and stopping


@pytest.mark.parametrize(
    ("front", "rear", "answer", "source"),
    [
        ("1.5 mm", "1.5 mm", "met", "MOT inspection manual for motorcycles, earlier edition, 3.2"),
        ("1.49 mm", "3 mm", "not-met", "the same"),
        ("3 mm", "1.49 mm", "not-met", "the same"),
        ("2/32 in", "2/32 in", "met", "19VAC30-70-340 B.4: 2/32 in, which is 1.5875 mm"),
        ("1/32 in", "2/32 in", "not-met", "15 NYCRR 79.28: linings of 1/32 in are worn out"),
    ],
)
def test_pads_and_linings_are_one_and_a_half_millimetres(
    front: str, rear: str, answer: str, source: str
) -> None:
    declared = {"brake.front.pad-thickness": front, "brake.rear.pad-thickness": rear}
    assert club_says("common-practice", "brake-pads", declared) == answer, source


@pytest.mark.parametrize(
    ("thickness", "minimum", "answer", "source"),
    [
        ("4.5 mm", "4.5 mm", "met", "15 NYCRR 79.28; 19VAC30-70-340: the maker's minimum"),
        ("4.4 mm", "4.5 mm", "not-met", "15 NYCRR 79.28; 19VAC30-70-340: the maker's minimum"),
        ("4.4 mm", None, "unsettled", "no figure for all discs is published"),
    ],
)
def test_a_disc_is_held_against_its_makers_figure_alone(
    thickness: str, minimum: str | None, answer: str, source: str
) -> None:
    declared = {
        "brake.front.kind": "disc", "brake.front.disc-thickness": thickness,
        "brake.rear.kind": "drum",
    }  # fmt: skip
    if minimum:
        declared["brake.front.disc-minimum"] = minimum
    assert club_says("fenwhistle", "disc-wear", declared) == answer, source


@pytest.mark.parametrize(
    ("distance", "printed", "source"),
    [
        ("30 ft", "0.446", "COMAR 11.14.03.04 A: from 20 mph; v²/2s computed"),
        ("25 ft", "0.535", "15 NYCRR 79.28: from 20 mph; v²/2s computed"),
    ],
)
def test_a_stop_in_a_distance_is_a_deceleration(distance: str, printed: str, source: str) -> None:
    found = figure(f"stopping-deceleration(20 mph, {distance})", "m/s^2")
    assert as_printed(found / Fraction(str(constants.g)), printed), source


@pytest.mark.parametrize(
    ("share", "source"),
    [
        (30, "MOT inspection manual: force over weight; 30 % from memory"),
        (25, "MOT inspection manual: force over weight; 25 % from memory"),
    ],
)
def test_efficiency_is_the_force_over_the_weight(share: int, source: str) -> None:
    """Of a machine and rider of 250 kg, in the standard gravity of SciPy's constants."""
    newtons = Fraction(share, 100) * 250 * Fraction(str(constants.g))
    found = figure(f"brake-efficiency({float(newtons):.6f} N, 250 kg)", "%")
    assert found == share, source
