"""`trackprep proofread`, `rehearse`, `neaten` and `read-back`, as real processes."""

import os
import re
import stat
from pathlib import Path

import pytest
from processes import RULES, call

WRONG_EXAMPLE = """
example "Too little tread, said to be enough"
  declare tyre.front.tread is 1.5 mm
  expect tread is met
"""
UNTIDY = (
    'ruleset   untidy   "Untidy"\r\n  edition "1"\r\n'
    'rule a "A"   # kept\r\n require helmet.shell is   full-face\r\n'
)


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


# ---- rehearse ---------------------------------------------------------------------


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


# ---- read-back --------------------------------------------------------------------


def test_read_back_says_each_formula_and_table_of_the_file(folder: Path) -> None:
    (folder / "sound.trackrules").write_text(
        'vocabulary sound "Sound"\n'
        'formula fence(level in dB, far in m) "Level at the fence" in dB\n'
        '  as level - 20 dB * log10(far / 1 m) source "ISO 9613-2, clause 7.1"\n'
        'table load-of "Load of an index" from count to kg\n'
        '  row 58 is 236 kg source "UNECE R75, Annex 4"\n'
    )
    result = call(folder, "read-back", "sound.trackrules")
    assert result.code == 0
    said = " ".join(result.out.split())
    assert said.endswith(
        "There are no rules in this file. == Formulas and tables == "
        "Level at the fence is worked out from level and far: level minus (20 dB times the "
        "decimal logarithm of (far divided by 1 m)). "
        "Load of an index, by the table: 58 is 236 kg; any other number has no value."
    )


def test_read_back_says_each_rule_in_words(folder: Path) -> None:
    result = call(folder, "read-back", "field.trackrules")
    assert result.code == 0
    assert "helmet-shell: Full-face helmet" in result.out
    assert re.search(r"Required: front tread depth is at least 2 mm\.", result.out)
