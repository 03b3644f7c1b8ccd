"""Two clubs' rulesets: coupled through class and group as the shipped ones are, half changed.

A machine that meets every rule of the first is planted, so that much can be ready.
"""

import random
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from attrs import evolve

from tests.benchmark.ours import rules_of
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
    Test,
    Value,
    Yes,
    Younger,
    recipe,
)
from trackprep.rules.model import Rules

SEASON = (date(2026, 3, 1), date(2026, 11, 30))
COUPLING = {
    "choice.group": ("novice", "intermediate", "advanced", "racer"),
    "choice.class": ("road", "race", "classic", "electric", "sidecar"),
}


def clubs(rules: int, facts: int, seed: int = 5) -> tuple[Recipe, Recipe]:
    """So many rules over so many facts, twice."""
    chance = random.Random(seed)
    drawn = recipe(rules, facts)
    named = {**drawn.facts, **COUPLING}
    planted = {fact: _planted(fact, words, chance) for fact, words in named.items()}
    made = []
    for rule in drawn.rules:
        when = rule.when
        if chance.random() < 0.5:
            fact = chance.choice(list(COUPLING))
            coupled = Is(fact, tuple(sorted(chance.sample(COUPLING[fact], chance.choice((1, 2))))))
            when = coupled if when is None else Both((coupled, when))
        made.append(Rule(when, _met(rule.demand, planted)))
    first = Recipe(named, tuple(made))
    changed = (
        Rule(rule.when, _changed(rule.demand, named, chance)) if chance.random() < 0.5 else rule
        for rule in made
    )
    return first, replace(first, rules=tuple(changed))


def rulesets(rules: int, facts: int) -> tuple[Rules, Rules]:
    """Both as checked models, valid for a season."""
    first, second = (evolve(rules_of(its), valid=SEASON) for its in clubs(rules, facts))
    return first, second


def _planted(fact: str, words: tuple[str, ...], chance: random.Random) -> Value:
    match fact.partition(".")[0]:
        case "choice":
            return chance.choice(words)
        case "flag":
            return True
        case "number":
            return Fraction(chance.randint(10, 90), 10)
        case "date":
            return EVENT - timedelta(days=chance.randint(1, 1000))
        case _:
            return frozenset(chance.sample(words, 2))


def _met(condition: Condition, planted: dict[str, Value]) -> Condition:
    """The condition, changed where the planted machine does not meet it."""
    match condition:
        case Both(parts):
            return Both(tuple(_test_met(part, planted) for part in parts))
        case Either(parts):
            return Either(tuple(_test_met(part, planted) for part in parts))
        case _:
            return _test_met(condition, planted)


def _test_met(test: Condition, planted: dict[str, Value]) -> Test:
    match test:
        case Is(fact, words):
            return Is(fact, tuple(sorted({*words, str(planted[fact])})))
        case Limit(fact, bound, most):
            value = planted[fact]
            assert isinstance(value, Fraction)
            return (
                test
                if (value <= bound if most else value >= bound)
                else Limit(fact, bound, not most)
            )
        case Includes(fact, words):
            value = planted[fact]
            assert isinstance(value, frozenset)
            return Includes(fact, tuple(sorted({*words, min(value)})))
        case Yes() | Younger():
            return test
        case _:
            raise AssertionError(test)


def _changed(
    condition: Condition, facts: dict[str, tuple[str, ...]], chance: random.Random
) -> Condition:
    """A demand that another club may have: another limit, another choice, a test more or less."""
    match condition:
        case Is(fact, words):
            other = chance.choice(facts[fact])
            changed = {*words, other} if other not in words else {*words} - {other}
            return Is(fact, tuple(sorted(changed or {chance.choice(facts[fact])})))
        case Limit(fact, bound, most):
            return Limit(fact, bound + Fraction(chance.choice((-5, -2, 2, 5)), 10), most)
        case Younger(fact, years):
            return Younger(fact, years + chance.choice((-1, 1)))
        case Includes(fact, words):
            return Includes(fact, tuple(sorted({*words, chance.choice(facts[fact])})))
        case Yes(fact):
            return Either((Yes(fact), Is("choice.group", ("racer",))))
        case Both(parts) if chance.random() < 0.3:
            return Both(parts[1:])
        case Both(parts) | Either(parts):
            return type(condition)((_changed(parts[0], facts, chance), *parts[1:]))  # type: ignore[arg-type]
        case _:
            raise AssertionError(condition)
