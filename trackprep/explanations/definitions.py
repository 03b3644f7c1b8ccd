"""How derived facts, formulas and tables are worked out, as sentences."""

from collections.abc import Iterable
from fractions import Fraction

from attrs import evolve

from trackprep.explanations.clauses import bracketed, clause
from trackprep.explanations.mentions import computations_in, derived_in
from trackprep.explanations.terms import calculation_text
from trackprep.explanations.wording import (
    capitalized,
    formula_label,
    inside,
    label_of,
    listed,
    quoted,
    words_of,
)
from trackprep.rules.conditions import ByCase, Condition, FormulaNumber, Term, TermCase
from trackprep.rules.model import DerivedFact, Formula, Rules, Table
from trackprep.units import show

MOST_ROWS_SAID = 8
"""Up to how many rows of a table are said after a rule; of a longer one the ends."""


def definitions(conditions: Iterable[Condition], rules: Rules) -> list[str]:
    """A sentence for each derived fact, formula and table that the conditions name."""
    conditions = tuple(conditions)
    facts = dict.fromkeys(path for one in conditions for path in derived_in(one))
    names = dict.fromkeys(name for one in conditions for name in computations_in(one))
    derived = [rules.derived[path] for path in facts if path in rules.derived]
    said = {one.name for fact in derived if (one := _of_the_same_label(fact, rules))}
    formulas = (rules.formulas[name] for name in names if name in rules.formulas)
    tables = (rules.tables[name] for name in names if name in rules.tables)
    return [
        *(derived_sentence(fact, rules) for fact in derived),
        *(formula_sentence(formula, rules) for formula in formulas if formula.name not in said),
        *map(_table_in_short, tables),
    ]


def untold(rules: Rules) -> list[str]:
    """The formulas and tables of the file itself that no rule's sentence says in full.

    Of a vocabulary, those of the files that it is put together from too.
    """
    conditions = (c for rule in rules.rules for one in rule.asked for c in (one.when, one.demand))
    told = {name for condition in conditions for name in computations_in(condition)}
    formulas = (one for one in rules.formulas.values() if one.name not in told)
    tables = (one for one in rules.tables.values() if one.name not in told or _is_long(one))
    return [
        *(formula_sentence(one, rules) for one in formulas if _is_own(one, rules)),
        *(table_sentence(one) for one in tables if _is_own(one, rules)),
    ]


def _is_own(one: Formula | Table, rules: Rules) -> bool:
    return rules.vocabulary or (bool(rules.files) and one.origin.file == rules.files[0].name)


def derived_sentence(fact: DerivedFact, rules: Rules) -> str:
    """How a derived fact is worked out, or when it is so."""
    label = capitalized(fact.label)
    definition = fact.definition
    if isinstance(definition, tuple):
        path, grain = definition
        counted = "" if grain == "day" else f", counted to the {grain}"
        day = inside(label_of(path, rules))
        return f"{label} is the time from {day} to the event{counted}."
    if formula := _of_the_same_label(fact, rules):
        return f"{label} is worked out as {_rows(formula.definition, rules)}."
    if isinstance(definition, Term):
        return f"{label} is worked out as {calculation_text(definition, rules)}."
    return f"{quoted(label)} is so if {clause(definition, rules)}."


def _of_the_same_label(fact: DerivedFact, rules: Rules) -> FormulaNumber | None:
    """The formula that the fact is, where people could not tell the two by their labels."""
    match fact.definition:
        case FormulaNumber(name) as formula if formula_label(name, rules) == fact.label:
            return formula
        case _:
            return None


# ---- formulas ---------------------------------------------------------------


def formula_sentence(formula: Formula, rules: Rules) -> str:
    """What a formula is worked out from, and how, row by row."""
    given = [words_of(parameter.name) for parameter in formula.parameters]
    # A parameter's name is its own, whatever the facts of the file are called.
    alone = evolve(rules, facts={}, derived={})
    said = _rows(formula.definition, alone)
    return f"{_label(formula)} is worked out from {listed(given, 'and')}: {said}."


def _rows(definition: Term, rules: Rules) -> str:
    if not isinstance(definition, ByCase):
        return calculation_text(definition, rules)
    return "; ".join(_row(row, rules) for row in definition.rows)


def _row(row: TermCase, rules: Rules) -> str:
    said = calculation_text(row.value, rules)
    if row.condition is None:
        return f"otherwise {said}"
    return f"{said}, where {bracketed(row.condition, rules)}"


# ---- tables -----------------------------------------------------------------


def table_sentence(table: Table) -> str:
    """Every row of a table, and what it says nothing of."""
    said = "; ".join(_row_texts(table))
    return f"{_label(table)}, by the table: {said}{_rest(table)}."


def _table_in_short(table: Table) -> str:
    """The table's sentence; of one with many rows, how many they are and the ends."""
    if not _is_long(table):
        return table_sentence(table)
    rows = _row_texts(table)
    ends = f"from {rows[0]} to {rows[-1]}"
    return f"{_label(table)}, by a table of {len(rows)} rows: {ends}{_rest(table)}."


def _is_long(table: Table) -> bool:
    return len(table.rows) > MOST_ROWS_SAID


def _label(computation: Formula | Table) -> str:
    return capitalized(computation.label or words_of(computation.name))


def _row_texts(table: Table) -> list[str]:
    """`“P” is 150 km/h`, `58 is 236 kg`."""
    return [f"{_key(key, table)} is {show(value, table.unit)}" for key, value in table.rows]


def _key(key: str | Fraction, table: Table) -> str:
    if isinstance(key, str):
        return quoted(table.choices.spoken(key) if table.choices else key)
    return str(key)


def _rest(table: Table) -> str:
    if table.choices is None:
        return "; any other number has no value"
    told = {key for key, _ in table.rows}
    silent = [_key(word, table) for word in table.choices.words if word not in told]
    if not silent:
        return ""
    return f"; {listed(silent, 'and')} {'has' if len(silent) == 1 else 'have'} no value"
