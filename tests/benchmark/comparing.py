"""Two rulesets compared, with every witness, beside z3 on the same question."""

import time
from collections.abc import Iterator

from tests.benchmark import in_z3
from tests.benchmark.clubs import SEASON, clubs, rulesets
from tests.benchmark.ours import rules_of
from tests.benchmark.recipe import EVENT
from tests.benchmark.table import Line, seconds
from tests.benchmark.timing import side_by_side
from trackprep.analysis.differences import compared
from trackprep.analysis.pairing import pairs
from trackprep.analysis.periods import period_of
from trackprep.analysis.rule_pairs import difference
from trackprep.analysis.soundness import doubts
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import TwoSides
from trackprep.analysis.wholes import Whole
from trackprep.analysis.witnesses import possible
from trackprep.rules.model import Rules

ROUNDS = 7


def comparing() -> Iterator[Line]:
    """300 rules with 300 over 200 facts, and how it grows."""
    yield from _beside_z3(300, 200)
    yield from _whole()
    yield from _growth()


def _beside_z3(rules: int, facts: int) -> Iterator[Line]:
    """Both of the same questions; ours gives classes and witnesses that were checked again."""
    drawn = clubs(rules, facts)
    first, second = map(rules_of, drawn)

    def rule_by_rule() -> list[tuple[bool, bool]]:
        both = TwoSides(first, second, period_of(first, second, on=EVENT))
        found = [difference(both, *pair) for pair in pairs(first, second)]
        return [(bool(its.lost), bool(its.gained)) for its in found]

    def decided() -> tuple[bool, bool]:
        both = TwoSides(first, second, period_of(first, second, on=EVENT))
        space = Space(both.on(EVENT), shared=both.shared)
        ready = space.ready(0), space.ready(1)
        found = [possible(space, [one, -other]) for one, other in (ready, ready[::-1])]
        space.circuit.close()
        return found[0], found[1]

    def shown() -> tuple[bool, bool]:
        both = TwoSides(first, second, period_of(first, second, on=EVENT))
        found = Whole(both, (first.rules, second.rules))
        found.look()
        return bool(found.lost), bool(found.gained)

    assert rule_by_rule() == in_z3.rule_pairs(*drawn), "z3 and the analysis disagree"
    assert decided() == shown() == in_z3.wholes(*drawn), "z3 and the analysis disagree"
    yield Line(f"{rules} rules with {rules} over {facts} facts, on one day, beside z3")
    timed = side_by_side(lambda: in_z3.rule_pairs(*drawn), rule_by_rule, rounds=ROUNDS)
    yield Line("  rules of one name: z3 (the yardstick)", seconds(timed.yardstick))
    yield Line(
        "  rules of one name, witnesses checked again",
        seconds(timed.contender), timed.ratio, 0.25, 0.5,
    )  # fmt: skip
    timed = side_by_side(lambda: in_z3.wholes(*drawn), decided, rounds=ROUNDS)
    yield Line("  does one let through more: z3 (the yardstick)", seconds(timed.yardstick))
    yield Line("  does one let through more", seconds(timed.contender), timed.ratio, 0.25, 0.5)
    timed = side_by_side(lambda: in_z3.wholes(*drawn), shown, rounds=ROUNDS)
    yield Line("  small witnesses of it, checked again", seconds(timed.contender), timed.ratio)


def _whole() -> Iterator[Line]:
    """Everything that a comparison says, for every day of a season; seconds beside the goal."""
    first, last = SEASON
    yield Line(f"all of a comparison, any day from {first} to {last}, beside the seconds allowed")
    for rules, allowed in ((300, 1), (1_000, 6)):
        one, other = rulesets(rules, rules * 2 // 3)
        took = min(_timed(one, other) for _ in range(3))
        yield Line(f"  {rules:,} rules with {rules:,}", seconds(took), took / allowed, 1, 2)
    start = time.thread_time()
    doubts(one_ruleset := rulesets(300, 200)[0])
    took = time.thread_time() - start
    yield Line(f"  doubts about {len(one_ruleset.rules)} rules", seconds(took), took / 3, 1, 2)


def _growth() -> Iterator[Line]:
    """What a rule costs among 50, 300 and 1,000, beside that among 300."""
    yield Line("growth: time of a rule in a comparison, beside that among 300")
    each = {
        rules: min(_timed(*rulesets(rules, max(20, rules * 2 // 3))) for _ in range(3)) / rules
        for rules in (50, 300, 1_000)
    }
    for rules, took in each.items():
        limits = (1.5, 2.0) if rules > 300 else (None, None)
        yield Line(f"  {rules:,} rules", seconds(took), took / each[300], *limits)


def _timed(one: Rules, other: Rules) -> float:
    start = time.thread_time()
    compared(one, other)
    return time.thread_time() - start
