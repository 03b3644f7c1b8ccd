"""What a report says as text and as JSON: golden reports, the published schema, and laws."""

import gc
import io
import json
import re
import weakref
from datetime import date
from typing import Any

import jsonschema
import pytest
from explained import EVENT, FORMULAS, report
from hypothesis import given
from rewriting import LAW
from rich.console import Console
from strategies import Case, cases
from test_agreement import rider_text

import trackprep
from trackprep.published import grammar_folder, rulesets_folder
from trackprep.reports.json_form import SCHEMA, problems_form
from trackprep.reports.text import render_rich
from trackprep.syntax.printer import print_rules

SCHEMA_FILE = grammar_folder() / "report.schema.json"
DEMOS = [
    ("tarn-hollow", "sam", date(2026, 6, 14), "ready"),
    ("marrowfell", "dale", date(2026, 6, 20), "ready"),
    ("marrowfell", "ilse", date(2026, 6, 20), "not-ready"),
    ("sallowgate", "nadia", date(2026, 7, 5), "incomplete"),
    ("fenwhistle", "petra", date(2026, 6, 13), "not-ready"),
]
RULES = """
section "Gear"

rule lid "Full-face helmet"
  require lid.shell is full-face
  reason "A hinge can open."
  fix "Hire a full-face helmet." takes 30 min
    parts "helmet" allow 1 week
  inspect "Lift at the chin bar."
  source common practice

section "Machine"

rule glass "Glass taped or off"
  require each of glass.front, glass.tail is one of taped, absent
  caution "A lit lamp melts tape."
  fix "Cover the glass with cloth tape." takes 25 min
    parts "cloth tape"
    tools "knife"
    after lid
  undo "Peel the tape off."

rule tread "Enough tread" for each of rubber.front, rubber.rear
  require it.depth is at least tread

rule accepted "Machine seen"
  require seen

rule filter "No refused filter"
  when motor.style is road
  require motor.filter is none of refused

rule ends "Whole lever ends"
  recommend grip.ends is ball
"""
ALL_WELL = (
    "lid.shell is full-face; glass.front is taped; glass.tail is absent; motor.style is mini;"
    "rubber.front.depth is 3 mm; rubber.rear.depth is 1/8 in; grip.ends is ball"
)
FAILING = (
    "lid.shell is modular; glass.front is bare; glass.tail is absent; motor.style is mini;"
    "rubber.front.depth is 3 mm; grip.ends is broken"
)


def demo(ruleset: str, rider: str, on: date) -> trackprep.Report:
    rules = trackprep.read_ruleset(ruleset)
    path = rulesets_folder() / f"{rider}.rider"
    return rules.check(trackprep.read_declaration(path, rules), on=on)


# ---- text --------------------------------------------------------------------------


def test_a_report_in_full() -> None:
    assert (
        report(RULES, FAILING, dated="2026-06-10").text(80)
        == """\
Explained, edition 2026.1
Sam Ferrow, blue mini: event on 14 June 2026

2 required rules not met, as declared on 10 June 2026.
  1 more is unsettled.
  Still to declare: 1 fact.
  1 point is for the inspector alone to decide.
  1 recommendation is not met.

== Gear ==
Required
  NOT MET Full-face helmet [lid]
      Helmet shell: “Flip-front”. Asked: “Full face”.
      Why: A hinge can open.
      Fix: Hire a full-face helmet. (30 min, at home)
      Parts: helmet (allow 1 week)
      The inspector: Lift at the chin bar.
      Source: common practice

== Machine ==
Required
  NOT MET Glass taped or off [glass]
      Headlamp glass: “Bare”. Asked: “Taped” or “Not on the machine”.
      CAUTION: A lit lamp melts tape.
      Fix: Cover the glass with cloth tape. (25 min, in the paddock)
      Parts: cloth tape
      Tools: knife
      First: Full-face helmet

  UNSETTLED Enough tread [tread], check again
      Rear tread: not declared (rubber.rear.depth). Asked: at least 2 mm (limit
        “Least tread”).

  FOR THE INSPECTOR Machine seen [accepted]
      Machine accepted: only the inspector can say. Asked: yes.

Recommended
  NOT MET Whole lever ends [ends]
      Lever ends: “Broken off”. Asked: “Ball”.

Not asked of you: 1 rule.

== To know ==
  On the day of the event the declaration, of 10 June 2026, is 4 days old. 1
    declared point wears or works loose: look again, before you ride, where it
    says “check again”.
  The organizer's inspector, the manual of your machine, local law and a
    qualified mechanic come before anything said here. This report says what the
    rules ask and what was declared; it does not say that a machine or its gear
    is safe.

2 required rules not met, as declared on 10 June 2026."""
    )


