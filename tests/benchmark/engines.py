"""The recipe's rules, written for each engine.

An engine answers one declaration, in the form that suits it best; bringing a declaration
into that form is no part of its time. Engines of others answer with a place in `BY_WEIGHT`.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from tests.benchmark.ours import declared, rules_of
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
    Values,
    Yes,
    Younger,
)
from trackprep.backends import checks, generated
from trackprep.backends.statuses import BY_WEIGHT, Status

Answers = Sequence[int] | Sequence[Status]


@dataclass(frozen=True)
class Engine:
    """`ready` turns values into what `answers` takes; `unknowns` says whether some may lack."""

    name: str
    ready: Callable[[Values], Any]
    answers: Callable[[Any], Answers]
    unknowns: bool = True


def words(answers: Answers) -> list[str]:
    """The answers as words, whatever the engine gives."""
    return [BY_WEIGHT[one] if isinstance(one, int) else one for one in answers]


# ---- ours -------------------------------------------------------------------


def generated_engine(recipe: Recipe) -> Engine:
    """The fast back end."""
    program = generated.compiled(rules_of(recipe))
    return Engine(
        "trackprep, generated",
        lambda values: program.row(declared(values)),
        lambda row: program.statuses(row, EVENT),
    )


def walk_engine(recipe: Recipe) -> Engine:
    """The reference back end."""
    rules = rules_of(recipe)

    def answers(values: Any) -> Answers:
        return [one.status for one in checks.outcomes(rules, values, EVENT)]

    return Engine("trackprep, walking the conditions", declared, answers)


# ---- by hand ----------------------------------------------------------------


def plain(value: Value) -> str | bool | float | int | frozenset[str]:
    """The value as a programmer would keep it: millimetres as a float, a day as its ordinal."""
    match value:
        case Fraction():
            return float(value)
        case date():
            return value.toordinal()
        case _:
            return value


def since(years: int) -> int:
    """The ordinal of the first day that is not too old on the event's day."""
    return EVENT.replace(year=EVENT.year - years).toordinal()


def by_hand(recipe: Recipe) -> Engine:
    """Straight-line Python of two values, as one would write it by hand: the yardstick."""
    local = {fact: f"f{place}" for place, fact in enumerate(recipe.facts)}
    lines = [
        "def answers(row):",
        f"    {', '.join(local.values())} = row",
        "    return (",
        *(f"        {_line(rule, local)}," for rule in recipe.rules),
        "    )",
    ]
    scope: dict[str, Callable[[Any], Answers]] = {}
    exec("\n".join(lines), scope)
    return Engine(
        "Python by hand",
        lambda values: tuple(plain(values[fact]) for fact in local),
        scope["answers"],
        unknowns=False,
    )


def _line(rule: Rule, local: dict[str, str]) -> str:
    answer = f"1 if {_python(rule.demand, local)} else 3"
    return f"({answer}) if {_python(rule.when, local)} else 0" if rule.when else answer


def _python(condition: Condition, local: dict[str, str]) -> str:
    match condition:
        case Is(fact, (word,)):
            return f"{local[fact]} == {word!r}"
        case Is(fact, words):
            return f"{local[fact]} in {set(words)!r}"
        case Yes(fact):
            return local[fact]
        case Limit(fact, bound, most):
            return f"{local[fact]} {'<=' if most else '>='} {float(bound)}"
        case Younger(fact, years):
            return f"{local[fact]} >= {since(years)}"
        case Includes(fact, words):
            return "(" + " or ".join(f"{word!r} in {local[fact]}" for word in words) + ")"
        case Both(parts):
            return "(" + " and ".join(_python(part, local) for part in parts) + ")"
        case Either(parts):
            return "(" + " or ".join(_python(part, local) for part in parts) + ")"


# ---- composed closures ------------------------------------------------------

Truth = bool | None
Closure = Callable[[dict[str, Any]], Truth]


def closures_engine(recipe: Recipe) -> Engine:
    """Functions composed of functions, of three values."""
    rules = [
        (_closure(rule.when) if rule.when else None, _closure(rule.demand)) for rule in recipe.rules
    ]

    def answers(values: dict[str, Any]) -> Answers:
        return [_status(when, demand, values) for when, demand in rules]

    return Engine(
        "composed closures",
        lambda values: {fact: plain(value) for fact, value in values.items()},
        answers,
    )


def _status(when: Closure | None, demand: Closure, values: dict[str, Any]) -> int:
    asked = True if when is None else when(values)
    if asked is False:
        return 0
    met = demand(values)
    if met is True:
        return 1
    return 3 if asked is True and met is False else 2


def _closure(condition: Condition) -> Closure:
    match condition:
        case Both(parts):
            return _joined(tuple(map(_closure, parts)), False)
        case Either(parts):
            return _joined(tuple(map(_closure, parts)), True)
        case test:
            return _test_closure(test)


def _joined(parts: tuple[Closure, ...], deciding: bool) -> Closure:
    def holds(values: dict[str, Any]) -> Truth:
        answer: Truth = not deciding
        for part in parts:
            truth = part(values)
            if truth is deciding:
                return deciding
            if truth is None:
                answer = None
        return answer

    return holds


def _test_closure(test: Test) -> Closure:
    fact = test.fact
    asked: Callable[[Any], bool]
    match test:
        case Is(_, words):
            asked = frozenset(words).__contains__
        case Yes():
            asked = bool
        case Limit(_, bound, True):
            asked = float(bound).__ge__
        case Limit(_, bound, False):
            asked = float(bound).__le__
        case Younger(_, years):
            asked = since(years).__le__
        case Includes(_, words):
            wanted = frozenset(words)
            asked = lambda value: not wanted.isdisjoint(value)  # noqa: E731

    def holds(values: dict[str, Any]) -> Truth:
        value = values.get(fact)
        return None if value is None else asked(value)

    return holds
