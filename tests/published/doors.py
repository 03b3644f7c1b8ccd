"""The doors through which published values are tried.

A printed figure is held against a shipped formula or table, a derived fact, what
`trackprep.measure` answers, or whether a machine so declared is met. A row's last item is its
source; what stands there as "from memory" was not read in the source.
"""

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from trackprep import DeclarationError, Ruleset, parse_declaration, parse_ruleset, read_ruleset
from trackprep.backends.terms import numbers
from trackprep.enclosures import Enclosure
from trackprep.rules.conditions import Term
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, from_base, from_base_difference, read_quantity, to_base

EVENT = date(2026, 6, 14)
CLUBS = ("common-practice", "fenwhistle", "marrowfell", "sallowgate", "tarn-hollow")

Declared = Mapping[str, Any]


# A machine that is met


def met(demand: str, declared: Declared, on: date = EVENT, *, also: str = "") -> str:
    """What a rule answers that asks this in the shipped words; `also` stands before the rule."""
    return status(_asking(demand, also), "asked", declared, on)


def club_says(club: str, rule: str, declared: Declared, on: date = EVENT) -> str:
    """What a shipped ruleset's rule answers."""
    return status(shipped(club), rule, declared, on)


def status(ruleset: Ruleset, rule: str, declared: Declared, on: date = EVENT) -> str:
    """`met`, `not-met`, `unsettled` or `not-asked`."""
    report = ruleset.check(parse_declaration(declared, ruleset), on=on)
    return next(answer.status for answer in report.answers if answer.rule == rule)


def refusal(path: str, value: Any) -> str:
    """What a rider is told who declares that, and may not."""
    with pytest.raises(DeclarationError) as refused:
        parse_declaration({path: value}, shipped("common-practice"))
    return str(refused.value)


@cache
def shipped(name: str) -> Ruleset:
    """A ruleset that ships; `standard` is the vocabulary alone."""
    return read_ruleset(name)


@cache
def _asking(demand: str, also: str) -> Ruleset:
    return parse_ruleset(
        f'ruleset asking "Asking"\nuse "standard"\n{also}\nrule asked "Asked"\n  require {demand}\n'
    )


# A figure


def figure(expression: str, unit: str) -> Fraction:
    """What an expression of shipped formulas comes to, in a unit."""
    formula = _working(expression, unit).formulas["sought"]
    number = _only(formula.definition, {})
    back = from_base_difference if formula.difference else from_base
    return back(number, SPELLINGS[unit])


@cache
def _working(expression: str, unit: str) -> Rules:
    return parse_ruleset(
        f'ruleset working "Working"\nuse "standard"\n'
        f'formula sought(nothing) "Sought" in {unit} as {expression}\n'
    ).rules


def row(table: str, choice: str) -> Amount:
    """What a shipped table has for a choice."""
    its = shipped("standard").rules.tables[table]
    return Amount(dict(its.rows)[choice], its.unit)


def derived(path: str, unit: str, declared: Declared) -> Fraction:
    """What a shipped derived fact comes to for a declaration, in a unit."""
    ruleset = shipped("standard")
    definition = ruleset.rules.derived[path].definition
    assert isinstance(definition, Term)
    number = _only(definition, parse_declaration(declared, ruleset).values)
    return from_base(number, SPELLINGS[unit])


def _only(term: Term, values: Any) -> Fraction:
    (number,) = numbers(term, values, EVENT)
    assert number is not None
    return number.middle if isinstance(number, Enclosure) else number


def base(text: str) -> Fraction:
    """The value of a quantity's text in base units."""
    return to_base(*read_quantity(text))


def amount(text: str) -> Amount:
    """A quantity's text as an amount."""
    return Amount(base(text))


def inside(amount: Amount, unit: str) -> Fraction:
    """An amount in a unit."""
    return from_base(amount.value, SPELLINGS[unit])


def as_printed(found: Fraction, printed: str) -> bool:
    """Whether a figure rounds to the digits that a source prints."""
    decimals = len(printed.partition(".")[2])
    return abs(found - Fraction(printed)) <= Fraction(1, 2 * 10**decimals)
