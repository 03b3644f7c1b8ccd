"""A formula as it is worked out on its own, and with arguments put in for its parameters.

Arguments are put in wherever a formula is called, so that back ends know no calls. How
much that makes is reckoned before it is made: ten short formulas, each of which names
its parameter twice, would be a thousand parts, and thirty a billion.
"""

from collections import Counter
from collections.abc import Mapping
from typing import Any, assert_never

from attrs import evolve

from trackprep.frozen import frozen
from trackprep.rules import conditions as c
from trackprep.rules import folding, model, typed
from trackprep.rules.weighing import parts_of, weight


@frozen(eq=False)
class WorkedOut:
    """A compiled formula, with what its calls need to know of it.

    Attributes:
        weight: How many parts its definition has.
        uses: How often the definition names each parameter.
    """

    formula: model.Formula
    nature: typed.Nature
    weight: int
    uses: Mapping[str, int]

    @classmethod
    def of(cls, formula: model.Formula, nature: typed.Nature) -> "WorkedOut":
        """The formula weighed."""
        definition = formula.definition
        return cls(formula, nature, weight(definition), Counter(_parameters(definition)))

    def weight_with(self, arguments: Mapping[str, c.Term]) -> int:
        """How many parts a call with these arguments has at most."""
        weights = {name: weight(term) for name, term in arguments.items()}
        inside = sum(self.uses.get(name, 0) * heavy for name, heavy in weights.items())
        return self.weight + inside + sum(weights.values())

    def with_arguments(self, arguments: Mapping[str, c.Term]) -> c.FormulaNumber:
        """The formula with the arguments put in."""
        formula = self.formula
        return c.FormulaNumber(
            formula.name,
            tuple(arguments.items()),
            _term(formula.definition, arguments),
            formula.unit,
            formula.difference,
        )


def _parameters(definition: c.Term) -> list[str]:
    """Every parameter that a definition names, as often as it does."""
    found: list[str] = []
    waiting: list[Any] = [definition]
    while waiting:
        here = waiting.pop()
        if isinstance(here, c.NumberOf):
            found.append(here.path)
        elif isinstance(here, tuple):
            waiting.extend(here)
        else:
            waiting.extend(parts_of(here))
    return found


def _term(term: c.Term, arguments: Mapping[str, c.Term]) -> c.Term:
    match term:
        case c.NumberOf(path):
            return arguments[path]
        case c.Constant():
            return term
        case c.Arithmetic(sign, left, right):
            return folding.arithmetic(sign, _term(left, arguments), _term(right, arguments))
        case c.Called(function, of):
            return c.Called(function, _term(of, arguments))
        case c.Extreme(which, of_all):
            return folding.extreme(which, [_term(of, arguments) for of in of_all])
        case c.Rounded(of, step, down):
            return folding.rounded(_term(of, arguments), step, down)
        case c.NumberLookup(of=of):
            return folding.looked_up(evolve(term, of=_term(of, arguments)))
        case c.ByCase(rows):
            return c.ByCase(tuple([_row(row, arguments) for row in rows]))
        case c.FormulaNumber():
            return evolve(
                term,
                arguments=tuple([(n, _term(a, arguments)) for n, a in term.arguments]),
                definition=_term(term.definition, arguments),
            )
        case c.ChoiceLookup() | c.CompletedYears() | c.DerivedNumber():
            raise AssertionError(term)  # a formula's body knows no facts
        case _:
            assert_never(term)


def _row(row: c.TermCase, arguments: Mapping[str, c.Term]) -> c.TermCase:
    condition = None if row.condition is None else _condition(row.condition, arguments)
    return c.TermCase(condition, _term(row.value, arguments))


def _condition(condition: c.Condition, arguments: Mapping[str, c.Term]) -> c.Condition:
    match condition:
        case c.NumberTest():
            return _test(condition, arguments)
        case c.Between(least, most):
            return c.Between(_test(least, arguments), _test(most, arguments))
        case c.Not(inner):
            return c.Not(_condition(inner, arguments))
        case c.All(parts) | c.AnyOf(parts) | c.AtLeast(parts=parts):
            return evolve(condition, parts=tuple([_condition(p, arguments) for p in parts]))
        case _:
            raise AssertionError(condition)  # parameters are numbers, and nothing else is known


def _test(test: c.Test, arguments: Mapping[str, c.Term]) -> c.NumberTest:
    assert isinstance(test, c.NumberTest)
    return c.NumberTest(_term(test.left, arguments), test.comparison, _term(test.right, arguments))
