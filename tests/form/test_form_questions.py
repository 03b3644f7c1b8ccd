"""Which facts the form asks for: what the interview asks for, no less, and hardly ever more."""

import random
from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from form.asked import Case, Values, by_interview, by_page
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from models import FACTS, conditions, declarations, events, rule, rules_of, rulesets
from strategies import cases
from test_agreement import rider_text
from test_page_backend import DAYS, RIDERS, VENUES
from thorough import THOROUGH

import trackprep
from trackprep.backends import checks
from trackprep.dates import Span, span_of
from trackprep.declarations.several import read_rider_for_all
from trackprep.publishing.form.facts import used_facts
from trackprep.rider.asking_order import in_order
from trackprep.rules import conditions as c
from trackprep.rules.model import Choosing, Measured, Rules, YesOrNo
from trackprep.rules.values import Amount, Value
from trackprep.source import Source
from trackprep.syntax.printer import print_rules

FEW = settings(
    max_examples=200 if THOROUGH else 6,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def no_less(call: Any, several: Sequence[Rules], cases: Sequence[Case]) -> None:
    for case, found in zip(cases, by_page(call, several, cases), strict=True):
        assert set(by_interview(several, case)) <= set(found), case
        order = [asked.fact.path for asked in in_order(several)]
        assert [path for path, _ in found] == sorted((p for p, _ in found), key=order.index)


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


TIMES = 40 if THOROUGH else 3
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


def test_what_one_event_settles_itself_is_undeclared_at_another(call: Any) -> None:
    demand = c.ChoiceTest("choice.a", frozenset({"first"}), False)
    several = [
        rules_of(rule((c.ALWAYS, demand)), here={"choice.a": "first"}),
        rules_of(rule((c.ALWAYS, demand))),
    ]
    nothing: Case = ([{}, {}], frozenset(), DAYS[0])
    assert by_page(call, several, [nothing]) == [[("choice.a", "undeclared")]]
    assert by_interview(several, nothing) == [("choice.a", "undeclared")]
