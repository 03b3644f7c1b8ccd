"""`trackprep ask`: what is asked and what is not, how answers are read, and nothing lost."""

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import date
from itertools import product
from pathlib import Path

import pexpect  # type: ignore[import-untyped]
import pytest
from analysis import small
from hypothesis import given, settings
from hypothesis import strategies as st
from models import joined
from processes import call, environment

import trackprep
from trackprep.explanations.mentions import facts_in
from trackprep.problems import DeclarationError, Problem
from trackprep.rider.asking import Interview, interview
from trackprep.rider.asking_answers import command_of
from trackprep.rider.asking_text import declared_text
from trackprep.rules import model
from trackprep.rules.values import Amount, Value

EVENT = date(2026, 6, 14)

# ---- what is asked: brute force on small rulesets -----------------------------------

small_rules = st.lists(small.rules(), min_size=1, max_size=3).map(lambda its: small.ruleset(*its))


@st.composite
def plain_rulesets(draw: st.DrawFn) -> model.Rules:
    """A ruleset without arithmetic, of rules small enough to try everything."""
    conditions = st.recursive(small.simple, joined, max_leaves=3)
    asked = [
        model.Asked(None, draw(st.one_of(st.just(small.c.ALWAYS), conditions)), draw(conditions))
    ]
    return small.ruleset(model.Rule("rule", "Rule", "", "required", tuple(asked)))


def typed(value: Value) -> str:
    """A value as somebody would type it."""
    match value:
        case bool():
            return "yes" if value else "no"
        case frozenset():
            return ", ".join(sorted(value)) or "none"
        case Amount():
            return str(value.value)
        case _:
            return str(value)


def answers(rules: model.Rules, values: dict[str, Value]) -> list[str]:
    """What the reference answers; that a rule asks nothing is one answer, met or not asked."""
    said = [small.answered(rules, rule, values) for rule in rules.rules]
    return ["nothing" if one in ("met", "not-asked") else one for one in said]


def led(rules: model.Rules, data: st.DataObject, *, unknown: bool) -> Iterator[Interview]:
    """Every step of an interview with drawn answers."""
    step = interview([rules], on=small.EVENT)
    yield step
    for _ in range(2 * len(small.TYPES)):
        if step.question is None:
            return
        options = [*map(typed, small.values_of(step.question.fact.path))]
        said = data.draw(st.sampled_from([*options, *([None] * unknown)]), label="answer")
        after = step.not_known() if said is None else step.answered(said)
        assert isinstance(after, Interview), after
        step = after
        yield step
    raise AssertionError("the questions have no end")


def mentioned(rules: model.Rules) -> dict[str, None]:
    parts = [part for rule in rules.rules for part in rule.asked]
    both = [condition for part in parts for condition in (part.when, part.demand)]
    return dict.fromkeys(path for condition in both for path in facts_in(condition))


def extensions(paths: list[str]) -> Iterator[dict[str, Value]]:
    return small.declarations((), paths)


@given(small_rules, st.data())
@settings(max_examples=150)
def test_what_was_never_asked_changes_no_answer(rules: model.Rules, data: st.DataObject) -> None:
    *_, last = led(rules, data, unknown=True)
    values = dict(last.declarations[0].values)
    never = [path for path in mentioned(rules) if path not in last.history]
    before = answers(rules, values)
    for path in never:
        for value in small.values_of(path):
            assert answers(rules, {**values, path: value}) == before, (path, value)
    if never:
        for _ in range(10):
            more = {path: data.draw(st.sampled_from(small.values_of(path))) for path in never}
            assert answers(rules, {**values, **more}) == before, more


@given(plain_rulesets(), st.data())
@settings(max_examples=150)
def test_only_what_can_change_an_answer_is_asked(rules: model.Rules, data: st.DataObject) -> None:
    for step in led(rules, data, unknown=True):
        if step.question is None:
            continue
        path = step.question.fact.path
        values = dict(step.declarations[0].values)
        open_ = [
            p for p in mentioned(rules) if p not in values and p not in step.unknown and p != path
        ]
        assert any(
            answers(rules, {**values, **more}) != answers(rules, {**values, **more, path: value})
            for more, value in product(extensions(open_), small.values_of(path))
        ), path


