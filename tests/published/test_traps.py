"""One test for each place where sources disagree or a figure misleads."""

from datetime import date
from fractions import Fraction

import pytest
from doors import CLUBS, as_printed, base, club_says, derived, figure, inside, met, shipped

from trackprep import DeclarationError, measure, parse_declaration
from trackprep.dates import week_code


def test_1_the_cuff_of_a_level_1_glove_is_no_limit_of_ours() -> None:
    """EN 13594:2015, table 1: 5 mm by a test house, 15 mm from memory; so neither is used."""
    for club in CLUBS:
        for cuff in ("5 mm", "15 mm"):
            assert club_says(club, "glove-cuff", {"gloves.cuff-overlap": cuff}) == "not-met"
        assert not any(
            "13594" in str(limit.source or "") for limit in shipped(club).rules.limits.values()
        )


def test_2_a_book_rounds_and_a_gauge_does_not() -> None:
    """ANDRA rule book 2019-20, p. 116: 1.6 mm (1/16 in) and 760 mm (30 in); both computed."""
    assert met("tyre.front.tread is at least 1.6 mm", {"tyre.front.tread": "1/16 in"}) == "not-met"
    assert met("tyre.front.tread is at least 1/16 in", {"tyre.front.tread": "1.5875 mm"}) == "met"
    assert met("bars.width is at most 760 mm", {"bars.width": "30 in"}) == "not-met"
    assert met("bars.width is at most 30 in", {"bars.width": "762 mm"}) == "met"


@pytest.mark.parametrize(
    ("symbol", "at_205", "source"),
    [
        ("T", "not-met", "UNECE R75: 190 km/h"),
        ("U", "not-met", "UNECE R75: 200 km/h"),
        ("H", "met", "UNECE R75: 210 km/h, though H stands before T in the alphabet"),
        ("V", "met", "UNECE R75: 240 km/h"),
        ("unmarked", "not-met", "no symbol, no speed"),
    ],
)
def test_3_h_stands_between_u_and_v(symbol: str, at_205: str, source: str) -> None:
    """On a straight of 205 km/h; and by the order of the symbols alone."""
    declared = {"tyre.front.speed-symbol": symbol, "tyre.rear.speed-symbol": "W"}
    assert club_says("marrowfell", "tyre-speed", declared) == at_205, source
    by_order = met('tyre.front.speed-symbol is more than "U"', declared)
    assert by_order == at_205


def test_3_brackets_mean_more_than_the_letter() -> None:
    """UNECE R75: 73W is for up to 270 km/h, (73W) for more; (V) from memory."""
    for symbol, more, answer in (
        ("(W)", "W", "met"), ("W", "W", "not-met"), ("(V)", "V", "met"), ("V", "V", "not-met"),
    ):  # fmt: skip
        declared = {"tyre.front.speed-symbol": symbol}
        assert met(f'tyre.front.speed-symbol is more than "{more}"', declared) == answer
    says = " ".join(measure("speed-symbol", "(W)").says)
    assert "only the tyre's maker" in says


def test_3_speeds_are_multiples_of_ten() -> None:
    """UNECE R75; a table that went through miles prints K 109, L 121 and Q 159."""
    for symbol, wrong in (("K", 109), ("L", 121), ("Q", 159)):
        speed = inside(measure("speed-symbol", symbol)["speed"], "km/h")
        assert speed % 10 == 0
        assert speed != wrong


def test_4_the_formula_has_30_000_and_not_300_000() -> None:
    """Motorcycling Australia 2007, GCR 12.10.2.3: its table for 60 mm and 11 m/s is 5500 rpm."""
    found = inside(measure("sound-speed", stroke="60 mm")["test at"], "rpm")
    assert found == Fraction(30_000 * 11, 60) == 5500


def test_5_the_test_speed_drops_where_the_rated_speed_passes_5000() -> None:
    """UNECE R41, Annex 3: three quarters up to 5000 rpm, half above."""
    at, above = (figure(f"rated-test-speed({rated} rpm)", "rpm") for rated in (5000, 5001))
    assert (at, above) == (3750, Fraction("2500.5"))


def test_6_dot_5_is_not_dot_5_1() -> None:
    """49 CFR 571.116: the figures are the same, the fluids are not (5.1 from memory)."""
    for state in ("dry", "wet"):
        path = f"brake.fluid.{state}-boiling-point"
        five, five_one = (
            derived(path, "°C", {"brake.fluid.grade": grade}) for grade in ("DOT 5", "DOT 5.1")
        )
        assert five == five_one
    for grade, answer in (("DOT 5", "not-met"), ("DOT 5.1", "met")):
        declared = {"brake.fluid.grade": grade}
        assert met("brake.fluid.grade is one of dot-4-or-better", declared, also=BETTER) == answer
        assert club_says("fenwhistle", "brake-fluid", declared) == answer


BETTER = 'list dot-4-or-better "DOT 4 or better" is "DOT 4", "DOT 5.1"'


def test_6_dot_is_three_different_marks() -> None:
    """On a fluid a grade, on a helmet FMVSS 218, on a tyre 49 CFR 574."""
    ruleset = shipped("common-practice")
    for path, other in (
        ("brake.fluid.grade", "DOT FMVSS 218"), ("helmet.labels", ["DOT 4"]),
        ("tyre.front.road-marked", "DOT 4"),
    ):  # fmt: skip
        with pytest.raises(DeclarationError):
            parse_declaration({path: other}, ruleset)
    marks = {"helmet.labels": ["DOT FMVSS 218"], "tyre.front.road-marked": True,
             "brake.fluid.grade": "DOT 4"}  # fmt: skip
    assert set(parse_declaration(marks, ruleset).values) == set(marks)


