"""One rider at several events: where ready, and the least to change."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from events_told import EVENT, NORTH, SOUTH, WEST, ruleset, text
from processes import call

import trackprep
from trackprep.analysis import least_changes as searching
from trackprep.analysis import solving
from trackprep.analysis.least_changes import Obstacle, Plan, Undecided, Way
from trackprep.analysis.witnesses import spelled
from trackprep.published import grammar_folder, rulesets_folder
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown
from trackprep.reports.venues.report import ReadinessReport

GOLDEN = Path(__file__).parent / "events"
SCHEMA = json.loads((grammar_folder() / "readiness.schema.json").read_text(encoding="utf-8"))
RIDER = """\
declaration "Robin, red mini"

style is mini
group is fast
shell is modular
made is 2021-06
tread is 1.4 mm
sound is 97 dB
camera is taped
mount is loose
"""


@pytest.fixture
def asked(tmp_path: Path) -> "Asked":
    return Asked(tmp_path)


class Asked:
    """Declarations written to a file, and asked about."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def report(self, rider: str, *rules: str) -> ReadinessReport:
        path = self.folder / "robin.rider"
        opening = "" if "declaration" in rider else 'declaration "Robin"\n'
        path.write_text(opening + rider, encoding="utf-8")
        names = ("north", "south", "west")
        days = [ruleset(each, name) for each, name in zip(rules, names, strict=False)]
        return trackprep.readiness(path, *days, on=EVENT)

    def way(self, rider: str, *rules: str) -> Way:
        """The way to all of them."""
        report = self.report(rider, *rules).readiness
        return report.way_to_all or report.ways[0]

    def plan(self, rider: str, *rules: str) -> Plan:
        way = self.way(rider, *rules)
        assert isinstance(way, Plan), way
        return way


def changes(plan: Plan) -> dict[str, str]:
    facts = ruleset(NORTH).rules.facts
    return {change.path: spelled(change.new, facts[change.path]) for change in plan.changes}


def found_out(plan: Plan) -> dict[str, str]:
    facts = ruleset(NORTH).rules.facts
    return {change.path: spelled(change.new, facts[change.path]) for change in plan.to_find_out}


def rule(demand: str, when: str = "", name: str = "one") -> str:
    return f'rule {name} "Rule {name}"\n{f"  when {when}" if when else ""}\n  require {demand}\n'


# ---- the least, with known answers ------------------------------------------


@pytest.mark.parametrize(
    ("rider", "rules", "expected"),
    [
        # the threshold, from either side, in the rule's own words of it
        ("tread is 1.4 mm", rule("tread is at least 1.6 mm"), {"tread": "1.6 mm"}),
        ("sound is 97 dB", rule("sound is at most 92 dB"), {"sound": "92 dB"}),
        ("sound is 97 dB", rule("sound is less than 92 dB"), {"sound": "91.9 dB"}),
        ("tread is 5 mm", rule("tread is between 1 mm and 3 mm"), {"tread": "3 mm"}),
        # a date as near as will do; a week by its code
        ("made is 2019-01-05", rule("age of made is at most 5 years"), {"made": "2021-06-14"}),
        # (week 24 of 2021 begins the day before the threshold, 14 June 2021)
        ("built is 1019", rule("age of built is at most 5 years"), {"built": '"2521"'}),
        # what is there stays there
        ("marks is gold, bronze", rule("marks includes all of gold, silver"),
         {"marks": "bronze, gold, silver"}),
        ("marks is gold, bronze", rule("marks includes none of gold"), {"marks": "bronze"}),
        # of two ways the shorter one
        ("tread is 1 mm\nsound is 97 dB\nslick is no",
         rule("tread is at least 2 mm and sound is at most 92 dB or slick"), {"slick": "yes"}),
        # one change for two rules
        ("tread is 1 mm\nslick is no",
         rule("tread is at least 2 mm or slick") + rule("tread is at least 3 mm", name="two"),
         {"tread": "3 mm"}),
        # a change that breaks another rule takes a second change
        ("tread is 1 mm\nsound is 90 dB",
         rule("tread is at least 2 mm")
         + rule("tread is less than 2 mm or sound is at most 80 dB", name="two"),
         {"tread": "2 mm", "sound": "80 dB"}),
        # arithmetic of several facts
        ("oil is 4 L\npan is 3 L", rule("pan is at least oil"), {"pan": "4 L"}),
    ],
)  # fmt: skip
def test_the_least_is_found(
    asked: Asked, rider: str, rules: str, expected: Mapping[str, str]
) -> None:
    plan = asked.plan(rider, rules)
    found = changes(plan)
    if expected == {"pan": "4 L"}:  # either of the two may give way
        assert found in ({"pan": "4 L"}, {"oil": "3 L"})
    else:
        assert found == expected
    assert plan.exact
    assert not plan.to_find_out


