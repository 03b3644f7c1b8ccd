"""`trackprep check` of several riders, or for several events: the club's table."""

import json
import sys
from datetime import date
from pathlib import Path

import jsonschema
import pexpect
import pytest
from hypothesis import given
from hypothesis import strategies as st
from processes import BROKEN, FAILING, HALF, READY, call, environment

import trackprep
from trackprep.published import grammar_folder, shipped_path

EVENT = date(2026, 6, 14)
GOLDEN = Path(__file__).parent / "riders" / "table.txt"
PRIVATE = """\
ruleset born "Born"

fact born "Date of birth" past date private
fact shoe "Shoe" one of left, right
fact height "Height" measured in cm from 50 cm to 250 cm private

rule of-age "Of age"
  require age of born is at least 18 years
  source common practice
rule tall "Tall enough"
  require height is at least 150 cm
  source common practice
rule shod "Shod"
  require shoe is left
  source common practice
"""


@pytest.fixture
def riders(folder: Path) -> Path:
    """The small ruleset, and a folder with a rider of each kind."""
    inside = folder / "riders"
    inside.mkdir()
    for name, text in (("a", READY), ("b", FAILING), ("c", HALF), ("d", BROKEN)):
        (inside / f"{name}.rider").write_text(text)
    return folder


def checked(folder: Path, *words: str) -> tuple[int, dict[str, object]]:
    result = call(folder, "check", *words, "--on", "2026-06-14", "--as", "json")
    form = json.loads(result.out)
    schema = json.loads((grammar_folder() / "riders.schema.json").read_text())
    jsonschema.validate(form, schema)
    return result.code, form


def rows(form: dict[str, object]) -> list[tuple[str, str]]:
    return [(row["title"], row["worst"]) for row in form["riders"]]  # type: ignore[attr-defined]


def test_the_table_of_a_folder_is_just_this(riders: Path) -> None:
    result = call(riders, "check", "riders", "--for", "field.trackrules", "--on", "2026-06-14")
    assert result.code == 2
    assert result.out == GOLDEN.read_text("utf-8")
    assert result.err == ""


