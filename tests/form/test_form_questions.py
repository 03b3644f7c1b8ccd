"""Which facts the form asks for: what the interview asks for, no less, and hardly ever more."""

import random
from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from types import SimpleNamespace
from typing import Any, TypeAlias

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from models import FACTS, GRADES, conditions, declarations, events, rule, rules_of, rulesets
from strategies import cases
from test_agreement import rider_text
from test_page_backend import DAYS, RIDERS, VENUES
from thorough import THOROUGH

import trackprep
from trackprep.backends import checks, page
from trackprep.dates import Span, span_of
from trackprep.declarations.several import read_rider_for_all
from trackprep.publishing.form.facts import plain_facts, used_facts
from trackprep.publishing.form.trials import plain_trials
from trackprep.rider.asking import Interview
from trackprep.rider.asking_order import in_order
from trackprep.rules import conditions as c
from trackprep.rules.model import Choosing, Measured, Rules, YesOrNo
from trackprep.rules.values import Amount, Value
from trackprep.source import Source
from trackprep.syntax.printer import print_rules
from trackprep.units import ONE

Values: TypeAlias = Mapping[str, Value]
Case: TypeAlias = tuple[Sequence[Values], frozenset[str], date]
"""What is declared to each event, what the rider does not know, and the day."""

FEW = settings(
    max_examples=200 if THOROUGH else 6,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
QUESTIONS = """(form, cases) => {
  form.facts = expandedFacts(form.facts);
  const rulesets = form.events.map((event) => new Ruleset(event.plain));
  return cases.map(([several, unknown, day]) => {
    const sittings = form.events.map((event, at) => {
      const [ruleset, values] = [rulesets[at], several[at]];
      return { event, ruleset, values, day, checked: ruleset.check(values, day) };
    });
    return openQuestions(form, sittings, new Set(unknown)).map(({ path, why }) => [path, why]);
  });
}"""


def plain_form(several: Sequence[Rules]) -> dict[str, Any]:
    made = []
    for rules in several:
        plain = page.PlainRuleset(rules, used_facts(rules))
        trials = plain_trials(plain)
        made.append({"plain": plain.data(), "trials": trials})
    return {"events": made, "facts": plain_facts(several), "units": {}}


def by_page(call: Any, several: Sequence[Rules], asked: Sequence[Case]) -> list[Any]:
    plain = [
        [[page.plain_values(values) for values in declared], sorted(unknown), page.plain_day(day)]
        for declared, unknown, day in asked
    ]
    found = call(QUESTIONS, plain_form(several), plain)
    return [[(path, why) for path, why in questions] for questions in found]


def by_interview(several: Sequence[Rules], case: Case) -> list[tuple[str, str]]:
    """All open questions, though the interview gives one at a time."""
    declared, unknown, day = case
    led = Interview(
        tuple(several), day, "", unknown=tuple(sorted(unknown)), order=in_order(several)
    )
    vars(led)["declarations"] = [SimpleNamespace(values=values) for values in declared]
    found = ((asked.fact.path, led._why(asked.fact.path)) for asked in led._candidates)
    return [(path, why) for path, why in found if why == "too coarse" or led._can_change(path)]


def no_less(call: Any, several: Sequence[Rules], cases: Sequence[Case]) -> None:
    for case, found in zip(cases, by_page(call, several, cases), strict=True):
        assert set(by_interview(several, case)) <= set(found), case
        order = [asked.fact.path for asked in in_order(several)]
        assert [path for path, _ in found] == sorted((p for p, _ in found), key=order.index)


def exactly(call: Any, demand: c.Condition, cases: list[Case]) -> None:
    several = [rules_of(rule((c.ALWAYS, demand)))]
    for case, found in zip(cases, by_page(call, several, cases), strict=True):
        assert found == by_interview(several, case), case


# ---- what ships --------------------------------------------------------------


def partly(several: Sequence[Rules], seed: str, times: int) -> list[Case]:
    """Some of what a demo rider declares, some of it coarser, some of the rest not known."""
    chance = random.Random(seed)
    riders = []
    for path in RIDERS:
        try:
            text = Source(path.name, path.read_text(encoding="utf-8"))
            riders.append([its.values for its in read_rider_for_all(text, several)])
        except trackprep.DeclarationError:
            continue
    made: list[Case] = []
    for _ in range(times):
        declared = chance.choice(riders)
        share, paths = chance.choice([0, 0.2, 0.5, 0.8, 0.95, 1]), sorted(declared[0])
        kept = {path for path in paths if chance.random() < share}
        coarse = {path for path in kept if chance.random() < 0.2}
        some = [
            {path: coarser(value) if path in coarse else value
             for path, value in values.items() if path in kept}
            for values in declared
        ]  # fmt: skip
        rest = [path for path in used_facts(several[0]) if chance.random() < 0.1]
        unknown = frozenset(rest) if chance.random() < 0.5 else frozenset()
        made.append((some, unknown, chance.choice(DAYS)))
    return made


def coarser(value: Value) -> Value:
    return span_of(str(value.first.year)) if isinstance(value, Span) else value


TIMES = 40 if THOROUGH else 4
PAIRS = [["fenwhistle", "marrowfell"], ["sallowgate", "tarn-hollow"]]


@pytest.mark.parametrize("names", [*([name] for name in VENUES), *PAIRS], ids="+".join)
def test_the_shipped_rulesets_ask_what_the_interview_asks(names: list[str], call: Any) -> None:
    """To the last question; of many declarations, one in twenty may be asked for more."""
    several = [trackprep.read_ruleset(name).rules for name in names]
    nothing: Case = ([{}] * len(several), frozenset(), DAYS[0])
    asked = [nothing, *partly(several, "+".join(names), TIMES)]
    found = by_page(call, several, asked)
    expected = [by_interview(several, case) for case in asked]
    assert all(set(its) <= set(more) for its, more in zip(expected, found, strict=True))
    exact = sum(its == more for its, more in zip(expected, found, strict=True))
    assert len(asked) - exact <= len(asked) // 20


@pytest.mark.parametrize("name", VENUES)
def test_what_is_hidden_changes_no_answer(name: str, call: Any) -> None:
    """Whatever the hidden facts are declared to be, each alone and all of them together."""
    rules = trackprep.read_ruleset(name).rules
    chance = random.Random(name)
    asked = partly([rules], f"{name}, hidden", 2 * TIMES)
    tried = 0
    for case, found in zip(asked, by_page(call, [rules], asked), strict=True):
        ((values,), unknown, day) = case
        known, _ = checks.prepared(rules, values, day)
        shown = {path for path, _ in found}
        hidden = [
            path for path in used_facts(rules)
            if path not in {*known, *shown, *unknown} and not rules.facts[path].for_the_inspector
        ]  # fmt: skip
        given_ = {path: some_value(rules, path, chance) for path in hidden}
        before = settled(rules, known, day)
        alone = [{path: given_[path]} for path in chance.sample(hidden, min(3, len(hidden)))]
        for more in [given_, *alone]:
            assert settled(rules, {**known, **more}, day) == before, more
        tried += len(hidden)
    assert tried > 10


def some_value(rules: Rules, path: str, chance: random.Random) -> Value:
    kind = rules.facts[path].type
    match kind:
        case Choosing("several of"):
            return frozenset(word for word in kind.words if chance.random() < 0.5)
        case Choosing():
            return chance.choice(kind.words)
        case YesOrNo():
            return chance.random() < 0.5
        case Measured(unit, low, high, whole):
            low = low or Fraction(0)
            place = low + ((low + 1000 if high is None else high) - low) * chance.randint(0, 9) / 9
            return Amount(Fraction(round(place)) if whole else place, unit)
        case _:
            return Span.of_day(date(chance.randint(1990, 2026), chance.randint(1, 5), 3))


def settled(rules: Rules, values: Values, day: date) -> list[str]:
    """What each rule answers; what asks nothing of a rider counts as one."""
    found = (outcome.status for outcome in checks.outcomes(rules, values, day))
    return ["met" if status == "not-asked" else status for status in found]


# ---- what is made at random ---------------------------------------------------

sparse = st.builds(
    lambda declared, left_out: {p: v for p, v in declared.items() if p not in left_out},
    declarations, st.frozensets(st.sampled_from(sorted(FACTS)), max_size=12),
)  # fmt: skip
not_known = st.one_of(
    st.just(frozenset[str]()), st.frozensets(st.sampled_from(sorted(FACTS)), max_size=3)
)
asked_of_one = st.lists(st.tuples(sparse.map(lambda its: [its]), not_known, events),
                        min_size=3, max_size=4)  # fmt: skip


@FEW
@given(rulesets(), asked_of_one)
def test_rulesets_of_any_conditions(call: Any, rules: Rules, asked: list[Case]) -> None:
    no_less(call, [rules], asked)


@FEW
@given(st.lists(conditions, min_size=4, max_size=4), asked_of_one)
def test_conditions_alone(call: Any, some: list[c.Condition], asked: list[Case]) -> None:
    no_less(call, [rules_of(*(rule((c.ALWAYS, its)) for its in some))], asked)


@FEW
@given(
    rulesets(), rulesets(), st.lists(st.tuples(sparse, not_known, events), min_size=2, max_size=3)
)
def test_two_events_together(
    call: Any, one: Rules, other: Rules, asked: list[tuple[Values, frozenset[str], date]]
) -> None:
    no_less(call, [one, other], [([its, its], unknown, day) for its, unknown, day in asked])


@FEW
@given(cases())
def test_typed_rule_files(call: Any, case: Any) -> None:
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="questions")
    values = trackprep.parse_declaration(rider_text(case.declaration), ruleset).values
    fewer = [dict(list(values.items())[::step]) for step in (1, 2, 3)]
    asked = [([its], frozenset[str](), case.day) for its in [{}, *fewer]]
    no_less(call, [ruleset.rules], asked)


