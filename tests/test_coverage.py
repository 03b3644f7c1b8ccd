"""What a file's examples try of its rules, and the examples suggested for the rest."""

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from processes import call
from proofreading import HEADING, alone, read, supplement
from thorough import THOROUGH

from trackprep.analysis.coverage import coverage
from trackprep.analysis.proofreading import proofread
from trackprep.drafting.examples import suggested
from trackprep.drafting.rule_files import neat
from trackprep.published import shipped_path
from trackprep.rehearsal import rehearse
from trackprep.reports.coverage import coverage_lines, side_words
from trackprep.rules.own_file import OwnFile

SHIPPED = ("common-practice", "fenwhistle", "marrowfell", "sallowgate", "tarn-hollow")

DEEP = 'rule deep "Deep"\n  require front is at least 2 mm\n\n'
AT_2 = 'example "A"\n  declare front is 2 mm\n  expect deep is met\n\n'
BELOW_2 = 'example "B"\n  declare front is 1.9 mm\n  expect deep is not met\n\n'


def gaps(own: OwnFile) -> list[str]:
    """What is missing, in words."""
    found = coverage(own)
    return [
        *(status for each in found.covered for status in each.missing),
        *(
            side_words(side, side.case, found.rules)
            for each in found.covered
            for side in each.lacking
            if side.case is not None
        ),
    ]


BOTH_SIDES = "front tread: exactly 2 mm", "front tread: 1.9 mm, just below 2 mm"
GAPS: dict[str, tuple[str, list[str]]] = {
    # what the file has, and what its examples leave
    "nothing tried": (DEEP, ["met", "not-met", "unsettled", *BOTH_SIDES[::-1]]),
    "both sides tried": (DEEP + AT_2 + BELOW_2, ["unsettled"]),
    "nearer than a step": (
        DEEP + AT_2 + BELOW_2.replace("1.9 mm", "1.99 mm"), ["unsettled"],
    ),
    "too far from it": (
        DEEP + AT_2.replace("2 mm", "3 mm") + BELOW_2.replace("1.9 mm", "1 mm"),
        ["unsettled", *BOTH_SIDES[::-1]],
    ),
    "declared, but not expected": (
        DEEP + AT_2.replace("expect deep is met", "expect not ready") + BELOW_2,
        ["met", "unsettled", BOTH_SIDES[0]],
    ),
    "ready tells of every required rule": (
        DEEP + AT_2.replace("deep is met", "ready") + BELOW_2, ["unsettled"],
    ),
    "the other fact decides": (
        'rule deep "Deep"\n  require front is at least 2 mm or tyre is wet\n\n'
        + AT_2.replace("  expect", "  declare tyre is wet\n  expect")
        + BELOW_2.replace("  expect", "  declare tyre is race\n  expect"),
        ["unsettled", BOTH_SIDES[0]],
    ),
    "a when that can fail": (
        'rule deep "Deep"\n  when tyre is wet\n  require leaks is no\n',
        ["met", "not-met", "unsettled", "not-asked"],
    ),
    "what cannot be is not missed": (
        'rule never "Never"\n  when tyre is wet and tyre is race\n  require leaks is no\n',
        ["met", "unsettled", "not-asked"],
    ),
    "an age, on the day of the example": (
        'rule age "Age"\n  require age of made is at most 5 years\n\n'
        'example "A" on 2026-06-14\n  declare made is 2021-06-14\n  expect age is met\n',
        ["not-met", "unsettled", "helmet made: 31 December 2020, the last day before the answer"
         " turns"],
    ),
    "a whole month at the turn": (
        'rule age "Age"\n  require age of made to the month is at most 5 years\n\n'
        'example "A" on 2026-06-30\n  declare made is 2021-06\n  expect age is met\n'
        'example "B" on 2026-06-30\n  declare made is 2021-05\n  expect age is not met\n',
        ["unsettled"],
    ),
    "a range has two ends": (
        'rule deep "Deep"\n  require front is between 2 mm and 3 mm\n\n' + AT_2 + BELOW_2,
        ["unsettled", "front tread: exactly 3 mm", "front tread: 3.1 mm, just above 3 mm"],
    ),
    "two numbers": (
        'rule even "Even"\n  require front - rear is at most 1 mm\n\n'
        'example "A"\n  declare front is 5 mm\n  declare rear is 4 mm\n  expect even is met\n',
        ["not-met", "unsettled", "front tread: 7.1 mm, just above 7 mm, beside rear tread 6 mm"],
    ),
}  # fmt: skip