@pytest.mark.parametrize(("declared", "dated", "summary"), [
    (ALL_WELL, "2026-06-10",
     ["As declared on 10 June 2026, nothing here is against the required rules: "
      "ready to present.",
      "1 point is for the inspector alone to decide."]),
    (ALL_WELL + "; seen is yes", "",
     ["As declared, nothing here is against the required rules: ready to present."]),
    (ALL_WELL.replace("ball", "broken"), "",
     ["As declared, nothing here is against the required rules: ready to present.",
      "1 point is for the inspector alone to decide.",
      "1 recommendation is not met."]),
    (ALL_WELL.replace("full-face", "modular"), "",
     ["1 required rule not met, as declared.",
      "1 point is for the inspector alone to decide."]),
    ("lid.shell is full-face; motor.style is mini; grip.ends is ball", "",
     ["As declared, nothing is against the required rules, but 2 required rules are unsettled.",
      "Still to declare: 4 facts.",
      "1 point is for the inspector alone to decide."]),
])  # fmt: skip
def test_the_verdict_in_words(declared: str, dated: str, summary: list[str]) -> None:
    assert report(RULES, declared, dated=dated).to_dict()["summary"] == summary


@pytest.mark.parametrize("width", [40, 80, 100])
@pytest.mark.parametrize(("ruleset", "rider", "on", "verdict"), DEMOS)
def test_a_report_fits_its_width_and_promises_nothing(
    ruleset: str, rider: str, on: date, verdict: str, width: int
) -> None:
    came = demo(ruleset, rider, on)
    text = came.text(width)
    assert came.verdict == verdict
    assert max(map(len, text.splitlines())) <= width
    assert "\x1b" not in text
    assert not re.search(r"\d{4}-\d{2}-\d{2}", text)
    assert not re.search(r"\bpassed\b|\bis fit\b|\bfit to\b|\bis safe to\b", text.casefold())
    assert "come before anything said here" in " ".join(text.split())


def test_cautions_stand_before_the_job() -> None:
    text = report(RULES, FAILING).text()
    assert text.index("A lit lamp melts tape.") < text.index("Cover the glass with cloth tape.")


def test_the_day_s_ends_are_told_where_the_event_lies_outside_them() -> None:
    came = report(RULES, ALL_WELL, on=date(2027, 6, 14))
    assert [notice.code for notice in came.notices] == ["outside-validity", "precedence"]
    assert came.notices[0].text == (
        "These rules are for events from 1 March 2026 to 30 November 2026; this one, on "
        "14 June 2027, lies outside. It was checked by them all the same."
    )


def test_a_division_by_zero_is_told() -> None:
    rules = 'rule link "Link"\n require link.each is at most 16 mm'
    came = report(rules, "link.length is 300 mm; link.number is 0")
    assert came.notices[0].text == ("Length of a link could not be worked out: it divides by zero.")


@pytest.mark.parametrize(("body", "declared", "code", "text"), [
    ("require hoop.front.load is at least 240 kg", "hoop.front.index is 41", "no-value",
     "Load the front hoop is made for could not be worked out: "
     "the table “Load of an index” has no row for 41."),
    ("require ratio(plate.wide, plate.high) is at most 0.1",
     "plate.wide is 0 mm; plate.high is 201 mm", "no-value",
     "Ratio of the two (from width of the plate and height of the plate) could not be worked out: "
     "it takes the logarithm of 0, which is not above zero."),
    ("require stretch(link.length, 16 mm, link.number) is at most 2 %",
     "link.length is 327 mm; link.number is 0", "division-by-zero",
     "Chain stretch (from length measured, pitch 16 mm and links measured) could not be worked "
     "out: it divides by zero."),
    ("require ten-to(log10(pilot.days)) is at least 3", "pilot.days is 3", "too-close",
     "10 to the power of (the decimal logarithm of track days ridden) is too close to 3 to tell: "
     "of its endless digits some 40 are worked out, and they agree."),
])  # fmt: skip
def test_a_formula_without_a_value_is_told_once(
    published: jsonschema.Draft202012Validator, body: str, declared: str, code: str, text: str
) -> None:
    came = report(f'{FORMULAS}rule a "A" {body}\nrule b "B" {body}', declared)
    published.validate(came.to_dict())
    assert came.verdict == "incomplete"
    assert [(one.code, one.text) for one in came.notices[:-1]] == [(code, text)]


