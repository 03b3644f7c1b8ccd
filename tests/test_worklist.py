"""Work lists: what is on them, where, in which order, and what they look like."""

import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest
from processes import call
from worklist_made import (
    ALL_RIGHT,
    ALL_WRONG,
    NEXT_DOOR,
    RIDDEN,
    YARD,
    jobs,
    made,
    report,
    shipped,
    text_of,
)

import trackprep
from trackprep.published import grammar_folder, rulesets_folder

GOLDEN = Path(__file__).parent / "worklists"
SCHEMA = json.loads((grammar_folder() / "worklist.schema.json").read_text(encoding="utf-8"))


# ---- goldens ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("rider", "name", "day"),
    [("ilse", "marrowfell", 20), ("sam", "tarn-hollow", 14), ("petra", "fenwhistle", 13)],
)
def test_shipped_riders_read_as_they_should(rider: str, name: str, day: int) -> None:
    found = shipped(rider, name, on=date(2026, 6, day))
    assert found.text() == (GOLDEN / f"{rider}-{name}.txt").read_text()


def test_by_hand_as_text_and_markdown() -> None:
    found = made({**ALL_WRONG, **RIDDEN}, YARD, NEXT_DOOR)
    assert found.text(72) == (GOLDEN / "yard.txt").read_text()
    assert found.markdown() == (GOLDEN / "yard.md").read_text()


# ---- to do ------------------------------------------------------------------


def test_the_order_is_workable() -> None:
    """`tyre` stands before `wheel`, and comes after it; so with `lens` and `lamp`."""
    found = made(ALL_WRONG)
    assert jobs(found) == [
        "True the wheel.", "Fit a tyre.", "Unplug the lamp.", "Tape the lens.", "Fill with water.",
        "Stick it on.",
    ]  # fmt: skip
    numbered = {text_of(job): job for job in found.worklist.jobs}
    assert numbered["Fit a tyre."].after == (1,)
    assert numbered["Tape the lens."].after == (3,)


def test_what_is_met_in_between_does_not_break_the_order() -> None:
    """c after b after a; b is met."""
    rules = "\n".join(
        f'fact yard.{name} "{name}" yes or no\n'
        f'rule {name} "{name}" require yard.{name} fix "Do {name}." {after}'
        for name, after in (("c", "after b"), ("b", "after a"), ("a", ""))
    )
    found = made({"yard.a": False, "yard.b": True, "yard.c": False}, f'ruleset r "R"\n{rules}')
    assert jobs(found) == ["Do a.", "Do c."]


def test_of_several_ways_the_first_that_holds() -> None:
    assert "Put the old tyre right." in jobs(made({**ALL_WRONG, "yard.tyre": "absent"}))
    assert "Fit a tyre." in jobs(made(ALL_WRONG))


def test_what_the_road_needs_waits_for_the_paddock_if_ridden() -> None:
    ridden = made({**ALL_WRONG, **RIDDEN})
    assert jobs(ridden, "paddock") == ["Unplug the lamp.", "Tape the lens.", "Stick it on."]
    assert ridden.worklist.arrival == "ridden"
    carried = made({**ALL_WRONG, **RIDDEN}, arrival="carried")
    assert jobs(carried, "paddock") == ["Stick it on."]


def test_work_that_follows_paddock_work_is_done_there() -> None:
    """At home it could not be done yet; a recommendation moves nothing that is required."""
    text = """ruleset r "R"
fact yard.a "A" yes or no
fact yard.b "B" yes or no
rule first "First" {verb} yard.a fix "Do a." in the paddock
rule then "Then" require yard.b fix "Do b." after first"""
    declared = {"yard.a": False, "yard.b": False}
    assert jobs(made(declared, text.format(verb="require")), "paddock") == ["Do a.", "Do b."]
    mixed = made(declared, text.format(verb="recommend"))
    assert jobs(mixed, "home") == ["Do b."]
    assert "First, if you do it: job 2" in mixed.text()


def test_where_rules_differ_a_job_waits_for_the_paddock() -> None:
    text = """ruleset r "R"
fact yard.a "A" yes or no
rule one "One" require yard.a fix "Do a."
rule other "Other" require yard.a fix "Do a." in the paddock"""
    assert jobs(made({"yard.a": False}, text), "paddock") == ["Do a."]


def test_recommended_jobs_stand_apart() -> None:
    found = made(ALL_WRONG)
    assert [text_of(job) for job in found.worklist.jobs if job.level == "recommended"] == [
        "Stick it on."
    ]
    assert "== Recommended, in the paddock ==" in found.text()


