"""What all files of a ruleset say together, as the last supplement leaves it."""

from typing import Any

from attrs import Factory, define, field

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.source import Place
from trackprep.syntax import tree


@frozen(eq=False)
class NamedStatement:
    """A limit or a list as the last supplement leaves it."""

    statement: Any  # tree.Limit | tree.List
    core: bool
    origin: model.Origin


@frozen(eq=False)
class RuleStatement:
    """A rule as the last supplement leaves it, under the section of its first file."""

    name: str
    title: str
    parts: tuple[tree.Reference, ...]
    details: tuple[tree.RuleDetail, ...]
    section: tree.Section | None
    core: bool
    change: Any
    base: str
    origin: model.Origin
    damaged: bool
    place: Place = field(repr=False)

    @property
    def demands(self) -> list[tree.Demand]:
        """Its `require`s or `recommend`s."""
        return [d for d in self.details if isinstance(d, tree.Demand)]


@define(eq=False)
class Statements:
    """What all files of a ruleset say together."""

    settings: dict[str, str] = Factory(dict)
    valid: tree.Valid | None = None
    notes: dict[str, list[str]] = Factory(lambda: {"note": [], "bring": []})
    limits: dict[str, NamedStatement] = Factory(dict)
    lists: dict[str, NamedStatement] = Factory(dict)
    here: dict[str, tree.Given] = Factory(dict)
    rules: dict[str, RuleStatement] = Factory(dict)
    clashing: list[RuleStatement] = Factory(list)
    """Rules whose name is taken: that is told, and more may be wrong in them."""
    sections: list[tree.Section] = Factory(list)
    withdrawn: dict[str, str] = Factory(dict)
