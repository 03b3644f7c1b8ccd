"""`trackprep facts`, `draft` and `blank`, as real processes."""

import json
import re
from pathlib import Path

import pytest
from processes import READY, RULES, call, check

# ---- facts ------------------------------------------------------------------------


def test_facts_lists_only_what_the_rules_ask(folder: Path) -> None:
    result = call(folder, "facts", "field.trackrules")
    assert result.code == 0
    paths = re.findall(r"^  (\S+): ", result.out, re.MULTILINE)
    assert paths == ["helmet.shell", "tyre.front.tread"]
    assert "What kind of helmet will you wear?" in result.out
    assert "mm" in result.out
    assert "full-face" in result.out
    assert "A slick has 0 mm. Takes about 5 min. Answer:" in " ".join(result.out.split())
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


# ---- draft ------------------------------------------------------------------------


@pytest.mark.parametrize("like", [(), ("--like", "common-practice"), ("--like", "tarn-hollow")])
def test_a_draft_is_neat_without_mistakes_and_its_example_comes_true(
    folder: Path, like: tuple[str, ...]
) -> None:
    result = call(folder, "draft", "My day", *like, "-o", "mine.trackrules")
    assert (result.code, result.out) == (0, "")
    assert call(folder, "proofread", "mine.trackrules").code == 0
    assert call(folder, "neaten", "--check", "mine.trackrules").code == 0
    rehearsed = call(folder, "rehearse", "mine.trackrules")
    assert rehearsed.code == 0
    # What has a base asks nothing of its own, and so has nothing to show.
    assert ("there are no examples" if like else "1 of 1 example") in rehearsed.out


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


# ---- blank ------------------------------------------------------------------------


def test_a_blank_reads_back_as_an_empty_declaration(folder: Path) -> None:
    result = call(folder, "blank", "field.trackrules", "-o", "mine.rider")
    assert (result.code, result.out) == (0, "")
    text = (folder / "mine.rider").read_text()
    assert "#helmet.shell is\n" in text
    assert "#tyre.front.tread is\n" in text
    assert "A slick has 0 mm. Takes about 5 min." in " ".join(text.replace("#", "").split())
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