# ---- where regions turn ---------------------------------------------------------

DAY, PAST, WEEK = c.DayOf("day.any"), c.DayOf("day.past"), c.DayOf("day.week")
A, B = c.NumberOf("number.a"), c.NumberOf("number.b")
FLAG, UNHEARD = c.FlagTest("flag.a", True), c.FlagTest("flag.b", True)
ELDER = c.AgeTest(PAST, c.EventDay(), "at least", 12, None, "day")
YOUNGER = c.AgeTest(PAST, c.EventDay(), "at most", 60, None, "day")
A_MONTH_OLD = c.Between(
    c.AgeTest(WEEK, c.EventDay(), "at least", None, 30, "day"),
    c.AgeTest(WEEK, c.EventDay(), "at most", None, 45, "day"),
)


def number(text: str) -> c.Constant:
    return c.Constant(Fraction(text), ONE)


def at_least(left: c.Term, right: c.Term) -> c.NumberTest:
    return c.NumberTest(left, "at least", right)


INSIDE = c.All((at_least(A, number("1")), c.Not(c.NumberTest(A, "equal", number("1"))),
                c.NumberTest(A, "less than", number("2"))))  # fmt: skip


@pytest.mark.parametrize(
    ("test", "values"),
    [
        (ELDER, {}),
        (c.Between(ELDER, YOUNGER), {}),
        (c.AgeTest(WEEK, c.EventDay(), "at most", 60, None, "day"), {}),
        (A_MONTH_OLD, {}),
        (c.DayTest(WEEK, "at least", c.FixedDay(date(1995, 1, 1))), {}),
        (INSIDE, {}),
        (c.NumberTest(c.CompletedYears(PAST, c.EventDay()), "at least", number("18")), {}),
        (c.DayTest(DAY, "at least", c.FixedDay(DAYS[0])), {}),
        (c.DayTest(DAY, "equal", c.EventDay()), {}),
        (c.DayTest(PAST, "less than", DAY), {"day.any": span_of("2021-06-14")}),
        (at_least(A, number("1/3")), {}),
        (c.NumberTest(A, "equal", number("2")), {}),
        (at_least(A, B), {"number.b": Amount(Fraction(2))}),
        (c.Between(at_least(A, number("1")), c.NumberTest(A, "at most", number("2"))), {}),
        (at_least(c.Rounded(A, number("1"), False), number("3")), {}),
        (at_least(c.Called("sqrt", A), number("3")), {}),
        (c.GradeTest("grade.a", "at least", None, "grade.b", grades=GRADES), {}),
        (c.SetTest("set.a", "all", frozenset({"first", "second"})), {}),
        (c.ChoiceTest("choice.a", frozenset({"first", "third"}), False), {}),
    ],
    ids=repr,
)
def test_a_fact_is_tried_on_each_side(call: Any, test: c.Condition, values: Values) -> None:
    """A question is asked just where one of the sides that a test can take settles a rule."""
    never = c.All((FLAG, c.Not(FLAG)))  # no answer makes it true
    for demand in (test, c.Not(test), c.AnyOf((never, test)), c.All((test, FLAG))):
        exactly(call, demand, [([values], frozenset(), day) for day in DAYS])
    # Beside a fact that stays unknown only one side of the test settles anything.
    for demand in (c.AnyOf((test, UNHEARD)), c.All((test, UNHEARD))):
        exactly(call, demand, [([values], frozenset({"flag.b"}), day) for day in DAYS])
