"""Conditions and rules as plain sentences, for people who have never programmed."""

from collections.abc import Iterable

from trackprep.explanations.clauses import bracketed, clause
from trackprep.explanations.mentions import derived_in
from trackprep.explanations.resemblance import alike
from trackprep.explanations.terms import term_text
from trackprep.explanations.wording import (
    capitalized,
    inside,
    label_of,
    listed,
    part_label,
    quoted,
)
from trackprep.rules.conditions import (
    All,
    Arithmetic,
    CompletedYears,
    Condition,
    Constant,
    DerivedNumber,
    Not,
    NumberOf,
)
from trackprep.rules.model import Asked, DerivedFact, Rule, Rules


def rule_sentence(rule: Rule, rules: Rules) -> str:
    """The whole rule as it was understood, for its author to read back.

    What it asks of several parts alike is said once, and the derived facts that
    it names are explained after it.
    """
    said = [
        _asked_sentence(capitalized(rule.level), asked, parts, rules)
        for asked, parts in _asked_alike(rule, rules)
    ]
    named = (path for asked in rule.asked for path in derived_in(All((asked.when, asked.demand))))
    return " ".join([*said, *definitions(named, rules)])


def definitions(paths: Iterable[str], rules: Rules) -> list[str]:
    """A sentence for each derived fact that says how it is worked out."""
    facts = (rules.derived.get(path) for path in dict.fromkeys(paths))
    return [_definition(fact, rules) for fact in facts if fact is not None]


def applies_clause(when: Condition, rules: Rules) -> str:
    """`if …, unless …`; empty for what always applies."""
    parts = _conjuncts(when)
    said = []
    if positive := tuple(part for part in parts if not isinstance(part, Not)):
        said.append(f"if {clause(All(positive), rules)}")
    said.extend(f"unless {bracketed(part.inner, rules)}" for part in parts if isinstance(part, Not))
    return ", ".join(said)


def _asked_alike(rule: Rule, rules: Rules) -> list[tuple[Asked, list[str]]]:
    """What the rule asks, each with the labels of the parts that it asks the same of."""
    told: list[tuple[Asked, list[str]]] = []
    for asked in rule.asked:
        if asked.part is None:
            told.append((asked, []))
            continue
        parts = next((parts for first, parts in told if _same(first, asked)), None)
        if parts is None:
            parts = []
            told.append((asked, parts))
        parts.append(part_label(asked.part, rules))
    return told


def _same(first: Asked, other: Asked) -> bool:
    if first.part is None or other.part is None:
        return False
    one, two = (first.when, first.demand), (other.when, other.demand)
    return alike(one, two, was=first.part, now=other.part)


def _asked_sentence(level: str, asked: Asked, parts: list[str], rules: Rules) -> str:
    opening = [level]
    if parts:
        first, *others = parts
        opening = [f"{level} of the {first}"]
        if others:
            alike = listed([f"the {other}" for other in others], "and")
            opening = [f"{level} of the {first} and likewise of {alike}"]
    if applies := applies_clause(asked.when, rules):
        opening.append(applies)
    return f"{', '.join(opening)}: {clause(asked.demand, rules)}."


def _conjuncts(when: Condition) -> list[Condition]:
    if isinstance(when, All) and when.form == "and":
        return [part for inner in when.parts for part in _conjuncts(inner)]
    return [when]


def _definition(fact: DerivedFact, rules: Rules) -> str:
    label = capitalized(fact.label)
    definition = fact.definition
    if isinstance(definition, tuple):
        path, grain = definition
        counted = "" if grain == "day" else f", counted to the {grain}"
        day = inside(label_of(path, rules))
        return f"{label} is the time from {day} to the event{counted}."
    if isinstance(definition, Constant | NumberOf | Arithmetic | CompletedYears | DerivedNumber):
        return f"{label} is worked out as {term_text(definition, rules)}."
    return f"{quoted(label)} is so if {clause(definition, rules)}."
