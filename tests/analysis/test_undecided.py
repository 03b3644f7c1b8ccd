"""What cannot be told is undecided, with the reason, the same on every run; never `same`."""

import os
import subprocess
import sys
from itertools import combinations
from pathlib import Path

import pytest
from written import FACTS, rule, ruleset

from trackprep.analysis import solving
from trackprep.analysis.arithmetic import NOT_INSTALLED
from trackprep.analysis.comparisons import Comparison
from trackprep.analysis.differences import compared
from trackprep.analysis.solving import TOO_MUCH_WORK
from trackprep.analysis.soundness import doubts
from trackprep.analysis.spoken import NOT_SPOKEN
from trackprep.rules import conditions as c
from trackprep.rules import model

# ---- without the extra --------------------------------------------------------

DIFFERENCE = rule("require bike.tread - bike.depth is at least 2 mm")
IN_OTHER_WORDS = rule("require bike.tread is at least bike.depth + 2 mm")


@pytest.fixture
def without_z3(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where the `solver` extra is not installed."""
    monkeypatch.setitem(sys.modules, "z3", None)


@pytest.mark.usefixtures("without_z3")
@pytest.mark.parametrize("turned", [False, True])
def test_arithmetic_without_the_extra_is_undecided(turned: bool) -> None:
    rulesets = [ruleset(DIFFERENCE).rules, ruleset(IN_OTHER_WORDS).rules]
    found = compared(*(rulesets[::-1] if turned else rulesets))
    assert [(rule.kind, rule.undecided) for rule in found.rules] == [("undecided", NOT_INSTALLED)]
    assert found.undecided == (NOT_INSTALLED,)


def test_arithmetic_with_the_extra_is_decided() -> None:
    found = compared(ruleset(DIFFERENCE).rules, ruleset(IN_OTHER_WORDS).rules)
    assert ([rule.kind for rule in found.rules], found.undecided) == (["same"], ())


@pytest.mark.usefixtures("without_z3")
def test_what_needs_no_arithmetic_is_decided_without_the_extra() -> None:
    clean = rule("require bike.clean", name="clean")
    one = ruleset(DIFFERENCE + clean + rule("require bike.washed", name="washed"))
    other = ruleset(DIFFERENCE + clean + rule("require not bike.washed", name="washed"))
    found = compared(one.rules, other.rules)
    assert [rule.kind for rule in found.rules] == ["same", "same", "differs both ways"]
    assert found.lost is not None
    assert found.undecided == ()


@pytest.mark.usefixtures("without_z3")
def test_witness_that_needs_no_solver_is_shown_without_the_extra() -> None:
    other = rule("require bike.tread - bike.depth is at least 2 mm and bike.tread is at least 5 mm")
    found = compared(ruleset(DIFFERENCE).rules, ruleset(other).rules)
    assert found.rules[0].lost is not None
    assert found.rules[0].kind == "stricter", "that nothing is gained needs no arithmetic"


@pytest.mark.usefixtures("without_z3")
def test_doubts_without_the_extra_say_that_they_are_undecided() -> None:
    never = rule("require bike.tread + bike.depth is more than 40 mm")
    found = {(finding.name, finding.text) for finding in doubts(ruleset(never).rules)}
    assert found == {("undecided", f"`tread` could not be looked into: {NOT_INSTALLED}")}


def test_doubts_with_the_extra_are_certain() -> None:
    never = rule("require bike.tread + bike.depth is more than 40 mm")
    assert "never-met" in {finding.name for finding in doubts(ruleset(never).rules)}


def test_roots_of_several_facts_are_not_told() -> None:
    root = rule("require sqrt(bike.tread * bike.depth) is at least 2 mm")
    product = rule("require bike.tread * bike.depth is at least 4 mm^2")
    found = compared(ruleset(root).rules, ruleset(product).rules)
    assert [(rule.kind, rule.undecided) for rule in found.rules] == [("undecided", NOT_SPOKEN)]


# ---- counted work -------------------------------------------------------------


def pigeons(count: int) -> tuple[model.Rules, model.Rules]:
    """So many riders in one box fewer, each alone in theirs; and a demand that nothing meets."""
    boxes = tuple(f"box-{n}" for n in range(count - 1))
    kind = model.Choosing("one of", tuple(map(model.Choice, boxes)))
    riders = [f"rider.r{n}" for n in range(count)]
    facts = {path: model.Fact(path, path, kind) for path in riders}
    in_box = {(r, b): c.ChoiceTest(r, frozenset({b})) for r in riders for b in boxes}
    apart = c.All(
        tuple(
            c.Not(c.All((in_box[one, box], in_box[other, box])))
            for one, other in combinations(riders, 2)
            for box in boxes
        )
    )
    demands: tuple[c.Condition, ...] = (apart, c.AnyOf(()))
    one, other = (
        model.Rules(
            "boxes", "Boxes", facts=facts,
            rules=(model.Rule("r", "R", "", "required", (model.Asked(None, c.ALWAYS, demand),)),),
        )
        for demand in demands
    )  # fmt: skip
    return one, other


def kinds(found: Comparison) -> list[tuple[str, str]]:
    return [(rule.kind, rule.undecided) for rule in found.rules]


def test_little_work_is_done() -> None:
    assert kinds(compared(*pigeons(5))) == [("same", "")]


def test_too_much_work_is_undecided_on_every_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solving, "MOST_CONFLICTS", 300)
    for _ in range(2):
        found = compared(*pigeons(9))
        assert kinds(found) == [("undecided", TOO_MUCH_WORK)]
        assert found.undecided == (TOO_MUCH_WORK,)
    one, other = pigeons(9)
    assert kinds(compared(other, one)) == [("undecided", TOO_MUCH_WORK)]


def test_work_is_counted_to_the_same_number(monkeypatch: pytest.MonkeyPatch) -> None:
    """There is a budget from which on the question is decided, whenever it is tried."""

    def decided(budget: int) -> bool:
        monkeypatch.setattr(solving, "MOST_CONFLICTS", budget)
        return kinds(compared(*pigeons(7))) == [("same", "")]

    budgets = [25 * 2**n for n in range(9)]
    first = [decided(budget) for budget in budgets]
    assert first == sorted(first)
    assert not first[0]
    assert first[-1]
    assert [decided(budget) for budget in budgets] == first


# ---- the same on every run ------------------------------------------------------

SCRIPT = """
import trackprep
from trackprep.analysis.differences import compared
from trackprep.analysis.soundness import doubts
from written import ruleset, rule
bodies = [
    "limit least is 2 mm when bike.class is one of race, classic, 3 mm otherwise\\n"
    + rule("require bike.tread is at least least or bike.labels includes any of first, third")
    + rule("require bike.tread * 2 - bike.depth is at least 3 mm", name="deep")
    + rule("require at least 2 of bike.clean, bike.washed is yes", name="washed"),
    rule("require bike.tread is at least 2.5 mm or bike.labels includes all of second, third")
    + rule("require bike.tread * 3 - bike.depth is at least 4 mm", name="deep")
    + rule("require age of bike.tyre is at most 5 years", name="tyres"),
]
one, other = (ruleset(body).rules for body in bodies)
found = compared(one, other)
for its in found.rules:
    print(its.kind, its.rule.name, its.restates, its.undecided)
    for shown in (its.lost, its.gained, its.more):
        values = shown and [said(item) for item in shown.witness.values.items()]
        print(shown and (shown.one, shown.other, shown.witness.event), values)
for whole in (found.lost, found.gained):
    print(whole and (whole.rules, *map(said, whole.witness.values.items())))
for finding in doubts(one):
    print(finding.name, finding.text)
"""
SAID = """
def said(item):
    path, value = item
    return path, sorted(value) if isinstance(value, frozenset) else str(value)
"""


def test_order_of_sets_does_not_matter() -> None:
    here = Path(__file__).parent
    said = []
    for seed in ("0", "1", "2"):
        path = os.pathsep.join([str(here), str(here.parent.parent)])
        done = subprocess.run(
            [sys.executable, "-c", SAID + SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": path},
            capture_output=True, text=True,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        said.append(done.stdout)
    assert "looser deep" in said[0]
    assert said[1:] == said[:1] * 2


def test_facts_are_those_of_the_table() -> None:
    assert FACTS.count("\nfact") == 13