def test_the_changed_declaration_is_ready_by_the_ordinary_check(asked: Asked) -> None:
    rules = (NORTH, SOUTH, WEST)
    plan = asked.plan(RIDER, *rules)
    for each, name in zip(rules, ("north", "south", "west"), strict=True):
        day = ruleset(each, name)
        lines = (
            f"{path} is {spelled(value, day.rules.facts[path])}"
            for path, value in plan.values.items()
        )
        declared = trackprep.parse_declaration('declaration "Done"\n' + "\n".join(lines), day)
        assert day.check(declared, on=EVENT).verdict == "ready"


def test_at_all_the_strictest_counts(asked: Asked) -> None:
    report = asked.report(RIDER, NORTH, SOUTH, WEST)
    north, south, west = report.readiness.ways
    assert isinstance(north, Plan)
    assert isinstance(south, Plan)
    assert isinstance(west, Plan)
    assert changes(north) == {"tread": "1.6 mm", "sound": "95 dB"}
    assert changes(south) == {"shell": "full-face", "tread": "3 mm", "sound": "92 dB"}
    assert changes(west) == {"mount": "sound"}
    to_all = report.readiness.way_to_all
    assert isinstance(to_all, Plan)
    assert changes(to_all) == {**changes(south), **changes(west)}
    tread = next(change for change in to_all.changes if change.path == "tread")
    assert [(one.ruleset, one.rule) for one in tread.rules] == [(0, "tread"), (1, "tread")]
    assert tread.further == "or more"


# ---- what is no way ---------------------------------------------------------


def test_nothing_unchangeable_is_changed(asked: Asked) -> None:
    way = asked.way("style is road\nsound is 97 dB", NORTH, WEST)
    assert isinstance(way, Obstacle)
    assert [(one.ruleset, one.rule) for one in way.rules] == [(1, "mini")]
    assert way.facts == ("style",)
    said = asked.report("style is road\nsound is 97 dB", NORTH, WEST).text()
    assert "as long as style of machine is as declared (“road”); that cannot be changed" in said


def test_an_unchangeable_fact_is_left_where_another_way_is_longer(asked: Asked) -> None:
    demand = "style is mini or tread is at least 2 mm and sound is at most 92 dB"
    plan = asked.plan("style is road\ntread is 1 mm\nsound is 97 dB", rule(demand))
    assert changes(plan) == {"tread": "2 mm", "sound": "92 dB"}


def test_rules_that_contradict_each_other_are_named(asked: Asked) -> None:
    way = asked.way("sound is 97 dB", NORTH, rule("sound is at least 96 dB", name="loud"))
    assert isinstance(way, Obstacle)
    assert [(one.ruleset, one.rule) for one in way.rules] == [(0, "quiet"), (1, "loud")]
    assert way.facts == ()


def test_taking_off_what_a_rule_asks_about_is_no_way(asked: Asked) -> None:
    plan = asked.plan(RIDER, WEST)
    assert changes(plan) == {"mount": "sound"}  # not: camera is absent


def test_nor_is_another_row_of_a_limit(asked: Asked) -> None:
    plan = asked.plan("group is fast\ntread is 2.5 mm\nshell is full-face\nsound is 90 dB\n"
                      "made is 2024-01-01", SOUTH)  # fmt: skip
    assert changes(plan) == {"tread": "3 mm"}  # not: group is novice