def test_one_job_for_several_rules_and_events() -> None:
    """Two events say the same words: one job, the longer time, all its tools and cautions."""
    found = made(ALL_WRONG, YARD, NEXT_DOOR)
    (job,) = [job for job in found.worklist.jobs if text_of(job) == "True the wheel."]
    assert [(one.occasion, one.rule) for one in job.serves] == [(0, "wheel"), (1, "straight")]
    assert job.takes.minutes == 120
    assert job.tools == ("spoke key", "gauge")
    assert job.cautions == ("Mind the spokes.",)


def test_a_rule_that_two_events_have_from_one_base_is_one_job() -> None:
    """Both ask for lock-wire, each in its own words: nobody wires a plug twice."""
    found = shipped("sam", "fenwhistle", "sallowgate")
    (job,) = [job for job in found.worklist.jobs if job.serves[0].rule == "plugs-held"]
    assert [places for _, places in job.texts] == [(0,), (1,)]
    assert job.takes.minutes == 120
    assert "(fenwhistle)" in found.text()


def test_a_rule_without_work_is_not_lost() -> None:
    assert "Meet the rule “Nobody says how”." in jobs(made(ALL_WRONG, NEXT_DOOR))


def test_times_are_added_up_and_the_unknown_told() -> None:
    said = made(ALL_WRONG).text()
    assert "- Do at home: 5 jobs, 3 h 30 min" in said  # 90 + 45 + 5 + 10 + 60
    assert "- Do in the paddock, recommended: 1 job, no time is given" in said


def test_cautions_stand_before_the_box() -> None:
    lines = made(ALL_WRONG).text().splitlines()
    box = next(number for number, line in enumerate(lines) if "☐ Job 2: Fit a tyre." in line)
    assert lines[box - 1].strip() == "CAUTION: Lever away from you."


# ---- to find out ------------------------------------------------------------


def test_what_is_not_declared_is_to_be_found_out() -> None:
    found = made({path: value for path, value in ALL_RIGHT.items() if path != "yard.water"})
    (point,) = found.worklist.points
    (question,) = point.questions
    assert question.path == "yard.water"
    assert question.treat_as == "“glycol”"  # the one answer that is turned down
    assert question.cautions == ("Never open a hot cap.",)
    assert point.otherwise == ("Fill with water.",)
    assert not found.worklist.jobs  # not yet known to be needed
    said = found.text()
    assert "If you cannot find out: take it as not met, and do this: Fill with water." in said
    assert "In doubt: treat it as “glycol”" in said


def test_no_single_answer_is_named_where_several_are_turned_down() -> None:
    found = made({path: value for path, value in ALL_RIGHT.items() if path != "yard.tyre"})
    assert found.worklist.points[0].questions[0].treat_as == ""


def test_a_fact_is_asked_once() -> None:
    found = made({}, YARD, NEXT_DOOR)
    asked = [one.path for point in found.worklist.points for one in point.questions]
    assert len(asked) == len(set(asked)) == 6


def test_the_time_to_find_out_is_added_up_each_fact_once() -> None:
    """The wheel is asked for by both events: a quarter of an hour, and 2 min for the coolant."""
    found = made({}, YARD, NEXT_DOOR)
    whole = "6 things, 17 min, and 4 things without a time"
    said = found.text()
    assert f"  - Find out: {whole}\n" in said
    assert "5 things: 17 min, and 3 things without a time. That is with the tools at hand." in said
    assert "1 thing: no time is given.\n" in said  # the sticker, which is recommended
    assert "Wheel: Wheel? (15 min)\n" in said
    assert "Tyre: Tyre?\n" in said
    assert f"**Find out:** {whole}\n" in found.markdown()
    assert f"{whole}" in found.html()
    form = found.to_dict()
    jsonschema.Draft202012Validator(SCHEMA).validate(form)
    assert form["time_to_find_out"] == {"minutes": 17, "without_a_time": 4}
    times = {one["path"]: one["time"] for point in form["find_out"] for one in point["facts"]}
    assert times["yard.water"] == {"minutes": 2, "without_a_time": 0}
    assert times["yard.lamp"] == {"minutes": 0, "without_a_time": 1}


def test_what_nobody_can_find_out_takes_no_time() -> None:
    """49 CFR 574.5(b)(3): 2521 is the week from 20 to 26 June 2021; it says no finer day."""
    rules = """ruleset old "Old"
fact yard.built "Tyre built" week code how "Read the side." takes 3 min
fact yard.made "Helmet made" past date how "Read the label." takes 4 min
rule tyre "Tyre" require age of yard.built is less than 5 years
rule helmet "Helmet" require age of yard.made is less than 5 years
"""
    found = made({"yard.built": "2521"}, rules)
    assert "Find out: 2 things, 4 min\n" in found.text()
    found = made({"yard.built": "2521", "yard.made": "2026"}, rules)
    assert "Find out: 1 thing\n" in found.text()


