"""The language reference keeps its word: every fenced block of it is run.

What follows the three backticks says what a block is:

| words | the block is |
|---|---|
| `trackrules` | a whole rule file, which compiles alone |
| `trackrules NAME.trackrules` | the same, and the blocks around it find it under that name |
| `trackrules fragment` | statements that compile under a heading |
| `trackrules in a rule` | lines that compile within a rule |
| `trackrules wrong` | a fragment with one mistake; the next block has its message |
| `trackrules wrong in a rule` | the same for lines in a rule |
| `rider`, `toml`, `json` | a declaration for the ruleset before it |
| `rider NAME.rider` | the same, and examples find it under that name |
| `rider wrong` | the same with one mistake; the next block has its message |
| `answers DATE` | what the declaration before it is answered on that day |
| `text` | the whole message about the block before it |

Examples within a block are run as well.
"""

import json
import re
import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from attrs import frozen

import trackprep
from trackprep import enclosures
from trackprep.analysis.advice import ADVICE
from trackprep.cli.main import main
from trackprep.declarations import mappings
from trackprep.rules import checking, files, loading, reporting, sections, tables, weighing
from trackprep.rules.acceptances import WEIGHTS
from trackprep.syntax import tokens
from trackprep.syntax.words import RESERVED
from trackprep.units import MOST_DIGITS, SPELLINGS

GRAMMAR = Path(__file__).parents[1] / "grammar"
REFERENCE = (GRAMMAR / "REFERENCE.md").read_text(encoding="utf-8")
RULES_NAME, RIDER_NAME = "my-day.trackrules", "sam.rider"
HEADING = 'ruleset my-day "My day"\n  valid from 2026-01-01 to 2026-12-31\n\n'
IN_A_RULE = HEADING + 'rule shown "Shown"\n'
ANY_RULESET = HEADING + 'rule shown "Shown"\n  require helmet.shell is full-face\n'


@frozen
class Block:
    """A fenced block: its info string, its text, and the line that it starts on."""

    info: str
    text: str
    line: int
    number: int

    @property
    def language(self) -> str:
        return self.info.split()[0]

    @property
    def wrong(self) -> bool:
        return "wrong" in self.info.split()

    @property
    def file(self) -> str | None:
        """The name under which other blocks find it."""
        name = self.info.split()[-1]
        return name if name.endswith((".trackrules", ".rider")) else None

    @property
    def whole(self) -> str:
        """The text of the file that the block stands for."""
        if self.info.endswith("in a rule"):
            return IN_A_RULE + self.text
        if self.info in ("trackrules fragment", "trackrules wrong"):
            return HEADING + self.text
        return self.text


def fenced(text: str) -> Iterator[Block]:
    blocks = re.finditer(r"^```(\S.*)\n((?:(?!```).*\n)*)```$", text, re.MULTILINE)
    for number, found in enumerate(blocks):
        yield Block(found[1], found[2], text.count("\n", 0, found.start()) + 1, number)


BLOCKS = tuple(fenced(REFERENCE))
LANGUAGES = ("trackrules", "rider", "toml", "json", "answers", "text")


def each(*languages: str, wrong: bool = False) -> pytest.MarkDecorator:
    chosen = [b for b in BLOCKS if b.language in languages and b.wrong is wrong]
    return pytest.mark.parametrize("block", chosen, ids=lambda b: f"line {b.line}, {b.info}")