def test_7_a_year_has_a_week_53_or_not_and_none_has_a_week_00() -> None:
    """49 CFR 574.5(b)(3), computed: ISO 8601 gives a week 53 to other years."""
    assert week_code("5323").first == date(2023, 12, 31)
    with pytest.raises(ValueError):
        date.fromisocalendar(2023, 53, 1)
    assert date.fromisocalendar(2020, 53, 1) == date(2020, 12, 28)
    for code in ("5320", "5326", "0023"):
        with pytest.raises(ValueError, match="is not a week code"):
            week_code(code)


def test_7_the_same_four_digits_are_two_weeks() -> None:
    """2319 is 9 to 15 June 2019 by 49 CFR 574.5, 3 to 9 June by ISO 8601: on the ninth alone
    are they the same."""
    ours = week_code("2319")
    assert ours.first == date.fromisocalendar(2019, 23, 7)


BLOWS = """\
fact hits.mean "Mean of nine blows" measured in kN
  ask "Which mean?"
fact hits.most "Greatest of nine blows" measured in kN
  ask "Which was the greatest?"
table limb-most "Greatest single force, limbs" from protector-level to kN
  row unmarked is none
  row "level 1" is 50 kN
  row "level 2" is 30 kN
  source "EN 1621-1:2012; 30 kN from memory"
table back-most "Greatest single force, back" from protector-level to kN
  row unmarked is none
  row "level 1" is 24 kN
  row "level 2" is 12 kN
  source "EN 1621-2:2014; 12 kN from memory"
"""


@pytest.mark.parametrize(
    ("where", "fact", "level", "mean", "most", "answer", "source"),
    [
        ("limb", "suit.armour-level", "level 1", "25.0", "26.0", "met", "EN 1621-1:2012"),
        ("limb", "suit.armour-level", "level 1", "34.9", "50.1", "not-met", "EN 1621-1:2012"),
        ("back", "back-protector.level", "level 2", "8.9", "12.5", "not-met",
         "EN 1621-2:2014; 12 kN from memory"),
        ("back", "back-protector.level", "level 1", "8.9", "12.5", "met", "EN 1621-2:2014"),
    ],
)  # fmt: skip
def test_8_a_mean_is_not_a_greatest_value(
    where: str, fact: str, level: str, mean: str, most: str, answer: str, source: str
) -> None:
    """A protector whose mean is low enough is still refused by one blow that is too hard."""
    declared = {"hits.mean": f"{mean} kN", "hits.most": f"{most} kN", fact: level}
    by_mean = f"hits.mean is at most {where}-force({fact})"
    assert met(by_mean, declared, also=BLOWS) == "met", source
    both = f"{by_mean}\n  require hits.most is at most {where}-most({fact})"
    assert met(both, declared, also=BLOWS) == answer


def test_8_the_greater_is_not_the_less() -> None:
    """UK regulation 27(1)(d): the greater of two; 15 NYCRR 79.28: a quarter inch or the maker's
    figure, whichever is less."""
    assert figure("tyre-cut-limit(180 mm)", "mm") == 25 > Fraction(180, 10)
    play = 'fact lever.play "Free play" measured in mm\n  ask "How much?"\n'
    play += 'fact lever.makers-play "Free play, by its maker" measured in mm\n  ask "How much?"\n'
    demand = "lever.play is at least minimum(1/4 in, lever.makers-play)"
    for makers, answer in (("10 mm", "not-met"), ("6 mm", "met")):
        declared = {"lever.play": "6.3 mm", "lever.makers-play": makers}
        assert met(demand, declared, also=play) == answer


def test_9_three_books_count_the_age_of_a_helmet_in_three_ways() -> None:
    """AHRMA 2013, 3.3.14; EMRA 4.1; AHRMA 2016, 3.3.14: made on 1 June 2021, 30 June 2026."""
    made, event = {"helmet.made": "2021-06-01"}, date(2026, 6, 30)
    assert met("age of helmet.made is at most 60 months", made, event) == "not-met"
    assert club_says("common-practice", "helmet-age", made, event) == "met"
    older = {"helmet.made": "2020-06-01"}
    assert club_says("common-practice", "helmet-age", older, event) == "not-met"
    assert club_says("sallowgate", "helmet-age", older, event) == "met"
    assert club_says("sallowgate", "helmet-seen", older, event) == "unsettled"


def test_10_a_reading_is_rounded_down_by_one_book_and_to_the_nearest_by_another() -> None:
    """FIM sound control, 2.15.6 to 8: 100.9 counts as 100; UNECE R41, Annex 3: as 101."""
    read = {"sound.level": "100.9 dB"}
    assert met("sound.level rounded down to 1 dB is at most 100 dB", read) == "met"
    assert met("sound.level rounded to 1 dB is at most 100 dB", read) == "not-met"
    assert met("sound.level rounded to 1 dB is at most 101 dB", read) == "met"


def test_gauge_pressures_do_not_stand_in_the_ratio_of_temperatures() -> None:
    """30 psi from 70 °F to 80 °F: 30.8438 psi, and not 30.5664 (law of Gay-Lussac, computed)."""
    found = figure("pressure-at-sea(30 psi, 70 °F, 80 °F)", "psi")
    assert as_printed(found, "30.8438")
    assert as_printed(30 * base("80 °F") / base("70 °F"), "30.5664")
