"""Conditions and rules as plain sentences, for people who have never programmed."""

from trackprep.explanations.clauses import bracketed, clause
from trackprep.explanations.definitions import definitions
from trackprep.explanations.resemblance import alike
from trackprep.explanations.wording import capitalized, listed, part_label
from trackprep.rules.conditions import All, Condition, Not
from trackprep.rules.model import Asked, Rule, Rules


def rule_sentence(rule: Rule, rules: Rules) -> str:
    """The whole rule as it was understood, for its author to read back.

    What it asks of several parts alike is said once, and the derived facts, formulas
    and tables that it names are explained after it.
    """
    conditions = (All((asked.when, asked.demand)) for asked in rule.asked)
    return " ".join([asked_sentences(rule, rules), *definitions(conditions, rules)])


def asked_sentences(rule: Rule, rules: Rules, *, leveled: bool = True) -> str:
    """What the rule asks and when, without an explanation of what it names.

    Args:
        leveled: Whether each sentence begins with `Required` or `Recommended`.
    """
    level = rule.level if leveled else ""
    return " ".join(
        capitalized(_asked_sentence(level, asked, parts, rules))
        for asked, parts in _asked_alike(rule, rules)
    )


def applies_clause(when: Condition, rules: Rules) -> str:
    """`if …, unless …`; empty for what always applies."""
    parts = conjuncts(when)
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
    opening = level
    if parts:
        first, *others = parts
        opening = f"{level} of the {first}".strip()
        if others:
            opening += f" and likewise of {listed([f'the {other}' for other in others], 'and')}"
    said = [text for text in (opening, applies_clause(asked.when, rules)) if text]
    demand = f"{clause(asked.demand, rules)}."
    return f"{', '.join(said)}: {demand}" if said else demand


def conjuncts(when: Condition) -> list[Condition]:
    """The conditions that `and` joins, each by itself."""
    if isinstance(when, All) and when.form == "and":
        return [part for inner in when.parts for part in conjuncts(inner)]
    return [when]
