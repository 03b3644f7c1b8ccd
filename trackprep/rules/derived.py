"""Derived facts: what they mean, or how they are worked out."""

from collections.abc import Container, Mapping
from contextlib import nullcontext

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.checking import Conditions
from trackprep.rules.definitions import DerivedStatement
from trackprep.rules.formulas import Formulas
from trackprep.rules.precompiled import HangsOn
from trackprep.rules.scope import Scope
from trackprep.rules.storing import Later
from trackprep.rules.vocabularies import Vocabulary


def derived_facts(
    conditions: Conditions, formulas: Formulas, implicit: Container[str]
) -> Mapping[str, model.DerivedFact]:
    """Every derived fact compiled, the unused ones of this file too; rows give their first.

    One of a file that was not asked for, the standard vocabulary, may hang on what the
    ruleset has in another form: if nothing names it, it is left out without a word.
    """
    expressions = conditions.expressions(None, dict.fromkeys(conditions.rowed, 0))
    found: Later[model.DerivedFact] = Later()
    own = _named_otherwise(conditions.scope)
    for path, statement in conditions.scope.vocabulary.derived.items():
        on = statement.hangs_on
        if statement.ready and on and _holds(on, own, conditions.scope.vocabulary):
            found.take_in(statement.ready)
            formulas.want_ready(on.calls)
            continue
        place = statement.statement.path_place
        unasked = place.source.name in implicit
        with conditions.scope.reporter.quiet() if unasked else nullcontext():
            made = expressions.path(path, place)
        fact = None if made is None else _derived_fact(path, statement, made)
        if fact is not None:
            found[path] = fact
    return found


def _named_otherwise(scope: Scope) -> frozenset[str]:
    """What files other than the shipped vocabularies give a name to."""
    statements = scope.statements
    return scope.vocabulary.unstored.union(statements.limits, statements.lists)


def _holds(on: HangsOn, own: frozenset[str], words: Vocabulary) -> bool:
    """Whether a shipped derived fact means what it means by its vocabulary alone."""
    return (
        own.isdisjoint(on.words)
        and own.isdisjoint(on.facts)
        and own.isdisjoint(on.calls)
        and words.homes.keys() >= on.facts
        and words.calculations.keys() >= on.calls
    )


def _derived_fact(
    path: str, statement: DerivedStatement, made: typed.Typed
) -> model.DerivedFact | None:
    written = statement.statement
    definition: c.Condition | c.Term | tuple[str, str]
    unit, difference = None, False
    match made:
        case typed.Number(term=c.DerivedNumber(definition=definition)):
            unit, difference = made.unit, made.nature == "difference"
        case typed.Age(path=of, grain=grain):
            definition = (of, grain)
        case typed.Flag(condition=c.Meaning(condition=definition)):
            pass
        case _:
            return None
    return model.DerivedFact(
        path,
        written.label or path.replace(".", " ").replace("-", " "),
        definition,
        unit,
        difference,
        statement.section,
        statement.source,
        statement.origin,
    )
