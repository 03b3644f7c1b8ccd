"""What a page needs to keep the pressures of a day as this package does, as plain data."""

from collections.abc import Mapping
from typing import Any

from attrs import evolve

from trackprep.backends.page import PlainRuleset
from trackprep.measures.figures import beside, decimals_of
from trackprep.measures.inputs import Input, Quantity
from trackprep.measures.symbols import in_symbols
from trackprep.pressures.log import HEAD
from trackprep.pressures.pages import COLD, WHEN
from trackprep.pressures.tyres import (
    AIR,
    ALTITUDE,
    GIVEN_ALTITUDE,
    GIVEN_AT,
    HOT_AT,
    KEPT,
    PRESSURE,
    WARM,
)
from trackprep.pressures.working import WINS
from trackprep.reading import read_ruleset
from trackprep.rules.conditions import FormulaNumber, NumberOf, Term
from trackprep.rules.model import Fact, Formula, Measured, Rules
from trackprep.units import SPELLINGS, Unit

_ASKED = (*KEPT, GIVEN_AT, GIVEN_ALTITUDE, AIR, WARM, HOT_AT, ALTITUDE, PRESSURE)
_FORMULAS = ("outside-pressure", "pressure-now", "pressure-at-sea", "pressure-by-thumb")


def pressure_units() -> tuple[Unit, ...]:
    """The units that a page has to know, each for all of its dimension."""
    return tuple(dict.fromkeys(_quantity(asked).in_unit for asked in _ASKED))


def plain_pressures() -> dict[str, Any]:
    """What is asked for, the formulas, how a gauge shows a number, and the sentences.

    ```
    { asked: {name: {says, unit, low, example}},
      plain: plain_rules data of the formulas, its facts their parameters,
      formulas: {name: {node, label, symbols, numbers, source, cautions}},
      beside: {unit: [unit, …]}, decimals: {unit: number}, head, cold, when: [[when, what]], wins }
    ```
    `numbers` is the formula with `{set}` where a parameter stands, and `{absolute now}` where
    a formula of a parameter does. `beside` is what is shown beside a unit, itself first.
    """
    rules = read_ruleset("standard").rules
    formulas = {name: rules.formulas[name] for name in _FORMULAS}
    page = PlainRuleset(_for_parameters(rules, formulas))
    units = [
        unit for unit in dict.fromkeys(SPELLINGS.values())
        if unit.dimension in {asked.dimension for asked in pressure_units()}
    ]  # fmt: skip
    return {
        "asked": {asked.name: _asked(asked) for asked in _ASKED},
        "formulas": {name: _formula(page, formula, formulas) for name, formula in formulas.items()},
        "plain": page.data(),
        "beside": {unit.name: [other.name for other in beside(unit)] for unit in units},
        "decimals": {
            unit.name: places for unit in units if (places := decimals_of(unit)) is not None
        },
        "head": HEAD,
        "cold": COLD,
        "when": [list(one) for one in WHEN],
        "wins": WINS.text,
    }


def _quantity(asked: Input) -> Quantity:
    assert isinstance(asked.kind, Quantity)
    return asked.kind


def _asked(asked: Input) -> dict[str, str]:
    kind = _quantity(asked)
    form = {"says": asked.says, "unit": kind.unit, "example": asked.example}
    return form if kind.low is None else {**form, "low": str(kind.low)}


def _for_parameters(rules: Rules, formulas: Mapping[str, Formula]) -> Rules:
    """No rule, and the parameters of the formulas as the facts."""
    facts = {
        one.name: Fact(one.name, one.name, Measured(one.unit))
        for formula in formulas.values() for one in formula.parameters
    }  # fmt: skip
    return evolve(rules, facts=facts, rules=(), here={})


def _formula(
    page: PlainRuleset, formula: Formula, formulas: Mapping[str, Formula]
) -> dict[str, Any]:
    term, cautions = formula.definition, formula.cautions
    if isinstance(term, FormulaNumber):  # the other formula, with some of its numbers put in
        said = formulas[term.name].cautions
        cautions = (*said, *(text for text in cautions if not any(text in one for one in said)))
        term = term.definition
    return {
        "node": page.term(term),
        "label": formula.label,
        "symbols": in_symbols(term),
        "numbers": in_symbols(term, _marked),
        "source": str(formula.source or ""),
        "cautions": list(cautions),
    }


def _marked(term: Term) -> str | None:
    """Where a number is put in."""
    match term:
        case NumberOf(name):
            return f"{{{name}}}"
        case FormulaNumber(name, ((_, NumberOf(of)),)):
            return f"{{{name} {of}}}"
        case _:
            return None
