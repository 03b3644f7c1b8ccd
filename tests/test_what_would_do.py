"""`report.what_would_do()` and `check --what-would-do`: in the words of fixes, and what is kept."""

import json
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import jsonschema
import pytest
from events_told import EVENT, FACTS, HEAD, NORTH, ruleset
from processes import call

import trackprep
from trackprep.analysis.least_changes import Obstacle, Plan
from trackprep.published import grammar_folder, rulesets_folder
from trackprep.reports.would_do.report import WouldDoReport

GOLDEN = Path(__file__).parent / "would_do"
SCHEMA = json.loads((grammar_folder() / "report.schema.json").read_text(encoding="utf-8"))
SHIPPED = {
    "sam": ("tarn-hollow", "2026-06-14"),
    "dale": ("tarn-hollow", "2026-06-14"),
    "ilse": ("marrowfell", "2026-06-20"),
    "petra": ("fenwhistle", "2026-06-14"),
    "nadia": ("sallowgate", "2026-06-14"),
}


def asked(rules: str, declared: str, facts: str = FACTS) -> WouldDoReport:
    """What would do for what is declared, by the rules of a small event."""
    event = ruleset(rules, facts=facts)
    return event.check(trackprep.parse_declaration(declared, event), on=EVENT).what_would_do()


def shipped(rider: str) -> trackprep.Report:
    name, day = SHIPPED[rider]
    event = trackprep.read_ruleset(name)
    declaration = trackprep.read_declaration(rulesets_folder() / f"{rider}.rider", event)
    return event.check(declaration, on=date.fromisoformat(day))


def one_line(text: object) -> str:
    return " ".join(str(text).split())


# ---- shipped riders ---------------------------------------------------------------


@pytest.mark.parametrize("rider", sorted(SHIPPED))
def test_what_would_do_for_shipped_riders(rider: str) -> None:
    golden = (GOLDEN / f"{rider}.txt").read_text(encoding="utf-8")
    assert shipped(rider).what_would_do().text() == golden


@pytest.mark.parametrize("rider", sorted(SHIPPED))
def test_what_is_shown_meets_the_rule_in_the_ordinary_check(rider: str) -> None:
    report = shipped(rider)
    event = trackprep.Ruleset(report.rules)
    text = (rulesets_folder() / f"{rider}.rider").read_text(encoding="utf-8")
    form = report.what_would_do().to_dict()
    for ways, wanted in ((form["rules"], None), ([{"way": form["whole"]}], "ready")):
        for one in ways:
            if one["way"]["answer"] != "way":
                continue
            jobs = one["way"]["jobs"]
            changes = [*(c for job in jobs for c in job["changes"]), *one["way"]["find_out"]]
            if any(change["private"] for change in changes):
                continue
            done = {change["fact"]: change["new"] for change in changes}
            kept = [line for line in text.splitlines() if line.partition(" is ")[0] not in done]
            new = "\n".join([*kept, *(f"{path} is {value}" for path, value in done.items())])
            after = event.check(trackprep.parse_declaration(new, event), on=report.event)
            if wanted:
                assert after.verdict == wanted
            else:
                status = {answer.rule: answer.status for answer in after.answers}
                assert status[one["rule"]] == "met"


# ---- words ------------------------------------------------------------------------


def test_the_rules_own_fix_is_said_with_the_value_beside_it() -> None:
    said = one_line(asked(NORTH, "tread is 1.4 mm\nsound is 97 dB\nshell is modular"))
    assert (
        "CAUTION: Never work under a machine on a jack alone. Do: Replace the tyre. (1 h, at home)"
        " - Tread depth: at least 1.6 mm; 1.4 mm is declared" in said
    )
    assert "Do: Fit the baffle. (30 min, at home) - Sound level: at most 95 dB; 97 dB" in said


