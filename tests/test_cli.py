"""Every command of the command line: how it is called, and how it ends."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from processes import RULES, call, environment


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
        "handout",
        "same-edition",
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


def test_a_vocabulary_is_no_ruleset_to_check_by(folder: Path) -> None:
    result = call(folder, "check", "ready.rider", "--for", "standard")
    assert result.code == 2
    assert "vocabulary" in result.err


def test_rehearse_goes_on_after_a_file_with_mistakes(folder: Path) -> None:
    (folder / "wrong.trackrules").write_text("rule\n")
    result = call(folder, "rehearse", "wrong.trackrules", "field.trackrules")
    assert result.code == 2
    assert "wrong.trackrules:1" in result.err
    assert "field.trackrules: 1 of 1 example" in result.out


def test_a_name_that_cannot_be_printed_is_no_fault(folder: Path) -> None:
    result = call(folder, "proofread", "\udcff.trackrules")
    assert result.code == 2
    assert "there is no such file" in result.out


def test_what_is_sent_to_a_file_is_utf_8_whatever_the_locale(folder: Path) -> None:
    (folder / "field.trackrules").write_text(RULES.replace("Field day", "走行会"), "utf-8")
    result = call(folder, "read-back", "field.trackrules", PYTHONIOENCODING="latin-1")
    assert (result.code, "走行会" in result.out) == (0, True)


def test_several_files_of_one_name_are_done_once(folder: Path) -> None:
    result = call(folder, "proofread", "field.trackrules", "field.trackrules")
    assert result.out == "field.trackrules: no mistakes found\n"
