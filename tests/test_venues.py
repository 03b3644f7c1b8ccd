"""Several events side by side: the table of limits, and what is ready at all of them."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from events_told import EVENT, FACTS, NORTH, SOUTH, WEST, ruleset, text, three
from processes import call

import trackprep
from trackprep.analysis.common_set import NobodyReady, ReadyAtAll
from trackprep.analysis.limits_table import Row
from trackprep.published import grammar_folder
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown
from trackprep.reports.venues.page import about
from trackprep.reports.venues.report import VenuesReport

GOLDEN = Path(__file__).parent / "events"
SCHEMA = json.loads((grammar_folder() / "venues.schema.json").read_text(encoding="utf-8"))
VENUES = ("tarn-hollow", "marrowfell", "sallowgate", "fenwhistle")
HOSTILE = "<script>alert(1)</script> & *stars* | pipe # hash"


def compared(*rules: str, on: date | None = EVENT) -> VenuesReport:
    one, other, third, *more = (ruleset(each, f"day-{n}") for n, each in enumerate(rules))
    return trackprep.compare(one, other, third, *more, on=on)


def row(report: VenuesReport, subject: str) -> Row:
    return next(each for each in report.venues.rows if about(each) == subject)


def valid(form: dict[str, Any]) -> dict[str, Any]:
    jsonschema.Draft202012Validator(SCHEMA).validate(form)
    return form


# ---- the table of limits ----------------------------------------------------


def rule(demand: str, word: str = "require", when: str = "") -> str:
    return f'rule one "One"\n{f"  when {when}" if when else ""}\n  {word} {demand}\n'


OTHER = 'rule other "Other"\n  require slick is no\n'


@pytest.mark.parametrize(
    ("subject", "rules", "strictest"),
    [
        # of "at least" the greatest, of "at most" the least, whatever the unit
        ("Tread depth", ("tread is at least 1.6 mm", "tread is at least 0.3 cm",
                         "tread is at least 2 mm"), {1}),
        ("Sound level", ("sound is at most 95 dB", "sound is less than 92 dB",
                         "sound is at most 92 dB"), {1}),
        ("Helmet made", ("age of made is at most 5 years", "age of made is at most 48 months",
                         "age of made is at most 4 years"), {1, 2}),
        # of lists the one that admits less, and refuses more
        ("Helmet shell", ("shell is one of full-face, modular", "shell is full-face",
                          "shell is not open-face"), {1}),
        ("Helmet marks", ("marks includes any of gold, silver", "marks includes any of gold",
                          "marks includes any of gold, silver, bronze"), {1}),
        ("Helmet marks", ("marks includes none of gold", "marks includes none of gold, silver",
                          "marks includes none of bronze, gold, silver"), {2}),
        # with conditions, by what they mean
        ("Tread depth", ("tread is at least 2 mm",
                         "tread is at least 2 mm and tread is at least 1 mm",
                         "tread is at least 1 mm"), {0, 1}),
        # where each asks something that another does not, nobody asks most
        ("Helmet shell", ("shell is one of full-face, modular",
                          "shell is one of full-face, open-face", "shell is not open-face"), set()),
    ],
)  # fmt: skip
def test_the_strictest_is_told_by_what_it_means(
    subject: str, rules: tuple[str, ...], strictest: set[int]
) -> None:
    report = compared(*map(rule, rules))
    found = row(report, subject)
    assert found.strictest == strictest
    assert not found.agree


def test_the_two_ends_of_a_range_stand_in_two_rows() -> None:
    report = compared(
        rule("sound is between 80 dB and 95 dB"), rule("sound is at most 92 dB"),
        rule("not sound is more than 100 dB"),
    )  # fmt: skip
    rows = [each for each in report.venues.rows if about(each) == "Sound level"]
    assert [each.strictest for each in rows] == [{0}, {1}]


def test_who_asks_it_of_more_machines_asks_more() -> None:
    demand = "tread is at least 2 mm"
    report = compared(rule(demand), rule(demand, when="slick is no"), WEST)
    # West recommends 4 mm, and requires nothing: nobody asks most.
    assert row(report, "Tread depth").strictest == set()
    report = compared(rule(demand), rule(demand, when="slick is no"), OTHER)
    assert row(report, "Tread depth").strictest == {0}


def test_required_is_stricter_than_recommended() -> None:
    demand = "tread is at least 2 mm"
    report = compared(rule(demand, "recommend"), rule(demand), OTHER)
    assert row(report, "Tread depth").strictest == {1}


def test_different_values_in_different_groups_are_shown_with_their_conditions() -> None:
    one, other, third = three()
    report = trackprep.compare(one, other, third)
    found = row(report, "Tread depth")
    assert [demand.text for cell in found.cells for demand in cell] == [
        "at least 1.6 mm",
        "at least 2 mm if group is “Novice”, otherwise 3 mm".replace("Novice", "novice"),
        "at least 4 mm",
    ]
    assert row(report, "Helmet made").agree is False  # West asks for no helmet
    assert row(report, "Sound level").strictest == {1}


def test_rows_on_which_all_agree_stand_apart() -> None:
    report = compared(NORTH, NORTH, NORTH.replace("95 dB", "94 dB"))
    assert {about(each) for each in report.venues.differing} == {"Sound level"}
    said = report.text()
    assert "On 3 points all 3 ask the same, on 1 they differ." in said
    assert "Tread depth" not in said.split("== To be ready")[0]
    assert "Tread depth: at least 1.6 mm" in report.text(whole=True)


def test_rules_that_ask_in_other_ways_are_set_side_by_side_whole() -> None:
    report = compared(rule("shell is full-face"), rule("shell is full-face or slick is no"), WEST)
    found = row(report, "One")
    assert found.strictest == {0}
    assert [len(cell) for cell in found.cells] == [1, 1, 0]


# ---- ready at all -----------------------------------------------------------


def test_what_has_to_be_met_to_be_ready_at_all() -> None:
    report = trackprep.compare(*three())
    common = report.venues.common
    assert isinstance(common, ReadyAtAll)
    asked = {
        each.rule.name: sorted({one.ruleset for one in each.asked_by}) for each in common.rules
    }
    # North's tread, sound and helmet are met by whoever meets South's.
    assert asked == {
        "age": [0, 1], "shell": [1], "tread": [1], "quiet": [1], "seen": [1], "mini": [2],
        "camera": [2],
    }  # fmt: skip
    assert common.implied == 3
    for each in three():
        declared = trackprep.parse_declaration(report.to_dict()["common"]["witness"]["rider"], each)
        assert each.check(declared, on=common.witness.event).verdict == "ready"


def test_why_nobody_can_be_ready_at_all() -> None:
    loud = 'rule loud "Loud enough"\n  require sound is at least 93 dB\n'
    report = compared(NORTH, SOUTH, loud)
    common = report.venues.common
    assert isinstance(common, NobodyReady)
    assert [(one.ruleset, one.rule.name) for one in common.rules] == [(1, "quiet"), (2, "loud")]
    assert common.facts == ("sound",)
    said = report.text()
    assert "Nobody can be ready at all 3." in said
    assert "They quarrel about sound level." in said


def test_a_quarrel_of_three_names_all_three() -> None:
    report = compared(
        rule("shell is one of full-face, modular"),
        rule("shell is one of modular, open-face"),
        rule("shell is one of open-face, full-face"),
    )
    common = report.venues.common
    assert isinstance(common, NobodyReady)
    assert {one.ruleset for one in common.rules} == {0, 1, 2}


def test_a_rule_that_nobody_meets_is_enough_by_itself() -> None:
    never = rule("sound is at least 93 dB and sound is less than 92 dB")
    report = compared(never, never, NORTH)
    common = report.venues.common
    assert isinstance(common, NobodyReady)
    assert [len(one.asked_by) for one in common.rules] == [2]
    assert "Nobody can meet this rule; shown for" in report.text()
    assert valid(report.to_dict())["common"]["rules"][0]["asked_by"] == ["day-0", "day-1"]


def test_what_cannot_be_read_by_all_is_undecided() -> None:
    odd = FACTS.replace('"Tread depth" measured in mm from 0 mm to 12 mm', '"Tread" yes or no')
    third = ruleset('rule tread "Tread"\n  require tread\n', "odd", odd)
    report = trackprep.compare(ruleset(NORTH), ruleset(SOUTH, "south"), third)
    assert report.outcome == "undecided"
    assert "No value of `tread` can be read by all" in report.text()
    assert "undecided" in valid(report.to_dict())["outcome"]


def test_a_period_without_a_common_day_is_told() -> None:
    later = text(NORTH, "later").replace("2026-06-01 to 2026-06-30", "2026-08-01 to 2026-08-02")
    third = trackprep.parse_ruleset(later, name="later.trackrules")
    report = trackprep.compare(ruleset(NORTH), ruleset(SOUTH, "south"), third)
    assert "no day has all of them valid" in report.text()


# ---- shapes -----------------------------------------------------------------


def test_it_reads_as_it_should() -> None:
    report = trackprep.compare(*three())
    assert report.text() == (GOLDEN / "three.txt").read_text(encoding="utf-8")
    assert page_markdown(report.page) == (GOLDEN / "three.md").read_text(encoding="utf-8")


def test_the_same_ruleset_thrice_is_told_apart() -> None:
    report = trackprep.compare(*[ruleset(NORTH)] * 3)
    assert report.outcome == "same"
    assert "north (1)" in report.text()


def test_programs_get_all_of_it() -> None:
    form = valid(trackprep.compare(*three()).to_dict())
    assert [each["called"] for each in form["rulesets"]] == ["north", "south", "west"]
    sound = next(each for each in form["rows"] if each["about"] == "Sound level")
    assert sound["strictest"] == ["south"]
    assert sound["asked"]["west"] == []
    assert sound["asked"]["north"][0]["text"] == "at most 95 dB"


def test_the_shipped_venues_can_be_compared() -> None:
    report = trackprep.compare(*map(trackprep.read_ruleset, VENUES))
    form = valid(report.to_dict())
    assert form["outcome"] == "differs"
    assert form["common"]["answer"] == "ready at all"
    pads = next(r for r in form["rows"] if r["about"].startswith("Front pad or lining"))
    assert pads["strictest"] == ["fenwhistle"]
    for name in VENUES:
        rules = trackprep.read_ruleset(name)
        lines = form["common"]["witness"]["rider"].splitlines()
        own = [line for line in lines if line.split(" is ")[0] in rules.rules.facts]
        declared = trackprep.parse_declaration("\n".join([lines[0], *own]), rules)
        day = date.fromisoformat(form["common"]["witness"]["event_date"])
        assert rules.check(declared, on=day).verdict == "ready"


def test_a_page_is_one_file_and_nothing_in_it_is_taken_for_markup() -> None:
    hostile = SOUTH.replace('"Enough tread"', f'"{HOSTILE}"')
    report = compared(NORTH, hostile, WEST)
    page = page_html(report.page)
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert "Content-Security-Policy" in page
    assert "<script>" not in page_markdown(report.page, whole=True)
    assert "<table" in report._repr_html_()


# ---- a real process ---------------------------------------------------------


@pytest.fixture
def days(tmp_path: Path) -> Path:
    for name, rules in (("north", NORTH), ("south", SOUTH), ("west", WEST)):
        (tmp_path / f"{name}.trackrules").write_text(text(rules, name), encoding="utf-8")
    return tmp_path


FILES = ("north.trackrules", "south.trackrules", "west.trackrules")


def test_the_exit_code_tells_whether_they_differ(days: Path) -> None:
    told = call(days, "compare", *FILES)
    assert (told.code, told.err) == (1, "")
    assert told.out == (GOLDEN / "three.txt").read_text(encoding="utf-8")
    assert call(days, "compare", *FILES[:1] * 3).code == 0
    (days / "odd.trackrules").write_text(
        text("rule tread \"Tread\"\n  require tread\n", "odd",
             FACTS.replace('depth" measured in mm from 0 mm to 12 mm', 'depth" yes or no')),
        encoding="utf-8",
    )  # fmt: skip
    assert call(days, "compare", *FILES, "odd.trackrules").code == 3
    (days / "broken.trackrules").write_text("ruleset broken", encoding="utf-8")
    assert call(days, "compare", *FILES, "broken.trackrules").code == 2


def test_a_wrong_call_is_told(days: Path) -> None:
    told = call(days, "compare", *FILES, "--changes")
    assert told.code == 2
    assert "two editions of one ruleset" in told.err


def test_every_shape_is_written(days: Path) -> None:
    for form in ("markdown", "html", "json"):
        told = call(days, "compare", *FILES, "--as", form, "-o", f"out.{form}")
        assert told.code == 1, told.err
        assert "Tread depth" in (days / f"out.{form}").read_text(encoding="utf-8")
    again = call(days, "compare", *FILES, "--as", "json", "-o", "out.json")
    assert again.code == 2
    valid(json.loads((days / "out.json").read_text(encoding="utf-8")))
