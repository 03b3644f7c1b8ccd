"""What the parser makes of formulas and tables."""

from collections.abc import Mapping
from typing import Any

from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.build_conditions import term
from trackprep.syntax.build_values import (
    Builder,
    Made,
    piece,
    pieces,
    texts,
    token_place,
    unit_name,
)
from trackprep.syntax.tokens import Token


def _unit(kids: list[Any], name: str) -> str | None:
    made = pieces(kids).get(name)
    return unit_name(made.kids[0].text) if made else None


def _parameter(kids: list[Any], place: Place) -> tree.Parameter:
    return tree.Parameter(kids[0].text.lower(), _unit(kids, "in_unit"), place=place)


def _formula_row(kids: list[Any], place: Place) -> tree.FormulaRow:
    return tree.FormulaRow(term(kids[0], place), kids[1] if kids[1:] else None, place=place)


def _otherwise(kids: list[Any], place: Place) -> tree.FormulaRow:
    return tree.FormulaRow(term(kids[0], place), otherwise=True, place=place)


def _formula(kids: list[Any], place: Place) -> tree.Formula:
    name = kids[0]
    return tree.Formula(
        name.text.lower(),
        tuple(kid for kid in kids if isinstance(kid, tree.Parameter)),
        texts(kids),
        _unit(kids, "in_unit"),
        tuple(kid for kid in kids if isinstance(kid, tree.FormulaRow)),
        place=place,
        name_place=token_place(name, place),
    )


def _table(kids: list[Any], place: Place) -> tree.Table:
    name, *rest = kids
    kind = next(kid for kid in rest if isinstance(kid, Token))
    return tree.Table(
        name.text.lower(),
        texts(rest),
        kind.text.lower(),
        _unit(rest, "to_unit"),
        place=place,
        name_place=token_place(name, place),
    )


def _table_row(kids: list[Any], place: Place) -> tree.TableRow:
    choice, value = kids
    return tree.TableRow(choice, None if isinstance(value, Made) else value, place=place)


FORMULAS: Mapping[str, Builder] = {
    "formula": _formula,
    "parameter": _parameter,
    "as_always": _formula_row,
    "as_when": _formula_row,
    "as_otherwise": _otherwise,
    "table": _table,
    "table_row": _table_row,
    "to_unit": piece("to_unit"),
    "no_value": piece("no_value"),
}
