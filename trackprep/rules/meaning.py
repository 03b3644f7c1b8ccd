"""The digest of what a ruleset means: by it two files that ask the same are known as one.

What counts is what a declaration's answers hang on: each rule by its name, with its level,
parts, conditions and demands; the type of each fact that they ask for, and whether it is the
inspector's alone; what the event itself settles of these; the days on which it is valid.
What does not: order, prose (titles, reasons, fixes, notes, sources), labels, the units that
something was written in, the names of limits, lists and formulas, `core`, examples, and how
files share it out between a base and its supplements. Facts that no rule asks for are no
part of it, so that a vocabulary may grow.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import assert_never

from trackprep.dates import Span
from trackprep.digests import digest_of
from trackprep.rules.canonical import Canonical, Walk, fraction, in_order, text_of
from trackprep.rules.model import (
    Asked,
    Choosing,
    Dated,
    Fact,
    FreeText,
    Measured,
    Rule,
    Rules,
    YesOrNo,
)
from trackprep.rules.values import Amount, Value

VERSION = "meaning-1"
"""Of these semantics: raised whenever a ruleset would get another digest than before."""


def meaning_digest(rules: Rules) -> str:
    """The digest of the finished ruleset's meaning, `sha256/meaning-1:` in front."""
    return f"sha256/{VERSION}:{digest_of(canonical_text(rules).encode('ascii'))}"


def canonical_text(rules: Rules) -> str:
    """What the digest is made of: ASCII text."""
    walk = Walk()
    asked = in_order(_rule(rule, walk) for rule in rules.rules)
    facts = in_order(_facts(rules, walk.paths))
    here = in_order(
        ["here", path, _value(value)] for path, value in rules.here.items() if path in walk.paths
    )
    valid = [] if rules.valid is None else [day.isoformat() for day in rules.valid]
    return text_of([VERSION, ["valid", *valid], *facts, *here, *asked])


def _rule(rule: Rule, walk: Walk) -> Canonical:
    return ["rule", rule.name, rule.level, *in_order(_asked(each, walk) for each in rule.asked)]


def _asked(asked: Asked, walk: Walk) -> Canonical:
    part: Canonical = [] if asked.part is None else [asked.part]
    return [part, walk.condition(asked.when), walk.condition(asked.demand)]


def _facts(rules: Rules, paths: set[str]) -> Iterator[Canonical]:
    for path in paths:
        fact = rules.facts[path]
        whose = "inspector" if fact.for_the_inspector else "rider"
        yield ["fact", path, whose, *_type(fact)]


def _type(fact: Fact) -> list[Canonical]:
    match fact.type:
        case Choosing("graded", _):
            return ["graded", *fact.type.words]
        case Choosing(how, _):
            return [how, *sorted(fact.type.words)]
        case YesOrNo():
            return ["yes or no"]
        case Dated(how):
            return [how]
        case Measured(unit, low, high, whole):
            # The unit is how the fact is shown; what it measures is what it is.
            measures: list[Canonical] = [str(each) for each in unit.dimension.exponents]
            return ["count" if whole else "measured", measures, _end(low), _end(high)]
        case FreeText():
            return ["text"]
        case _:
            assert_never(fact.type)


def _end(value: Fraction | None) -> Canonical:
    return [] if value is None else fraction(value)


def _value(value: Value) -> Canonical:
    match value:
        case bool():
            return ["yes" if value else "no"]
        case str():
            return ["word", value]
        case frozenset():
            return ["words", *sorted(value)]
        case Amount(amount):
            return ["amount", fraction(amount)]
        case Span(first, last):
            return ["span", first.isoformat(), last.isoformat()]
        case _:
            assert_never(value)
