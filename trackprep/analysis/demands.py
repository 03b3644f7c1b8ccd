"""What rules demand, taken apart: one test each, with what it is about and when it is asked."""

from collections.abc import Collection, Hashable, Iterator, Sequence
from typing import Literal, TypeAlias

from attrs import evolve

from trackprep.explanations.clauses import as_phrase, clause
from trackprep.explanations.opposites import opposite
from trackprep.explanations.phrases import turned
from trackprep.explanations.resemblance import alike
from trackprep.explanations.sentences import applies_clause
from trackprep.explanations.wording import capitalized, limit_label
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    ChoiceTest,
    Comparison,
    Condition,
    Constant,
    DayTest,
    FlagTest,
    GradeTest,
    Not,
    NumberTest,
    SetTest,
)
from trackprep.rules.model import Asked, Rule, Rules

Bound: TypeAlias = Literal["least", "most", "exact"]
BOUNDS: dict[Comparison, Bound] = {
    "at least": "least",
    "more than": "least",
    "at most": "most",
    "less than": "most",
    "equal": "exact",
    "not equal": "exact",
}


@frozen(eq=False)
class Demand:
    """One thing that a rule asks.

    Attributes:
        key: What it is about, and the kind of test: demands of one key stand in one row.
        subject: What it is about, in words.
        text: What is asked of that, in words: `at least 2 mm`.
        when: When it is asked, in words; empty: always.
    """

    rule: Rule
    asked: Asked
    condition: Condition
    key: Hashable
    subject: str
    text: str
    when: str

    def like(self, other: "Demand") -> bool:
        """Whether it asks the same of another part or fact, in the same words."""
        if (self.text, self.when) == (other.text, other.when):
            return True
        one, two = self.asked, other.asked
        if one.part is None or two.part is None:
            return False
        said = ((one.when, self.condition), (two.when, other.condition))
        return alike(*said, was=one.part, now=two.part)


def demands(rules: Rules, whole: Collection[str] = ()) -> Iterator[Demand]:
    """Everything that the rules of a ruleset ask, in order.

    Args:
        whole: Rules, by name, that are not taken apart.
    """
    for rule in rules.rules:
        for asked in rule.asked:
            if rule.name in whole:
                yield _of_rule(rule, asked, asked.demand, 0, rules)
                continue
            for place, condition in enumerate(_conjuncts(asked.demand)):
                yield _demand(rule, asked, condition, place, rules)


def not_taken_apart(rulesets: Sequence[Rules]) -> frozenset[str]:
    """The rules that several rulesets have, and that ask of other facts in one than in another.

    Or with an `or` in one and not in another: as a whole they can be set side by side.
    """
    found: dict[str, list[frozenset[Hashable]]] = {}
    for rules in rulesets:
        for rule in rules.rules:
            keys = frozenset(
                _key(condition) or condition
                for asked in rule.asked for condition in _conjuncts(asked.demand)
            )  # fmt: skip
            found.setdefault(rule.name, []).append(keys)
    return frozenset(name for name, several in found.items() if _cannot_be_matched(several))


def _cannot_be_matched(several: Sequence[frozenset[Hashable]]) -> bool:
    first, *others = several
    if all(keys == first for keys in others):
        return False
    compound = any(not isinstance(key, tuple) for keys in several for key in keys)
    return compound or any(first.isdisjoint(keys) for keys in others)


def _conjuncts(condition: Condition) -> Iterator[Condition]:
    """What all must hold for the condition to hold."""
    match condition:
        case All(parts):
            for part in parts:
                yield from _conjuncts(part)
        case Between(least, most):
            yield from (least, most)
        case Not(inner):
            turned_round = opposite(inner)
            if isinstance(turned_round, Not):
                yield condition
            else:
                yield from _conjuncts(turned_round)
        case _:
            yield condition


def _demand(rule: Rule, asked: Asked, condition: Condition, place: int, rules: Rules) -> Demand:
    said = _without_names(condition)
    phrase = as_phrase(said, rules)
    key = _key(condition)
    if key is None or phrase is None:
        return _of_rule(rule, asked, condition, place, rules)
    text = phrase.asked
    if isinstance(condition, ByRows):
        text = text.replace(f" (limit {limit_label(condition.limit, rules)})", "")
    when = applies_clause(asked.when, rules)
    return Demand(rule, asked, condition, key, capitalized(phrase.subject), text, when)


def _of_rule(rule: Rule, asked: Asked, condition: Condition, place: int, rules: Rules) -> Demand:
    """What has no single subject, under the title of its rule."""
    text = clause(_without_names(condition), rules)
    when = applies_clause(asked.when, rules)
    key = ("rule", rule.name, asked.part, place)
    return Demand(rule, asked, condition, key, rule.title, text, when)


def _key(condition: Condition) -> tuple[Hashable, ...] | None:
    """What a test is about, and which kind it is; None of what is not a single test."""
    match condition:
        case NumberTest():
            left = turned(condition)
            return ("number", left.left, BOUNDS[left.comparison])
        case DayTest(left, comparison, _):
            return ("day", left, BOUNDS[comparison])
        case AgeTest(of, on, comparison):
            return ("age", of, on, BOUNDS[comparison])
        case GradeTest(path, comparison):
            return ("grade", path, BOUNDS[comparison])
        case ChoiceTest(path):
            return ("choice", path)
        case SetTest(path, how):
            return ("set", path, how == "none")
        case FlagTest(path):
            return ("flag", path)
        case ByRows(_, rows):
            keys = {_key(row.test) for row in rows}
            return keys.pop() if len(keys) == 1 else None
        case _:
            return None


def _without_names(condition: Condition) -> Condition:
    """The condition as its values say it, not as limits and lists are called."""
    match condition:
        case ChoiceTest() | SetTest():
            return evolve(condition, name=None)
        case GradeTest() | AgeTest():
            return evolve(condition, limit=None)
        case NumberTest(_, _, Constant() as value):
            return evolve(condition, right=evolve(value, limit=None))
        case ByRows(_, rows):
            plain = (evolve(row, test=_without_names(row.test)) for row in rows)
            return evolve(condition, rows=tuple(plain))
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            return evolve(condition, parts=tuple(map(_without_names, parts)))
        case Not(inner):
            return Not(_without_names(inner))
        case _:
            return condition
