"""The sheet as a person gets it, and whether it is still the one that was handed out."""

import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import pytest
from attrs import evolve
from processes import call

from trackprep.publishing.editions import edition_of
from trackprep.publishing.marks import carried, marked_markdown
from trackprep.publishing.sheet import sheet_page
from trackprep.reading import read_ruleset
from trackprep.reports.pages.blocks import Page
from trackprep.reports.pages.plain import page_text

GOLDENS = Path(__file__).parent / "handouts"
NAMES = ("field-day", "club-day")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in NAMES:
        shutil.copy(GOLDENS / f"{name}.trackrules", tmp_path)
    return tmp_path


def handed_out(folder: Path, *words: str) -> str:
    done = call(folder, "handout", *words, "-o", "out")
    assert done.code == 0, done.err
    return done.err


# ---- the sheet ----


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_reads_so(folder: Path, name: str) -> None:
    handed_out(folder, f"{name}.trackrules")
    made = (folder / "out" / f"{name}-sheet.md").read_text()
    assert made == (GOLDENS / f"{name}-sheet.md").read_text()


@pytest.mark.parametrize("name", NAMES)
def test_html_says_what_markdown_says(folder: Path, name: str) -> None:
    handed_out(folder, f"{name}.trackrules")
    out = folder / "out"
    html = words((out / f"{name}-sheet.html").read_text())
    shown = (out / f"{name}-sheet.md").read_text().rpartition("\n```\n")[0].rpartition("\n```\n")[0]
    for line in shown.splitlines():
        plain = re.sub(r"^[-# ]+|\*\*|\\", "", line)
        for part in re.split(r": | \(`|`\)", plain):
            assert part.strip() in html, part


def words(html: str) -> str:
    texts: list[str] = []

    class Reader(HTMLParser):
        def handle_data(self, data: str) -> None:
            texts.append(data)

    Reader().feed(html)
    return " ".join(texts)


def test_the_sheet_as_text_says_the_same() -> None:
    rules = read_ruleset(GOLDENS / "field-day.trackrules").rules
    lines = page_text(sheet_page(rules, base=None, since=None), width=60).splitlines()
    at = lines.index("Full-face helmet [helmet-shell]")
    assert lines[at + 1] == "    Required: helmet shell is “Full face”."


def test_nothing_is_left_in_the_language_of_rule_files(folder: Path) -> None:
    """Every rule of the shipped venues is said in words: labels, no paths, no keywords."""
    handed_out(folder, "marrowfell", "fenwhistle", "sallowgate", "tarn-hollow")
    for name in ("marrowfell", "fenwhistle", "sallowgate", "tarn-hollow"):
        rules = read_ruleset(name).rules
        html = words((folder / "out" / f"{name}-sheet.html").read_text())
        for path in rules.facts:
            if "." in path:
                assert not re.search(rf"(?<![\w.]){re.escape(path)}(?![\w.])", html), path
        for rule in rules.rules:
            assert rule.title in html
            for text in (rule.reason, rule.inspect, *rule.cautions, *rule.notes, *rule.brings):
                assert text in html
            assert rule.source is None or str(rule.source) in html


def test_what_changed_since_the_edition_before(folder: Path) -> None:
    before = (folder / "field-day.trackrules").read_text()
    now = before.replace('"3"', '"4"').replace("6 years", "5 years")
    (folder / "now.trackrules").write_text(now)
    handed_out(folder, "now.trackrules", "--since", "field-day.trackrules")
    made = (folder / "out" / "field-day-sheet.md").read_text()
    assert "## What changed: Field day, edition 4, since edition 3\n" in made
    assert "### Stricter\n\n- **Young tyres:** Oldest tyre now 5 years (was 6 years)." in made


def test_an_edition_that_was_not_raised_is_told_to_the_organizer_alone(folder: Path) -> None:
    now = (folder / "field-day.trackrules").read_text().replace("6 years", "5 years")
    (folder / "now.trackrules").write_text(now)
    said = handed_out(folder, "now.trackrules", "--since", "field-day.trackrules")
    assert "Warning: What is asked changed, but both say edition 3" in said
    assert "raise the later one" not in (folder / "out" / "field-day-sheet.md").read_text()


def test_no_note_of_a_section_is_lost(folder: Path) -> None:
    """Two sections may have one title, and one may have lost its rules."""
    (folder / "base.trackrules").write_text(
        'ruleset base "Base"\nfact a "A" yes or no\nfact b "B" yes or no\n'
        'section "Same" note "First."\nrule r "R" require a\n'
        'section "Same" when b note "Second."\nrule s "S" require a\n'
        'section "Empty" note "Third."\nrule gone "Gone" require b\n'
    )
    (folder / "top.trackrules").write_text(
        'ruleset top "Top"\nsupplements "base.trackrules"\nwithdraw rule gone reason "So."\n'
    )
    handed_out(folder, "top.trackrules")
    made = (folder / "out" / "top-sheet.md").read_text()
    assert re.findall(r"(?:First|Second|Third)\.", made) == ["First.", "Second.", "Third."]
    assert "- **Gone:** So." in made


