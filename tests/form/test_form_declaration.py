"""The declaration in the page: declaration.js makes what the readers and edits in Python make."""

import tomllib
from collections import Counter
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from attrs import evolve
from form.conftest import Call
from hypothesis import given, settings
from hypothesis import strategies as st

import trackprep
from trackprep.backends.page import plain_day, plain_values
from trackprep.declarations.reading import _day
from trackprep.problems import Problem
from trackprep.published import rulesets_folder
from trackprep.publishing.form.units import plain_units
from trackprep.rider.asking_answers import reply
from trackprep.rider.asking_text import (
    declared_text,
    not_known,
    with_answer,
    with_note,
    without_note,
)
from trackprep.rules.declaring import declared_values
from trackprep.rules.model import Choice, Choosing, Dated, Fact, FreeText, Measured, Rules, YesOrNo
from trackprep.rules.reading import Fault
from trackprep.rules.values import Value
from trackprep.source import Source
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.words import RESERVED, STATEMENTS
from trackprep.units import SPELLINGS

DAY = date(2026, 6, 20)
RIDERS = sorted(rulesets_folder().glob("*.rider"))
TARN_HOLLOW = trackprep.read_ruleset("tarn-hollow").rules
CONFORMANCE = Path(__file__).parent.parent / "conformance" / "good"
TOPICS = ["as-typed", "answers", "choices", "counts", "dates", "exactness", "flags", "grades",
          "levels", "sets", "temperatures"]  # fmt: skip


# ---- both sides in one form ---------------------------------------------------


def form_of(rules: Rules) -> dict[str, Any]:
    """The form of every fact that the rules know, of which nothing is left out."""
    units = {fact.type.unit for fact in rules.facts.values() if isinstance(fact.type, Measured)}
    return {
        "facts": [plain_fact(fact) for fact in rules.facts.values()],
        "units": plain_units(one for one in units if one.name),
    }


def plain_fact(fact: Fact) -> dict[str, Any]:
    plain: dict[str, Any] = {"path": fact.path, "label": fact.label}
    match fact.type:
        case Choosing(how, choices):
            listed = [[choice.word, choice.spoken, list(choice.also)] for choice in choices]
            plain |= {"kind": how, "choices": listed}
        case Measured(its_unit, low, high, whole):
            ends = {"low": low, "high": high}
            texts = {key: str(end) for key, end in ends.items() if end is not None}
            plain |= {"kind": "number", "unit": its_unit.name, "whole": whole, **texts}
        case Dated(how):
            plain["kind"] = how
        case YesOrNo():
            plain["kind"] = "yes or no"
        case FreeText():
            plain["kind"] = "text"
    return plain


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


# ---- reading --------------------------------------------------------------------


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


WORDS = """
declaration "Somebody" "„quoted“" "a \\"b\\" \\\\ c" "open declared on 2026-06-10 2026-06 2026-13-01
is none yes no YES it , ,\n # helmet.shell helmet.made suit.armour gloves.cuff-overlap
rider.track-days passenger tyre.front.built note.free some.stranger full-face Full Face
shoulders elbows knees "full-face" "ECE 22.06" helmet.labels 62 mm 62mm 6.2 cm 2 1/2 mm 1/0
- 3 -3 −3 3,5 1 000 2323 "2323" 2023-04 2023-4-1 true "Yes" not any rule require and of at least
row 3 m 5 fl. oz °C 20 degC 3 psi ( ) [ = @ é ² a_b a.b. a.* 'x' "" “x” „x“ # not known:
"""
PIECES = [*WORDS.split(), "\n", "\n", "\n", "\r\n", "\t", "\u00a0", "\v", " # said\n", "# c\n",
          "\n# not known: helmet.made\n", "#helmet.made is\n", "\n#helmet.shell is\n"]  # fmt: skip
