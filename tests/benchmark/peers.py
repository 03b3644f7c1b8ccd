"""General-purpose engines from PyPI, where they are installed, on the same recipe.

Each gets all rules at once in the form that serves it best. Expressions spell Kleene's
logic out: a rule is asked whether it is false and whether it is true, with a look for
`null` before each comparison; a schema has two values only.
"""

from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

from attrs import frozen

from tests.benchmark.engines import Answers, Engine, plain, since
from tests.benchmark.recipe import (
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


def peers(recipe: Recipe, *, unknowns: bool) -> Iterator[Engine | str]:
    """The peers that are installed, ready for facts that lack or not; of the others, a note."""
    for package, make in _PEERS.items():
        try:
            module = import_module(package)
        except ImportError:
            yield f"{package}: not installed"
        else:
            if (engine := make(module, recipe, unknowns)).unknowns >= unknowns:
                yield engine


# ---- expressions ------------------------------------------------------------


@frozen
class Dialect:
    """How an expression language writes its connectives; `unknowns` if facts may lack."""

    both: str
    either: str
    unknowns: bool

    def rule(self, rule: Rule) -> str:
        """The place of the rule's answer, as an expression."""
        if not self.unknowns:
            answer = f"({self.says(rule.demand, True)} ? 1 : 3)"
            return f"({self.says(rule.when, True)} ? {answer} : 0)" if rule.when else answer
        not_met = self.says(rule.demand, False)
        if rule.when:
            not_met = f"({not_met}{self.both}{self.says(rule.when, True)})"
        answer = f"({self.says(rule.demand, True)} ? 1 : ({not_met} ? 3 : 2))"
        return f"({self.says(rule.when, False)} ? 0 : {answer})" if rule.when else answer

    def says(self, condition: Condition, truth: bool) -> str:
        """That the condition is true, or that it is false."""
        match condition:
            case Both(parts) | Either(parts):
                joint = self.both if isinstance(condition, Both) is truth else self.either
                return "(" + joint.join(self.says(part, truth) for part in parts) + ")"
            case test:
                known = f"{named(test.fact)} != null{self.both}" if self.unknowns else ""
                return f"({known}{self.test(test, truth)})"

    def test(self, test: Test, truth: bool) -> str:
        """The test of a fact that is known, or its opposite."""
        fact = named(test.fact)
        match test:
            case Is(_, (word,)):
                return f'{fact} {"==" if truth else "!="} "{word}"'
            case Is(_, words):
                listed = ", ".join(f'"{word}"' for word in words)
                found = f"{fact} in [{listed}]"
                return found if truth else f"(({found}) == false)"
            case Yes():
                return f"{fact} == {str(truth).lower()}"
            case Limit(_, bound, most):
                sign = ("<=" if most else ">=") if truth else (">" if most else "<")
                return f"{fact} {sign} {float(bound)}"
            case Younger(_, years):
                return f"{fact} {'>=' if truth else '<'} {since(years)}"
            case Includes(_, words):
                found = self.either.join(f'"{word}" in {fact}' for word in words)
                return f"({found})" if truth else f"(({found}) == false)"


def named(fact: str) -> str:
    """A fact's name as an identifier."""
    return fact.replace(".", "_")


def _mapping(recipe: Recipe) -> Callable[[Values], dict[str, Any]]:
    return lambda values: {
        named(fact): _listed(values[fact]) if fact in values else None for fact in recipe.facts
    }


def _listed(value: Value) -> Any:
    simple = plain(value)
    return sorted(simple) if isinstance(simple, frozenset) else simple


def _cel(cel: Any, recipe: Recipe, unknowns: bool) -> Engine:
    dialect = Dialect(" && ", " || ", unknowns)
    program = cel.compile(f"[{', '.join(dialect.rule(rule) for rule in recipe.rules)}]")
    return Engine("common-expression-language (Rust)", _mapping(recipe), program.execute)


def _zen(zen: Any, recipe: Recipe, unknowns: bool) -> Engine:
    dialect = Dialect(" and ", " or ", unknowns)
    program = zen.compile_expression(f"[{', '.join(dialect.rule(rule) for rule in recipe.rules)}]")
    return Engine(
        "zen-engine (Rust)",
        _mapping(recipe),
        lambda values: [int(code) for code in program.evaluate(values)],
    )


def _rule_engine(rule_engine: Any, recipe: Recipe, unknowns: bool) -> Engine:
    dialect = Dialect(" and ", " or ", unknowns)
    rules = [rule_engine.Rule(dialect.rule(rule)) for rule in recipe.rules]

    def answers(values: Any) -> Answers:
        return [int(rule.evaluate(values)) for rule in rules]

    return Engine("rule-engine (Python)", _mapping(recipe), answers)


# ---- JSON Schema ------------------------------------------------------------


def _schema(condition: Condition) -> dict[str, Any]:
    match condition:
        case Both(parts):
            return {"allOf": [_schema(part) for part in parts]}
        case Either(parts):
            return {"anyOf": [_schema(part) for part in parts]}
        case test:
            return {"properties": {named(test.fact): _value_schema(test)}}


def _value_schema(test: Test) -> dict[str, Any]:
    match test:
        case Is(_, words):
            return {"enum": list(words)}
        case Yes():
            return {"const": True}
        case Limit(_, bound, most):
            return {"maximum" if most else "minimum": float(bound)}
        case Younger(_, years):
            return {"minimum": since(years)}
        case Includes(_, words):
            return {"contains": {"enum": list(words)}}


def _jsonschema_rs(jsonschema_rs: Any, recipe: Recipe, _unknowns: bool) -> Engine:
    validators = [
        (
            jsonschema_rs.validator_for(_schema(rule.when)).is_valid if rule.when else None,
            jsonschema_rs.validator_for(_schema(rule.demand)).is_valid,
        )
        for rule in recipe.rules
    ]

    def answers(values: Any) -> Answers:
        return [
            0 if applies and not applies(values) else 1 if met(values) else 3
            for applies, met in validators
        ]

    return Engine("jsonschema-rs (Rust)", _mapping(recipe), answers, unknowns=False)


_PEERS: dict[str, Callable[[Any, Recipe, bool], Engine]] = {
    "cel": _cel,
    "zen": _zen,
    "jsonschema_rs": _jsonschema_rs,
    "rule_engine": _rule_engine,
}