@given(plain_rulesets(), st.data())
@settings(max_examples=100)
def test_asking_to_the_end_settles_every_rule(rules: model.Rules, data: st.DataObject) -> None:
    *_, last = led(rules, data, unknown=False)
    assert "unsettled" not in answers(rules, dict(last.declarations[0].values))


@given(plain_rulesets(), st.data())
@settings(max_examples=50)
def test_going_back_and_leaving_it_so_changes_nothing(
    rules: model.Rules, data: st.DataObject
) -> None:
    *_, last = led(rules, data, unknown=True)
    back, steps = last.back(), 0
    while back is not None:
        assert back.question is not None
        assert back.text == last.text
        kept = back.kept()
        assert (kept.text, kept.unknown, kept.question) == (last.text, last.unknown, None)
        back, steps = back.back(), steps + 1
    assert steps == len(last.history)


# ---- what is asked: rules as people write them ---------------------------------------

RULES = """\
ruleset asking "Asking day"
  valid from 2026-03-01 to 2026-10-31

rule suit "One piece, or zipped"
  require suit.kind is one-piece or suit.zip is full-circle
  source common practice

rule age "Helmet not too old"
  require age of helmet.made is at most 5 years
  source common practice

rule tread "Enough tread"
  require tyre.front.tread is at least 2 mm
  source common practice

rule labels "A mark"
  recommend helmet.labels includes any of "ECE 22.06", "ECE 22.05"
  source common practice

rule cooling "No glycol"
  when engine.cooling is liquid
  require coolant.kind is one of water, wetting-agent
  source common practice

rule born "Of age"
  require completed years of rider.born is at least 18
  source common practice

rule snaps "Throttle snaps back"
  require throttle.snaps-back
  source common practice

rule built "Tyre not too old"
  require age of tyre.front.built is at most 5 years
  source common practice

rule accepted "Helmet accepted"
  require helmet.accepted
  source common practice
"""


def begun(text: str = "", *, rules: str = RULES) -> Interview:
    made = trackprep.parse_ruleset(rules, name="asking.trackrules")
    return interview([made.rules], on=EVENT, text=text)


def only(*demands: str) -> str:
    """A ruleset of these demands."""
    rules = (f'rule r{n} "R"\n  {text}\n' for n, text in enumerate(demands))
    return 'ruleset one "One"\n  valid from 2026-03-01 to 2026-10-31\n' + "\n".join(rules)


def path_of(step: Interview) -> str | None:
    return step.question.fact.path if step.question else None


def after(step: Interview, *said: str) -> Interview:
    for words in said:
        made = step.answered(words)
        assert isinstance(made, Interview), made
        step = made
    return step


def test_what_is_decided_already_is_not_asked() -> None:
    rules = only("require suit.kind is one-piece or suit.zip is full-circle")
    assert path_of(after(begun(rules=rules), "one-piece")) is None
    assert path_of(after(begun(rules=rules), "two-piece")) == "suit.zip"


def test_what_makes_no_difference_is_not_asked_although_the_logic_waits_for_it() -> None:
    rules = only("require throttle.snaps-back or (throttle.snaps-back and kill-switch.works)")
    step = begun(rules=rules)
    assert path_of(step) == "throttle.snaps-back"
    assert step.not_known().question is None
    made = trackprep.parse_ruleset(rules, name="one.trackrules")
    report = made.check(trackprep.parse_declaration("", made), on=EVENT)
    assert "kill-switch.works" in report.answers[0].declare


def test_what_hangs_on_something_not_known_is_not_asked() -> None:
    rules = only("require tyre.front.tread + tyre.rear.tread is at least 4 mm")
    step = begun(rules=rules)
    assert path_of(step) == "tyre.front.tread"
    assert step.not_known().question is None


def test_what_decides_for_other_parts_is_asked_first() -> None:
    rules = trackprep.read_ruleset("marrowfell").rules
    step = interview([rules], on=EVENT)
    assert path_of(step) == "rider.group"
    paths = [asked.fact.path for asked in step._order]
    for rule in rules.rules:
        for part in rule.asked:
            for when, what in product(facts_in(part.when), facts_in(part.demand)):
                both = when in paths and what in paths and when not in facts_in(part.demand)
                if both and not step._order[paths.index(what)].heading.startswith("First"):
                    assert paths.index(when) < paths.index(what), (when, what)