FACTS = [
    "helmet.shell", "helmet.made", "helmet.labels", "suit.armour", "gloves.cuff-overlap",
    "rider.track-days", "passenger", "tyre.front.built", "rider.note", "some.stranger", "row",
]  # fmt: skip
VALUES = [
    "full-face", "Full-Face", "full face", '"full-face"', "none", "yes", "no", "true", '"no"',
    "2023-04", "2023-04-17", "2023", "2023-4-17", "17.4.2023", "2319", '"2319"', "5419", "-5",
    "shoulders, elbows", "shoulders,\n  elbows  # both\n", "shoulders, shoulders", "shoulders,",
    "62 mm", "62mm", "6.2 cm", "2 1/2 in", "62", "3 psi", "900 km", "7", "7.0", "- 7", "−7 mm",
    '"ECE 22.06"', '"ECE 22.06", "ECE 22.05"', '"a \\"b\\" \\\\"', '"open', "20 °C", "1 000", "any",
    "it", "declared", "2 fl. oz", "2 inches", "", "shoulders,\n\n# c\n elbows", "1/0 mm", "in", "m",
]  # fmt: skip
UNREADABLE = ["Full-Face", "17.4.2023", "shoulders,", '"open', "1 000", "any", "it", "",
              "1/0 mm", "in", "full face", "declared"]  # fmt: skip
LINE_ENDS = ["\n", "\r\n", "  # said\n", "\n\n", " \n"]
ENDS = ["\n", "\r\n", "  # said\n", " ", " , ", "\n\n", "\n\t", "\n\u00a0", "#\r\n"]
HEADS = ['declaration "A"', 'declaration "A" "B"', "declaration A", "declared on 2026-06-10",
         "declared on 2026-06", "declared on 10", "# not known: helmet.made", "#passenger is",
         "rule x", "DECLARED ON 2026-06-10"]  # fmt: skip

entries = st.builds(
    "{}{}{}{}".format,
    st.sampled_from([*FACTS, *(fact.upper() for fact in FACTS[:3])]),
    st.sampled_from([" is ", " is ", " is ", "  IS\t", " is\n", " ", " = "]),
    st.sampled_from(VALUES),
    st.sampled_from(ENDS),
)
heads = st.builds("{}{}".format, st.sampled_from(HEADS), st.sampled_from(ENDS))
declarations = st.lists(entries | entries | entries | heads, max_size=9).map("".join)
jumbles = st.lists(st.sampled_from(PIECES), max_size=25).map(" ".join)
texts = declarations | jumbles | st.builds("{}{}".format, declarations, jumbles) | st.text()


def with_note_fact(rules: Rules) -> Rules:
    """The rules with a fact of free text, which no shipped vocabulary has."""
    free = Fact("rider.note", "Note", FreeText())
    return evolve(rules, facts={**rules.facts, "rider.note": free, "row": evolve(free, path="row")})


RULES = with_note_fact(TARN_HOLLOW)


@settings(max_examples=30)
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


# ---- edits ----------------------------------------------------------------------

EDITED = """(cases) => cases.map(([text, path, written, others]) => {
  const near = new Set(others);
  return [
    withAnswer(text, path, written, near), withNote(text, path, near), withoutNote(text, path),
    declaredText(text, path), notKnown(text),
  ];
})"""
EDITED_LINES = [
    "helmet.shell is full-face",
    "HELMET.Made is 2023",
    "# not known: helmet.made",
    "passenger is no",
    "#helmet.shell is",
    "  #  helmet.made  is  ",
    "\t# Not known:  HELMET.SHELL ",
    "#helmet.made is 20",
    "passenger is no  # said",
    "some.stranger is 1 helmet.made is 2023-01",
    "# not known: passenger",
    "",
    "# not known: helmet.made # really",
    "suit.armour is elbows,\n  # c\n  knees",
    "# c",
]
edited_texts = st.lists(
    st.sampled_from(EDITED_LINES).flatmap(
        lambda line: st.sampled_from(["\n", "\n", "\r\n", "\n\n", "\r\n\r\n"]).map(line.__add__)
    ),
    max_size=7,
).map("".join)
edits = st.tuples(
    edited_texts | edited_texts.map(str.rstrip) | texts,
    st.sampled_from(["helmet.shell", "helmet.made", "suit.armour"]),
    st.sampled_from(["yes", "62 mm", '"a # b"', "none  # said", "a, b"]),
    st.sampled_from([[], ["passenger"], ["helmet.shell", "helmet.made"], FACTS]),
)


