"""Helmets, gloves, boots, garments and protectors: marks, levels and ages."""

from datetime import date

import pytest
from doors import EVENT, club_says, met, refusal, shipped

from trackprep import measure, parse_declaration
from trackprep.dates import Span
from trackprep.measures.labels import span_on_label

FMVSS = "49 CFR 571.218 (FMVSS 218)"
R22 = "UNECE R22"
SNELL = "Snell M2020 and M2025"
FRHP = "FIM racing homologation programme for helmets"
EMRA = "EMRA rule book, 4.1: within five years to the month"
AHRMA_13 = "AHRMA Handbook 2013, 3.3.14: within the past 60 months"
AHRMA_16 = "AHRMA Handbook 2016, 3.3.14"


# Helmets: marks


@pytest.mark.parametrize(
    ("mark", "source"),
    [
        ("DOT FMVSS 218", f"{FMVSS}; 76 FR 28132 (13 May 2011)"),
        ("ECE 22.05", f"{R22}, series 05"),
        ("ECE 22.06", f"{R22}, series 06"),
        ("Snell M2020D", SNELL),
        ("Snell M2020R", SNELL),
        ("Snell M2025D", SNELL),
        ("Snell M2025R", SNELL),
        ("FIM FRHPhe-01", FRHP),
        ("FIM FRHPhe-02", FRHP),
    ],
)
def test_a_helmet_with_one_mark_in_force_is_met(mark: str, source: str) -> None:
    declared = {"helmet.labels": [mark]}
    assert club_says("common-practice", "helmet-marks-in-force", declared) == "met", source


def test_a_series_of_r22_that_was_never_is_no_mark() -> None:
    """UNECE R22: the approval number begins with 05 or 06."""
    assert "ECE 22.07" in refusal("helmet.labels", ["ECE 22.07"])


@pytest.mark.parametrize(
    ("letter", "answer", "source"),
    [
        ("P", "met", f"{R22}, type letters: protective"),
        ("P/J", "met", f"{R22}, type letters: both"),
        ("NP", "not-met", f"{R22}, type letters: not protective"),
        ("J", "not-met", f"{R22}, type letters: no lower face cover"),
    ],
)
def test_a_chin_bar_protects_by_its_letter(letter: str, answer: str, source: str) -> None:
    declared = {
        "rider.group": "advanced", "helmet.labels": ["ECE 22.06"], "helmet.chin-mark": letter,
    }  # fmt: skip
    assert club_says("marrowfell", "fast-chin-bar", declared) == answer, source


@pytest.mark.parametrize("written", ["PJ", "P-J"])
def test_other_spellings_of_both_letters_lead_to_one(written: str) -> None:
    """UNECE R22 labels are seen with PJ, P/J and P-J."""
    assert 'write `"P/J"`' in refusal("helmet.chin-mark", written)


def test_a_mark_of_r22_tells_no_age() -> None:
    """UNECE R22 asks for no date in the mark, from memory: the age needs another label."""
    declared = {"helmet.labels": ["ECE 22.06"], "helmet.chin-mark": "P"}
    assert club_says("common-practice", "helmet-age", declared) == "unsettled"


# Helmets: the date inside


@pytest.mark.parametrize(
    ("label", "first", "last", "source"),
    [
        ("June 2010", date(2010, 6, 1), date(2010, 6, 30), f"{FMVSS}, S5.6.1: month and year"),
        ("Jun 2010", date(2010, 6, 1), date(2010, 6, 30), f"{FMVSS}, S5.6.1: month and year"),
        ("6/2010", date(2010, 6, 1), date(2010, 6, 30), f"{FMVSS}, S5.6.1(c), from memory"),
        ("02/2024", date(2024, 2, 1), date(2024, 2, 29), f"{FMVSS}, S5.6.1: month and year"),
    ],
)
def test_a_label_means_some_day_of_its_month(
    label: str, first: date, last: date, source: str
) -> None:
    assert span_on_label(label) == Span(first, last), source


def test_a_label_of_two_short_numbers_is_not_guessed() -> None:
    """FMVSS 218, S5.6.1(c), from memory, lets a maker print June 2010 as 6/10."""
    with pytest.raises(ValueError, match="could be June 2010 or October 2006"):
        measure("helmet", "6/10")


