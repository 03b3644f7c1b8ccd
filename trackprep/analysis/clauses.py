"""Conditions over regions as literals of a circuit: one that they hold, one that they fail.

A condition of which neither literal is true is unknown, as in Kleene's logic.
"""

from collections.abc import Iterable, Mapping
from math import prod
from typing import NamedTuple, assert_never

from attrs import define, field

from trackprep.analysis.domains import Domain, Domains
from trackprep.analysis.leaves import LeafOf, Settled, leaf_of, leaves
from trackprep.analysis.solving import YES, Circuit
from trackprep.explanations.mentions import terms_in
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    Arithmetic,
    AtLeast,
    Between,
    ByRows,
    Called,
    Case,
    ChoiceLookup,
    ChoiceTest,
    CompletedYears,
    Condition,
    Constant,
    DayTest,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    NumberLookup,
    NumberTest,
    SetTest,
    Term,
)
from trackprep.rules.model import Choosing, Fact, Rule
from trackprep.truth import Truth

__all__ = ["Both", "Clauses", "FactLiterals", "RuleLiterals", "always_known", "leaf_of", "leaves"]


class Both(NamedTuple):
    """The literals that a condition holds and that it fails."""

    true: int
    false: int


class RuleLiterals(NamedTuple):
    """What a rule answers: lets through (met or not asked), turned away (not met)."""

    lets: int
    refuses: int
    asked: int
    """All its `when`s certainly hold for some part."""


@define(eq=False)
class FactLiterals:
    """The literals of one fact: undeclared, each of its regions, or each member of its set."""

    fact: Fact
    undeclared: int
    domain: Domain | None = None
    regions: tuple[int, ...] = ()
    members: dict[str, int] = field(factory=dict)