def test_a_when_that_does_not_hold_spares_the_question() -> None:
    rules = only("when engine.cooling is liquid\n  require coolant.kind is water")
    step = begun(rules=rules)
    assert path_of(step) == "engine.cooling"
    assert path_of(after(step, "liquid")) == "coolant.kind"
    assert after(step, "air").question is None


def test_the_inspector_alone_is_never_asked_for_by_riders() -> None:
    facts = trackprep.read_ruleset("standard").rules.facts
    inspector = next(path for path, fact in facts.items() if fact.for_the_inspector)
    assert begun(rules=only(f"require {inspector} or throttle.snaps-back")).question is not None
    assert begun(rules=only(f"require {inspector}")).question is None


def test_one_answer_serves_several_events() -> None:
    made = [
        trackprep.parse_ruleset(only(demand), name="x").rules
        for demand in (
            "require tyre.front.tread is at least 2 mm",
            "require tyre.front.tread is at least 3 mm\n  require throttle.snaps-back",
        )
    ]
    step = interview(made, on=EVENT)
    asked = []
    while step.question:
        asked.append(path_of(step))
        step = after(step, "4 mm" if "tread" in asked[-1] else "yes")
    assert sorted(asked) == ["throttle.snaps-back", "tyre.front.tread"]


# ---- answers --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("path", "said", "written"),
    [
        ("helmet.shell", "1", "full-face"),
        ("helmet.shell", "full-face", "full-face"),
        ("helmet.shell", "Full Face", "full-face"),
        ("helmet.shell", "Hinged", "modular"),
        ("helmet.labels", "ece 22.06, “ECE 22.05”", '"ECE 22.06", "ECE 22.05"'),
        ("helmet.labels", "none", "none"),
        ("suit.armour", "1, 2", None),
        ("throttle.snaps-back", "y", "yes"),
        ("throttle.snaps-back", "No", "no"),
        ("tyre.front.tread", "3/32 in", "3/32 in"),
        ("tyre.front.tread", "3.50mm", "3.50mm"),
        ("tyre.front.tread", "3 mm  # outer edge", "3 mm"),
        ("helmet.shell", "1  # the red one", "full-face"),
        ("tyre.front.built", "DOT 2319", "2319"),
        ("tyre.front.built", "2319", "2319"),
        ("helmet.made", "Apr 2023", "2023-04"),
        ("helmet.made", "04/2023", "2023-04"),
        ("helmet.made", "2023-04", "2023-04"),
        ("helmet.made", "17 April 2023", "2023-04-17"),
        ("helmet.made", "April 17th, 2023", "2023-04-17"),
        ("helmet.made", "17/04/2023", "2023-04-17"),
        ("helmet.made", "2023", "2023"),
    ],
)
def test_answers_as_people_type_them(path: str, said: str, written: str | None) -> None:
    step = after(_asking_for(path), said)
    found = declared_text(step.text, path)
    assert found == written if written else "," in found


def _asking_for(path: str) -> Interview:
    """An interview that begins with the question for a fact."""
    fact = trackprep.read_ruleset("standard").rules.facts[path]
    match fact.type:
        case model.Choosing("several of", choices):
            test = f'includes any of "{choices[0].word}"'
        case model.Choosing(_, choices):
            test = f'is "{choices[0].word}"'
        case model.YesOrNo():
            test = "is yes"
        case model.Dated():
            return begun(rules=only(f"require age of {path} is at most 5 years"))
        case _:
            test = "is at least 2 mm"
    step = begun(rules=only(f"require {path} {test}"))
    assert path_of(step) == path
    return step


@pytest.mark.parametrize(
    ("said", "readings"),
    [
        ("04/23", ("April 2023", "23 April")),
        ("04/11", ("April 2011", "November 2004", "11 April", "4 November")),
        ("Apr 23", ("April 2023", "23 April")),
        ("03/04/2023", ("3 April 2023", "4 March 2023")),
        ("17/04/23", ("17 April 2023", "23 April 2017")),
    ],
)
def test_a_date_with_two_readings_asks_back(said: str, readings: tuple[str, ...]) -> None:
    problem = _asking_for("helmet.made").answered(said)
    assert isinstance(problem, Problem)
    assert problem.code == "bad-date"
    assert all(problem.message.count(f"{reading}") >= 2 for reading in readings)


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("tyre.front.tread", "3"),
        ("tyre.front.tread", "1,5 mm"),
        ("tyre.front.tread", "2 psi"),
        ("tyre.front.tread", "900 mm"),
        ("tyre.front.tread", '3/32"'),
        ("helmet.shell", "full-fase"),
        ("throttle.snaps-back", "perhaps"),
        ("tyre.front.built", "9919"),
        ("tyre.front.built", "231"),
        ("helmet.made", "2023-13"),
    ],
)
def test_a_bad_answer_is_told_as_in_a_file(path: str, said: str) -> None:
    step = _asking_for(path)
    problem = step.answered(said)
    assert isinstance(problem, Problem)
    with pytest.raises(DeclarationError) as told:
        trackprep.parse_declaration(f"{path} is {said}\n", trackprep.read_ruleset("standard"))
    first = told.value.problems[0]
    assert (problem.code, problem.message) == (first.code, first.message)
    assert (problem.expected, problem.suggestion) == (first.expected, first.suggestion)