def before(block: Block, *languages: str) -> Block:
    """The nearest correct block of the languages before this one."""
    earlier = reversed(BLOCKS[: block.number])
    return next(b for b in earlier if b.language in languages and not b.wrong)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every block that has a file name."""
    made = tmp_path_factory.mktemp("reference")
    for block in BLOCKS:
        if block.file:
            (made / block.file).write_text(block.text, encoding="utf-8")
    return made


@cache
def ruleset_of(text: str, folder: Path) -> trackprep.Ruleset:
    return trackprep.parse_ruleset(text, name=RULES_NAME, folder=folder)


def declaration_of(block: Block, folder: Path) -> trackprep.Declaration:
    ruleset = ruleset_of(before(block, "trackrules").whole, folder)
    readers: dict[str, Any] = {"rider": str, "toml": tomllib.loads, "json": json.loads}
    return trackprep.parse_declaration(readers[block.language](block.text), ruleset)


def one_message(error: trackprep.RulesetError | trackprep.DeclarationError) -> str:
    assert len(error.problems) == 1, str(error)
    return str(error.problems[0])


# ---- the blocks -------------------------------------------------------------


def test_every_block_says_what_it_is() -> None:
    assert REFERENCE.count("\n```") == 2 * len(BLOCKS)
    assert {block.language for block in BLOCKS} == set(LANGUAGES)


@each("trackrules")
def test_rules_compile(block: Block, folder: Path) -> None:
    if block.text.startswith("vocabulary"):
        user = f'ruleset user "User"\nuse "{block.file}"\n'
        ruleset_of(user, folder)
    else:
        ruleset_of(block.whole, folder)


@each("rider", "toml", "json")
def test_declarations_are_read(block: Block, folder: Path) -> None:
    declared = declaration_of(block, folder)
    assert declared.values


@each("answers")
def test_answers_come_as_written(block: Block, folder: Path) -> None:
    declared = before(block, "rider", "toml", "json")
    ruleset = ruleset_of(before(declared, "trackrules").whole, folder)
    event = date.fromisoformat(block.info.split()[1])
    report = ruleset.check(declaration_of(declared, folder), on=event)
    given = {answer.rule: answer for answer in report.answers}
    *lines, verdict = block.text.splitlines()
    assert report.verdict == verdict.replace(" ", "-")
    for line in lines:
        rule, status, missing = re.fullmatch(
            r"(\S+) is ([a-z ]+)(?:: declare (.*))?", line
        ).groups()  # type: ignore[union-attr]
        assert given[rule].status == status.replace(" ", "-"), line
        assert ", ".join(given[rule].declare) == (missing or ""), line


EXAMPLE = re.compile(
    r'^example (?P<title>".*?")(?: from "(?P<file>.*?)")?(?: on (?P<on>\S+))?\n'
    r"(?P<lines>(?: +.*\n)*)",
    re.MULTILINE,
)
EXAMPLES = [
    pytest.param(block, found, id=f"line {block.line}, {found['title']}")
    for block in BLOCKS
    if block.language == "trackrules" and not block.wrong
    for found in EXAMPLE.finditer(block.text)
]


@pytest.mark.parametrize(("block", "example"), EXAMPLES)
def test_examples_come_out_as_written(block: Block, example: re.Match[str], folder: Path) -> None:
    lines = [line.strip() for line in example["lines"].splitlines()]
    declared = [line.removeprefix("declare ") for line in lines if line.startswith("declare ")]
    if example["file"]:
        stated = {line.split()[0] for line in declared}
        base = (folder / example["file"]).read_text(encoding="utf-8").splitlines()
        declared = [line for line in base if line.split()[0] not in stated] + declared
    ruleset = ruleset_of(block.whole, folder)
    first = re.search(r"valid from (\S+)", block.whole)
    event = date.fromisoformat(example["on"] or (first or ["", ""])[1])
    report = ruleset.check(trackprep.parse_declaration("\n".join(declared), ruleset), on=event)
    status = {answer.rule: answer.status for answer in report.answers}
    expected = [line.removeprefix("expect ") for line in lines if line.startswith("expect ")]
    assert expected
    for line in expected:
        rule, _, outcome = line.rpartition(" is ")
        came = status[rule] if rule else report.verdict
        assert came == outcome.replace(" ", "-"), line


@each("trackrules", wrong=True)
def test_wrong_rules_get_the_message_shown(block: Block, folder: Path) -> None:
    with pytest.raises(trackprep.RulesetError) as caught:
        ruleset_of(block.whole, folder)
    assert one_message(caught.value) + "\n" == message_of(block)


@each("rider", wrong=True)
def test_wrong_declarations_get_the_message_shown(
    block: Block, folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    Path(RIDER_NAME).write_text(block.text, encoding="utf-8")
    with pytest.raises(trackprep.DeclarationError) as caught:
        trackprep.read_declaration(RIDER_NAME, ruleset_of(ANY_RULESET, folder))
    assert one_message(caught.value) + "\n" == message_of(block)


def message_of(block: Block) -> str:
    message = BLOCKS[block.number + 1]
    assert message.language == "text", "a wrong block without a message"
    return message.text


# ---- the tables -------------------------------------------------------------


def rows_under(heading: str, columns: str) -> list[list[str]]:
    """The rows of the first table with these columns below a heading, without their backticks."""
    part = REFERENCE.split(f"\n{heading}\n", 1)[1]
    part = part.split(f"\n{columns}\n", 1)[1]
    rows = []
    for line in part.splitlines()[1:]:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in re.split(r"(?<!\\)\|", line)[1:-1]])
    return rows


def slips(sentence: str) -> list[tuple[str, str]]:
    """The pairs of the table below a sentence: what somebody wrote, and what is right."""
    table = REFERENCE.split(f"\n{sentence}\n\n", 1)[1].split("\n\n")[0]
    return [(line.split("`")[1], line.split("`")[3]) for line in table.splitlines()[2:]]


def leads_to(
    right: str, slip: str, error: trackprep.RulesetError | trackprep.DeclarationError
) -> bool:
    """Whether the one message says something of the right form that the slip lacks, if anything."""
    above, _, below = one_message(error).partition(" | " + " " * 2)
    wanted = set(words_of(right)) - set(words_of(slip))
    return not wanted or bool(wanted & set(words_of(above + below)))


def words_of(text: str) -> list[str]:
    return re.findall(r"[^\s`,()]+", text)


@pytest.mark.parametrize(("slip", "right"), slips("In a rule file:"))
def test_each_slip_in_a_rule_is_found_and_its_right_form_read(
    slip: str, right: str, folder: Path
) -> None:
    demands = right.startswith(("require", "recommend"))
    start = IN_A_RULE if demands else ANY_RULESET
    ruleset_of(f"{start}  {right}\n", folder)
    with pytest.raises(trackprep.RulesetError) as caught:
        ruleset_of(f"{start}  {slip}\n", folder)
    assert leads_to(right, slip, caught.value)


@pytest.mark.parametrize(("slip", "right"), slips("In a rider's file:"))
def test_each_slip_of_a_rider_is_found_and_its_right_form_read(
    slip: str, right: str, folder: Path
) -> None:
    ruleset = ruleset_of(ANY_RULESET, folder)
    trackprep.parse_declaration(right, ruleset)
    with pytest.raises(trackprep.DeclarationError) as caught:
        trackprep.parse_declaration(slip, ruleset)
    assert leads_to(right, slip, caught.value)


def test_the_units_listed_are_those_that_are_read() -> None:
    rows = rows_under("## Units", "| unit | also read | measures |")
    listed = {
        name.strip("`"): (set(re.findall("`(.*?)`", others)), measures)
        for name, others, measures in rows
    }
    read = {
        unit.name: (
            {spelling for spelling, its in SPELLINGS.items() if its is unit} - {unit.name},
            unit.dimension.words,
        )
        for unit in SPELLINGS.values()
    }
    assert listed == read


def test_the_reserved_words_listed_are_those_of_the_language() -> None:
    part = REFERENCE.split("\n## Reserved words\n", 1)[1].split("\n\n")
    paragraph = next(p for p in part if re.fullmatch(r"(`[a-z]+`\s*)+", p))
    assert set(re.findall("[a-z]+", paragraph)) == RESERVED


def test_the_bounds_listed_are_those_that_are_kept() -> None:
    listed = {
        row[0]: int(row[1].replace(",", ""))
        for row in rows_under("## Bounds on files", "| bound | most |")
    }
    assert listed == {
        "bytes in a file": files.LARGEST_FILE,
        "characters in a text": tokens.LONGEST_TEXT,
        "words, numbers and signs in a file": tokens.MOST_TOKENS,
        "characters in one word, path or text in quotes": tokens.LONGEST_TOKEN,
        "digits in a number": MOST_DIGITS,
        "brackets and `not`s open at once": tokens.DEEPEST,
        "files that one ruleset reads, with all they name": loading.MOST_FILES,
        "files deep by `use` and `supplements`": loading.DEEPEST,
        "tables deep in TOML and JSON": mappings.DEEPEST,
        "messages shown of one ruleset": reporting.MOST_PROBLEMS,
        "terms in one sum or product, values in one `minimum` or `maximum`": weighing.MOST_TERMS,
        "rows in one table": tables.MOST_ROWS,
        "power of ten, up or down": enclosures.LARGEST_POWER,
        "parts in one condition, derived facts and formulas written out": weighing.HEAVIEST,
        "parts in one condition, one in another": weighing.DEEPEST_PARTS,
        "tests in a ruleset": weighing.MOST_TESTS,
        "parts in one rule `for each of`": sections.MOST_PARTS,
        "combinations of rows in one test": checking.MOST_ROWS,
        "derived facts, formulas, or limits by rows, one of another": checking.DEEPEST,
        "values in a declaration from TOML, JSON or Python": mappings.MOST_ENTRIES,
    }


KEYWORDS = sorted(
    set(
        re.findall(
            r'"([a-z][a-z ]*)"',
            re.sub("//.*", "", (GRAMMAR / "trackrules.lark").read_text(encoding="utf-8")),
        )
    )
)


@pytest.mark.parametrize("keyword", KEYWORDS)
def test_every_keyword_of_the_grammar_stands_in_a_block_that_is_read(keyword: str) -> None:
    assert re.search(rf"(?<![\w.-]){keyword}(?![\w.-])", bare_words())


@cache
def bare_words() -> str:
    """All correct blocks of the language, without strings and comments, with single spaces."""
    text = "\n".join(
        block.text
        for block in BLOCKS
        if block.language in ("trackrules", "rider") and not block.wrong
    )
    text = re.sub(r'"(?:\\.|[^"\\])*"|#.*', " ", text)
    return re.sub(r"\s+", " ", text).lower()


# ---- what proofread finds ---------------------------------------------------


def pages() -> dict[str, str]:
    """The page of each finding, on one line."""
    part = REFERENCE.split("\n## What proofread finds\n", 1)[1].split("\n## ")[0]
    found = re.split(r"^### `([a-z-]+)`$", part, flags=re.MULTILINE)[1:]
    return {
        name: " ".join(page.split()) for name, page in zip(found[::2], found[1::2], strict=True)
    }


@pytest.mark.parametrize("name", WEIGHTS)
def test_each_finding_has_a_page_that_says_what_proofread_says(name: str) -> None:
    advice = ADVICE[name]
    assert pages()[name] == (
        f"A {WEIGHTS[name]}. {advice.found} Matters because: {advice.because}"
        f" Try: {advice.attempt}."
    )


def test_the_finding_shown_is_what_proofread_prints(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(folder)
    (block,) = [b for b in BLOCKS if b.file == "slack-day.trackrules"]
    assert main(["proofread", block.file or ""]) == 1
    assert capsys.readouterr().out == message_of(block)


def test_every_page_is_of_a_finding() -> None:
    assert list(pages()) == list(WEIGHTS)
