"""The least changes against plain enumeration: ready when done, and none smaller."""

from collections.abc import Iterator, Mapping
from itertools import combinations, product

from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small import EVENT, FACTS, Small, rules, values_of

from trackprep.analysis.changing import Changing
from trackprep.analysis.least_changes import Obstacle, Plan, Undecided, least_changes
from trackprep.analysis.minimal import conflict, few_given_up, fewest_given_up
from trackprep.analysis.solving import Circuit
from trackprep.backends.checks import holds, outcomes, prepared, verdict
from trackprep.explanations.mentions import facts_in
from trackprep.rules import model
from trackprep.rules.values import Value

CI = settings.get_current_profile_name() == "ci"
SMALL = settings(
    max_examples=800 if CI else 80,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
Values = dict[str, Value]


class Case:
    """Some rulesets, what a rider declared, and by hand what is so of every other declaration."""

    def __init__(self, rulesets: list[model.Rules], values: Values, fixed: frozenset[str]) -> None:
        self.rulesets, self.values, self.fixed = rulesets, values, fixed
        self.facts = tuple(dict.fromkeys(
            path for rules in rulesets for rule in rules.rules if rule.level == "required"
            for part in rule.asked for when in (part.when, part.demand) for path in facts_in(when)
        ))  # fmt: skip
        self.values = {path: value for path, value in values.items() if path in self.facts}

    def __repr__(self) -> str:
        return f"{self.rulesets} with {self.values}, never {sorted(self.fixed)}"

    def others(self, free: frozenset[str] = frozenset()) -> Iterator[Values]:
        """Every declaration that does not touch what is unchangeable."""
        options: list[list[Value | None]] = []
        for path in self.facts:
            if path in self.values and path in self.fixed - free:
                options.append([self.values[path]])
            else:
                undeclared = [] if path in self.values else [None]
                options.append([*values_of(path), *undeclared])
        for chosen in product(*options):
            found = zip(self.facts, chosen, strict=True)
            yield {path: value for path, value in found if value is not None}

    def ready(self, values: Mapping[str, Value]) -> bool:
        return all(verdict(each, self.said(each, values)) == "ready" for each in self.rulesets)

    def said(self, rules: model.Rules, values: Mapping[str, Value]):
        return outcomes(rules, prepared(rules, values, EVENT)[0], EVENT)

    def asked(self, values: Mapping[str, Value]) -> set[tuple[int, str, int]]:
        """The parts of required rules that are asked for certain."""
        return {
            (number, rule.name, place)
            for number, rules in enumerate(self.rulesets)
            for rule in rules.rules if rule.level == "required"
            for place, part in enumerate(rule.asked)
            if holds(part.when, prepared(rules, values, EVENT)[0], EVENT) is True
        }  # fmt: skip

    def changed(self, values: Mapping[str, Value]) -> int:
        return sum(values[path] != value for path, value in self.values.items())

    def straight(self, free: frozenset[str] = frozenset()) -> list[Values]:
        """The declarations that are ready, and of which all is asked that is asked as declared."""
        asked = self.asked(self.values)
        return [v for v in self.others(free) if self.ready(v) and asked <= self.asked(v)]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    fixed = draw(st.frozensets(st.sampled_from(sorted(FACTS)), max_size=3))
    facts = {
        path: evolve(fact, marks=frozenset({"unchangeable"})) if path in fixed else fact
        for path, fact in FACTS.items()
    }
    rulesets: list[model.Rules] = []
    for number in range(draw(st.integers(1, 2))):
        its = [draw(rules(f"rule-{n}")) for n in range(draw(st.integers(1, 2)))]
        rulesets.append(Small(f"day-{number}", "Day", facts=facts, rules=tuple(its)))
    values: Values = {}
    for path in FACTS:
        value = draw(st.sampled_from([*values_of(path), None]))
        if value is not None:
            values[path] = value
    return Case(rulesets, values, fixed)


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_the_advice_makes_ready_and_nothing_smaller_does(case: Case) -> None:
    way = least_changes(case.rulesets, [case.values] * len(case.rulesets), EVENT)
    straight = case.straight()
    match way:
        case Undecided():
            # Arithmetic of several facts may be beyond what can be said exactly.
            assert Changing(
                case.rulesets, [case.values] * len(case.rulesets), EVENT
            ).space.clauses.free
        case Plan():
            assert case.ready(way.values)
            assert len(way.changes) == case.changed(way.values)
            for change in (*way.changes, *way.to_find_out):
                assert case.values.get(change.path) == change.old != change.new
                assert not (change.path in case.fixed and change.old is not None)
            if straight:
                assert not way.fallen_away
                assert len(way.changes) == min(map(case.changed, straight))
                assert case.asked(case.values) <= case.asked(way.values)
        case Obstacle():
            assert not straight


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_every_change_is_for_rules_that_are_in_the_way_without_it(case: Case) -> None:
    way = least_changes(case.rulesets, [case.values] * len(case.rulesets), EVENT)
    if not isinstance(way, Plan):
        return
    for change in way.changes:
        assert change.rules
        undone = {**way.values, change.path: change.old}
        for one in change.rules:
            rules = case.rulesets[one.ruleset]
            names = [rule.name for rule in rules.rules]
            outcome = case.said(rules, undone)[names.index(one.rule)]
            assert outcome.status in ("not-met", "unsettled")


@SMALL
@given(cases().filter(lambda case: len(case.facts) < 6))
def test_an_obstacle_names_what_stands_in_the_way_and_no_more(case: Case) -> None:
    way = least_changes(case.rulesets, [case.values] * len(case.rulesets), EVENT)
    if not isinstance(way, Obstacle):
        return
    core = {(one.ruleset, one.rule) for one in way.rules}

    def only(rules: set[tuple[int, str]], facts: frozenset[str]) -> bool:
        """Whether there is a straight way where only these rules ask, and these facts stay."""
        kept = [
            evolve(each, rules=tuple(r for r in each.rules if (number, r.name) in rules))
            for number, each in enumerate(case.rulesets)
        ]
        return bool(Case(kept, case.values, facts).straight())

    assert not only(core, frozenset(way.facts))
    for fact in way.facts:
        assert only(core, frozenset(way.facts) - {fact})
    if all(len(r.asked) == 1 for each in case.rulesets for r in each.rules):
        by_claim = Changing(case.rulesets, [case.values] * len(case.rulesets), EVENT).by_rule
        for of in by_claim.values():
            # Rules that come to the same are named together.
            alike = {(number, rule.name) for number, rule in of}
            assert alike.isdisjoint(core) or only(core - alike, frozenset(way.facts))


# ---- the fewest -------------------------------------------------------------

clauses = st.lists(
    st.lists(st.integers(2, 9).flatmap(lambda n: st.sampled_from([n, -n])), min_size=1, max_size=3),
    max_size=14,
)


def _circuit(claims: list[list[int]]) -> Circuit:
    circuit = Circuit()
    for _ in range(2, 10):
        circuit.fresh()
    for claim in claims:
        circuit.claim(claim)
    return circuit


def _holds(claims: list[list[int]], values: dict[int, bool]) -> bool:
    return all(any(values[abs(n)] is (n > 0) for n in claim) for claim in claims)


@SMALL
@given(clauses)
def test_as_many_wishes_are_granted_as_can_be(claims: list[list[int]]) -> None:
    wishes = list(range(2, 10))
    worlds = [dict(zip(wishes, each, strict=True)) for each in product((True, False), repeat=8)]
    granted = [sum(world.values()) for world in worlds if _holds(claims, world)]
    for minimize in (fewest_given_up, few_given_up):
        circuit = _circuit(claims)
        found = minimize(circuit, [], wishes)
        if found is None:
            assert not granted
            continue
        assert circuit.possible(*found)
        number = sum(circuit.true(wish) for wish in wishes)
        assert number <= max(granted)
        if minimize is fewest_given_up:
            assert number == max(granted)


@SMALL
@given(clauses)
def test_of_a_conflict_each_claim_is_needed(claims: list[list[int]]) -> None:
    circuit = _circuit(claims)
    wishes = list(range(2, 10))
    if circuit.possible(*wishes):
        return
    core = conflict(circuit, wishes)
    assert not circuit.possible(*core)
    for size in range(len(core)):
        for some in combinations(core, size):
            assert circuit.possible(*some) or not core