def test_every_rider_gets_an_answer_and_the_worst_is_the_exit_code(riders: Path) -> None:
    code, form = checked(riders, "riders", "--for", "field.trackrules")
    assert (code, form["worst"]) == (2, "problem")
    assert rows(form) == [
        ("Ready", "ready"), ("Failing", "not-ready"), ("Half", "incomplete"), ("Broken", "problem"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("names", "code"),
    [("abcd", 2), ("cd", 2), ("abc", 1), ("ac", 3), ("aa", 0), ("ca", 3), ("ba", 1)],
)
def test_the_exit_code_is_the_worst(riders: Path, names: str, code: int) -> None:
    files = [f"riders/{name}.rider" for name in names]
    result = call(riders, "check", *files, "--for", "field.trackrules", "--on", "2026-06-14")
    # A file that is named twice is one rider, whose report is as good as a table.
    assert result.code == code


def test_several_events_have_an_answer_each(riders: Path) -> None:
    other = (riders / "field.trackrules").read_text().replace("2 mm", "3.1 mm")
    (riders / "other.trackrules").write_text(other.replace("field-day", "other-day"))
    code, form = checked(
        riders, "riders/a.rider", "riders/b.rider", "--for", "field.trackrules",
        "--for", "other.trackrules",
    )  # fmt: skip
    assert code == 1
    found = {
        (row["title"], event["called"]): [rule["rule"] for rule in event["not_met"]]
        for row in form["riders"]  # type: ignore[attr-defined]
        for event in row["events"]
    }
    assert found == {
        ("Ready", "field-day"): [],
        ("Ready", "other-day"): [],
        ("Failing", "field-day"): ["helmet-shell"],
        ("Failing", "other-day"): ["helmet-shell", "tread"],
    }
    text = call(
        riders, "check", "riders/a.rider", "--for", "field.trackrules", "--for",
        "other.trackrules", "--on", "2026-06-14",
    )  # fmt: skip
    assert (text.code, text.out.count("ready to present")) == (0, 4)


@pytest.mark.parametrize(("form", "start"), [("html", "<!doctype html>"), ("markdown", "# Riders")])
def test_the_table_is_written_in_other_shapes_and_never_over_a_file(
    form: str, start: str, riders: Path
) -> None:
    words = ["check", "riders", "--for", "field.trackrules", "--on", "2026-06-14", "--as", form]
    assert call(riders, *words, "-o", "table").code == 2
    text = (riders / "table").read_text("utf-8")
    assert text.startswith(start)
    assert all(word in text for word in ("Failing", "not ready", "Full-face helmet"))
    again = call(riders, *words, "-o", "table")
    assert (again.code, "--overwrite" in again.err) == (2, True)
    assert (riders / "table").read_text("utf-8") == text


# ---- several files, one rider -------------------------------------------------


GEAR, MACHINE = "helmet.shell is full-face\n", "tyre.front.tread is 3 mm\n"


@pytest.mark.parametrize(
    ("files", "expected"),
    [
        # The same title.
        ({"x.rider": f'declaration "Sam"\n{GEAR}', "y.rider": f'declaration "sam"\n{MACHINE}'},
         [("Sam", "ready")]),
        # No title, and names that begin alike.
        ({"sam.gear.rider": GEAR, "sam.machine.rider": MACHINE}, [("sam", "ready")]),
        # One of them has a title.
        ({"sam.gear.rider": f'declaration "Sam"\n{GEAR}', "sam.machine.rider": MACHINE},
         [("Sam", "ready")]),
        # Different titles are different riders, however the files are called.
        ({"sam.1.rider": f'declaration "Sam"\n{GEAR}',
          "sam.2.rider": f'declaration "Jo"\n{MACHINE}'},
         [("Sam", "incomplete"), ("Jo", "incomplete")]),
        # Nobody knows which Sam.
        ({"sam.1.rider": f'declaration "Sam A"\n{GEAR}',
          "sam.2.rider": f'declaration "Sam B"\n{GEAR}', "sam.3.rider": MACHINE},
         [("Sam A", "incomplete"), ("Sam B", "incomplete"), ("sam.3", "incomplete")]),
        # Other formats.
        ({"sam.gear.toml": 'helmet.shell = "full-face"\n',
          "sam.machine.json": '{"tyre.front.tread": "3 mm"}'}, [("sam", "ready")]),
        # Other names.
        ({"sam.rider": GEAR, "samuel.rider": MACHINE},
         [("sam", "incomplete"), ("samuel", "incomplete")]),
    ],
)  # fmt: skip
def test_files_of_one_rider_are_one_declaration(
    folder: Path, files: dict[str, str], expected: list[tuple[str, str]]
) -> None:
    inside = folder / "club"
    inside.mkdir()
    for name, text in files.items():
        (inside / name).write_text(text)
    _, form = checked(folder, "club", "--for", "field.trackrules")
    assert rows(form) == expected


def test_a_fact_given_twice_is_a_problem_that_names_both_places(folder: Path) -> None:
    (folder / "sam.gear.rider").write_text(f"{GEAR}{MACHINE}")
    (folder / "sam.machine.rider").write_text(f"# mine\n{MACHINE}")
    code, form = checked(folder, "sam.gear.rider", "sam.machine.rider", "--for", "field.trackrules")
    assert code == 2
    (problem,) = form["riders"][0]["problems"]  # type: ignore[index]
    assert problem["code"] == "declared-twice"
    assert "sam.gear.rider:2" in problem["text"]
    assert "sam.machine.rider:2" in problem["text"]
    assert "tyre.front.tread" in problem["text"]


def test_a_broken_half_makes_its_rider_a_problem_and_no_second_rider(folder: Path) -> None:
    (folder / "x.rider").write_text(f'declaration "Sam"\n{GEAR}')
    (folder / "y.rider").write_text('declaration "Sam"\ntyre.front.tread is 2 psi\n')
    code, form = checked(folder, "x.rider", "y.rider", "--for", "field.trackrules")
    assert (code, rows(form)) == (2, [("Sam", "problem")])


# ---- what cannot be read ------------------------------------------------------


def test_what_cannot_be_read_is_a_row_and_the_others_still_come(riders: Path) -> None:
    (riders / "riders" / "e.rider").write_bytes(b"\xff\xfe\x00")
    files = ["riders/a.rider", "riders/e.rider", "riders/none.rider"]
    code, form = checked(riders, *files, "--for", "field.trackrules")
    assert (code, rows(form)) == (
        2, [("Ready", "ready"), ("e", "problem"), ("none", "problem")],
    )  # fmt: skip
    texts = [problem["text"] for row in form["riders"] for problem in row["problems"]]  # type: ignore[attr-defined]
    assert "not UTF-8" in texts[0]
    assert "there is no such file" in texts[1]


def test_a_folder_without_declarations_says_what_is_looked_for(riders: Path) -> None:
    (riders / "empty").mkdir()
    (riders / "empty" / ".hidden.rider").write_text(READY)
    result = call(riders, "check", "empty", "--for", "field.trackrules")
    assert (result.code, result.out) == (2, "")
    assert "`empty` has no declaration in it" in result.err
    assert ".rider" in result.err


def test_what_is_private_is_counted_and_never_shown(folder: Path) -> None:
    (folder / "born.trackrules").write_text(PRIVATE)
    texts = {
        "a": "shoe is left\n",
        "b": "born is 2015-13-41\nheight is 177 cm\n",
        "c": "born is 2032-01-09\nheight is 177 cm\n",
        "d": "hight is 177 cm\n",
        "e": "height is 177 psi\n",
        "f": "height is 177 cm and more\n",
    }
    for name, text in texts.items():
        (folder / f"{name}.rider").write_text(text)
    files = [f"{name}.rider" for name in texts]
    for form in ("text", "json"):
        result = call(
            folder, "check", *files, "--for", "born.trackrules", "--on", "2026-06-14", "--as", form
        )
        assert result.code == 2
        assert "177" not in result.out + result.err
        assert "2032" not in result.out + result.err
        assert "2015" not in result.out + result.err
        assert "date of birth" not in result.out.lower()
    _, said = checked(folder, "a.rider", "c.rider", "--for", "born.trackrules")
    first = said["riders"][0]["events"][0]  # type: ignore[index]
    assert (first["declare"], first["private"]) == ([], 2)


# ---- the same answers as one report at a time ----------------------------------


@given(st.lists(st.sampled_from(["sam", "ilse", "nadia", "petra"]), min_size=9, max_size=12))
def test_a_row_says_what_the_report_says(names: list[str]) -> None:
    """Beyond eight checks the fast back end answers."""
    rules = _MARROWFELL
    for name in names:
        path = shipped_path("standard").parent / f"{name}.rider"  # type: ignore[union-attr]
        (row,) = trackprep.check_riders(path, rules, on=EVENT).club.rows
        full = rules.check(trackprep.read_declaration(path, rules), on=EVENT)
        required = [answer for answer in full.answers if answer.level == "required"]
        (answer,) = row.answers
        assert answer.verdict == full.verdict
        assert [rule.name for rule in answer.not_met] == [
            one.rule for one in required if one.status == "not-met"
        ]
        waiting = [
            one for one in required if one.status == "unsettled" and not one.waits_for_inspector
        ]
        assert {path for one in waiting for path in one.declare} >= set(answer.declare)
        assert {path for one in waiting for path in one.narrow} == set(answer.narrow)


_MARROWFELL = trackprep.read_ruleset("marrowfell")


# ---- who looks on ---------------------------------------------------------------


def test_a_long_list_shows_how_far_it_is_on_a_terminal_alone(riders: Path) -> None:
    many = riders / "many"
    many.mkdir()
    for number in range(40):
        (many / f"r{number:02}.rider").write_text(READY.replace("Ready", f"Rider {number}"))
    words = ["-m", "trackprep", "check", "many", "--for", "field.trackrules", "--on", "2026-06-14"]
    piped = call(riders, *words[2:])
    assert (piped.code, piped.err) == (0, "")
    seen = pexpect.spawn(
        sys.executable, words, cwd=str(riders), env=environment(TERM="xterm"),  # type: ignore[arg-type]
        encoding="utf-8", timeout=60, dimensions=(60, 100),
    )  # fmt: skip
    seen.expect(pexpect.EOF)
    assert "Reading declarations" in seen.before
    seen.close()
    assert seen.exitstatus == 0


@pytest.mark.parametrize("columns", [30, 44, 60, 72, 200])
def test_a_narrow_window_loses_no_word(
    columns: int, riders: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(riders)
    ruleset = trackprep.read_ruleset("field.trackrules")
    club = trackprep.check_riders("riders", ruleset, on=EVENT)
    text = club.text(columns)
    assert max(map(len, text.splitlines())) <= max(columns, 30)
    squeezed = "".join(text.split())
    for word in ("Failing", "notready", "ront"):
        assert word in squeezed