@settings(max_examples=25)
@given(st.lists(edits, min_size=10, max_size=30))
def test_edits_leave_the_same_text(
    call: Call, cases: list[tuple[str, str, str, list[str]]]
) -> None:
    for (text, path, written, near), edited in zip(cases, call(EDITED, cases), strict=True):
        assert edited == [
            with_answer(text, path, written, near),
            with_note(text, path, near),
            without_note(text, path),
            declared_text(text, path),
            list(not_known(text)),
        ], text


WITHOUT = "(cases) => cases.map(([text, path]) => withoutAnswer(text, path))"
SOUND = [value for value in VALUES if value not in UNREADABLE]
sound_entries = st.builds(
    "{}{} is {}{}".format,
    st.sampled_from(["", "", "  ", "# c\n", "\ufeff"]),
    st.sampled_from(FACTS),
    st.sampled_from(SOUND),
    st.sampled_from([*LINE_ENDS, *LINE_ENDS, " "]),
)
sound_texts = st.lists(sound_entries, max_size=8).map("".join)


@settings(max_examples=25)
@given(st.lists(st.tuples(sound_texts, st.sampled_from(FACTS)), min_size=15, max_size=30))
def test_an_answer_taken_back_leaves_all_else(call: Call, cases: list[tuple[str, str]]) -> None:
    for (text, path), left in zip(cases, call(WITHOUT, cases), strict=True):
        before, after = (parse_rider(Source("<text>", one)) for one in (text, left))
        if before.problems:  # `a is 3 in` and the like
            continue
        assert not after.problems, (text, left)
        kept = [(e.path, e.values) for e in before.tree.entries if e.path != path]
        assert [(e.path, e.values) for e in after.tree.entries] == kept, (text, left)
        assert [c.text for c in after.comments] == [c.text for c in before.comments], (text, left)
        if len(kept) == len(before.tree.entries):
            assert left == text


@settings(max_examples=25)
@given(st.lists(texts, min_size=15, max_size=30))
def test_nothing_is_taken_back_with_an_answer_that_is_not_there(
    call: Call, written: list[str]
) -> None:
    cases = [[text, "never.declared"] for text in written]
    assert call(WITHOUT, cases) == written


def test_an_answer_is_taken_back_with_its_line(call: Call) -> None:
    table = [
        ("a is 3\nb is 4\nc is 5\n", "a is 3\nc is 5\n"),
        ("b is 4", ""),
        ("a is 3\r\n  b is 4 \r\n\r\nc is 5", "a is 3\r\n\r\nc is 5"),
        ("a is 3\nb is 4  # four\nc is 5", "a is 3\n# four\nc is 5"),
        ("a is 3 b is 4 c is 5", "a is 3 c is 5"),
        ("b is x, # one\n y # two\nc is 5", "# one\n# two\nc is 5"),
        ("b is 4\n# b\nb is 4\n", "# b\n"),
    ]
    assert call(WITHOUT, [[text, "b"] for text, _ in table]) == [left for _, left in table]


HEADED = """(cases) => cases.map(([text, title, day]) => {
  const both = withDeclaredOn(withTitle(text, title), day);
  const { title: read, declaredOn } = readDeclaration(both, { facts: [], units: {} });
  return [both, read, declaredOn];
})"""


@settings(max_examples=25)
@given(st.lists(st.tuples(texts, st.text(), st.dates(date(1900, 1, 1), date(2199, 1, 1))),
                min_size=5, max_size=20))  # fmt: skip
def test_title_and_day_are_read_back(call: Call, cases: list[tuple[str, str, date]]) -> None:
    given_cases = [(text, title, plain_day(day)) for text, title, day in cases]
    for (text, title, day), (both, read, declared) in zip(
        given_cases, call(HEADED, given_cases), strict=True
    ):
        before, after = (parse_rider(Source("<text>", one)) for one in (text, both))
        if before.problems:
            continue
        assert not after.problems, both
        assert (read or "").split() == title.split()
        assert declared == day
        assert after.tree.entries == before.tree.entries
        assert [c.text for c in after.comments] == [c.text for c in before.comments]


