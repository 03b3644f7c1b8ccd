"""A formula's text with the arguments of a call written in place of its parameters."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from attrs import evolve, fields, has

from trackprep.syntax import tree


@dataclass(frozen=True)
class Rows:
    """What a formula says, row by row: the condition, or None where there is none."""

    rows: tuple[tuple[tree.Condition | None, tree.Expression], ...]


@lru_cache(maxsize=1000)
def called(formula: tree.Formula, arguments: tuple[tree.Expression, ...]) -> Rows | tree.Group:
    """The formula for these arguments."""
    names = [parameter.name for parameter in formula.parameters]
    given = {name: tree.Group(its) for name, its in zip(names, arguments, strict=True)}
    rows = tuple((row.condition, row.value) for row in formula.rows)
    if rows[0][0] is None:
        return tree.Group(written_in(rows[0][1], given))
    return Rows(written_in(rows, given))


def written_in(node: Any, given: dict[str, tree.Expression]) -> Any:
    """The node with each word that is a parameter replaced, all at once."""
    if isinstance(node, tuple):
        return tuple(written_in(part, given) for part in node)
    if isinstance(node, tree.Word):
        return given.get(node.text, node)
    if has(type(node)) and type(node).__module__.startswith("trackprep.syntax"):
        parts = {
            field.name: written_in(getattr(node, field.name), given)
            for field in fields(type(node))
            if field.name not in ("place", "name_place")
        }
        return evolve(node, **parts)
    return node