def test_a_number_that_no_choice_has() -> None:
    problem = _asking_for("helmet.shell").answered("99")
    assert isinstance(problem, Problem)
    assert problem.message == "there is no choice 99"


@pytest.mark.parametrize("said", ["4 mm\thelmet.shell is modular", 'declaration "x"', "4 mm 5 mm"])
def test_an_answer_declares_one_fact_and_no_more(said: str) -> None:
    assert isinstance(_asking_for("tyre.front.tread").answered(said), Problem)


KINDS = ["helmet.shell", "helmet.labels", "throttle.snaps-back", "tyre.front.tread",
         "tyre.front.built", "helmet.made"]  # fmt: skip
JUNK = st.one_of(
    st.text(),
    st.text("0123456789/.-, #\"'“’\\mis?bAprouk°"),
    st.sampled_from(["full-face", "3 mm", "04/2023", "yes", "none"]).flatmap(
        lambda words: st.text('#"\\, \t\x00', max_size=4).map(lambda junk: words + junk)
    ),
)


STARTS = {path: _asking_for(path) for path in KINDS}


@given(st.sampled_from(KINDS), JUNK)
@settings(max_examples=300)
def test_whatever_is_typed_leaves_a_declaration_that_can_be_read(path: str, said: str) -> None:
    step = STARTS[path]
    made = step.answered(said.replace("\n", " ").replace("\r", " "))
    if isinstance(made, Interview):
        assert set(made.declarations[0].values) == {path}
    else:
        assert made.message


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("back", "back"), ("STOP", "stop"), ("don't know", "don't know"),
        ("Don’t know", "don't know"), ("dont know", "don't know"), ("?", "?"), ("no", None),
    ],
)  # fmt: skip
def test_typed_words(said: str, meant: str | None) -> None:
    assert command_of(said) == meant


def test_a_date_too_coarse_is_asked_finer() -> None:
    step = after(_asking_for("helmet.made"), "2021")
    assert step.question is not None
    assert (step.question.why, step.question.declared) == ("too coarse", "2021")
    assert isinstance(again := step.answered("2021"), Problem)
    assert "too coarse" in again.message
    assert after(step, "Mar 2021").question is None
    month = after(step, "Jun 2021")
    assert month.question is not None
    unknown = month.not_known()
    assert unknown.question is None
    assert "helmet.made is 2021-06\n" in unknown.text


def test_a_date_after_the_event_is_refused_and_asked_again() -> None:
    problem = _asking_for("helmet.made").answered("July 2026")
    assert isinstance(problem, Problem)
    assert problem.code == "after-the-event"
    rules = only("require age of helmet.made is at most 5 years")
    step = begun("helmet.made is 2027\n", rules=rules)
    assert step.question is not None
    assert step.question.why == "after the event"
    assert after(step, "2024").text == "helmet.made is 2024\n"


# ---- the text ---------------------------------------------------------------------------

UNFINISHED = """\
# Sam's file
declaration "Sam"   # and the blue mini

Tyre.Front.Tread   is 3.50 mm  # outer edge

suit.kind is two-piece suit.zip is
    absent
# the rest on Sunday
"""


def test_an_unfinished_file_keeps_comments_order_and_spelling() -> None:
    step = begun(UNFINISHED)
    while step.question:
        step = step.not_known()
    kept = [line for line in step.text.splitlines() if not line.startswith("# not known")]
    assert kept[: len(UNFINISHED.splitlines()) - 1] == UNFINISHED.splitlines()[:-1]
    assert "# the rest on Sunday" in kept