@pytest.mark.parametrize(("statements", "left"), GAPS.values(), ids=GAPS)
def test_what_the_examples_leave(tmp_path: Path, statements: str, left: list[str]) -> None:
    assert gaps(alone(tmp_path, statements)) == left


def test_a_supplement_is_asked_for_what_it_changes(tmp_path: Path) -> None:
    own = supplement(tmp_path, "stricter limit tread is 2.5 mm\n  source house rule\n")
    found = coverage(own)
    assert [each.rule.name for each in found.covered] == ["deep", "behind"]
    assert found.unasked == 6
    every = coverage(own, every=True)
    assert (len(every.covered), every.unasked) == (8, 0)


def test_rules_whose_words_alone_are_changed_are_not_asked_for(tmp_path: Path) -> None:
    own = supplement(tmp_path, 'amend rule deep\n  reason "So."\n')
    assert coverage(own).covered == ()


# ---- suggestions ------------------------------------------------------------------


def pasted(own_text: str, text: str) -> str:
    return f"{own_text.rstrip()}\n\n{text}"


def assert_complete(before: OwnFile, after: OwnFile) -> None:
    """The pasted examples come true, and leave nothing that could be tried."""
    assert all(not rehearsed.surprises for rehearsed in rehearse(after.rules))
    for each in coverage(after).covered:
        assert (each.rule.name, dict(each.missing), each.lacking) == (each.rule.name, {}, ())
    assert len(after.rules.examples) > len(before.rules.examples)


@pytest.mark.parametrize("name", SHIPPED)
def test_suggestions_for_a_shipped_ruleset_can_be_pasted(name: str, tmp_path: Path) -> None:
    path = shipped_path(name)
    assert path is not None
    for file in path.parent.iterdir():
        if file.is_file():
            shutil.copy(file, tmp_path)
    before = read(tmp_path, path.read_text(encoding="utf-8"), f"{name}.trackrules")
    made = suggested(coverage(before))
    assert made.unwritten == 0
    text = pasted(path.read_text(encoding="utf-8"), made.text)
    assert neat(text) == text
    after = read(tmp_path, text, f"{name}.trackrules")
    assert_complete(before, after)
    known = {(finding.name, finding.about) for finding in proofread(before).findings}
    assert {(finding.name, finding.about) for finding in proofread(after).findings} <= known


TESTS = st.sampled_from([
    "front is at least 2 mm", "front is between 1 mm and 3 mm", "not rear is less than 2 mm",
    "front - rear is at most 1 mm", "front is 2 mm", "tyre is one of race, wet", "leaks is no",
    "age of made is at most 5 years", "made is on or after 2024-05-01", "sound is at most 95 dB",
    "age of made to the month is less than 18 months", "air is more than -5 °C",
    "completed years of born is between 8 and 15", "each of front, rear is at least tread",
    "worn", "front is at least inner", "mirror is not bare", "style is mini",
])  # fmt: skip
CONDITIONS = st.recursive(
    TESTS,
    lambda inner: st.builds("({} {} {})".format, inner, st.sampled_from(["and", "or"]), inner),
    max_leaves=4,
)
RULES = st.lists(st.tuples(st.none() | CONDITIONS, CONDITIONS), min_size=1, max_size=3)


