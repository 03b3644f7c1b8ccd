"""`trackprep check`, as a real process."""

import json
from datetime import date
from pathlib import Path

import pytest
from processes import READY, call, check

from trackprep.dates import long_form


@pytest.mark.parametrize(
    ("rider", "code", "verdict"),
    [
        ("ready.rider", 0, "ready"),
        ("failing.rider", 1, "not-ready"),
        ("half.rider", 3, "incomplete"),
    ],
)
def test_the_exit_code_tells_the_verdict(folder: Path, rider: str, code: int, verdict: str) -> None:
    result = check(folder, rider, "--as", "json")
    assert (result.code, result.err) == (code, "")
    said = json.loads(result.out)
    assert (said["verdict"], said["event_date"]) == (verdict, "2026-06-14")
    assert check(folder, rider).code == code


def test_the_text_names_what_is_not_met_and_the_way_out(folder: Path) -> None:
    result = check(folder, "failing.rider")
    assert "Full-face helmet" in result.out
    assert "Bring or hire a full-face helmet." in result.out
    assert "14 June 2026" in result.out
    assert "2026-06-14" not in result.out
    assert "\x1b" not in result.out
    assert "passed" not in result.out


def test_without_a_day_it_is_today_and_says_so(folder: Path) -> None:
    before = date.today()
    text = call(folder, "check", "ready.rider", "--for", "field.trackrules")
    program = call(folder, "check", "ready.rider", "--for", "field.trackrules", "--as", "json")
    days = (before, date.today())
    assert any(f"today, {long_form(day)}" in text.out for day in days)
    assert any(f"today, {long_form(day)}" in program.err.replace("\n", " ") for day in days)
    assert json.loads(program.out)["event_date"] in {str(day) for day in days}


@pytest.mark.parametrize(("name", "text"), [
    ("ready.toml", 'helmet = {shell = "full-face"}\n[tyre.front]\ntread = "3 mm"\n'),
    ("ready.json", '{"helmet": {"shell": "full-face"}, "tyre.front.tread": "3 mm"}'),
])  # fmt: skip
def test_a_declaration_may_be_toml_or_json(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text)
    assert check(folder, name).code == 0


def test_a_declaration_with_mistakes_is_exit_2_and_shows_them_all(folder: Path) -> None:
    result = check(folder, "broken.rider")
    assert (result.code, result.out) == (2, "")
    assert "broken.rider:3:1" in result.err
    assert "helmet.shell" in result.err
    assert "broken.rider:4:21" in result.err


def test_json_gives_the_problems_where_there_is_no_report(folder: Path) -> None:
    result = check(folder, "broken.rider", "--as", "json")
    said = json.loads(result.out)
    assert (result.code, set(said)) == (2, {"schema", "problems"})
    assert [(p["line"], p["column"]) for p in said["problems"]] == [(3, 1), (4, 21)]
    assert said["schema"] == json.loads(check(folder, "ready.rider", "--as", "json").out)["schema"]


@pytest.mark.parametrize(
    "words",
    [
        ["check", "none.rider", "--for", "field.trackrules", "--on", "2026-06-14"],
        ["check", "ready.rider", "--for", "none.trackrules", "--on", "2026-06-14"],
        ["check", "ready.rider", "--for", "tarn-holow", "--on", "2026-06-14"],
        ["check", "ready.rider", "--for", "field.trackrules", "--on", "14/06/2026"],
        ["check", "ready.rider", "--on", "2026-06-14"],
    ],
)
def test_json_gives_problems_for_every_call_that_fails(folder: Path, words: list[str]) -> None:
    result = call(folder, *words, "--as", "json")
    said = json.loads(result.out)
    assert (result.code, set(said), len(said["problems"])) == (2, {"schema", "problems"}, 1)


def test_a_date_after_the_event_is_a_problem_beside_the_report(folder: Path) -> None:
    (folder / "future.rider").write_text(READY + "helmet.made is 2027-01-01\n")
    result = check(folder, "future.rider", "--as", "json")
    said = json.loads(result.out)
    assert result.code == 2
    assert "verdict" in said
    assert len(said["problems"]) == 1


def test_a_wrong_shipped_name_leads_to_the_right_one(folder: Path) -> None:
    result = call(folder, "check", "ready.rider", "--for", "tarn-holow")
    assert result.code == 2
    assert "`tarn-hollow`" in result.err
    assert "common-practice" in result.err


def test_a_forgotten_ending_leads_to_the_file(folder: Path) -> None:
    result = call(folder, "check", "ready.rider", "--for", "field")
    assert result.code == 2
    assert "`field.trackrules`" in result.err


@pytest.mark.parametrize(
    ("day", "advice"),
    [
        ("14/06/2026", "2026-06-14"),
        ("2026-6-14", "2026-06-14"),
        ("2026-06", "2026-06-01"),
        ("tomorrow", "2026-06-14"),
        ("2026-02-30", "February 2026 has days 1 to 28"),
    ],
)
def test_a_day_that_is_none_is_explained(folder: Path, day: str, advice: str) -> None:
    result = call(folder, "check", "ready.rider", "--for", "field.trackrules", "--on", day)
    assert result.code == 2
    assert advice in result.err.replace("\n", " ")
