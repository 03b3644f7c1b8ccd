"""The recipe as a checked model, and its declarations as declared values."""

from datetime import date
from fractions import Fraction

from tests.benchmark.recipe import (
    Both,
    Condition,
    Either,
    Includes,
    Is,
    Limit,
    Recipe,
    Value,
    Values,
    Yes,
    Younger,
)
from trackprep.dates import Span
from trackprep.rules import conditions, model, values
from trackprep.units import SPELLINGS, to_base

MM = SPELLINGS["mm"]


def rules_of(recipe: Recipe) -> model.Rules:
    """The checked model of the recipe."""
    facts = {
        path: model.Fact(path, path, _type(path, words)) for path, words in recipe.facts.items()
    }
    rules = tuple(
        model.Rule(
            name=f"r{place}",
            title=f"Rule {place}",
            section="",
            level="required",
            asked=(
                model.Asked(
                    None,
                    conditions.ALWAYS if rule.when is None else condition(rule.when),
                    condition(rule.demand),
                ),
            ),
        )
        for place, rule in enumerate(recipe.rules)
    )
    return model.Rules("benchmark", "Benchmark", facts=facts, rules=rules)


def _type(path: str, words: tuple[str, ...]) -> model.Type:
    match path.partition(".")[0]:
        case "choice":
            return model.Choosing("one of", tuple(map(model.Choice, words)))
        case "set":
            return model.Choosing("several of", tuple(map(model.Choice, words)))
        case "flag":
            return model.YesOrNo()
        case "number":
            return model.Measured(MM)
        case "date":
            return model.Dated("past date")
    raise AssertionError(path)


def condition(part: Condition) -> conditions.Condition:
    """The checked model of a condition."""
    match part:
        case Is(fact, words):
            return conditions.ChoiceTest(fact, frozenset(words))
        case Yes(fact):
            return conditions.FlagTest(fact)
        case Limit(fact, bound, most):
            return conditions.NumberTest(
                conditions.NumberOf(fact),
                "at most" if most else "at least",
                conditions.Constant(to_base(bound, MM), MM),
            )
        case Younger(fact, years):
            return conditions.AgeTest(
                conditions.DayOf(fact), conditions.EventDay(), "at most", 12 * years, None
            )
        case Includes(fact, words):
            return conditions.SetTest(fact, "any", frozenset(words))
        case Both(parts):
            return conditions.All(tuple(map(condition, parts)))
        case Either(parts):
            return conditions.AnyOf(tuple(map(condition, parts)))


def declared(given: Values) -> dict[str, values.Value]:
    """The values as a declaration has them."""
    return {path: _declared(value) for path, value in given.items()}


def _declared(value: Value) -> values.Value:
    match value:
        case Fraction():
            return values.Amount(to_base(value, MM), MM)
        case date():
            return Span.of_day(value)
        case _:
            return value