class Clauses:
    """The conditions of one or more rulesets over the same facts, for one event day."""

    def __init__(self, facts: dict[str, Fact], domains: Domains) -> None:
        self.circuit = Circuit()
        self.domains = domains
        self.facts: dict[str, FactLiterals] = {}
        self.free: dict[LeafOf, Both] = {}
        self._leaves: dict[LeafOf, Both] = {}
        self._all_facts = facts
        for path, domain in domains.by_path.items():
            self._declare(path, domain)
        for fact in self.facts.values():
            self.circuit.prefer((fact.undeclared, *fact.regions[:1]))
            self.circuit.prefer(-region for region in fact.regions[1:])

    # ---- facts ----

    def _declare(self, path: str, domain: Domain) -> None:
        undeclared = self.circuit.fresh()
        regions = tuple(self.circuit.fresh() for _ in domain.regions)
        self.circuit.exactly_one((undeclared, *regions))
        self.facts[path] = FactLiterals(domain.fact, undeclared, domain, regions)

    def fact(self, path: str) -> FactLiterals:
        """The literals of a fact; of a set, made when first asked for."""
        if path not in self.facts:
            fact = self._all_facts[path]
            found = self.facts[path] = FactLiterals(fact, self.circuit.fresh())
            if isinstance(fact.type, Choosing):
                for word in fact.type.words:
                    member = found.members[word] = self.circuit.fresh()
                    self.circuit.claim((-found.undeclared, -member))
                self.circuit.prefer((found.undeclared, *(-m for m in found.members.values())))
        return self.facts[path]

    def declared(self, paths: Iterable[str]) -> list[int]:
        """Literals that say that the facts are declared."""
        return [-self.fact(path).undeclared for path in paths]

    # ---- conditions ----

    def says(self, condition: Condition, here: Settled) -> Both:
        """The literals of a condition as a ruleset asks it that settles `here`."""
        match condition:
            case Not(inner):
                made = self.says(inner, here)
                return Both(made.false, made.true)
            case Meaning(_, inner):
                return self.says(inner, here)
            case All(parts):
                said = [self.says(part, here) for part in parts]
                return Both(
                    self.circuit.all_of(part.true for part in said),
                    self.circuit.any_of(part.false for part in said),
                )
            case AnyOf(parts):
                said = [self.says(part, here) for part in parts]
                return Both(
                    self.circuit.any_of(part.true for part in said),
                    self.circuit.all_of(part.false for part in said),
                )
            case AtLeast(count, parts):
                said = [self.says(part, here) for part in parts]
                return Both(
                    self.circuit.at_least(count, [part.true for part in said]),
                    self.circuit.at_least(len(parts) - count + 1, [part.false for part in said]),
                )
            case ByRows(_, rows):
                return self._by_rows(rows, here)
            case (
                ChoiceTest() | GradeTest() | SetTest() | FlagTest() | NumberTest() | DayTest()
                | AgeTest() | Between()
            ):  # fmt: skip
                return self._leaf(leaf_of(condition, here))
            case _:
                assert_never(condition)

    def _by_rows(self, rows: tuple[Case, ...], here: Settled) -> Both:
        """Every row that may be the first to hold says so."""
        true, false = -YES, -YES
        for row in reversed(rows):
            test = self.says(row.test, here)
            if row.condition is None:
                true, false = test
                continue
            holds = self.says(row.condition, here)
            true, false = (
                self.circuit.all_of(
                    (
                        self.circuit.any_of((holds.false, said)),
                        self.circuit.any_of((holds.true, behind)),
                    )
                )
                for said, behind in ((test.true, true), (test.false, false))
            )
        return Both(true, false)

    def _leaf(self, leaf: LeafOf) -> Both:
        if leaf not in self._leaves:
            self._leaves[leaf] = self._made(leaf)
        return self._leaves[leaf]

    def _made(self, leaf: LeafOf) -> Both:
        if leaf in self.domains.constant:
            return _constant(self.domains.constant[leaf])
        if isinstance(leaf.test, SetTest):
            return self._set(leaf.test)
        if leaf in self.domains.joint:
            return self._joint(leaf)
        paths = leaf.open
        if len(paths) == 1 and leaf in self.domains.by_path[paths[0]].answers:
            answers = self.domains.by_path[paths[0]].answers[leaf]
            fact = self.facts[paths[0]]
            cases = list(zip((*fact.regions, fact.undeclared), answers, strict=True))
            true, false = (
                self.circuit.any_of(case for case, answer in cases if answer is said)
                for said in (True, False)
            )
            for literal, said in ((true, True), (false, False)):
                if answers[-1] is not said:  # follows from the regions, but is so seen at once
                    self.circuit.claim((-literal, -fact.undeclared))
            return Both(true, false)
        return self._free(leaf)

    def _set(self, test: SetTest) -> Both:
        fact = self.fact(test.path)
        members = [fact.members[word] for word in test.words if word in fact.members]
        whole = len(members) == len(test.words)
        match test.how:
            case "any":
                holds = self.circuit.any_of(members)
            case "all":
                holds = self.circuit.all_of(members) if whole else -YES
            case "none":
                holds = -self.circuit.any_of(members)
            case _:
                assert_never(test.how)
        known = -fact.undeclared
        return Both(self.circuit.all_of((known, holds)), self.circuit.all_of((known, -holds)))

    def _joint(self, leaf: LeafOf) -> Both:
        true, false = self.circuit.fresh(), self.circuit.fresh()
        facts = [self.facts[path] for path in leaf.open]
        table = self.domains.joint[leaf]
        cases = [(*fact.regions, fact.undeclared) for fact in facts]
        if len(table) < prod(map(len, cases)):
            for fact in facts:
                self.circuit.claim((-fact.undeclared, -true))
                self.circuit.claim((-fact.undeclared, -false))
        for places, truth in table.items():
            chosen = [-literals[n] for literals, n in zip(cases, places, strict=True)]
            self.circuit.claim((*chosen, true if truth is True else -true))
            self.circuit.claim((*chosen, false if truth is False else -false))
        return Both(true, false)

    def _free(self, leaf: LeafOf) -> Both:
        """A test of several facts: any answer at all where they are declared, else none."""
        true, false = self.circuit.fresh(), self.circuit.fresh()
        self.circuit.claim((-true, -false))
        undeclared = [self.facts[path].undeclared for path in leaf.open]
        for literal in undeclared:
            self.circuit.claim((-literal, -true))
            self.circuit.claim((-literal, -false))
        if always_known(leaf.test, self._all_facts):
            self.circuit.claim((*undeclared, true, false))
        self.free[leaf] = Both(true, false)
        return self.free[leaf]

    # ---- rules ----

    def rule(self, rule: Rule, here: Settled) -> RuleLiterals:
        """What a rule answers; of a rule for several parts, as its worst part does."""
        lets, refuses, asked = [], [], []
        for part in rule.asked:
            applies, demand = self.says(part.when, here), self.says(part.demand, here)
            lets.append(self.circuit.any_of((applies.false, demand.true)))
            refuses.append(self.circuit.all_of((applies.true, demand.false)))
            asked.append(applies.true)
        return RuleLiterals(
            self.circuit.all_of(lets), self.circuit.any_of(refuses), self.circuit.any_of(asked)
        )


def always_known(test: Condition, facts: Mapping[str, Fact]) -> bool:
    """Whether a test has an answer for all declared numbers: none lacks a value or is inexact."""
    match test:
        case Between(least, most):
            return always_known(least, facts) and always_known(most, facts)
        case NumberTest(left, _, right):
            return all(_has_value(term, facts) for side in (left, right) for term in terms_in(side))
        case _:
            return False


def _has_value(term: Term, facts: Mapping[str, Fact]) -> bool:
    """Whether the term has a value where all that it is made of has."""
    match term:
        case Arithmetic("/", _, right):
            return isinstance(right, Constant) and right.value != 0
        case ChoiceLookup(path=path, rows=rows):
            kind = facts[path].type
            return isinstance(kind, Choosing) and set(kind.words) <= {word for word, _ in rows}
        case NumberLookup() | Called() | CompletedYears():
            return False
        case _:
            return True


def _constant(truth: Truth) -> Both:
    return Both(YES if truth is True else -YES, YES if truth is False else -YES)