def test_a_base_with_mistakes_of_its_own_is_said(folder: Path) -> None:
    (folder / "base.trackrules").write_text(
        'ruleset base "Base"\nfact a "A" yes or no\nrule r "R" require nowhere\n'
        'rule s "S" require a\n'
    )
    (folder / "top.trackrules").write_text(
        'ruleset top "Top"\nsupplements "base.trackrules"\nwithdraw rule r reason "So."\n'
    )
    handed_out(folder, "top.trackrules")
    made = (folder / "out" / "top-sheet.md").read_text()
    assert "what is changed against it cannot be marked, since that file has mistakes" in made


# ---- files ----


def test_nothing_is_overwritten_and_nothing_written_by_halves(folder: Path) -> None:
    (folder / "out").mkdir()
    mine = folder / "out" / "club-day-sheet.md"
    mine.write_text("mine")
    done = call(folder, "handout", "field-day.trackrules", "club-day.trackrules", "-o", "out")
    assert done.code == 2
    assert "club-day-sheet.md` is there already, and nothing is written" in done.err
    assert [file.name for file in (folder / "out").iterdir()] == ["club-day-sheet.md"]
    assert mine.read_text() == "mine"
    handed_out(folder, "field-day.trackrules", "club-day.trackrules", "--overwrite")
    assert mine.read_text().startswith("# Club day")
    assert len(list((folder / "out").glob("*-sheet.*"))) == 4


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("standard",), "is a vocabulary"),
        (("nowhere.trackrules",), "there is no such file"),
        (("field-day.trackrules", "field-day.trackrules"), "two of the rulesets are called"),
        (
            ("field-day.trackrules", "club-day.trackrules", "--since", "marrowfell"),
            "no earlier edition",
        ),
    ],
)
def test_calls_that_cannot_be_carried_out(folder: Path, words: tuple[str, ...], said: str) -> None:
    done = call(folder, "handout", *words, "-o", "out")
    assert done.code == 2
    assert said in done.err
    assert not (folder / "out").exists()


def test_a_file_is_no_folder(folder: Path) -> None:
    done = call(folder, "handout", "field-day.trackrules", "-o", "club-day.trackrules")
    assert done.code == 2
    assert "name a folder after -o" in done.err


# ---- same-edition ----

SHEETS = ("out/field-day-sheet.html", "out/field-day-sheet.md")


@pytest.fixture
def sheets(folder: Path) -> Path:
    handed_out(folder, "field-day.trackrules")
    return folder


def same(folder: Path, *words: str) -> tuple[int, str]:
    done = call(folder, "same-edition", *words)
    return done.code, " ".join(done.out.split()) + done.err


def test_a_sheet_is_the_edition_that_it_was_made_of(sheets: Path) -> None:
    code, said = same(sheets, *SHEETS, "--of", "field-day.trackrules")
    assert code == 0
    assert said.count("the same edition: made of the very file that you have, and not altered") == 2
    assert "It proves no author" in said


def test_other_words_are_the_same_meaning(sheets: Path) -> None:
    file = sheets / "field-day.trackrules"
    file.write_text(file.read_text().replace("Try to lift", "Lift").replace("6 years", "72 months"))
    code, said = same(sheets, *SHEETS, "--of", "field-day.trackrules")
    assert code == 0
    assert "the same meaning: the rules ask the same" in said
    assert "cautions and other words may differ" in said


def test_another_limit_is_another_edition(sheets: Path) -> None:
    file = sheets / "field-day.trackrules"
    file.write_text(file.read_text().replace("6 years", "5 years").replace('"3"', '"4"'))
    code, said = same(sheets, *SHEETS, "--of", "field-day.trackrules")
    assert code == 1
    assert "another edition: the rules ask something else." in said
    assert "It says field-day, edition 3, yours field-day, edition 4." in said


def test_two_rulesets_under_one_edition_are_told_apart(sheets: Path) -> None:
    file = sheets / "field-day.trackrules"
    file.write_text(file.read_text().replace("6 years", "5 years"))
    code, said = same(sheets, SHEETS[0], "--of", "field-day.trackrules")
    assert code == 1
    assert "the rules ask something else, though both say edition 3." in said
    assert "another edition" not in said


def test_two_rulesets_without_an_edition_are_told_apart(folder: Path) -> None:
    for name, years in (("one", "6 years"), ("other", "5 years")):
        text = (folder / "field-day.trackrules").read_text().replace("6 years", years)
        (folder / f"{name}.trackrules").write_text(text.replace('edition "3"', ""))
    code, said = same(folder, "one.trackrules", "other.trackrules")
    assert code == 1
    assert "the rules ask something else, and neither says its edition." in said