def test_another_group_is_no_way_but_what_the_rule_says_is_told(asked: Asked) -> None:
    days = 'fact days "Track days" count unchangeable\n'
    north = trackprep.parse_ruleset(
        text(
            days + SOUTH + rule("days is at least 3", when="group is fast", name="days")
            + '  fix "Ride with the novices first."\n', "north",
        ),
        name="north.trackrules",
    )  # fmt: skip
    path = asked.folder / "robin.rider"
    lines = (
        "group is fast",
        "days is 1",
        "tread is 2.5 mm",
        "shell is full-face",
        "sound is 90 dB",
    )
    rider = "\n".join(('declaration "Robin"', *lines, "made is 2024-01-01"))
    path.write_text(rider, encoding="utf-8")
    report = trackprep.readiness(path, north, on=EVENT)
    (way,) = report.readiness.ways
    assert isinstance(way, Obstacle)
    assert ([one.rule for one in way.rules], way.facts) == (["days"], ("days",))
    assert "Fix, by its author: Ride with the novices first." in report.text()


def test_a_rule_falls_away_only_with_what_another_asks(asked: Asked) -> None:
    rider = "plate is fitted\ncarrier is loose"
    carrier = rule("carrier is secure", when="plate is fitted", name="carrier")
    plan = asked.plan(rider, carrier, rule("plate is absent", name="plate"))
    assert changes(plan) == {"plate": "absent"}
    assert [(one.ruleset, one.rule) for one in plan.fallen_away] == [(0, "carrier")]
    said = asked.report(rider, carrier, rule("plate is absent", name="plate")).text()
    assert "Not asked of you any more then: “Rule carrier”." in said
    assert changes(asked.plan(rider, carrier)) == {"carrier": "secure"}


def test_what_only_the_inspector_says_is_left_to_the_inspector(asked: Asked) -> None:
    rider = "shell is full-face\nmade is 2024-01-01\ngroup is fast\ntread is 4 mm\nsound is 90 dB"
    plan = asked.plan(rider, SOUTH)
    assert plan.changes == plan.to_find_out == ()
    assert "accepted" not in plan.values
    refused = asked.way(f"{rider}\naccepted is no", SOUTH)
    assert isinstance(refused, Obstacle)
    assert refused.facts == ("accepted",)
    said = asked.report(f"{rider}\naccepted is no", SOUTH).text()
    assert "machine accepted is as declared (no); that is for the inspector alone." in said


def test_nothing_is_changed_only_to_stay_asked(asked: Asked) -> None:
    # Bolting the camera on ends it that the mount is asked about: no slick tyre is put on for it.
    rules = rule("camera is bolted") + rule(
        "mount is sound", when="camera is taped or slick is yes", name="two"
    )
    for mount in ("sound", "loose"):
        plan = asked.plan(f"camera is taped\nslick is no\nmount is {mount}", rules)
        assert changes(plan) == {"camera": "bolted"}
        assert [one.rule for one in plan.fallen_away] == ["two"]


# ---- find out, apart from change --------------------------------------------


def test_what_is_not_declared_is_found_out_and_is_no_change(asked: Asked) -> None:
    plan = asked.plan("tread is 1 mm", NORTH)
    assert changes(plan) == {"tread": "1.6 mm"}
    assert found_out(plan) == {"shell": "full-face", "made": "2021-06-14", "sound": "95 dB"}


def test_nothing_is_to_be_found_out_that_no_rule_needs(asked: Asked) -> None:
    plan = asked.plan("slick is yes", rule("tread is at least 2 mm or slick"))
    assert plan.to_find_out == ()


def test_a_coarse_date_is_looked_up(asked: Asked) -> None:
    plan = asked.plan("made is 2021-06", rule("age of made is at most 5 years"))
    assert plan.changes == ()
    assert found_out(plan) == {"made": "2021-06-14"}
    assert plan.to_find_out[0].further == "or later"
    assert changes(asked.plan("made is 2020-06", rule("age of made is at most 5 years"))) == {
        "made": "2021-06-14"
    }


