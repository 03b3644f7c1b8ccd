"""The least changes against plain enumeration: ready when done, and none smaller."""

from collections.abc import Iterator, Mapping
from itertools import combinations, product

from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small import EVENT, FACTS, Small, values_of
from small import rules as some_rules
from thorough import THOROUGH

from trackprep.analysis.changing import Changing
from trackprep.analysis.least_changes import Obstacle, Plan, Undecided, least_changes
from trackprep.analysis.minimal import conflict, few_given_up, fewest_given_up
from trackprep.analysis.solving import Circuit
from trackprep.backends.checks import holds, outcomes, prepared, verdict
from trackprep.explanations.mentions import demanded_in, facts_in, rows_in
from trackprep.rules import model
from trackprep.rules.conditions import Condition
from trackprep.rules.values import Value
from trackprep.truth import Truth

SMALL = settings(
    max_examples=800 if THOROUGH else 80,
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

    def parts(self) -> Iterator[tuple[model.Rules, model.Asked]]:
        for rules in self.rulesets:
            for rule in rules.rules:
                if rule.level == "required":
                    yield from ((rules, part) for part in rule.asked)

    def truth(self, rules: model.Rules, condition: Condition, values: Values) -> Truth:
        return holds(condition, prepared(rules, values, EVENT)[0], EVENT)

    def is_straight(self, values: Values) -> bool:
        """Whether it is justified, and all that needs work stays asked."""
        return self.is_justified(values) and all(
            self.truth(rules, condition, values) is truth
            for rules, condition, truth, needy in self.stays() if needy
        )  # fmt: skip

    def is_justified(self, values: Values) -> bool:
        """Whether no change is for its own sake, and none is for not being asked."""
        moved = {path for path, value in self.values.items() if values[path] != value}
        demanding = [
            (self.needs(rules, part), demanded_in(part.demand)) for rules, part in self.parts()
            if self.truth(rules, part.when, values) is not False
        ]  # fmt: skip
        needing = {path for needy, facts in demanding if needy for path in facts}
        return moved <= {path for _, facts in demanding for path in facts} and all(
            self.truth(rules, condition, values) is truth
            or moved & set(facts_in(condition)) <= needing
            for rules, condition, truth, _ in self.stays()
        )

    def stays(self) -> Iterator[tuple[model.Rules, Condition, bool, bool]]:
        """What decides what is asked: with its truth as declared, and whether it needs work."""
        for rules, part in self.parts():
            if self.truth(rules, part.when, self.values) is True:
                needy = self.needs(rules, part)
                yield rules, part.when, True, needy
                for row in rows_in(part.demand):
                    truth = self.truth(rules, row, self.values)
                    if truth is not None:
                        yield rules, row, truth, needy

    def needs(self, rules: model.Rules, part: model.Asked) -> bool:
        """Whether a part is not let through as declared."""
        return (
            self.truth(rules, part.when, self.values) is not False
            and self.truth(rules, part.demand, self.values) is not True
        )

    def changed(self, values: Mapping[str, Value]) -> int:
        return sum(values[path] != value for path, value in self.values.items())

    def straight(self, free: frozenset[str] = frozenset()) -> list[Values]:
        """The declarations that are ready in a straight way."""
        return [v for v in self.others(free) if self.ready(v) and self.is_straight(v)]

    def can_be_met(self, some: set[tuple[int, str]], fixed: frozenset[str]) -> bool:
        """Whether these rules can be met in a justified way where these facts stay."""
        return any(
            self.lets(some, values) and self.is_justified(values)
            for values in Case(self.rulesets, self.values, fixed).others()
        )

    def lets(self, some: set[tuple[int, str]], values: Values) -> bool:
        return all(
            outcome.status in ("met", "not-asked")
            for number, rules in enumerate(self.rulesets)
            for rule, outcome in zip(rules.rules, self.said(rules, values), strict=True)
            if (number, rule.name) in some
        )


@st.composite
def cases(draw: st.DrawFn) -> Case:
    fixed = draw(st.frozensets(st.sampled_from(sorted(FACTS)), max_size=3))
    facts = {
        path: evolve(fact, marks=frozenset({"unchangeable"})) if path in fixed else fact
        for path, fact in FACTS.items()
    }
    rulesets: list[model.Rules] = []
    for number in range(draw(st.integers(1, 2))):
        its = [draw(some_rules(f"rule-{n}")) for n in range(draw(st.integers(1, 2)))]
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
                assert case.is_straight(dict(way.values))
                assert len(way.changes) == min(map(case.changed, straight))
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
    by_claim = Changing(case.rulesets, [case.values] * len(case.rulesets), EVENT).by_rule
    # Rules that come to the same are named together.
    groups = [{(number, rule.name) for number, rule in of} for of in by_claim.values()]
    core = {(one.ruleset, one.rule) for one in way.rules}
    facts = frozenset(way.facts)
    assert not case.can_be_met(core, facts)
    for fact in facts:
        assert case.can_be_met(core, facts - {fact})
    for alike in groups:
        assert alike.isdisjoint(core) or case.can_be_met(core - alike, facts)


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