@pytest.mark.parametrize(
    ("made", "event", "answer", "source"),
    [
        ("2021-06", date(2026, 6, 1), "met", EMRA),
        ("2021-06", date(2026, 6, 30), "met", EMRA),
        ("2021-06", date(2026, 7, 1), "not-met", EMRA),
        ("2021-06-01", date(2026, 6, 30), "met", EMRA),
        ("2021-06-30", date(2026, 7, 1), "not-met", EMRA),
    ],
)
def test_five_years_to_the_month(made: str, event: date, answer: str, source: str) -> None:
    assert club_says("common-practice", "helmet-age", {"helmet.made": made}, event) == answer, (
        source
    )


@pytest.mark.parametrize(
    ("made", "event", "answer", "source"),
    [
        ("2021-06-30", date(2026, 6, 30), "met", AHRMA_13),
        ("2021-06-29", date(2026, 6, 30), "not-met", AHRMA_13),
        ("2021-07", date(2026, 6, 30), "met", AHRMA_13),
        ("2021-06", date(2026, 6, 30), "unsettled", f"{AHRMA_13}: a label gives the month alone"),
        ("2021-06", date(2026, 7, 1), "not-met", AHRMA_13),
    ],
)
def test_sixty_months_to_the_day(made: str, event: date, answer: str, source: str) -> None:
    demand = "age of helmet.made is at most 60 months"
    assert met(demand, {"helmet.made": made}, event) == answer, source


@pytest.mark.parametrize(
    ("made", "accepted", "age", "seen", "fresh", "source"),
    [
        ("2021-06", None, "met", "not-asked", "met", f"{AHRMA_16}: within five years"),
        ("2020-06", None, "met", "unsettled", "not-met", f"{AHRMA_16}: the inspector's discretion"),
        ("2020-06", True, "met", "met", "not-met", f"{AHRMA_16}: the inspector's discretion"),
        ("2020-06", False, "met", "not-met", "not-met", f"{AHRMA_16}: the inspector's discretion"),
        ("2016-06", True, "met", "met", "not-met", f"{AHRMA_16}: up to ten years"),
        ("2016-05", True, "not-met", "met", "not-met", f"{AHRMA_16}: more than ten years"),
    ],
)
def test_from_five_to_ten_years_the_inspector_decides(
    made: str, accepted: bool | None, age: str, seen: str, fresh: str, source: str
) -> None:
    declared: dict[str, object] = {"helmet.made": made}
    if accepted is not None:
        declared["helmet.accepted"] = accepted
    for rule, answer in (("helmet-age", age), ("helmet-seen", seen), ("helmet-fresh", fresh)):
        assert club_says("sallowgate", rule, declared) == answer, source


def test_advice_on_five_years_turns_nobody_away() -> None:
    """Snell FAQ: replaced after five years of normal use, yet no helmet expires by itself."""
    ruleset = shipped("sallowgate")
    rule = next(rule for rule in ruleset.rules.rules if rule.name == "helmet-fresh")
    assert rule.level == "recommended"
    made = {"helmet.made": "2020-06", "helmet.accepted": True}
    report = ruleset.check(parse_declaration(made, ruleset), on=EVENT)
    turned_away = [
        a.rule for a in report.answers if a.status == "not-met" and a.level == "required"
    ]
    assert turned_away == []


# Gloves, boots and garments


@pytest.mark.parametrize(
    ("rule", "fact", "enough", "too_little", "source"),
    [
        ("glove-cuff", "gloves.cuff-overlap", "50.8 mm", "50.7 mm", "EMRA rule book, 4.2: 2 in"),
        ("glove-cuff", "gloves.cuff-overlap", "2 in", "50 mm", "EMRA rule book, 4.2: 2 in"),
        ("boot-shaft", "boots.height", "203.2 mm", "203.1 mm", "EMRA rule book, 4.2: 8 in"),
        ("boot-shaft", "boots.height", "8 in", "200 mm", "EMRA rule book, 4.2: 8 in"),
    ],
)
def test_gloves_and_boots_reach_as_far_as_a_club_asks(
    rule: str, fact: str, enough: str, too_little: str, source: str
) -> None:
    assert club_says("common-practice", rule, {fact: enough}) == "met", source
    assert club_says("common-practice", rule, {fact: too_little}) == "not-met", source


GARMENTS = "EN 17092:2020, part"