def test_a_date_after_the_event_is_a_problem_and_the_fact_undeclared() -> None:
    came = report('rule a "A"\n require age of lid.made is at most 5 years', "lid.made is 2027-01")
    (problem,) = came.problems
    assert (problem.code, problem.path, problem.line) == ("after-the-event", "lid.made", 2)
    assert problem.message == (
        "`lid.made` is January 2027, which lies after the event on 14 June 2026"
    )
    assert came.answers[0].declare == ("lid.made",)
    assert "after the event on 14 June 2026" in came.text()


def test_a_terminal_shows_the_same_words_in_colour() -> None:
    came = report(RULES, FAILING)
    out = io.StringIO()
    render_rich(came, Console(file=out, force_terminal=True, color_system="standard", width=80))
    shown = out.getvalue()
    assert "\x1b[" in shown
    assert re.sub(r"\x1b\[[0-9;]*m", "", shown).rstrip() == came.text(80).rstrip()


# ---- answers -----------------------------------------------------------------------


def test_a_fix_is_shown_for_each_part_and_by_its_condition() -> None:
    rules = """
rule tread "Tread" for each of rubber.front, rubber.rear
  require it.depth is at least 2 mm
  fix "Fit a slick." when pilot.group is fast
  fix "Fit a road tyre."
"""
    declared = "rubber.front.depth is 1 mm; rubber.rear.depth is 1 mm; pilot.group is {}"
    for group, fix in (("fast", "Fit a slick."), ("novice", "Fit a road tyre.")):
        (answer,) = report(rules, declared.format(group)).answers
        assert [work.text for work in answer.fixes] == [fix]
        assert [shortfall.part for shortfall in answer.explanation.shortfalls] == [
            "front rubber",
            "rear rubber",
        ]


def test_a_rule_that_is_met_offers_no_fix() -> None:
    answer = report(RULES, ALL_WELL).answers[0]
    assert (answer.rule, answer.status, answer.fixes) == ("lid", "met", ())


def test_answers_are_in_report_order_with_what_the_interface_promises() -> None:
    answers = report(RULES, FAILING).answers
    assert [
        (one.rule, one.title, one.section, one.level, one.status, one.declare, one.narrow)
        for one in answers[:4]
    ] == [
        ("lid", "Full-face helmet", "Gear", "required", "not-met", (), ()),
        ("glass", "Glass taped or off", "Machine", "required", "not-met", (), ()),
        ("tread", "Enough tread", "Machine", "required", "unsettled", ("rubber.rear.depth",), ()),
        ("accepted", "Machine seen", "Machine", "required", "unsettled", ("seen",), ()),
    ]


# ---- JSON --------------------------------------------------------------------------


def test_an_answer_is_one_object_that_nobody_can_change() -> None:
    answers = demo("fenwhistle", "petra", date(2026, 6, 13)).answers
    made = demo("fenwhistle", "petra", date(2026, 6, 13))
    assert [id(one) for one in made.answers] == [id(one) for one in made.answers]
    assert [repr(one) for one in made.answers] == [repr(one) for one in answers]
    for name in ("status", "rule", "remark"):
        with pytest.raises(AttributeError):
            setattr(made.answers[0], name, "met")


def test_a_report_s_memory_is_free_when_nobody_holds_it() -> None:
    """Without waiting for a search for circles; an answer that is held still explains itself."""
    made = report(RULES, "lid.shell is modular")
    gc.disable()
    try:
        answer, held = made.answers[0], weakref.ref(made)
        del made
        assert held() is None
    finally:
        gc.enable()
    assert answer.why
    assert answer.status == "not-met"