def test_what_was_not_known_is_asked_last_and_its_comment_goes() -> None:
    rules = only("require throttle.snaps-back", "require kill-switch.works")
    step = begun(rules=rules).not_known()
    assert step.text == "# not known: throttle.snaps-back\n"
    assert path_of(step) == "kill-switch.works"
    resumed = begun(step.text, rules=rules)
    assert path_of(resumed) == "kill-switch.works"
    last = after(resumed, "yes", "yes")
    assert last.question is None
    assert sorted(last.text.split("\n")) == [
        "", "kill-switch.works is yes", "throttle.snaps-back is yes"
    ]  # fmt: skip


def test_a_blank_declaration_is_filled_in_where_it_asks() -> None:
    from trackprep.drafting import blank

    made = trackprep.parse_ruleset(RULES, name="asking.trackrules")
    text = blank(made.rules, "asking.trackrules")
    step = interview([made.rules], on=EVENT, text=text)
    said = {"suit.kind": "one-piece", "tyre.front.tread": "3 mm"}
    while step.question:
        words = said.get(path_of(step) or "")
        step = after(step, words) if words else step.not_known()
    expected = text
    for path, words in said.items():
        expected = expected.replace(f"#{path} is\n", f"{path} is {words}\n")
    assert [line for line in step.text.splitlines() if "# not known" not in line] == (
        expected.splitlines()
    )


def test_windows_line_ends_stay() -> None:
    text = 'declaration "Sam"\r\n# here\r\nsuit.kind is one-piece\r\n'
    step = begun(text)
    while step.question:
        step = step.not_known()
    assert step.text.startswith(text[:26])
    assert step.text.count("\n") == step.text.count("\r\n")


ENTRIES = ["suit.kind is one-piece", "Helmet.Shell  is full-face", "helmet.made is 2021"]
COMMENTS = ["# one", "", "  # two: suit.zip is absent", "#tyre.front.tread is"]


@given(st.permutations(ENTRIES), st.lists(st.sampled_from(COMMENTS)), st.data())
@settings(max_examples=60)
def test_an_answer_changes_its_own_line_alone(
    entries: list[str], comments: list[str], data: st.DataObject
) -> None:
    lines = data.draw(st.permutations([*entries, *comments]))
    step = begun("\n".join(lines) + data.draw(st.sampled_from(["", "\n"])))
    before = dict(step.declarations[0].values)
    assert step.question is not None
    path = step.question.fact.path
    words = {"helmet.made": "2024-05", "suit.zip": "absent"}.get(path)
    made = after(step, words) if words else step.not_known()
    changed = dict(made.declarations[0].values)
    assert {k: v for k, v in changed.items() if k != path} == {
        k: v for k, v in before.items() if k != path
    }
    left = [line for line in made.text.splitlines() if path not in line.lower()]
    assert [x for x in left if x] == [x for x in lines if x and path not in x.lower()]


# ---- the command, by a pipe -----------------------------------------------------------

FIELD = ("ask", "--for", "field.trackrules", "--on", "2026-06-14")


def test_piped_answers_are_asked_for_line_by_line(folder: Path) -> None:
    done = call(folder, *FIELD, "-o", "sam.rider", given=b"nonsense\n1\n1/8 in\n")
    assert done.code == 0
    assert "`nonsense` is no choice" in done.out
    assert "give the smallest. A slick has 0 mm. Takes about 5 min." in " ".join(done.out.split())
    assert "ready to present" in done.out
    assert "trackprep check sam.rider --for field.trackrules --on 2026-06-14" in done.out
    text = (folder / "sam.rider").read_text()
    assert 'declaration "sam"' in text
    assert "helmet.shell is full-face\n" in text
    assert "tyre.front.tread is 1/8 in\n" in text


def test_a_failing_rule_is_named_in_the_end(folder: Path) -> None:
    done = call(folder, *FIELD, "-o", "sam.rider", given=b"2\ndon\xe2\x80\x99t know\n")
    assert "1 required rule not met" in done.out
    assert "Not met: Full-face helmet" in done.out
    assert "Unsettled: Enough tread" in done.out
    assert "# not known: tyre.front.tread" in (folder / "sam.rider").read_text()


