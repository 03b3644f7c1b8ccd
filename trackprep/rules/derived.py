"""Derived facts: what they mean, or how they are worked out."""

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.checking import Conditions
from trackprep.rules.vocabularies import DerivedStatement


def derived_facts(conditions: Conditions) -> dict[str, model.DerivedFact]:
    """Every derived fact compiled, the unused ones of this file too; rows give their first."""
    expressions = conditions.expressions(None, dict.fromkeys(conditions.rowed, 0))
    found: dict[str, model.DerivedFact] = {}
    for path, statement in conditions.scope.vocabulary.derived.items():
        made = expressions.path(path, statement.statement.path_place)
        fact = None if made is None else _derived_fact(path, statement, made)
        if fact is not None:
            found[path] = fact
    return found


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
