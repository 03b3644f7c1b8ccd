"""The analysis against an independent translation to z3, on thousands of rule pairs."""

import pytest
import z3
from chance import Chance, ruleset
from in_z3 import declared, facts, lets_and_refuses, ranges
from thorough import THOROUGH

from trackprep.analysis.comparisons import Kind
from trackprep.analysis.differences import compared
from trackprep.rules import model

PAIRS = 500 if THOROUGH else 100


def kinds(one: model.Rule, other: model.Rule) -> set[Kind]:
    """What z3 says that the difference of two rules may be called."""
    solver = z3.Solver()
    solver.add(ranges())
    said = [lets_and_refuses(rule) for rule in (one, other)]
    asked = [[declared(path) for path in facts(rule)] for rule in (one, other)]

    def possible(*claims: z3.BoolRef) -> bool:
        answer = solver.check(*claims)
        assert answer != z3.unknown
        return bool(answer == z3.sat)

    def turned_away(at: int) -> bool:
        return possible(said[at][0], z3.Not(said[1 - at][0]), *asked[0], *asked[1])

    def left_open(at: int) -> bool:
        lets, refuses = said[1 - at]
        return possible(said[at][0], z3.Not(lets), z3.Not(refuses), *asked[at])

    lost, gained = turned_away(0), turned_away(1)
    if lost or gained:
        return {"differs both ways" if lost and gained else "stricter" if lost else "looser"}
    more, less = left_open(0), left_open(1)
    if more and less:
        return {"asks otherwise"}
    return {"asks for more"} if more else {"asks for less"} if less else {"same", "reworded"}


@pytest.mark.parametrize("seed", range(20))
def test_pairs_are_judged_as_z3_judges_them(seed: int) -> None:
    chance = Chance(seed, several=seed % 3 == 0)
    for number in range(PAIRS):
        one, other = chance.pair()
        (found,) = compared(ruleset(one), ruleset(other)).rules
        expected = kinds(one, other)
        assert found.kind in expected, (seed, number, one.asked, other.asked, found.undecided)