@pytest.mark.parametrize(
    ("mark", "answers", "source"),
    [
        # at least C, B, A, AA, AAA
        ("AAA", ("met", "met", "met", "met", "met"), f"{GARMENTS} 2"),
        ("AA", ("met", "met", "met", "met", "not-met"), f"{GARMENTS} 3"),
        ("A", ("met", "met", "met", "not-met", "not-met"), f"{GARMENTS} 4"),
        ("B", ("met", "met", "not-met", "not-met", "not-met"), f"{GARMENTS} 5: no protectors"),
        ("C", ("met", "not-met", "not-met", "not-met", "not-met"), f"{GARMENTS} 6: a carrier"),
        ("unmarked", ("not-met",) * 5, "no class"),
    ],
)
def test_garment_classes_stand_in_the_order_of_the_standard(
    mark: str, answers: tuple[str, ...], source: str
) -> None:
    for least, answer in zip(("C", "B", "A", "AA", "AAA"), answers, strict=True):
        demand = f'suit.class is at least "{least}"'
        assert met(demand, {"suit.class": mark}) == answer, source


@pytest.mark.parametrize(
    ("fact", "source"),
    [
        ("gloves.level", "EN 13594:2015: levels 1 and 2"),
        ("boots.height-level", "EN 13634:2017, marking: first of four, 1 or 2"),
        ("boots.abrasion-level", "EN 13634:2017, marking: second of four, 1 or 2"),
        ("boots.cut-level", "EN 13634:2017, marking: third of four, 1 or 2"),
        ("boots.stiffness-level", "EN 13634:2017, marking: last of four, 1 or 2"),
        ("suit.armour-level", "EN 1621-1:2012: levels 1 and 2"),
        ("back-protector.level", "EN 1621-2:2014: levels 1 and 2"),
    ],
)
def test_levels_are_one_and_two(fact: str, source: str) -> None:
    """The second is better, none at all is worse, and there is no third."""
    for mark, answers in (
        ("unmarked", ("not-met", "not-met")), ("level 1", ("met", "not-met")),
        ("level 2", ("met", "met")),
    ):  # fmt: skip
        for least, answer in zip(("level 1", "level 2"), answers, strict=True):
            assert met(f'{fact} is at least "{least}"', {fact: mark}) == answer, source
    assert "is no choice" in refusal(fact, "level 3")


@pytest.mark.parametrize(
    ("tested", "answer", "source"),
    [
        (True, "met", "EN 13594:2015: KP where the knuckles were tested"),
        (False, "not-met", "EN 13594:2015: KP where the knuckles were tested"),
    ],
)
def test_knuckles_are_tested_where_the_label_says_kp(
    tested: bool, answer: str, source: str
) -> None:
    declared = {
        "suit.class": "AAA", "gloves.level": "level 1", "gloves.knuckles-tested": tested,
        "boots.abrasion-level": "level 2", "boots.cut-level": "level 2",
        "boots.stiffness-level": "level 2",
    }  # fmt: skip
    assert club_says("fenwhistle", "marked-gear", declared) == answer, source


HITS = """\
fact hits.mean "Mean of nine blows of 50 J" measured in kN
  ask "Which mean force was measured?"
"""


@pytest.mark.parametrize(
    ("table", "fact", "mean", "first", "second", "source"),
    [
        ("limb-force", "suit.armour-level", "20 kN", "met", "met", "EN 1621-1:2012"),
        ("limb-force", "suit.armour-level", "20.1 kN", "met", "not-met", "EN 1621-1:2012"),
        ("limb-force", "suit.armour-level", "25 kN", "met", "not-met", "EN 1621-1:2012"),
        ("limb-force", "suit.armour-level", "35 kN", "met", "not-met", "EN 1621-1:2012"),
        ("limb-force", "suit.armour-level", "35.1 kN", "not-met", "not-met", "EN 1621-1:2012"),
        ("back-force", "back-protector.level", "8.9 kN", "met", "met", "EN 1621-2:2014"),
        ("back-force", "back-protector.level", "9 kN", "met", "met", "EN 1621-2:2014"),
        ("back-force", "back-protector.level", "9.1 kN", "met", "not-met", "EN 1621-2:2014"),
        ("back-force", "back-protector.level", "18 kN", "met", "not-met", "EN 1621-2:2014"),
        ("back-force", "back-protector.level", "18.1 kN", "not-met", "not-met", "EN 1621-2:2014"),
    ],
)
def test_a_level_lets_so_much_force_through(
    table: str, fact: str, mean: str, first: str, second: str, source: str
) -> None:
    for level, answer in (("level 1", first), ("level 2", second), ("unmarked", "unsettled")):
        demand = f"hits.mean is at most {table}({fact})"
        declared = {"hits.mean": mean, fact: level}
        assert met(demand, declared, also=HITS) == answer, source
