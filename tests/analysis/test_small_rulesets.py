"""The analysis against plain enumeration of every declaration."""

from collections.abc import Iterable
from math import prod

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from small import EVENT, FACTS, answered, declarations, pairs, rules, ruleset, values_of
from thorough import THOROUGH

from trackprep.analysis.comparisons import MIRRORED, Kind, Shown
from trackprep.analysis.differences import compared
from trackprep.analysis.soundness import doubts
from trackprep.backends.checks import Verdict, holds, outcomes, prepared, verdict
from trackprep.backends.terms import named
from trackprep.explanations import mentions
from trackprep.explanations.mentions import facts_in, terms_in
from trackprep.rules import model
from trackprep.rules.conditions import ByCase, NumberTest
from trackprep.rules.values import Value

SMALL = settings(
    max_examples=1_500 if THOROUGH else 100,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
LET_THROUGH = ("met", "not-asked")
Values = dict[str, Value]


def facts_of(rules: model.Rules, *its: model.Rule) -> tuple[str, ...]:
    """The facts that a declaration decides some rules by."""
    paths = (
        path
        for rule in its
        for part in rule.asked
        for condition in (part.when, part.demand)
        for path in facts_in(condition)
    )
    return tuple(dict.fromkeys(path for path in paths if path not in rules.here))


def many(paths: Iterable[str], most: int) -> bool:
    """Whether there are no more declarations of the facts, with and without each, than so many."""
    return prod(len(values_of(path)) + 1 for path in set(paths)) <= most


# ---- two rules ----------------------------------------------------------------


class ByHand:
    """Two rulesets of one rule, and what is so of some of their declarations."""

    def __init__(self, one: model.Rules, other: model.Rules) -> None:
        self.sides = (one, other)
        self.rules = (one.rules[0], other.rules[0])
        self.facts = tuple(facts_of(side, side.rules[0]) for side in self.sides)

    @property
    def by_rows(self) -> bool:
        """Whether a formula by rows may be worth something without all facts that it names.

        Of such a formula over several facts the fewest are not promised.
        """
        return any(
            isinstance(term, ByCase)
            for rule in self.rules
            for part in rule.asked
            for condition in (part.when, part.demand)
            for test in mentions.tests_in(condition)
            if isinstance(test, NumberTest) and len(set(named(test))) > 1
            for side in (test.left, test.right)
            for term in terms_in(side)
        )

    def status(self, number: int, values: Values) -> str:
        """What a rule answers, where it counts: a recommended one turns nobody away."""
        rule, mate = self.rules[number], self.rules[1 - number]
        if rule.level == "recommended" and mate.level == "required":
            return "met"
        return answered(self.sides[number], rule, values)

    def differ(self, at: int, values: Values) -> bool:
        """Whether one lets the values through and the other does not."""
        return (
            self.status(at, values) in LET_THROUGH
            and self.status(1 - at, values) not in LET_THROUGH
        )

    def turned_away(self, at: int) -> bool:
        every = declarations((*self.facts[0], *self.facts[1]))
        return any(self.differ(at, values) for values in every)

    def left_open(self, at: int) -> bool:
        some = declarations(self.facts[at], self.facts[1 - at])
        return any(
            self.differ(at, values) and self.status(1 - at, values) == "unsettled"
            for values in some
        )

    def kinds(self) -> set[Kind]:
        """What their difference may be called."""
        lost, gained = self.turned_away(0), self.turned_away(1)
        if lost or gained:
            return {"differs both ways" if lost and gained else "stricter" if lost else "looser"}
        more, less = self.left_open(0), self.left_open(1)
        if more or less:
            return {
                "asks otherwise" if more and less else "asks for more" if more else "asks for less"
            }
        return {"same", "reworded"}

    def fewest(self, at: int) -> int | None:
        """How many facts show that the other turns away what one lets through."""
        sizes = [
            len(values)
            for values in declarations((), (*self.facts[0], *self.facts[1]))
            if self.differ(at, values) and self.status(1 - at, values) == "not-met"
        ]
        return min(sizes, default=None)


def checked(shown: Shown | None, by_hand: ByHand, at: int) -> None:
    """A witness says of itself what the reference answers, and is as small as can be."""
    if shown is None:
        return
    values = dict(shown.witness.values)
    assert by_hand.differ(at, values)
    statuses = [
        answered(side, rule, values)
        for side, rule in zip(by_hand.sides, by_hand.rules, strict=True)
    ]
    assert [shown.one, shown.other] == statuses
    fewest = by_hand.fewest(at)
    if by_hand.status(1 - at, values) == "not-met":
        assert fewest is not None
        assert len(values) == fewest or (len(values) > fewest and by_hand.by_rows)
    else:
        assert fewest is None


@SMALL
@given(pairs())
def test_kind_of_a_difference_is_that_of_enumeration(pair: tuple[model.Rules, model.Rules]) -> None:
    by_hand = ByHand(*pair)
    assume(many((*by_hand.facts[0], *by_hand.facts[1]), 2_000))
    (found,) = compared(*pair).rules
    if found.undecided and by_hand.by_rows:
        return
    assert not found.undecided
    assert found.kind in by_hand.kinds()
    checked(found.lost, by_hand, 0)
    checked(found.gained, by_hand, 1)


@SMALL
@given(pairs())
def test_comparison_mirrors_itself(pair: tuple[model.Rules, model.Rules]) -> None:
    one, other = pair
    forth, back = compared(one, other), compared(other, one)
    assert back.rules[0].kind == MIRRORED[forth.rules[0].kind]
    assert [bool(back.lost), bool(back.gained)] == [bool(forth.gained), bool(forth.lost)]
    assert (back.undecided, back.period) == (forth.undecided, forth.period)


# ---- whole rulesets -----------------------------------------------------------


def judged(rules: model.Rules, values: Values) -> Verdict:
    known, _ = prepared(rules, values, EVENT)
    return verdict(rules, outcomes(rules, known, EVENT))


@st.composite
def rulesets(draw: st.DrawFn) -> model.Rules:
    """A ruleset of a few rules."""
    return ruleset(*(draw(rules(f"rule-{n}")) for n in range(draw(st.integers(1, 3)))))


@SMALL
@given(rulesets(), rulesets())
def test_whole_is_that_of_enumeration(one: model.Rules, other: model.Rules) -> None:
    asked = [rule for rules in (one, other) for rule in rules.rules if rule.level == "required"]
    assume(many(facts_of(one, *one.rules, *other.rules), 600))
    every = list(declarations(facts_of(one, *asked)))
    found = compared(one, other)
    judgements = [(judged(one, values), judged(other, values)) for values in every]
    assert not found.undecided
    for shown, other_way in ((found.lost, False), (found.gained, True)):
        verdicts = [pair[::-1] if other_way else pair for pair in judgements]
        assert (shown is not None) == any(a == "ready" != b for a, b in verdicts)
        if shown is not None:
            sides = (one, other)[:: -1 if other_way else 1]
            values = dict(shown.witness.values)
            assert [judged(side, values) for side in sides] == ["ready", shown.verdict]
            assert shown.verdict != "ready"
    for difference in found.rules:
        if difference.kind in ("added", "withdrawn"):
            having, lacking = (other, one) if difference.one is None else (one, other)
            rule = difference.rule
            paths = facts_of(one, rule, *(r for r in lacking.rules if r.level == "required"))
            new = any(
                judged(lacking, values) == "ready"
                and answered(having, rule, values) not in LET_THROUGH
                for values in declarations(paths)
            )
            assert difference.restates == (not new)


# ---- doubts -------------------------------------------------------------------


def certainly(condition: object, values: Values) -> object:
    return holds(condition, values, EVENT)  # type: ignore[arg-type]


def doubts_by_hand(rules: model.Rules) -> set[tuple[str, str]]:
    """What no declaration can do, rule by rule and for each two of them."""
    found: set[tuple[str, str]] = set()
    required = [rule for rule in rules.rules if rule.level == "required"]
    every = list(declarations(facts_of(rules, *rules.rules)))
    answers = {
        rule.name: [answered(rules, rule, values) for values in every] for rule in rules.rules
    }
    asked = {
        rule.name: [
            any(certainly(part.when, values) is True for part in rule.asked) for values in every
        ]
        for rule in rules.rules
    }
    places = range(len(every))
    met: dict[str, bool] = {}
    ready = [all(answers[rule.name][n] in LET_THROUGH for rule in required) for n in places]
    if required and not any(ready):
        found.add(("accepts-nothing", ""))
    for rule in rules.rules:
        name = rule.name
        met[name] = any(asked[name][n] and answers[name][n] in LET_THROUGH for n in places)
        others = [other.name for other in required if other.name != name]
        if not any(asked[name]):
            found.add(("never-asked", name))
        elif not met[name]:
            found.add(("never-met", name))
        elif "not-met" not in answers[name]:
            found.add(("never-fails", name))
        elif (
            rule.level == "required"
            and any(ready)
            and not any(
                answers[name][n] not in LET_THROUGH
                and all(answers[other][n] in LET_THROUGH for other in others)
                for n in places
            )
        ):
            found.add(("implied", name))
    for place, one in enumerate(required):
        for other in required[place + 1 :]:
            both = [n for n in places if asked[one.name][n] and asked[other.name][n]]
            let = [answers[one.name][n] in LET_THROUGH and answers[other.name][n] in LET_THROUGH
                   for n in both]  # fmt: skip
            if both and not any(let) and met[one.name] and met[other.name]:
                found.add(("cannot-both-be-met", other.name))
    return found


@SMALL
@given(rulesets())
def test_doubts_are_those_of_enumeration(rules: model.Rules) -> None:
    found = {
        (finding.name, finding.about.removeprefix("rule ").removeprefix("ruleset small"))
        for finding in doubts(rules)
    }
    assert found == doubts_by_hand(rules)


def test_all_facts_can_be_enumerated() -> None:
    assert len(list(declarations(FACTS))) == 3 * 3 * 3 * 4 * 2 * 2 * 4 * 4
