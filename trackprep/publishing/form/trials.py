"""Where tests of numbers turn, as data: what questions.js cannot tell of a test cheaply itself.

The script compares a declared number with a known one by itself, and likewise any arithmetic
with one fact in it. What is left are tests through formulas, tables and rounding, and tests
of a number beside choices: for those stands here at which numbers their answers may change.
A test of several facts that is not here has answers that no finite look-up gives.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from trackprep.analysis.domains import Domain, domains
from trackprep.analysis.leaves import Leaf, LeafOf, leaves
from trackprep.backends.page import PlainRuleset
from trackprep.explanations.mentions import terms_in, tests_in
from trackprep.rules.conditions import CompletedYears, Constant, NumberOf, NumberTest
from trackprep.rules.model import Dated, Measured, Rules
from trackprep.rules.values import Value

_ANY_DAY = date(2000, 1, 1)
"""No test that is looked at here hangs on the event's day."""


def plain_trials(plain: PlainRuleset) -> list[list[Any]]:
    """`[node, [[fact, [number, …]], …], by rows]` for each test that the script needs it of.

    Nodes and facts go by their numbers in the data of the ruleset. Of counts, the numbers lie
    between those that are told apart. `by rows` is 1 for a test that may have an answer where
    some of its facts are undeclared, else left out.
    """
    rules = plain.rules
    here: dict[str, Value | None] = {
        path: value for path, value in rules.here.items()
        if not isinstance(rules.facts[path].type, Dated)  # may lie after the event
    }  # fmt: skip
    places = {path: place for place, path in enumerate(plain.facts)}
    conditions = (its for rule in rules.rules for asked in rule.asked
                  for its in (asked.demand, asked.when))  # fmt: skip
    found = dict.fromkeys(leaf for its in conditions for leaf in leaves(its, here))
    told = ((leaf, _turning(leaf, rules, places)) for leaf in found)
    return [
        [plain.condition(leaf.test), turning, *([1] if leaf.by_rows else ())]
        for leaf, turning in told if turning or leaf.by_rows
    ]  # fmt: skip


def _turning(leaf: LeafOf, rules: Rules, places: Mapping[str, int]) -> list[list[Any]]:
    """Each number of the test with where it turns; nothing where the script is to see itself."""
    dated = any(isinstance(rules.facts[path].type, Dated) for path in leaf.open)
    if dated or not leaf.open or not _is_needed(leaf.test):
        return []
    tried = domains(rules.facts, [leaf], _ANY_DAY)
    return [
        [places[path], [*map(str, sorted({*_turns(domain)}))]]
        for path, domain in tried.by_path.items()
        if not tried.free and isinstance(domain.fact.type, Measured)
    ]


def _is_needed(test: Leaf) -> bool:
    """Whether it is one of numbers, more than a declared one beside a written one, on any day."""
    tests = [one for one in tests_in(test) if isinstance(one, NumberTest)]
    sides = [side for one in tests for side in (one.left, one.right)]
    if any(isinstance(term, CompletedYears) for side in sides for term in terms_in(side)):
        return False
    return not all(isinstance(side, NumberOf | Constant) for side in sides)


def _turns(domain: Domain) -> Iterator[Fraction]:
    """The numbers at which one stretch of the fact's range ends, or the next begins."""
    assert isinstance(domain.fact.type, Measured)
    half = Fraction(1, 2)
    for region in domain.regions:
        for its in region.stretches:
            if domain.fact.type.whole:
                yield from (end + way for end, way in ((its.low, -half), (its.high, half))
                            if end is not None)  # fmt: skip
            elif its.low is not None and its.low == its.high:
                yield its.low
