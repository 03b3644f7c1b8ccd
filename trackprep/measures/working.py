"""A formula or a table on its own: its exact result, and each step that led there as a line."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from attrs import evolve

from trackprep.backends.checks import holds
from trackprep.backends.terms import Values, numbers
from trackprep.enclosures import Enclosure
from trackprep.explanations.clauses import clause
from trackprep.frozen import frozen
from trackprep.measures.figures import both_ways
from trackprep.measures.symbols import in_symbols
from trackprep.rules.conditions import (
    Arithmetic,
    ByCase,
    Called,
    ChoiceLookup,
    Extreme,
    FormulaNumber,
    NumberLookup,
    NumberOf,
    Rounded,
    Term,
)
from trackprep.rules.model import Formula, Rules, Table
from trackprep.rules.values import Amount
from trackprep.units import Unit, show

_ANY_DAY = date(2000, 1, 1)
"""A formula knows no dates, so that it gives the same on every day."""


class UnworkableError(ValueError):
    """A formula has no value for what it was given; one sentence says so."""


@frozen
class Step:
    """One line of working.

    Attributes:
        name: The formula or the table.
        symbols: It in symbols: `absolute(now) = now − -273.15 °C`.
        numbers: The same with its numbers put in; empty for a row of a table.
        result: What comes of it, in the unit of the formula, exactly.
    """

    name: str
    label: str
    symbols: str
    numbers: str
    result: Amount
    difference: bool = False
    source: str = ""

    @property
    def shown(self) -> str:
        """The result, to four digits where it does not end; a point in both families of units."""
        if self.difference:
            return show(self.result.value, self.result.unit, difference=True)
        return both_ways(self.result)


def worked_out(formula: Formula, given: Values, rules: Rules) -> tuple[Amount, tuple[Step, ...]]:
    """The result of a formula for its parameters, with the steps; those it calls come first.

    Irrational results are exact to forty digits.

    Raises:
        UnworkableError: It has no value there.
    """
    term, condition = _row(formula.definition, given, rules)
    inner = _called_steps(term, given, rules)
    value = _value(formula, given)
    result = Amount(value, formula.unit)
    symbols = in_symbols(term)
    if condition:
        symbols += f", as {condition}"
    step = Step(
        formula.name,
        formula.label,
        symbols,
        in_symbols(term, lambda part: _put_in(part, given, rules)),
        result,
        formula.difference,
        str(formula.source or ""),
    )
    return result, tuple(dict.fromkeys((*inner, step)))


def looked_up(table: Table, key: str | Fraction) -> tuple[Amount | None, Step | None]:
    """What a table has for a choice or a whole number, with its line; None if nothing."""
    value = dict(table.rows).get(key)
    if value is None:
        return None, None
    result = Amount(value, table.unit)
    shown = table.choices.spoken(key) if table.choices and isinstance(key, str) else str(key)
    return result, Step(
        table.name, table.label, f"row {shown}", "", result, source=str(table.source or "")
    )


def _value(formula: Formula, given: Values) -> Fraction:
    possible = numbers(formula.definition, given, _ANY_DAY)
    if len(possible) != 1 or (number := possible[0]) is None:
        shown = ", ".join(
            f"{name} {_shown(amount)}"
            for name, amount in given.items()
            if isinstance(amount, Amount)
        )
        raise UnworkableError(f"`{formula.name}` has no value for {shown}")
    return number.middle if isinstance(number, Enclosure) else number


def _row(term: Term, given: Values, rules: Rules) -> tuple[Term, str]:
    """The row of a formula that holds, and its condition in words."""
    if not isinstance(term, ByCase):
        return term, ""
    bare = evolve(rules, facts={}, derived={})  # a parameter's name is its own
    for row in term.rows:
        if row.condition is None:
            return row.value, "nothing before it applies"
        if holds(row.condition, given, _ANY_DAY):
            return row.value, clause(row.condition, bare)
    return term, ""


def _called_steps(term: Term, given: Values, rules: Rules) -> Iterator[Step]:
    """The steps of the formulas and tables that a term calls, in reading order."""
    match term:
        case FormulaNumber(name, arguments):
            for _, argument in arguments:
                yield from _called_steps(argument, given, rules)
            formula = rules.formulas[name]
            handed = {
                parameter.name: _amount(argument, given, formula.parameters[place].unit)
                for place, (parameter, (_, argument)) in enumerate(
                    zip(formula.parameters, arguments, strict=True)
                )
            }
            yield from worked_out(formula, handed, rules)[1]
        case ChoiceLookup(name, path):
            _, step = looked_up(rules.tables[name], str(given[path]))
            if step:
                yield step
        case NumberLookup(name, of):
            yield from _called_steps(of, given, rules)
            _, step = looked_up(rules.tables[name], _amount(of, given).value)
            if step:
                yield step
        case Arithmetic(_, left, right):
            yield from _called_steps(left, given, rules)
            yield from _called_steps(right, given, rules)
        case Called(_, of) | Rounded(of):
            yield from _called_steps(of, given, rules)
        case Extreme(_, parts):
            for part in parts:
                yield from _called_steps(part, given, rules)
        case _:
            return


def _put_in(term: Term, given: Values, rules: Rules) -> str | None:
    """The number for a parameter, and for a formula or a table that is called."""
    match term:
        case NumberOf():
            return _shown(_amount(term, given))
        case FormulaNumber(unit=unit, difference=difference):
            return show(_amount(term, given).value, unit, difference=difference)
        case NumberLookup(unit=unit) | ChoiceLookup(unit=unit):
            return show(_amount(term, given).value, unit)
        case _:
            return None


def _amount(term: Term, given: Values, unit: Unit | None = None) -> Amount:
    if isinstance(term, NumberOf) and isinstance(declared := given[term.path], Amount):
        return declared
    possible = numbers(term, given, _ANY_DAY)
    number = possible[0] if len(possible) == 1 else None
    if number is None:
        raise UnworkableError(f"`{in_symbols(term)}` has no value")
    exact = number.middle if isinstance(number, Enclosure) else number
    return Amount(exact, unit) if unit else Amount(exact)


def _shown(amount: Amount) -> str:
    return show(amount.value, amount.unit)