@pytest.mark.parametrize(
    ("demand", "declared", "said"),
    [
        ("tread is at least 2 mm", "tread is 1.5 mm", "at least 2 mm; 1.5 mm is declared"),
        # above 6 mm it is not let through either, so no plain "at least" and no plain "at most"
        ("tread is between 2 mm and 6 mm", "tread is 9 mm", "at most 6 mm; 9 mm is declared"),
        ("sound is less than 92 dB", "sound is 92 dB", "at most 91.9 dB; 92 dB is declared"),
        ("shell is one of full-face, modular", "shell is open-face",
         "full face or modular; open face is declared"),
        ("age of made is at most 5 years", "made is 2019-03",
         "14 June 2021 or later; March 2019 is declared"),
        ("marks includes any of gold", "marks is silver", "gold and silver; silver is declared"),
        ("slick", "slick is no", "yes; no is declared"),
    ],
)  # fmt: skip
def test_the_value_that_would_do(demand: str, declared: str, said: str) -> None:
    found = asked(f'rule one "One"\n  require {demand}\n  fix "Do it."\n', declared)
    assert f": {said}" in one_line(found).replace("“", "").replace("”", "")


def test_a_rule_without_a_fix_is_named() -> None:
    found = asked('rule one "One"\n  require slick\n', "slick is no")
    assert "Do: Meet the rule “One”." in one_line(found)


def test_recommended_rules_are_told_too_and_are_no_part_of_the_verdict() -> None:
    found = asked('rule one "One"\n  recommend slick\n  fix "Fit slicks."\n', "slick is no")
    said = one_line(found)
    assert "NOT MET, RECOMMENDED One [one] Do: Fit slicks. (at home) - Slick tyre: yes; no" in said
    assert "Nothing has to change" in said


# ---- what is never changed --------------------------------------------------------


def test_what_is_unchangeable_stays() -> None:
    found = asked('rule mini "Minis alone"\n  require style is mini\n', "style is road")
    (one,) = found.by_rule
    assert isinstance(one.way, Obstacle)
    assert one.way.facts == ("style",)
    said = one_line(found)
    assert "Nothing would do: style of machine is as declared (“road”), and that cannot be" in said
    assert "There is no way to meet “Minis alone”" in said


def test_what_the_inspector_says_stays() -> None:
    found = asked('rule seen "Accepted"\n  require accepted\n', "accepted is no")
    assert "that is for the inspector alone" in one_line(found)


def test_no_rule_is_escaped() -> None:
    """Taking the camera off would do without being asked; the rule asks for its mount."""
    rules = """
rule camera "Camera held"
  when camera is not absent
  require mount is sound
  fix "Bolt the camera on."
"""
    (one,) = asked(rules, "camera is taped\nmount is loose").by_rule
    assert isinstance(one.way, Plan)
    assert [(change.path, change.new) for change in one.way.changes] == [("mount", "sound")]


def test_the_rule_takes_the_way_that_serves_the_whole() -> None:
    rules = """
rule either "Slick or quiet"
  require slick or sound is at most 90 dB
rule road "No slicks"
  require not slick
"""
    found = asked(rules, "slick is no\nsound is 95 dB")
    assert "Sound level: at most 90 dB" in one_line(found)
    assert not any(one.against for one in found.by_rule)


def test_what_it_sets_against_a_rider_is_said() -> None:
    rules = """
rule deep "Deep"
  require tread is at least 5 mm
rule flat "Flat"
  require tread is at most 4 mm
"""
    found = asked(rules, "tread is 3 mm")
    assert [rule.name for rule in found.by_rule[0].against] == ["flat"]
    said = one_line(found)
    assert "Done alone, it sets against you: “Flat”." in said
    assert "these rules contradict each other" in said


def test_nothing_private_is_shown() -> None:
    found = asked('rule paid "Licence"\n  require licence is full\n', "licence is lapsed")
    shapes = (str(found), found.html(), found.markdown(), found._repr_html_(),
              json.dumps(found.to_dict()))  # fmt: skip
    for shape in shapes:
        assert "icence" in shape
        assert "lapsed" not in shape


def test_nothing_to_do_is_said() -> None:
    found = asked(NORTH, "shell is full-face\nmade is 2024-05\ntread is 3 mm\nsound is 90 dB")
    assert found.by_rule == ()
    assert "Nothing has to change" in str(found)
    assert "<table" not in found._repr_html_()


