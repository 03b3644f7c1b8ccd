"""The recipe in z3: its best peer for questions about every declaration."""

from fractions import Fraction
from typing import Any

import z3

from tests.benchmark.recipe import (
    EVENT,
    Both,
    Condition,
    Either,
    Includes,
    Is,
    Limit,
    Recipe,
    Rule,
    Yes,
    Younger,
)


class Said:
    """A recipe's facts as z3's variables, and conditions over them, each said once."""

    def __init__(self, recipe: Recipe) -> None:
        self.facts = recipe.facts
        self.variables = {fact: self._variable(fact) for fact in recipe.facts}
        self.known: dict[Condition, Any] = {}

    def _variable(self, fact: str) -> Any:
        match fact.partition(".")[0]:
            case "flag":
                return z3.Bool(fact)
            case "number":
                return z3.Real(fact)
            case "set":
                return {word: z3.Bool(f"{fact} {word}") for word in self.facts[fact]}
            case _:
                return z3.Int(fact)

    def ranges(self) -> list[Any]:
        """What each fact can be."""
        found = []
        for fact, words in self.facts.items():
            match fact.partition(".")[0]:
                case "choice":
                    found += [self.variables[fact] >= 0, self.variables[fact] < len(words)]
                case "number":
                    found.append(self.variables[fact] >= 0)
                case "date":
                    found.append(self.variables[fact] <= EVENT.toordinal())
        return found

    def lets(self, rule: Rule) -> Any:
        """That a rule is met or not asked."""
        met = self.condition(rule.demand)
        return met if rule.when is None else z3.Or(z3.Not(self.condition(rule.when)), met)

    def condition(self, condition: Condition) -> Any:
        if condition not in self.known:
            self.known[condition] = self._made(condition)
        return self.known[condition]

    def _made(self, condition: Condition) -> Any:
        match condition:
            case Is(fact, words):
                places = (self.facts[fact].index(word) for word in words)
                return z3.Or([self.variables[fact] == place for place in places])
            case Yes(fact):
                return self.variables[fact]
            case Limit(fact, bound, most):
                limit = z3.Q(*Fraction(bound).as_integer_ratio())
                number = self.variables[fact]
                return number <= limit if most else number >= limit
            case Younger(fact, years):
                return self.variables[fact] >= EVENT.replace(year=EVENT.year - years).toordinal()
            case Includes(fact, words):
                return z3.Or([self.variables[fact][word] for word in words])
            case Both(parts):
                return z3.And([self.condition(part) for part in parts])
            case Either(parts):
                return z3.Or([self.condition(part) for part in parts])


def rule_pairs(first: Recipe, second: Recipe) -> list[tuple[bool, bool]]:
    """Of each two rules of one name: whether anything is lost, and whether anything is gained.

    Rules of the same words are not asked about; a model is made for every difference.
    """
    said = Said(first)
    solver = z3.Solver()
    solver.add(said.ranges())
    found = []
    for one, other in zip(first.rules, second.rules, strict=True):
        if one == other:
            found.append((False, False))
            continue
        lets = said.lets(one), said.lets(other)
        found.append((_possible(solver, *lets), _possible(solver, *lets[::-1])))
    return found


def _possible(solver: z3.Solver, lets: Any, not_lets: Any) -> bool:
    solver.push()
    solver.add(lets, z3.Not(not_lets))
    possible = bool(solver.check() == z3.sat)
    if possible:
        solver.model()
    solver.pop()
    return possible


def wholes(first: Recipe, second: Recipe) -> tuple[bool, bool]:
    """Whether anything is ready at the first alone, and at the second alone."""
    said = Said(first)
    sides = [[said.lets(rule) for rule in its.rules] for its in (first, second)]
    found = []
    for ready, other in (sides, sides[::-1]):
        solver = z3.Solver()
        solver.add(said.ranges())
        solver.add(*ready, z3.Not(z3.And(other)))
        found.append(bool(solver.check() == z3.sat))
        if found[-1]:
            solver.model()
    return found[0], found[1]