def test_title_and_day_stand_at_the_top(call: Call) -> None:
    day = plain_day(date(2026, 6, 10))
    headed = 'declaration "A \\"b\\""\ndeclared on 2026-06-10\n'
    table = [
        ("", headed),
        ("# c\na is 3\n", f"{headed}\n# c\na is 3\n"),
        ('# c\ndeclaration "B"  # b\na is 3', '# c\ndeclaration "A \\"b\\""\n'
         "declared on 2026-06-10  # b\na is 3"),
        ("declared on 2025-01-01\n", headed),
    ]  # fmt: skip
    answers = call(HEADED, [[text, 'A "b"', day] for text, _ in table])
    assert [both for both, *_ in answers] == [both for _, both in table]
    taken = "text => withDeclaredOn(withTitle(text, ' '), null)"
    assert call(taken, f"# a\n{headed}\nb is 3\n") == "# a\n\nb is 3\n"
    assert call(taken, "# a\n") == "# a\n"


# ---- answers ----------------------------------------------------------------------

ANSWERED = """(cases, form, day) => cases.map(([path, typed]) => {
  const { written, plain, problem } = readAnswer(factsByPath(form).get(path), typed, form, day);
  return problem ? null : [written, plain];
})"""


def assert_answered_alike(call: Call, cases: list[tuple[str, str]]) -> None:
    read = call(ANSWERED, cases, form_of(RULES), plain_day(DAY))
    for (path, typed), found in zip(cases, read, strict=True):
        expected = reply([RULES.facts[path]], typed, DAY)
        if isinstance(expected, Problem):
            assert found is None, (path, typed, expected.message)
        else:
            plain = plain_values({path: expected.value})[path]
            assert found == [expected.written, plain], (path, typed)


def choosing() -> list[tuple[str, str]]:
    """Every choice of every fact as its word, its label and its other names."""
    return [
        (path, spelled)
        for path, fact in RULES.facts.items()
        if isinstance(fact.type, Choosing)
        for choice in fact.type.choices
        for name in (choice.word, choice.spoken, *choice.also)
        for spelled in (name, name.upper(), f'"{name}"', name.replace("-", " ") + "  # so")
        if not spelled.strip('"').isdigit()
    ]


def test_every_name_of_a_choice_is_an_answer(call: Call) -> None:
    cases = choosing()
    assert len(cases) > 1000
    assert_answered_alike(call, cases)


TYPED = [
    *VALUES, "", " ", "#", "# said", "y", "N", "No.", "nO # said", "Elbows, SHOULDERS",
    "none of them",
    "elbows,,", ", elbows", "elbows # both", "level 1", "April 2023", "17 April 2023", "04/2023",
    "DOT 2319", "2030-01-01", "2026-06-20", "2026-06-21", "2 sets", '"quoted" words', "“curly”",
    "a\\b", 'one "', '"', "it's", "x" * 1001, "x" * 990, '"' * 600, "full-face, full-face",
    "full-face, open-face", "yes passenger is no", "yes, no", "nonsense", "a # b", "é", "⅔",
]  # fmt: skip
NOT_NUMBERED = [typed for typed in TYPED if not typed.strip().strip('"').isdigit()]


def test_answers_of_every_kind_are_spelled_the_same(call: Call) -> None:
    asked = [path for path in FACTS if path in RULES.facts]
    assert {RULES.facts[path].type.__class__ for path in asked} >= {
        Choosing, Dated, FreeText, Measured, YesOrNo,
    }  # fmt: skip
    cases = [
        (path, typed)
        for path in asked
        for typed in (NOT_NUMBERED if isinstance(RULES.facts[path].type, Choosing) else TYPED)
        if "\n" not in typed
    ]
    assert_answered_alike(call, cases)


@settings(max_examples=25)
@given(st.lists(st.text(max_size=12), min_size=20, max_size=40))
def test_any_words_are_an_answer(call: Call, typed: list[str]) -> None:
    lines = [one for one in typed if "\n" not in one and "\r" not in one]
    assert_answered_alike(call, [("rider.note", one) for one in lines])


def test_a_name_of_two_choices_is_asked_again(call: Call) -> None:
    choices = (Choice("front", also=("near",)), Choice("rear", also=("Near",)))
    fact = plain_fact(Fact("a.b", "A", Choosing("one of", choices)))
    form = {"facts": [fact], "units": {}}
    read = call("(fact, form) => readAnswer(fact, 'near', form, 1)", fact, form)
    assert read == {"problem": "`near` may be more than one of them: write `front` or `rear`."}
