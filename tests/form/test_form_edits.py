"""Edits of a declaration in the page: edits.js leaves the text that Python leaves."""

from datetime import date

from form.conftest import Call
from form.declarations import FACTS, LINE_ENDS, UNREADABLE, VALUES, texts
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.backends.page import plain_day
from trackprep.rider.asking_text import not_known, with_answer, with_note, without_note
from trackprep.source import Source
from trackprep.syntax.rider import parse_rider

FEW = settings(max_examples=100 if THOROUGH else 12)
EDITED = """(cases) => cases.map(([text, path, written, others]) => {
  const near = new Set(others);
  return [
    withAnswer(text, path, written, near), withNote(text, path, near), withoutNote(text, path),
    notKnown(text),
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


@FEW
@given(st.lists(edits, min_size=10, max_size=30))
def test_edits_leave_the_same_text(
    call: Call, cases: list[tuple[str, str, str, list[str]]]
) -> None:
    for (text, path, written, near), edited in zip(cases, call(EDITED, cases), strict=True):
        assert edited == [
            with_answer(text, path, written, near),
            with_note(text, path, near),
            without_note(text, path),
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


@FEW
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


@FEW
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


@FEW
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