def closed(schema: Any) -> Any:
    """The schema with no key allowed that it does not name, so that nothing goes unpublished."""
    if isinstance(schema, list):
        return [closed(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    shut = {key: closed(part) for key, part in schema.items()}
    return {**shut, "additionalProperties": False} if "properties" in shut else shut


@pytest.fixture(scope="module")
def published() -> jsonschema.Draft202012Validator:
    schema = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$id"] == SCHEMA
    return jsonschema.Draft202012Validator(
        closed(schema), format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
    )


@pytest.mark.parametrize(("ruleset", "rider", "on", "verdict"), DEMOS)
def test_json_is_as_the_schema_publishes_it(
    published: jsonschema.Draft202012Validator, ruleset: str, rider: str, on: date, verdict: str
) -> None:
    form = json.loads(json.dumps(demo(ruleset, rider, on).to_dict()))
    published.validate(form)
    assert (form["verdict"], form["event_date"]) == (verdict, on.isoformat())


@pytest.mark.parametrize("on", [EVENT, date(2027, 6, 14)])
@pytest.mark.parametrize("dated", ["", "2026-06-10"])
@pytest.mark.parametrize("declared", ["", ALL_WELL, FAILING])
def test_json_of_small_reports_is_as_published(
    published: jsonschema.Draft202012Validator, declared: str, dated: str, on: date
) -> None:
    published.validate(report(RULES, declared, on=on, dated=dated).to_dict())


def test_a_report_says_what_a_formula_was_worked_out_from(
    published: jsonschema.Draft202012Validator,
) -> None:
    rule = 'rule chain "Chain" require stretch(link.length, 15.875 mm, link.number) is at most 2 %'
    came = report(FORMULAS + rule, "link.length is 327 mm; link.number is 20")
    (made,) = came.to_dict()["rules"]
    published.validate(came.to_dict())
    assert made["shortfalls"][0]["tests"][0] == {
        "subject": "Chain stretch",
        "paths": ["link.length", "link.number"],
        "value": "about 2.992 %",
        "converted": None,
        "origin": "worked out",
        "asked": "at most 2 %",
        "off": "over by about 0.9921 %",
        "nearest": "at most 2 %: about 0.9921 % less",
        "facts": [
            {"path": "link.length", "label": "Length measured", "value": "327 mm"},
            {"path": "link.number", "label": "Links measured", "value": "20"},
        ],
        "decides": [],
    }


def test_json_of_one_answer() -> None:
    form = report(RULES, FAILING, dated="2026-06-10").to_dict()
    assert form["declaration"] == {
        "title": "Sam Ferrow, blue mini",
        "file": "<text>",
        "declared_on": "2026-06-10",
    }
    assert form["rules"][1] == {
        "rule": "glass",
        "title": "Glass taped or off",
        "section": "Machine",
        "level": "required",
        "status": "not-met",
        "part": None,
        "until": None,
        "declare": [],
        "narrow": [],
        "why": ["Headlamp glass: “Bare”. Asked: “Taped” or “Not on the machine”."],
        "shortfalls": [
            {
                "part": None,
                "tests": [
                    {
                        "subject": "Headlamp glass",
                        "paths": ["glass.front"],
                        "value": "“Bare”",
                        "converted": None,
                        "origin": "declared",
                        "asked": "“Taped” or “Not on the machine”",
                        "off": None,
                        "nearest": "“Taped” or “Not on the machine”",
                        "facts": [],
                        "decides": [],
                    }
                ],
                "other_ways": 0,
                "tally": None,
            }
        ],
        "undeclared": [],
        "coarse": [],
        "undefined": [],
        "known": [],
        "check_again": [],
        "reason": None,
        "fixes": [
            {
                "text": "Cover the glass with cloth tape.",
                "takes": "25 min",
                "parts": [{"name": "cloth tape", "allow": None}],
                "tools": ["knife"],
                "after": ["lid"],
                "where": "in the paddock",
                "cautions": [],
            }
        ],
        "cautions": ["A lit lamp melts tape."],
        "inspect": None,
        "source": None,
    }


def test_json_without_a_report_is_as_published(
    published: jsonschema.Draft202012Validator,
) -> None:
    with pytest.raises(trackprep.DeclarationError) as caught:
        report(RULES, "lid.shell is modula; glass.back is taped")
    form = problems_form(caught.value.problems)
    assert len(form["problems"]) == 2
    published.validate(form)


def test_a_report_without_its_verdict_is_not_as_published(
    published: jsonschema.Draft202012Validator,
) -> None:
    form = report(RULES, FAILING).to_dict()
    del form["verdict"]
    assert not published.is_valid(form)


@LAW
@given(case=cases())
def test_every_report_is_as_published_and_fits(
    published: jsonschema.Draft202012Validator, case: Case
) -> None:
    rules = trackprep.parse_ruleset(print_rules(case.rules), name="reported")
    declaration = trackprep.parse_declaration(rider_text(case.declaration), rules)
    came = rules.check(declaration, on=case.day)
    published.validate(json.loads(json.dumps(came.to_dict())))
    text = came.text(60)
    assert max(map(len, text.splitlines())) <= 60
    for answer in came.answers:
        assert (answer.status == "not-asked") or f"[{answer.rule}]" in text
