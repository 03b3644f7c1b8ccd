"""An invented ruleset and declarations in a form that every engine's rules are written from.

The mix is that of the shipped rulesets: mostly choices and yes or no, then measured limits,
ages and lists, a third of the rules with a condition.
"""

import random
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

EVENT = date(2026, 6, 14)

Value = str | bool | Fraction | date | frozenset[str]
Values = dict[str, Value]


@dataclass(frozen=True)
class Is:
    """The choice is one of `words`."""

    fact: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Yes:
    """The fact is yes."""

    fact: str


@dataclass(frozen=True)
class Limit:
    """The number, in millimetres, is at least (`most`: at most) `bound`."""

    fact: str
    bound: Fraction
    most: bool


@dataclass(frozen=True)
class Younger:
    """The age on the event's day is at most so many years."""

    fact: str
    years: int


@dataclass(frozen=True)
class Includes:
    """The set includes any of `words`."""

    fact: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Both:
    """Every part holds."""

    parts: tuple["Condition", ...]


@dataclass(frozen=True)
class Either:
    """Some part holds."""

    parts: tuple["Condition", ...]


Test = Is | Yes | Limit | Younger | Includes
Condition = Test | Both | Either


@dataclass(frozen=True)
class Rule:
    """A condition for asking at all, if there is one, and what is asked."""

    when: Condition | None
    demand: Condition


@dataclass(frozen=True)
class Recipe:
    """Rules over facts; of a choice or a set the facts have the words."""

    facts: dict[str, tuple[str, ...]]
    rules: tuple[Rule, ...]

    def names(self, kind: str) -> list[str]:
        """The facts of one kind."""
        return [fact for fact in self.facts if fact.startswith(kind)]


def recipe(rules: int, facts: int, seed: int = 1) -> Recipe:
    """So many rules over so many facts; every fact stands in some rule if there are enough."""
    chance = random.Random(seed)
    kinds = ["choice"] * 18 + ["flag"] * 9 + ["number"] * 7 + ["date"] * 3 + ["set"] * 3
    named: dict[str, tuple[str, ...]] = {}
    for place in range(facts):
        kind = kinds[place % len(kinds)]
        words = tuple(f"{kind}-{letter}" for letter in "abcdefgh"[: chance.randint(3, 8)])
        named[f"{kind}.f{place}"] = words if kind in ("choice", "set") else ()
    fresh = list(named)
    chance.shuffle(fresh)

    def test() -> Test:
        return _test(named, fresh.pop() if fresh else chance.choice(list(named)), chance)

    def demand() -> Condition:
        shape = chance.random()
        if shape < 0.7:
            return test()
        joint = Both if shape < 0.85 else Either
        return joint(tuple(test() for _ in range(chance.choice((2, 2, 3)))))

    sections = [test() for _ in range(max(1, rules // 30))]
    made = []
    for _ in range(rules):
        asked = chance.random()
        when: Condition | None = None
        if asked < 0.2:
            when = test()
        elif asked < 0.35:
            when = chance.choice(sections)
        made.append(Rule(when, demand()))
    return Recipe(named, tuple(made))


def _test(facts: dict[str, tuple[str, ...]], fact: str, chance: random.Random) -> Test:
    words = facts[fact]
    match fact.partition(".")[0]:
        case "choice":
            return Is(fact, tuple(sorted(chance.sample(words, chance.choice((1, 1, 2, 2, 3))))))
        case "flag":
            return Yes(fact)
        case "number":
            return Limit(fact, Fraction(chance.randint(5, 95), 10), chance.random() < 0.5)
        case "date":
            return Younger(fact, chance.randint(3, 8))
        case "set":
            return Includes(fact, tuple(sorted(chance.sample(words, 2))))
    raise AssertionError(fact)


def declarations(recipe: Recipe, count: int, missing: float, seed: int = 2) -> list[Values]:
    """So many declarations, each fact left out with the chance `missing`.

    Two thirds of the values are ones that the first test on their fact asks for, since
    people come with machines that mostly meet the rules; some stand just on a limit.
    """
    chance = random.Random(seed)
    wanted: dict[str, Test] = {}
    for rule in recipe.rules:
        for condition in (rule.when, rule.demand):
            for test in tests_of(condition) if condition else ():
                wanted.setdefault(test.fact, test)
    return [
        {
            fact: _value(words, fact, wanted.get(fact), chance)
            for fact, words in recipe.facts.items()
            if chance.random() >= missing
        }
        for _ in range(count)
    ]


def tests_of(condition: Condition) -> list[Test]:
    """The tests of a condition."""
    if isinstance(condition, Both | Either):
        return [test for part in condition.parts for test in tests_of(part)]
    return [condition]


def _value(words: tuple[str, ...], fact: str, test: Test | None, chance: random.Random) -> Value:
    meets = chance.random() < 0.67
    match fact.partition(".")[0]:
        case "choice":
            return chance.choice(test.words if meets and isinstance(test, Is) else words)
        case "flag":
            return meets or chance.random() < 0.5
        case "number":
            if isinstance(test, Limit) and chance.random() < 0.1:
                return test.bound
            if isinstance(test, Limit) and meets:
                return test.bound + Fraction(chance.randint(0, 20), 10) * (-1 if test.most else 1)
            return Fraction(chance.randint(0, 100), 10)
        case "date":
            return EVENT - timedelta(days=chance.randint(1, 1500 if meets else 3500))
        case "set":
            if meets and isinstance(test, Includes):
                return frozenset({chance.choice(test.words), chance.choice(words)})
            return frozenset(chance.sample(words, chance.randint(0, 3)))
    raise AssertionError(fact)
