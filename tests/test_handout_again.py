"""Papers made anew where others lie, and what a sheet may claim of its rules."""

import shutil
from pathlib import Path

import pytest
from processes import call
from test_handout import NAMES, folder, handed_out

__all__ = ["folder"]


# ---- papers that lie there already ----

UNRAISED = "Warning: What is asked changed, but both say edition 3: raise the later one."
THERE = "The earlier one is what `out/field-day-sheet.html` was made of."


def again(folder: Path, old: str, new: str, *call_words: str) -> str:
    """What is said when the papers are made anew, with this in place of that in the rules."""
    file = folder / "field-day.trackrules"
    assert old in file.read_text()
    file.write_text(file.read_text().replace(old, new))
    return " ".join(handed_out(folder, file.name, "--overwrite", *call_words).split())


def test_papers_made_anew_tell_of_an_edition_that_was_not_raised(folder: Path) -> None:
    handed_out(folder, "field-day.trackrules")
    said = again(folder, "6 years", "5 years")
    assert said.count(f"{UNRAISED} {THERE}") == 1
    assert said.index("Warning") < said.index("is written")
    assert "raise the later one" not in (folder / "out" / "field-day-sheet.md").read_text()
    assert "Warning" not in again(folder, "5 years", "5 years")  # they lie there now


def test_an_edition_raised_or_other_words_alone_are_no_reason_to_warn(folder: Path) -> None:
    handed_out(folder, "field-day.trackrules")
    assert "Warning" not in again(folder, "Try to lift", "Lift")
    file = folder / "field-day.trackrules"
    file.write_text(file.read_text().replace('edition "3"', 'edition "4"'))
    assert "Warning" not in again(folder, "6 years", "5 years")
    file.write_text(file.read_text().replace('edition "4"', 'edition "2"'))
    assert "goes down, from 4 to 2" in again(folder, "5 years", "4 years")


def test_what_was_told_of_the_edition_before_is_told_once(folder: Path) -> None:
    shutil.copy(folder / "field-day.trackrules", folder / "old.trackrules")
    handed_out(folder, "field-day.trackrules")
    assert again(folder, "6 years", "5 years", "--since", "old.trackrules").count(UNRAISED) == 1
    # Raised since the one that the call names, but not since the one that was handed out.
    assert "Warning" not in again(folder, 'edition "3"', 'edition "4"', "--since", "old.trackrules")
    said = again(folder, "5 years", "4 years", "--since", "old.trackrules")
    assert said.count("both say edition 4: raise the later one.") == 1


def test_each_event_is_told_of_and_what_is_no_paper_is_not_read(folder: Path) -> None:
    handed_out(folder, *(f"{name}.trackrules" for name in NAMES))
    (folder / "out" / "field-day-sheet.html").write_bytes(b"\xff")
    (folder / "out" / "field-day-sheet.md").write_text("# Mine\n")
    base = folder / "field-day.trackrules"
    base.write_text(base.read_text().replace("water, wetting-agent", "water"))
    said = handed_out(folder, *(f"{name}.trackrules" for name in NAMES), "--overwrite")
    words = " ".join(said.split())
    assert words.count("Warning") == 2
    assert f"{UNRAISED} {THERE.replace('sheet', 'inspection')}" in words
    assert "both say edition 2026.2: raise the later one." in words
    assert "what `out/club-day-sheet.html` was made of" in words


def test_what_stands_in_the_way_is_counted_and_what_is_lost_is_said(folder: Path) -> None:
    handed_out(folder, "field-day.trackrules")
    (folder / "out" / "mine.txt").write_text("mine")
    done = call(folder, "handout", "field-day.trackrules", "-o", "out")
    said = " ".join(done.err.split())
    assert done.code == 2
    assert "5 of these papers are there already, such as `out/field-day-sheet.html`" in said
    assert "it replaces them, and leaves all else in `out`" in said
    handed_out(folder, "field-day.trackrules", "--overwrite")
    assert (folder / "out" / "mine.txt").read_text() == "mine"


# ---- what is no rule file ----


@pytest.mark.parametrize(
    ("words", "paper"),
    [
        (("handout", "field-day.trackrules", "-o", "new", "--since"), "field-day-sheet.html"),
        (("proofread",), "field-day-inspection.md"),
        (("read-back",), "field-day-sheet.html"),
    ],
)
def test_no_rules_are_read_from_a_paper(folder: Path, words: tuple[str, ...], paper: str) -> None:
    """Nobody is told to rename it."""
    (folder / "out").mkdir()
    (folder / "out" / paper).write_text("of no concern")
    done = call(folder, *words, f"out/{paper}")
    said = " ".join((done.out + done.err).split())
    assert done.code == 2
    assert f"`out/{paper}` is a paper for people to read, and no rule file" in said
    assert "give the rule file that it was made of" in said


# ---- sources ----


@pytest.mark.parametrize(
    ("change", "source"),
    [
        ("stricter limit tread is 2.5 mm", None),
        ("stricter limit tread is 2.5 mm source house rule", "house rule"),
        ('amend limit tread "Tread" reason "Worn tyres slide."', "StVZO, section 36"),
        ("stricter rule front require each of tyre.front.tread is at least 3 mm", None),
        ('amend rule front reason "Worn tyres slide."', "StVZO, section 36"),
    ],
)
def test_no_value_is_given_the_source_of_another(
    folder: Path, change: str, source: str | None
) -> None:
    about = '  source "StVZO, section 36"\n'
    of_limit, of_rule = (about, "") if " limit " in change else ("", about)
    (folder / "base.trackrules").write_text(
        f'ruleset base "Base"\nlimit tread is 1.6 mm\n{of_limit}'
        f'rule front "Front" require tyre.front.tread is at least tread\n{of_rule}'
    )
    (folder / "top.trackrules").write_text(
        f'ruleset top "Top"\nsupplements "base.trackrules"\n{change}\n'
    )
    handed_out(folder, "top.trackrules")
    made = (folder / "out" / "top-sheet.md").read_text()
    assert ("StVZO" in made) == (source is not None and "StVZO" in source)
    assert (source is None) == ("**Source:**" not in made)
    assert source is None or source in made