def test_words_of_strangers_are_no_markup() -> None:
    hostile = "<b>&|*x*"
    facts = FACTS.replace('"Slick tyre"', f'"{hostile}"')
    found = asked(f'rule one "{hostile}"\n  require slick\n', "slick is no", facts)
    for shape in (found.html(), found._repr_html_()):
        assert "<b>" not in shape
        assert "&lt;b&gt;" in shape


# ---- the command ------------------------------------------------------------------


@pytest.fixture
def home(tmp_path: Path) -> Path:
    (tmp_path / "north.trackrules").write_text(
        HEAD.format(name="north", title="North") + FACTS + NORTH, encoding="utf-8"
    )
    (tmp_path / "robin.rider").write_text(
        "shell is full-face\nmade is 2024-05\ntread is 1.4 mm\nsound is 90 dB\n", encoding="utf-8"
    )
    return tmp_path


CALL = ("check", "robin.rider", "--for", "north.trackrules", "--on", "2026-06-14")


def test_it_stands_behind_the_rules_and_the_exit_code_is_the_checks(home: Path) -> None:
    plain, more = call(home, *CALL), call(home, *CALL, "--what-would-do")
    assert (plain.code, more.code) == (1, 1)
    assert more.out.startswith(plain.out)
    assert "What would do" not in plain.out
    assert "at least 1.6 mm; 1.4 mm is declared" in more.out.removeprefix(plain.out)


def test_json_has_it_only_where_it_is_asked_for(home: Path) -> None:
    validator = jsonschema.Draft202012Validator(SCHEMA)
    plain, more = (
        json.loads(call(home, *CALL, *flag, "--as", "json").out)
        for flag in ((), ("--what-would-do",))
    )
    for form in (plain, more):
        validator.validate(form)
    found = more.pop("what_would_do")
    assert more == plain
    (rule,) = found["rules"]
    assert rule["rule"] == "tread"
    (job,) = rule["way"]["jobs"]
    assert job["fixes"][0]["text"] == "Replace the tyre. (1 h, at home)"
    assert [(c["fact"], c["old"], c["new"], c["further"]) for c in job["changes"]] == [
        ("tread", "1.4 mm", "1.6 mm", "or more")
    ]
    assert found["whole"]["least"] is True


@pytest.mark.parametrize("rider", sorted(SHIPPED))
def test_the_schema_knows_what_shipped_riders_get(rider: str) -> None:
    report = shipped(rider)
    form = report.to_dict() | {"what_would_do": report.what_would_do().to_dict()}
    jsonschema.Draft202012Validator(SCHEMA).validate(form)


@pytest.mark.parametrize("form", ["html", "markdown", "text"])
def test_a_file_has_it_too(home: Path, form: str) -> None:
    done = call(home, *CALL, "--what-would-do", "--as", form, "-o", "out.x")
    assert (done.code, done.out) == (1, "")
    text = re.sub(r"<[^>]+>", "", (home / "out.x").read_text(encoding="utf-8"))
    assert "at least 1.6 mm; 1.4 mm is declared" in one_line(text)
    assert text.index("Enough tread") < text.rindex("What would do")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--season", "2026"), "--season for many"),
        (("--for", "tarn-hollow"), "--rider robin.rider"),
        (("robin.rider",), "one rider"),
    ],
)
def test_it_is_for_one_rider_one_event_and_one_day(
    home: Path, more: tuple[str, ...], said: str
) -> None:
    done = call(home, "check", "robin.rider", *more, *CALL[2:], "--what-would-do")
    assert (done.code, done.out) == (2, "")
    assert said in one_line(done.err)


def test_a_check_that_does_not_ask_imports_no_solver() -> None:
    rider = rulesets_folder() / "dale.rider"
    program = (
        "import sys, trackprep; from datetime import date;"
        "r = trackprep.read_ruleset('tarn-hollow');"
        f"d = trackprep.read_declaration({str(rider)!r}, r);"
        "report = r.check(d, on=date(2026, 6, 14)); str(report);"
        "print([m for m in sys.modules if 'pysat' in m or 'would_do' in m]);"
        "report.what_would_do();"
        "print('trackprep.analysis.solving' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.split("\n")[:2] == ["[]", "True"]