@settings(
    max_examples=150 if THOROUGH else 15,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(RULES)
def test_suggestions_leave_nothing_of_any_ruleset(rules: list[tuple[str | None, str]]) -> None:
    text = f'{HEADING}supplements "base.trackrules"\n\n'
    for number, (when, demand) in enumerate(rules):
        text += f'rule drawn-{number} "Drawn"\n' + (f"  when {when}\n" if when else "")
        text += f"  require {demand}\n\n"
    text = neat(text)
    with tempfile.TemporaryDirectory() as folder:
        before = read(Path(folder), text)
        made = suggested(coverage(before))
        assert made.unwritten == 0
        assert made.count
        both = pasted(text, made.text)
        assert neat(both) == both
        assert_complete(before, read(Path(folder), both))


SUGGESTED = """\
example "Nothing declared yet"
  expect deep is unsettled
  expect age is unsettled

example "Front tread: 1.9 mm, just below 2 mm"
  declare front is 1.9 mm
  expect deep is not met

example "Front tread: exactly 2 mm"
  declare front is 2 mm
  expect deep is met

example "Helmet made: 31 December 2020, the last day before the answer turns" on 2026-01-01
  declare made is 2020-12-31
  expect age is not met

example "Helmet made: 1 January 2021, the first day after the answer turns" on 2026-01-01
  declare made is 2021-01-01
  expect age is met
"""


def test_suggestions_read_well(tmp_path: Path) -> None:
    rules = DEEP + 'rule age "Age"\n  require age of made is at most 5 years\n'
    assert suggested(coverage(alone(tmp_path, rules))).text == SUGGESTED


def test_a_title_that_is_there_already_gets_another(tmp_path: Path) -> None:
    taken = AT_2.replace('"A"', '"Front tread: 1.9 mm, just below 2 mm"')
    text = suggested(coverage(alone(tmp_path, DEEP + taken))).text
    assert '"Front tread: 1.9 mm, just below 2 mm: deep"' in text


# ---- the command ------------------------------------------------------------------

TABLE = """\
as expected   A flip-front helmet is turned away
field.trackrules: 1 of 1 example comes out as expected

yes: an example expects it. MISSING: none does. -: no declaration leads there. ?: it could not be
  told.

rule          met        not met    unsettled  not asked
helmet-shell  MISSING    yes        MISSING    -
tread         MISSING    MISSING    MISSING    -
    no example for front tread depth: 1.9 mm, just below 2 mm
    no example for front tread depth: exactly 2 mm
field.trackrules: of 2 rules, the examples reach 1 of 6 answers, and stand on 0 of 2 sides of
boundaries
"""
MADE = """\
example "Helmet shell: full face"
  declare helmet.shell is full-face
  expect helmet-shell is met
"""


def test_coverage_is_shown_after_the_examples_and_changes_no_exit_code(folder: Path) -> None:
    result = call(folder, "rehearse", "field.trackrules", "--coverage")
    assert (result.code, result.out, result.err) == (0, TABLE, "")


def test_suggestions_stand_alone_on_standard_output(folder: Path) -> None:
    result = call(folder, "rehearse", "field.trackrules", "--suggest")
    assert result.code == 0
    assert result.out.startswith("example ")
    assert MADE in result.out
    assert result.err == "4 examples to paste at the end of field.trackrules, after reading them\n"
    rules = folder / "field.trackrules"
    rules.write_text(pasted(rules.read_text(), result.out))
    assert call(folder, "neaten", "--check", "field.trackrules").code == 0
    again = call(folder, "rehearse", "field.trackrules", "--coverage", "--suggest")
    assert again.code == 0
    assert "of 2 rules, the examples reach 6 of 6 answers" in again.out
    assert again.err == "field.trackrules: there is nothing to suggest\n"


def test_an_example_that_does_not_come_true_is_told_beside_suggestions(folder: Path) -> None:
    rules = folder / "field.trackrules"
    rules.write_text(rules.read_text().replace("is not met", "is met"))
    result = call(folder, "rehearse", "field.trackrules", "--suggest")
    assert result.code == 1
    assert "0 of 1 example comes out as expected" in result.err


def test_a_file_that_is_there_is_not_written_over(folder: Path) -> None:
    words = ("rehearse", "field.trackrules", "--suggest", "-o", "new.trackrules")
    assert call(folder, *words).code == 0
    written = (folder / "new.trackrules").read_text()
    assert MADE in written
    (folder / "new.trackrules").write_text("# mine\n")
    refused = call(folder, *words)
    assert refused.code == 2
    assert (folder / "new.trackrules").read_text() == "# mine\n"
    assert call(folder, *words, "--overwrite").code == 0
    assert (folder / "new.trackrules").read_text() == written


@pytest.mark.parametrize(
    "words",
    [
        ("field.trackrules", "tarn-hollow", "--suggest"),
        ("field.trackrules", "-o", "new.trackrules"),
        ("field.trackrules", "--all"),
        ("field.trackrules", "--suggest", "--overwrite"),
        ("field.trackrules", "--suggest", "-o", "new.txt"),
    ],
)
def test_a_call_that_makes_no_sense_is_refused(folder: Path, words: tuple[str, ...]) -> None:
    result = call(folder, "rehearse", *words)
    assert (result.code, result.out) == (2, "")
    assert not (folder / "new.txt").exists()


def test_a_narrow_terminal_gets_sentences(tmp_path: Path) -> None:
    own = alone(tmp_path, DEEP + AT_2)
    lines = [line for _, line in coverage_lines(coverage(own), 40)]
    assert lines == [
        "deep: met; MISSING not met, unsettled",
        "no example for front tread: 1.9 mm, just below 2 mm",
    ]
