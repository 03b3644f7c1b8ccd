"""The command line as people and programs meet it: real processes in folders of their own."""

import json
import os
import re
import stat
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from processes import FAILING, HALF, READY, RULES, Result, call, environment

from trackprep.dates import long_form

WRONG_EXAMPLE = """
example "Too little tread, said to be enough"
  declare tyre.front.tread is 1.5 mm
  expect tread is met
"""
BROKEN_RIDER = 'declaration "Broken"\n\nhelmet.shel is full-face\ntyre.front.tread is 2 psi\n'
UNTIDY = (
    'ruleset   untidy   "Untidy"\r\n  edition "1"\r\n'
    'rule a "A"   # kept\r\n require helmet.shell is   full-face\r\n'
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a small ruleset and four riders."""
    files = {
        "field.trackrules": RULES,
        "ready.rider": READY,
        "failing.rider": FAILING,
        "half.rider": HALF,
        "broken.rider": BROKEN_RIDER,
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text)
    return tmp_path


def check(folder: Path, rider: str, *words: str) -> Result:
    """Checks a rider against the small ruleset on a fixed day."""
    return call(folder, "check", rider, "--for", "field.trackrules", "--on", "2026-06-14", *words)


# ---- check ----------------------------------------------------------------------


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


# ---- proofread --------------------------------------------------------------------


def test_proofread_finds_nothing_in_a_good_file(folder: Path) -> None:
    result = call(folder, "proofread", "field.trackrules")
    assert (result.code, result.out) == (0, "field.trackrules: no mistakes found\n")


def test_proofread_shows_every_problem_of_every_file(folder: Path) -> None:
    (folder / "one.trackrules").write_text(RULES.replace("full-face\n", "fullface\n", 1))
    (folder / "two.trackrules").write_text(
        RULES.replace("2 mm", "2 psi").replace("tread is a", "tred is a")
    )
    result = call(folder, "proofread", "one.trackrules", "field.trackrules", "two.trackrules")
    assert result.code == 1
    assert "one.trackrules:8:27" in result.out
    assert "`full-face`" in result.out
    assert "one.trackrules: 1 mistake" in result.out
    assert "field.trackrules: no mistakes found" in result.out
    assert "two.trackrules:14:" in result.out
    assert "^" in result.out


@pytest.mark.parametrize("case", ["missing", "folder", "not text", "shipped"])
def test_proofread_tells_the_unreadable_from_the_wrong(folder: Path, case: str) -> None:
    name = "standad" if case == "shipped" else "x.trackrules"
    if case == "folder":
        (folder / name).mkdir()
    if case == "not text":
        (folder / name).write_bytes(b'ruleset x "\xff"\n')
    result = call(folder, "proofread", "field.trackrules", name)
    assert result.code == 2
    assert "field.trackrules: no mistakes found" in result.out


# ---- rehearse ----------------------------------------------------------------------


def test_rehearse_runs_the_examples(folder: Path) -> None:
    result = call(folder, "rehearse", "field.trackrules")
    assert result.code == 0
    assert "A flip-front helmet is turned away" in result.out


def test_a_wrong_example_shows_what_came_and_why(folder: Path) -> None:
    (folder / "wrong.trackrules").write_text(RULES + WRONG_EXAMPLE)
    result = call(folder, "rehearse", "wrong.trackrules")
    assert result.code == 1
    assert "Too little tread, said to be enough" in result.out
    assert "expected `tread` to be met" in result.out
    assert "it is not met" in result.out
    assert "1.5 mm" in result.out
    assert "2 mm" in result.out
    assert "1 of 2 examples" in result.out


def test_a_wrong_verdict_names_the_rules_that_decided(folder: Path) -> None:
    example = 'example "Ready?"\n  declare helmet.shell is modular\n  expect ready\n'
    (folder / "wrong.trackrules").write_text(f"{RULES}\n{example}")
    result = call(folder, "rehearse", "wrong.trackrules")
    assert result.code == 1
    assert "expected ready" in result.out
    assert "helmet-shell" in result.out


def test_rehearse_says_that_there_is_nothing_to_run(folder: Path) -> None:
    (folder / "bare.trackrules").write_text(RULES.split("example")[0])
    result = call(folder, "rehearse", "bare.trackrules")
    assert result.code == 0
    assert "no examples" in result.out


# ---- neaten -----------------------------------------------------------------------


def test_neaten_rewrites_in_place_and_keeps_the_mode(folder: Path) -> None:
    path = folder / "untidy.trackrules"
    path.write_bytes(b"\xef\xbb\xbf" + UNTIDY.encode())
    path.chmod(0o640)
    assert call(folder, "neaten", "--check", "untidy.trackrules").code == 1
    assert path.read_bytes().startswith(b"\xef\xbb\xbfruleset   untidy")
    result = call(folder, "neaten", "untidy.trackrules")
    assert result.code == 0
    assert "line ends to LF" in result.out
    written = path.read_bytes()
    assert written.startswith(b'ruleset untidy "Untidy"\n')
    assert b"# kept\n" in written
    assert b"\r" not in written
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    again = call(folder, "neaten", "--check", "untidy.trackrules")
    assert (again.code, again.out) == (0, "untidy.trackrules: neat already\n")
    assert sorted(p.name for p in folder.glob(".*")) == []


def test_neaten_changes_what_a_link_leads_to(folder: Path) -> None:
    (folder / "untidy.trackrules").write_text(UNTIDY)
    (folder / "link.trackrules").symlink_to("untidy.trackrules")
    assert call(folder, "neaten", "link.trackrules").code == 0
    assert (folder / "link.trackrules").is_symlink()
    assert (folder / "untidy.trackrules").read_text().startswith('ruleset untidy "Untidy"')


def test_neaten_leaves_a_wrong_file_alone_and_does_the_others(folder: Path) -> None:
    wrong = 'ruleset wrong "Wrong"\nrule "no name"\n  require\n'
    (folder / "wrong.trackrules").write_text(wrong)
    (folder / "loose.rider").write_text("helmet.shell    is full-face")
    result = call(folder, "neaten", "wrong.trackrules", "loose.rider")
    assert result.code == 2
    assert "wrong.trackrules:2" in result.err
    assert (folder / "wrong.trackrules").read_text() == wrong
    assert (folder / "loose.rider").read_text() == "helmet.shell is full-face\n"


@pytest.mark.parametrize(
    ("given", "neat"),
    [
        (b"# mine\n\nhelmet.shell   is full-face", "# mine\n\nhelmet.shell is full-face\n"),
        (b'ruleset   a "A"', 'ruleset a "A"\n'),
    ],
)
def test_neaten_reads_a_pipe(folder: Path, given: bytes, neat: str) -> None:
    result = call(folder, "neaten", "-", given=given)
    assert (result.code, result.out, result.err) == (0, neat, "")
    assert call(folder, "neaten", "-", "--check", given=given).code == 1
    assert call(folder, "neaten", "-", "--check", given=neat.encode()).code == 0


def test_a_file_that_may_not_be_written_stays(folder: Path) -> None:
    path = folder / "untidy.trackrules"
    path.write_text(UNTIDY)
    path.chmod(0o444)
    if os.access(path, os.W_OK):
        pytest.skip("root may write everything")
    result = call(folder, "neaten", "untidy.trackrules")
    assert result.code == 2
    assert path.read_bytes() == UNTIDY.encode()


# ---- facts --------------------------------------------------------------------------


def test_facts_lists_only_what_the_rules_ask(folder: Path) -> None:
    result = call(folder, "facts", "field.trackrules")
    assert result.code == 0
    paths = re.findall(r"^  (\S+): ", result.out, re.MULTILINE)
    assert paths == ["helmet.shell", "tyre.front.tread"]
    assert "What kind of helmet will you wear?" in result.out
    assert "mm" in result.out
    assert "full-face" in result.out
    assert all(len(line) <= 100 for line in result.out.splitlines())


@pytest.mark.parametrize(
    ("words", "path"),
    [
        (["license", "plate"], "plate"),
        (["hinged"], "helmet.shell"),
        (["tire", "gauge"], "kit.pressure-gauge"),
        (["Helmet", "SHELL"], "helmet.shell"),
        (["helmet.shell"], "helmet.shell"),
    ],
)
def test_a_fact_is_found_by_any_of_its_names(folder: Path, words: list[str], path: str) -> None:
    result = call(folder, "facts", "standard", *words)
    assert result.code == 0
    assert re.search(rf"^  {re.escape(path)}", result.out, re.MULTILINE), result.out


def test_a_word_that_finds_nothing_leads_to_one_that_does(folder: Path) -> None:
    result = call(folder, "facts", "standard", "helmt")
    assert result.code == 0
    assert "Did you mean: helmet?" in result.out


# ---- draft --------------------------------------------------------------------------


@pytest.mark.parametrize("like", [(), ("--like", "common-practice"), ("--like", "tarn-hollow")])
def test_a_draft_is_neat_without_mistakes_and_its_example_comes_true(
    folder: Path, like: tuple[str, ...]
) -> None:
    result = call(folder, "draft", "My day", *like, "-o", "mine.trackrules")
    assert (result.code, result.out) == (0, "")
    assert call(folder, "proofread", "mine.trackrules").code == 0
    assert call(folder, "neaten", "--check", "mine.trackrules").code == 0
    rehearsed = call(folder, "rehearse", "mine.trackrules")
    assert (rehearsed.code, "1 of 1 example" in rehearsed.out) == (0, True)


def test_a_draft_never_takes_the_place_of_a_file(folder: Path) -> None:
    result = call(folder, "draft", "My day", "-o", "field.trackrules")
    assert result.code == 2
    assert "--overwrite" in result.err
    assert (folder / "field.trackrules").read_text() == RULES
    assert call(folder, "draft", "My day", "-o", "field.trackrules", "--overwrite").code == 0
    assert "My day" in (folder / "field.trackrules").read_text()


@pytest.mark.parametrize(
    ("words", "advice"),
    [
        (["  ", "-o", "a.trackrules"], "title"),
        (["My day", "-o", "a.txt"], "a.txt.trackrules"),
        (["My day", "-o", "no/such/a.trackrules"], "no/such/a.trackrules"),
        (["My day", "--like", "comon-practice", "-o", "a.trackrules"], "common-practice"),
        (["My day", "--like", "standard", "-o", "a.trackrules"], "common-practice"),
        (["My day"], "-o"),
    ],
)
def test_a_draft_that_cannot_be_says_why(folder: Path, words: list[str], advice: str) -> None:
    result = call(folder, "draft", *words)
    assert result.code == 2
    assert advice in result.err
    assert sorted(p.name for p in folder.glob("a.*")) == []


# ---- read-back ------------------------------------------------------------------------


def test_read_back_says_each_rule_in_words(folder: Path) -> None:
    result = call(folder, "read-back", "field.trackrules")
    assert result.code == 0
    assert "helmet-shell: Full-face helmet" in result.out
    assert "2 mm" in result.out
    assert "is at least" not in result.out or "tread" in result.out.casefold()


# ---- blank ----------------------------------------------------------------------------


def test_a_blank_reads_back_as_an_empty_declaration(folder: Path) -> None:
    result = call(folder, "blank", "field.trackrules", "-o", "mine.rider")
    assert (result.code, result.out) == (0, "")
    text = (folder / "mine.rider").read_text()
    assert "#helmet.shell is\n" in text
    assert "#tyre.front.tread is\n" in text
    assert "tyre.rear" not in text
    report = check(folder, "mine.rider", "--as", "json")
    said = json.loads(report.out)
    assert (report.code, said["problems"]) == (3, [])
    assert {path for rule in said["rules"] for path in rule["declare"]} == {
        "helmet.shell",
        "tyre.front.tread",
    }


def test_a_blank_that_is_filled_in_is_a_declaration(folder: Path) -> None:
    blank = call(folder, "blank", "field.trackrules").out
    filled = blank.replace("#helmet.shell is", "helmet.shell is full-face")
    filled = filled.replace("#tyre.front.tread is", "tyre.front.tread is 3 mm")
    (folder / "filled.rider").write_text(filled)
    assert check(folder, "filled.rider").code == 0


def test_a_blank_never_takes_the_place_of_a_file(folder: Path) -> None:
    result = call(folder, "blank", "field.trackrules", "-o", "ready.rider")
    assert result.code == 2
    assert (folder / "ready.rider").read_text() == READY


# ---- every command ------------------------------------------------------------------


def test_help_names_every_command_and_how_to_switch_completion_on(folder: Path) -> None:
    result = call(folder, "--help")
    assert result.code == 0
    for command in (
        "check",
        "proofread",
        "rehearse",
        "neaten",
        "facts",
        "draft",
        "read-back",
        "blank",
    ):
        assert re.search(rf"^ +{command} ", result.out, re.MULTILINE)
        assert call(folder, command, "--help").code == 0
    for shell in ("bash", "zsh", "fish"):
        assert f"--completion {shell}" in result.out


@pytest.mark.parametrize(
    ("words", "advice"),
    [
        ([], "usage: trackprep"),
        (["chek"], "`trackprep check`"),
        (["check"], "RIDER"),
        (["check", "ready.rider"], "--for"),
        (["check", "ready.rider", "--for", "field.trackrules", "--as", "xml"], "json"),
        (["proofread"], "RULESET"),
        (["facts"], "RULESET"),
        (["check", "ready.rider", "--fo", "field.trackrules"], "--for"),
    ],
)
def test_a_wrong_call_is_exit_2_and_says_what_to_do(
    folder: Path, words: list[str], advice: str
) -> None:
    result = call(folder, *words)
    assert (result.code, result.out) == (2, "")
    assert advice in result.err


@pytest.mark.parametrize("command", ["rehearse", "facts", "read-back", "blank"])
@pytest.mark.parametrize("case", ["missing", "folder", "not text", "wrong"])
def test_a_file_that_cannot_be_used_is_one_message(folder: Path, command: str, case: str) -> None:
    path = folder / "x.trackrules"
    if case == "folder":
        path.mkdir()
    if case == "not text":
        path.write_bytes(b'ruleset x "\xff"\n')
    if case == "wrong":
        path.write_text("rule\n")
    result = call(folder, command, "x.trackrules")
    assert (result.code, result.out) == (2, "")
    assert result.err.startswith("x.trackrules")
    if case != "wrong":
        assert len(result.err.splitlines()) <= 3


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device")
def test_a_full_disk_is_one_line(folder: Path) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "trackprep", "facts", "standard"],
            check=False, cwd=folder, stdout=full, stderr=subprocess.PIPE,
            env=environment(), timeout=60,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.decode().splitlines() == [
        "trackprep: the output cannot be written: No space left on device"
    ]


def test_a_reader_that_leaves_is_no_error(folder: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "trackprep", "facts", "standard"],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment(),
    )  # fmt: skip
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    assert process.stderr.read() == b""
    assert process.wait(60) == 141
    process.stderr.close()


def test_what_is_piped_is_the_same_however_wide_the_terminal_was(folder: Path) -> None:
    wide = call(folder, "facts", "field.trackrules", COLUMNS="200", TERM="xterm-256color")
    small = call(folder, "facts", "field.trackrules", COLUMNS="40", TERM="dumb")
    assert wide.out == small.out