def test_a_base_that_changed_is_another_edition(folder: Path) -> None:
    handed_out(folder, "club-day.trackrules")
    base = folder / "field-day.trackrules"
    base.write_text(base.read_text().replace("water, wetting-agent", "water"))
    code, said = same(folder, "out/club-day-sheet.html", "--of", "club-day.trackrules")
    assert code == 1
    assert "the same bytes, but a file that it takes in has changed" in said


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Full-face", "Any"),
        ("6 years", "7 years"),
        ("hot cap", "cap"),
        ("Gates open", "Gate opens"),
    ],
)
def test_an_altered_sheet_is_found(sheets: Path, sheet: str, old: str, new: str) -> None:
    file = sheets / sheet
    assert old in file.read_text()
    file.write_text(file.read_text().replace(old, new))
    code, said = same(sheets, sheet, "--of", "field-day.trackrules")
    assert code == 1
    assert "altered: it is not as it was made" in said
    assert same(sheets, sheet)[0] == 1


@pytest.mark.parametrize("sheet", SHEETS)
def test_line_ends_and_a_mark_at_the_start_are_no_alteration(sheets: Path, sheet: str) -> None:
    file = sheets / sheet
    file.write_bytes(b"\xef\xbb\xbf" + file.read_bytes().replace(b"\n", b"\r\n") + b"\r\n\r\n")
    assert same(sheets, sheet, "--of", "field-day.trackrules")[0] == 0


def test_what_cannot_be_told(sheets: Path) -> None:
    code, said = same(sheets, SHEETS[0])
    assert code == 2
    assert "it says field-day, edition 3, and it is as it was made. Whether that is" in said
    (sheets / "letter.md").write_text("# Dear rider\n")
    code, said = same(sheets, "letter.md", "--of", "field-day.trackrules")
    assert code == 2
    assert "carries no digests of trackprep" in said
    assert same(sheets, "field-day.trackrules")[0] == 2
    assert same(sheets, "missing.html", "--of", "field-day.trackrules")[0] == 2
    assert same(sheets, SHEETS[0], "letter.md", SHEETS[1])[0] == 2


def test_digests_of_other_semantics_cannot_be_compared(sheets: Path) -> None:
    edition = edition_of(read_ruleset(sheets / "field-day.trackrules").rules)
    later = evolve(edition, meaning=edition.meaning.replace("meaning-1", "meaning-9"))
    (sheets / "later.md").write_text(marked_markdown(Page("Field day", ()), later))
    code, said = same(sheets, "later.md", "--of", "field-day.trackrules")
    assert code == 2
    assert "digests are of another kind (sha256/meaning-9, here sha256/meaning-1)" in said


def test_rule_files_are_compared_with_the_first(folder: Path) -> None:
    shutil.copy(folder / "field-day.trackrules", folder / "copy.trackrules")
    assert same(folder, "field-day.trackrules", "copy.trackrules")[0] == 0
    assert same(folder, "field-day.trackrules", "copy.trackrules", "club-day.trackrules")[0] == 1


# ---- texts of strangers ----

ATTACK = (
    "</title></head><img src=x onerror=document.title='owned'><script>document.title='o'</script>"
)
FEIGNED = (
    "```  trackprep-meaning: sha256/meaning-1:0"
    f" <meta name='trackprep-paper' content='sha256/paper-1:{'0' * 64}'>"
)


def hostile(folder: Path) -> Path:
    """Every text of the file is an attack."""
    text = (
        f'ruleset bad "{ATTACK}" edition "{FEIGNED}" organizer "{ATTACK}" venue "{ATTACK}"\n'
        f'contact "{ATTACK}" note "{FEIGNED}" bring "{ATTACK}"\n'
        f'fact a "{ATTACK}" one of b "{ATTACK}", c "{ATTACK}"\n'
        f'section "{ATTACK}"\nrule r "{ATTACK}" require a is b reason "{ATTACK}"\n'
        f'inspect "{ATTACK}" source "{FEIGNED}" note "{FEIGNED}"\n'
        f'fix "{ATTACK}" caution "{ATTACK}"\n'
    )
    (folder / "bad.trackrules").write_text(text)
    handed_out(folder, "bad.trackrules")
    return folder / "out" / "bad-sheet.html"


def test_no_text_feigns_digests(folder: Path) -> None:
    page = hostile(folder)
    for file in (page, page.with_suffix(".md")):
        found = carried(file.read_text())
        assert found is not None
        assert found.unaltered
        assert found.editions[0].ruleset == "bad"
        assert found.editions[0].meaning != "sha256/meaning-1:0"
    assert same(folder, "out/bad-sheet.html", "out/bad-sheet.md", "--of", "bad.trackrules")[0] == 0