def test_a_date_after_the_event_is_told_and_asked_for(asked: Asked) -> None:
    report = asked.report("made is 2026-07-01", rule("age of made is at most 5 years"))
    assert "which lies after the event" in report.text()
    way = report.readiness.ways[0]
    assert isinstance(way, Plan)
    assert found_out(way) == {"made": "2021-06-14"}


# ---- effort -----------------------------------------------------------------


def test_what_is_not_proved_least_says_so(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    def beyond(*_: Any) -> None:
        raise solving.UndecidedError(solving.TOO_MUCH_WORK)

    monkeypatch.setattr(searching, "fewest_given_up", beyond)
    report = asked.report(RIDER, NORTH)
    plan = report.readiness.ways[0]
    assert isinstance(plan, Plan)
    assert not plan.exact
    assert changes(plan) == {"tread": "1.6 mm", "sound": "95 dB"}
    assert "it is not proved that fewer would not do" in report.text()


def test_what_cannot_be_told_says_why(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "MOST_CONFLICTS", 0)
    report = asked.report(RIDER, NORTH)
    assert report.readiness.ways == (Undecided(solving.TOO_MUCH_WORK),)
    assert "could not be told: deciding it would take more work" in report.text()


# ---- how it is told ---------------------------------------------------------


def test_it_reads_as_it_should(asked: Asked) -> None:
    report = asked.report(RIDER, NORTH, SOUTH, WEST)
    assert report.text() == (GOLDEN / "robin.txt").read_text(encoding="utf-8")
    assert page_markdown(report.page) == (GOLDEN / "robin.md").read_text(encoding="utf-8")


def test_a_caution_stands_in_front_of_its_job(asked: Asked) -> None:
    lines = asked.report(RIDER, NORTH).text().splitlines()
    start = next(n for n, line in enumerate(lines) if "CHANGE  Replace the tyre." in line)
    assert "CAUTION: Never work under a machine" in lines[start + 1]


def test_private_facts_are_named_without_their_values(asked: Asked) -> None:
    report = asked.report("licence is lapsed\nborn is 2012-05-06",
                          rule("licence is full")
                          + rule("completed years of born is at least 18", name="age"))  # fmt: skip
    shown = (
        report.text(), page_html(report.page), page_markdown(report.page), report._repr_html_(),
        json.dumps(report.to_dict()),
    )  # fmt: skip
    for each in shown:
        assert "lapsed" not in each
        assert "2012" not in each
    assert "as declared (kept private)" in shown[0]
    report = asked.report("licence is lapsed", rule("licence is full"))
    assert "- Licence: kept private" in report.text()
    assert "lapsed" not in report.text()


def test_a_rider_is_told_ready_not_ready_or_incomplete(asked: Asked) -> None:
    said = asked.report(
        "sound is 97 dB\ntread is 4 mm", NORTH, rule("tread is at least 2 mm")
    ).text()
    assert "north: not ready" in said
    assert "south: ready to present" in said
    assert "incomplete" in asked.report("tread is 4 mm", NORTH).text()
    assert "turned away" not in said
    assert "left open" not in said


def test_programs_get_all_of_it(asked: Asked) -> None:
    form = asked.report(RIDER, NORTH, SOUTH, WEST).to_dict()
    jsonschema.Draft202012Validator(SCHEMA).validate(form)
    assert [each["verdict"] for each in form["events"]] == ["not-ready"] * 3
    (tread, *_) = [
        job for job in form["way_to_all"]["jobs"] if job["changes"][0]["fact"] == "tread"
    ]
    assert tread["fixes"][0]["text"].startswith("Replace the tyre.")
    assert tread["changes"][0]["new"] == "3 mm"
    for rider, rules in (("style is road", WEST), ("sound is 90 dB", NORTH)):
        jsonschema.Draft202012Validator(SCHEMA).validate(asked.report(rider, rules).to_dict())


@pytest.mark.parametrize("rider", ["sam", "dale", "petra", "nadia", "ilse"])
def test_shipped_riders_are_told_the_way_to_every_shipped_venue(rider: str) -> None:
    names = ("tarn-hollow", "marrowfell", "sallowgate", "fenwhistle")
    venues = [trackprep.read_ruleset(name) for name in names]
    report = trackprep.readiness(rulesets_folder() / f"{rider}.rider", *venues, on=EVENT)
    jsonschema.Draft202012Validator(SCHEMA).validate(report.to_dict())
    for number, way in enumerate(report.readiness.ways):
        assert not isinstance(way, Undecided)
        if isinstance(way, Plan):
            rules = venues[number].rules
            unchanged = {path for path, fact in rules.facts.items() if "unchangeable" in fact.marks}
            assert unchanged.isdisjoint(change.path for change in way.changes)


def test_who_has_too_few_track_days_is_told_so() -> None:
    marrowfell = trackprep.read_ruleset("marrowfell")
    report = trackprep.readiness(rulesets_folder() / "ilse.rider", marrowfell, on=EVENT)
    (way,) = report.readiness.ways
    assert isinstance(way, Obstacle)
    assert [one.rule for one in way.rules] == ["intermediate-experience"]
    assert way.facts == ("rider.track-days",)


# ---- from Python, and a real process ----------------------------------------


def test_a_fact_that_only_one_event_knows_counts_for_that_one(tmp_path: Path) -> None:
    extra = 'fact flag "Flag" one of red, blue\n'
    north = trackprep.parse_ruleset(
        text(extra + rule("flag is red"), "north"), name="north.trackrules"
    )
    south = ruleset(rule("tread is at least 2 mm"), "south")
    rider = tmp_path / "robin.rider"
    rider.write_text('declaration "Robin"\nflag is blue\ntread is 3 mm\n', encoding="utf-8")
    report = trackprep.readiness(rider, north, south, on=EVENT)
    assert [each.verdict for each in report.reports] == ["not-ready", "ready"]
    rider.write_text('declaration "Robin"\nflagg is blue\n', encoding="utf-8")
    with pytest.raises(trackprep.DeclarationError, match="flagg"):
        trackprep.readiness(rider, north, south, on=EVENT)


def test_odd_calls_are_told() -> None:
    with pytest.raises(TypeError, match="one ruleset or more"):
        trackprep.readiness("robin.rider", on=EVENT)
    with pytest.raises(TypeError, match="two rulesets or more"):
        trackprep.compare(ruleset(NORTH))  # type: ignore[call-overload]


def test_the_exit_code_is_that_of_the_worst_event(tmp_path: Path) -> None:
    for name, rules in (("north", NORTH), ("south", SOUTH), ("west", WEST)):
        (tmp_path / f"{name}.trackrules").write_text(text(rules, name), encoding="utf-8")
    (tmp_path / "robin.rider").write_text(RIDER, encoding="utf-8")
    files = ("north.trackrules", "south.trackrules", "west.trackrules")
    told = call(tmp_path, "compare", "--rider", "robin.rider", *files, "--on", "2026-06-14")
    assert (told.code, told.err) == (1, "")
    assert told.out == (GOLDEN / "robin.txt").read_text(encoding="utf-8")
    (tmp_path / "half.rider").write_text('declaration "Half"\ntread is 4 mm\n', encoding="utf-8")
    (tmp_path / "good.rider").write_text(
        'declaration "Good"\nstyle is mini\ncamera is absent\n', encoding="utf-8"
    )
    (tmp_path / "bad.rider").write_text('declaration "Bad"\ntread is 4 psi\n', encoding="utf-8")
    (tmp_path / "late.rider").write_text('declaration "Late"\nmade is 2027-01\n', encoding="utf-8")
    on = ("--on", "2026-06-14")
    assert call(tmp_path, "compare", "--rider", "half.rider", *files[:2], *on).code == 3
    assert call(tmp_path, "compare", "--rider", "good.rider", files[2], *on).code == 0
    assert call(tmp_path, "compare", "--rider", "bad.rider", *files, *on).code == 2
    assert call(tmp_path, "compare", "--rider", "late.rider", *files, *on).code == 2
    told = call(tmp_path, "compare", "--rider", "good.rider", files[2])
    assert "as no other day was asked for with --on" in " ".join(told.err.split())
