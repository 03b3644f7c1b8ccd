"""`trackprep proofread` as a real process: what it prints, its exit codes, its JSON."""

import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from processes import RULES, Result, call, environment
from proofreading import BASE, GEAR, HEADING

from trackprep.published import grammar_folder

SLACK = """\
stricter limit oldest is 6 years
amend limit tread is 2.5 mm
  source house rule
limit chain "Chain" is 2 %
  accept unused-limit "For next year."
"""
TOLD = """\
own.trackrules:5:1: `oldest` is not stricter: own lets through what base turns away, in the rule
    `age`
  problem: not-stricter
  on 1 January 2026, for a machine and rider with
    made is 2020-12-31
  `age`: base answers not met, own met
  try: make the change at least as strict as the base for the declaration shown, or write `amend` in
      place of `stricter`
own.trackrules:6:1: the title of `deep` still says 2 mm, which is changed here
  fault: states-old-value
  try: say it anew: `amend rule NAME "New title"`, with the other words below it
own.trackrules: 1 problem, 1 fault; 1 accepted, shown with --accepted
"""


@pytest.fixture
def slack(folder: Path) -> Path:
    """A folder with a base, and a supplement that is not sound."""
    own = f'{HEADING}supplements "base.trackrules"\n\n{SLACK}'
    for name, text in (("gear", GEAR), ("base", BASE), ("own", own)):
        (folder / f"{name}.trackrules").write_text(text, encoding="utf-8")
    return folder


def form_of(result: Result) -> dict[str, object]:
    form: dict[str, object] = json.loads(result.out)
    schema = json.loads((grammar_folder() / "findings.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(form, schema)
    return form


def test_each_finding_has_its_place_what_shows_it_and_what_to_try(slack: Path) -> None:
    result = call(slack, "proofread", "own.trackrules")
    assert (result.code, result.out, result.err) == (1, TOLD, "")


def test_remarks_are_shown_on_request_and_do_not_count(folder: Path) -> None:
    plain = call(folder, "proofread", "field.trackrules")
    assert (plain.code, plain.out) == (0, "field.trackrules: no mistakes found\n")
    result = call(folder, "proofread", "--remarks", "field.trackrules")
    assert result.code == 0
    assert "`tread` does not say what a rider can do to meet it" in result.out
    assert "remark: without-fix" in result.out
    assert result.out.endswith("field.trackrules: 3 remarks\n")


def test_what_is_accepted_is_counted_and_shown_with_its_reason(slack: Path) -> None:
    result = call(slack, "proofread", "--accepted", "own.trackrules")
    assert "nothing uses the limit `chain`" in result.out
    assert "reason: For next year." in result.out


def test_a_single_day_can_be_asked_about(slack: Path) -> None:
    result = call(slack, "proofread", "own.trackrules", "--on", "2026-07-01")
    assert "on 1 July 2026, for" in result.out
    assert call(slack, "proofread", "own.trackrules", "--on", "July").code == 2


def test_the_declaration_in_the_json_is_a_riders_file(slack: Path) -> None:
    form = form_of(call(slack, "proofread", "own.trackrules", "--as", "json"))
    (file,) = form["files"]  # type: ignore[misc]
    shown = next(finding for finding in file["findings"] if finding["witness"])
    assert (shown["name"], shown["weight"], shown["about"]) == (
        "not-stricter", "problem", "limit oldest",
    )  # fmt: skip
    (slack / "shown.rider").write_text(shown["witness"]["rider"], encoding="utf-8")
    day = shown["witness"]["event_date"]
    statuses = []
    for name in ("base", "own"):
        words = ("check", "shown.rider", "--for", f"{name}.trackrules", "--on", day, "--as", "json")
        report = json.loads(call(slack, *words).out)
        statuses += [rule["status"] for rule in report["rules"] if rule["rule"] == "age"]
    assert statuses == ["not-met", "met"]
    assert [accepted["reason"] for accepted in file["accepted"]] == ["For next year."]


def test_json_has_the_mistakes_of_every_file(slack: Path) -> None:
    (slack / "wrong.trackrules").write_text(RULES.replace("2 mm", "2 psi"), encoding="utf-8")
    names = ("wrong.trackrules", "missing.trackrules", "standad", "base.trackrules")
    result = call(slack, "proofread", *names, "--as", "json")
    assert result.code == 2
    files = form_of(result)["files"]
    assert [file["file"] for file in files] == list(names)  # type: ignore[attr-defined]
    codes = [[p["code"] for p in file["problems"]] for file in files]  # type: ignore[attr-defined]
    assert codes == [["wrong-dimension"], ["unreadable-file"], ["unusable-call"], []]


@pytest.mark.parametrize("command", ["check", "facts", "rehearse", "read-back"])
def test_no_other_command_waits_for_the_solver(folder: Path, command: str) -> None:
    calls = {"check": ["ready.rider", "--for", "field.trackrules", "--on", "2026-06-14"]}
    given = calls.get(command, ["field.trackrules"])
    code = (
        "import sys; from trackprep.cli.main import main; main(sys.argv[1:]);"
        "assert not {'pysat', 'z3', 'trackprep.analysis'} & set(sys.modules), 'a solver'"
    )
    words = [sys.executable, "-c", code, command, *given]
    done = subprocess.run(
        words, check=False, cwd=folder, capture_output=True, env=environment(), timeout=60
    )
    assert (done.returncode, done.stderr) == (0, b"")


def test_what_a_draft_leaves_open_is_no_fault(folder: Path) -> None:
    assert call(folder, "draft", "My day", "-o", "my-day.trackrules").code == 0
    assert call(folder, "proofread", "my-day.trackrules").code == 0


def test_the_command_says_what_its_exit_codes_mean(folder: Path) -> None:
    said = " ".join(call(folder, "proofread", "--help").out.split())
    assert "0 if there is nothing to mend, 1 if there are problems or faults, 2 if" in said
