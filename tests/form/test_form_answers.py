"""Answers in the page: what is typed is declared as the interview declares it."""

from form.conftest import Call
from form.declarations import DAY, FACTS, RULES, VALUES, form_of, plain_fact
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.backends.page import plain_day, plain_values
from trackprep.problems import Problem
from trackprep.rider.asking_answers import reply
from trackprep.rules.model import Choice, Choosing, Dated, Fact, FreeText, Measured, YesOrNo

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


@settings(max_examples=100 if THOROUGH else 12)
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