def test_without_a_file_the_output_is_the_declaration_alone(folder: Path) -> None:
    done = call(folder, *FIELD, given=b"1\n")
    assert done.code == 0
    assert "What kind of helmet" in done.err
    (folder / "made.rider").write_text(done.out)
    checked = call(folder, "check", "made.rider", "--for", "field.trackrules")
    assert checked.code == 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("-o", "half.rider"), "half.rider` is there already"),
        (("-o", "sam.toml"), "does not end in .rider"),
        (("-o", "no/sam.rider"), "no such file"),
        (("none.rider",), "`-o none.rider` begins a new one"),
        (("sam.toml",), "only such a file is gone on with"),
        (("broken.rider",), "helmet.shel"),
        (("--for", "standard"), "is a vocabulary"),
    ],
)
def test_what_cannot_be_asked_is_said_before_anything_is(
    folder: Path, words: tuple[str, ...], said: str
) -> None:
    before = {path: path.read_bytes() for path in folder.glob("*.rider")}
    done = call(folder, *FIELD, *words)
    assert done.code == 2
    assert said in done.err
    assert {path: path.read_bytes() for path in folder.glob("*.rider")} == before


def test_a_file_is_gone_on_with(folder: Path) -> None:
    (folder / "half.rider").write_bytes(
        b"\xef\xbb\xbf# mine\r\nhelmet.shell is full-face # new\r\n"
    )
    done = call(folder, *FIELD, "half.rider", given=b"3 mm\n")
    assert done.code == 0
    assert (folder / "half.rider").read_bytes() == (
        b"\xef\xbb\xbf# mine\r\nhelmet.shell is full-face # new\r\n\r\ntyre.front.tread is 3 mm\r\n"
    )
    again = call(folder, *FIELD, "half.rider")
    assert "Nothing more has to be asked." in again.out


def test_a_full_disk_loses_nothing(folder: Path) -> None:
    (folder / "half.rider").write_text(f"# {'long ' * 200}\n")
    before = (folder / "half.rider").read_bytes()
    words = " ".join(FIELD)
    done = subprocess.run(
        ["bash", "-c", f"ulimit -f 1; exec {sys.executable} -m trackprep {words} half.rider"],
        check=False, cwd=folder, input=b"1\n3 mm\n", capture_output=True, timeout=60,
        env=environment(PYTHONDONTWRITEBYTECODE="1"),
    )  # fmt: skip
    out = done.stdout.decode()
    assert done.returncode == 2, done.stderr
    assert "half.rider cannot be written: file too large" in out
    declaration = out.partition("copy them into a file:")[2]
    assert "helmet.shell is full-face\n" in declaration
    assert "tyre.front.tread is 3 mm\n" in declaration
    assert (folder / "half.rider").read_bytes() == before
    assert not list(folder.glob(".trackprep*"))


def no_more_than_allowed() -> list[str]:
    """The words before a command by which even root may write only where that is allowed."""
    if os.geteuid() != 0:
        return []
    if not (tool := shutil.which("setpriv")):
        pytest.skip("root may write everywhere")
    return [tool, "--bounding-set=-dac_override"]


@pytest.mark.parametrize("words", [("half.rider",), ("-o", "sam.rider")])
def test_a_read_only_folder_is_said_before_anything_is_asked(
    folder: Path, words: tuple[str, ...]
) -> None:
    folder.chmod(0o555)
    done = subprocess.run(
        [*no_more_than_allowed(), sys.executable, "-m", "trackprep", *FIELD, *words],
        check=False, cwd=folder, input=b"3 mm\n", capture_output=True, timeout=60,
        env=environment(),
    )  # fmt: skip
    folder.chmod(0o755)
    assert done.returncode == 2, done.stderr
    said = done.stderr.decode()
    assert "may not be written" in said or "permission denied" in said, said
    assert done.stdout == b""


# ---- the command, at a terminal ---------------------------------------------------------


def terminal(folder: Path, *words: str) -> pexpect.spawn:
    return pexpect.spawn(
        sys.executable, ["-m", "trackprep", *FIELD, *words],
        cwd=str(folder), env=environment(TERM="xterm-256color"), dimensions=(50, 80), timeout=30,
        encoding="utf-8",
    )  # fmt: skip


def ended(process: pexpect.spawn) -> tuple[str, int]:
    said = process.read().replace("\r\n", "\n")
    process.close()
    assert "Traceback" not in said
    return said, process.exitstatus