def test_all_that_riders_are_asked_has_a_time_of_a_bench() -> None:
    """The figures are from memory: none is nothing, none is longer than an hour."""
    facts = trackprep.read_ruleset("standard").rules.facts.values()
    theirs = [f for f in facts if not f.for_the_inspector and not f.path.startswith("track.")]
    odd = [f.path for f in theirs if f.takes is None or not 60 <= f.takes.value <= 3600]
    assert (len(theirs) > 300, odd) == (True, [])


def test_a_date_too_coarse_says_what_to_look_for() -> None:
    said = shipped("nadia", "sallowgate").text()
    assert "Declared: 2021, which leaves it open" in said
    assert "Look for: the month" in said


def test_the_inspectors_own_points_are_no_work() -> None:
    found = made(ALL_RIGHT)
    assert not found.worklist.points
    assert not found.worklist.jobs
    assert [one.rule for one in found.worklist.inspector] == ["seen"]


# ---- the door, the schema, the command --------------------------------------


@pytest.mark.parametrize("rider", ["sam", "ilse", "nadia", "dale", "petra"])
def test_json_is_as_its_schema_says(rider: str) -> None:
    names = ("tarn-hollow", "marrowfell", "sallowgate", "fenwhistle")
    for found in (*(shipped(rider, name) for name in names), shipped(rider, *names)):
        form = json.loads(json.dumps(found.to_dict()))
        jsonschema.Draft202012Validator(SCHEMA).validate(form)
        assert len(form["jobs"]) == len(found.worklist.jobs)


def test_odd_calls_are_told() -> None:
    one = report(YARD, {"machine.registered": False})
    other = one_day_later()
    for wrong, kind, said in (
        (lambda: trackprep.worklist(), TypeError, "one report or more"),
        (lambda: trackprep.worklist(one, other), ValueError, "different days"),
        (lambda: trackprep.worklist(one, arrival="flown"), ValueError, "carried"),  # type: ignore
        (lambda: trackprep.worklist(one, arrival="ridden"), ValueError, "not to be registered"),
    ):
        with pytest.raises(kind, match=said):
            wrong()


def one_day_later() -> trackprep.Report:
    ruleset = trackprep.parse_ruleset(YARD)
    return ruleset.check(trackprep.parse_declaration({}, ruleset), on=date(2026, 6, 21))


def test_the_command(tmp_path: Path) -> None:
    rider = str(rulesets_folder() / "ilse.rider")
    words = ("worklist", rider, "--for", "marrowfell", "--on", "2026-06-20")
    shown = call(tmp_path, *words)
    assert shown.code == 1
    assert "☐ Job 1: Replace the helmet. (30 min)" in shown.out
    assert "Back on the road: before you leave the paddock" in shown.out
    assert "Back on the road: before you leave" not in call(tmp_path, *words, "--carried").out
    form = json.loads(call(tmp_path, *words, "--for", "tarn-hollow", "--as", "json").out)
    assert [one["called"] for one in form["rulesets"]] == ["marrowfell", "tarn-hollow"]
    written = call(tmp_path, *words, "--as", "html", "-o", "list.html")
    assert (written.code, written.out) == (1, "")
    page = (tmp_path / "list.html").read_text()
    again = call(tmp_path, *words, "--as", "markdown", "-o", "list.html")
    assert again.code == 2
    assert "list.html` is there already" in again.err
    assert (tmp_path / "list.html").read_text() == page


def test_calls_that_cannot_be_carried_out(tmp_path: Path) -> None:
    rider = str(rulesets_folder() / "sam.rider")
    ridden = call(tmp_path, "worklist", rider, "--for", "tarn-hollow", "--ridden")
    assert ridden.code == 2
    assert "cannot be ridden to the event" in " ".join(ridden.err.split())
    both = call(tmp_path, "worklist", rider, "--for", "tarn-hollow", "--ridden", "--carried")
    assert both.code == 2
    vocabulary = call(tmp_path, "worklist", rider, "--for", "standard")
    assert (vocabulary.code, "is a vocabulary" in vocabulary.err) == (2, True)
    assert call(tmp_path, "worklist", "nobody.rider", "--for", "tarn-hollow").code == 2
