"""The declaration in the page: tokens.js, entries.js and declaration.js read as Python does."""

import tomllib
from collections import Counter
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from form.conftest import Call
from form.declarations import RULES, TARN_HOLLOW, form_of, texts
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

import trackprep
from trackprep.backends.page import plain_day, plain_values
from trackprep.declarations.reading import _day
from trackprep.problems import Problem
from trackprep.published import rulesets_folder
from trackprep.rider.asking_text import declared_text, not_known
from trackprep.rules.declaring import declared_values
from trackprep.rules.model import Rules
from trackprep.rules.reading import Fault
from trackprep.rules.values import Value
from trackprep.source import Source
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.words import RESERVED, STATEMENTS
from trackprep.units import SPELLINGS

RIDERS = sorted(rulesets_folder().glob("*.rider"))
CONFORMANCE = Path(__file__).parent.parent / "conformance" / "good"
TOPICS = ["as-typed", "answers", "choices", "counts", "dates", "exactness", "flags", "grades",
          "levels", "sets", "temperatures"]  # fmt: skip


def python_reading(text: str, rules: Rules) -> dict[str, Any]:
    """What the readers in Python make of a text."""
    parsed = parse_rider(Source("<text>", text))
    known = [entry for entry in parsed.tree.entries if entry.path in rules.facts]
    lines = [problem.place.line for problem in parsed.problems if problem.place]

    def tell(index: int, fault: Fault, *, at_value: bool) -> None:
        entry = known[index]
        place = entry.path_place
        if at_value and fault.member is not None:
            place = entry.values[fault.member].place
        elif at_value and entry.values:
            place = entry.values[0].place
        lines.append(place.line)

    values = declared_values(rules, ((e.path, e.values) for e in known), tell)
    wrong: list[Problem] = []
    declared_on = parsed.tree.declared_on
    declared = _day(declared_on, wrong) if declared_on else None
    lines += [problem.place.line for problem in wrong if problem.place]
    return {
        "title": parsed.tree.title,
        "declaredOn": plain_day(declared) if declared and not wrong else None,
        "values": plain_values(values),
        "spelled": _spelled(text, values),
        "lines": sorted(lines),
        "strangers": [
            [entry.path, entry.path_place.line]
            for entry in parsed.tree.entries
            if entry.path not in rules.facts
        ],
        "notKnown": list(not_known(text)),
    }


def _spelled(text: str, values: Mapping[str, Value]) -> dict[str, str]:
    """How the values are spelled, but of what is declared anew after a value that is none."""
    entries = parse_rider(Source("<text>", text)).tree.entries
    once = Counter(entry.path for entry in entries)
    return {path: declared_text(text, path) for path in values if once[path] == 1}


READ = """(texts, form) => texts.map((text) => {
  const read = readDeclaration(text, form);
  const { title, declaredOn, given, strangers, problems, notKnown } = read;
  const values = plainValues(read);
  const good = [...given].filter(([path]) => path in values);
  const spelled = Object.fromEntries(good.map(([path, { written }]) => [path, written]));
  return {
    title, declaredOn, values, notKnown, spelled, lines: problems.map(({ line }) => line),
    strangers: strangers.map(({ path, line }) => [path, line]),
    said: problems.every(({ message }) => typeof message === "string" && message.endsWith(".")),
  };
})"""


def assert_read_alike(call: Call, texts: list[str], rules: Rules) -> None:
    for text, read in zip(texts, call(READ, texts, form_of(rules)), strict=True):
        assert read.pop("said"), text[:1000]
        expected = python_reading(text, rules)
        read["spelled"] = {path: read["spelled"].get(path) for path in expected["spelled"]}
        assert read == expected, text[:1000]


@pytest.mark.parametrize("path", RIDERS, ids=lambda path: path.stem)
def test_a_demo_rider_reads_the_same(call: Call, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert_read_alike(call, [text, text.replace("\n", "\r\n"), "\ufeff" + text], TARN_HOLLOW)


@pytest.mark.parametrize("topic", TOPICS)
def test_conformance_declarations_read_the_same(call: Call, topic: str) -> None:
    suite = tomllib.loads(CONFORMANCE.joinpath(f"{topic}.toml").read_text(encoding="utf-8"))
    rules = trackprep.parse_ruleset(suite["rules"]).rules
    texts = [case["declaration"] for case in suite["case"] if "declaration" in case]
    assert texts
    assert_read_alike(call, texts, rules)


@settings(max_examples=100 if THOROUGH else 15)
@given(st.lists(texts, min_size=10, max_size=30))
def test_any_text_reads_the_same(call: Call, written: list[str]) -> None:
    assert_read_alike(call, written, RULES)


def test_the_words_and_units_are_those_of_the_language(call: Call) -> None:
    usual, reserved, statements = call(
        "() => [[...USUAL_UNITS], [...RESERVED_WORDS], [...STATEMENT_WORDS]]"
    )
    assert dict(usual) == {spelling: unit.name for spelling, unit in SPELLINGS.items()}
    assert set(reserved) == RESERVED
    assert set(statements) == STATEMENTS


BOUNDS = {
    "a text": "x" * 2_000_001,
    "a word": "passenger is yes\nhelmet.shell is " + "a-" * 3000 + "a\npassenger is no\n",
    "a path": "a" + ".b" * 300_000 + " is yes\npassenger is yes\n",
    "a string": 'declaration "' + "\\\\" * 200_000 + '"\npassenger is yes\n',
    "an open string": 'declaration "' + "\\\\" * 200_000 + "\npassenger is yes\n",
    "digits": "gloves.cuff-overlap is " + "1" * 900_000 + " mm\npassenger is yes\n",
    "groups of digits": "gloves.cuff-overlap is " + "100 " * 300_000 + "\npassenger is yes\n",
    "points": "gloves.cuff-overlap is " + "1.1" * 300_000 + "\npassenger is yes\n",
    "spaces": " " * 200_000 + "passenger is yes" + " " * 200_000 + "no\n",
    "lines": "\n" * 200_000 + "passenger is yes",
    "a comment": "#" * 900_000 + "\npassenger is yes",
    "words": "passenger is yes\n" + "yes " * 210_000,
    "entries": "some.stranger is yes\n" * 5_000 + "passenger is yes\npassenger is yes\n",
    "a list": "suit.armour is elbows" + ",\nelbows" * 5_000,
    "mistakes": "passenger is yes\n" + "helmet.shell is\n" * 5_000,
    "notes": "# not known: passenger\n" * 20_000,
    "hyphens": "helmet.shell is " + "-" * 20_000,
    "brackets": "helmet.shell is " + "(" * 20_000,
    "letters": "é" * 100_000 + "\npassenger is yes",
    "astral letters": "\U00020000" * 50_000 + "\npassenger is yes",
}


@pytest.mark.parametrize("what", BOUNDS)
def test_a_text_beyond_bounds_reads_the_same(call: Call, what: str) -> None:
    assert_read_alike(call, [BOUNDS[what]], RULES)