def interrupt(process: pexpect.spawn) -> None:
    """Ctrl-C, and again where Python has not yet begun to wait for a key."""
    for _ in range(10):
        process.sendintr()
        if process.expect_exact(["declared", pexpect.TIMEOUT], timeout=3) == 0:
            return
    raise AssertionError("Ctrl-C is not heard")


def test_a_whole_talk_at_a_terminal(folder: Path) -> None:
    asked = terminal(folder, "-o", "sam.rider")
    asked.expect_exact("What kind of helmet")
    asked.expect("1 +full-face")
    asked.sendline("full fase")
    asked.expect_exact("is no choice of")
    asked.sendline("modular")
    asked.expect_exact("a number with its unit")
    asked.expect_exact("> ")
    asked.sendline("back")
    asked.expect_exact("Declared is modular; Enter alone leaves it so.")
    asked.sendline("1")
    asked.expect_exact("> ")
    asked.sendline("?")
    asked.expect_exact("Answer: a number with its unit")
    asked.sendline("3 mm")
    said, code = ended(asked)
    assert code == 0
    assert "ready to present" in said
    assert "helmet.shell is full-face\ntyre" not in said  # it is in the file, and is not printed
    assert "tyre.front.tread is 3 mm" in (folder / "sam.rider").read_text()


@pytest.mark.parametrize("how", ["ctrl-c", "end of input", "stop"])
def test_an_interruption_keeps_the_answers_and_says_where(folder: Path, how: str) -> None:
    asked = terminal(folder, "-o", "sam.rider")
    asked.expect_exact("> ")
    asked.sendline("1")
    asked.expect_exact("a number with its unit")
    asked.expect_exact("> ")
    match how:
        case "ctrl-c":
            interrupt(asked)
        case "end of input":
            asked.sendeof()
        case _:
            asked.sendline("stop")
    said, code = ended(asked)
    assert code == (130 if how == "ctrl-c" else 0)
    assert "Your answers are in sam.rider." in said
    assert "trackprep ask sam.rider --for field.trackrules --on 2026-06-14" in said
    assert "helmet.shell is full-face" in (folder / "sam.rider").read_text()


def test_an_interruption_without_a_file_prints_the_answers(folder: Path) -> None:
    asked = terminal(folder)
    asked.expect_exact("> ")
    asked.sendline("1")
    asked.expect_exact("a number with its unit")
    asked.expect_exact("> ")
    interrupt(asked)
    said, code = ended(asked)
    assert code == 130
    assert "\nhelmet.shell is full-face\n" in said


@pytest.mark.parametrize("named", [True, False])
def test_a_terminal_that_goes_away_loses_nothing(folder: Path, named: bool) -> None:
    asked = terminal(folder, *(("-o", "sam.rider") if named else ()))
    asked.expect_exact("> ")
    asked.sendline("1")
    asked.expect_exact("a number with its unit")
    asked.ptyproc.fileobj.close()
    code = asked.ptyproc.wait()
    assert code in (128 + signal.SIGHUP, 141)  # told so, or met when it next reads or writes
    left = folder / ("sam.rider" if named else "trackprep-answers.rider")
    assert "helmet.shell is full-face\n" in left.read_text()
    assert (folder / "trackprep-answers.rider").exists() is not named


def test_a_folder_that_goes_away_loses_nothing(folder: Path) -> None:
    (folder / "stick").mkdir()
    asked = terminal(folder, "-o", "stick/sam.rider")
    asked.expect_exact("> ")
    shutil.rmtree(folder / "stick")
    asked.sendline("1")
    asked.expect_exact("stick/sam.rider cannot be written: no such file or directory")
    asked.sendline("3 mm")
    said, code = ended(asked)
    assert code == 2
    assert "\nhelmet.shell is full-face\n" in said
    assert "\ntyre.front.tread is 3 mm\n" in said


def test_a_file_that_somebody_else_changes_stays_as_it_is(folder: Path) -> None:
    asked = terminal(folder, "half.rider")
    asked.expect_exact("> ")
    (folder / "half.rider").write_text("# theirs\n")
    asked.sendline("3 mm")
    said, code = ended(asked)
    assert code == 2
    assert "somebody else has changed it" in " ".join(said.split())
    assert "\ntyre.front.tread is 3 mm\n" in said
    assert (folder / "half.rider").read_text() == "# theirs\n"
