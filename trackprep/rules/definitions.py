"""Derived facts, formulas and tables as they are written, to be compiled when they are named."""

from collections.abc import Mapping
from functools import cached_property
from typing import Any, ClassVar, Generic, TypeAlias, TypeVar, cast

from attrs import field

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.facts import origin, source_of
from trackprep.rules.precompiled import HangsOn
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.parser import parse_statement

_S = TypeVar("_S", tree.Derived, tree.Formula, tree.Table)


@frozen(eq=False, slots=False)
class Definition(Generic[_S]):
    """A statement, or where it stands whole: it is read then when it is first looked at.

    Attributes:
        ready: Of a shipped one, under its name what it means by its vocabulary alone.
    """

    written: _S | Place
    section: str
    ready: Mapping[str, Any] | None = field(default=None, kw_only=True)

    @cached_property
    def statement(self) -> _S:
        """The statement."""
        if isinstance(self.written, Place):
            return cast(_S, parse_statement(self.written))
        return self.written

    @property
    def file(self) -> str:
        """The name of the file that it stands in; tells it without reading it."""
        place = self.written if isinstance(self.written, Place) else self.written.place
        return place.source.name


@frozen(eq=False, slots=False)
class DerivedStatement(Definition[tree.Derived]):
    """A derived fact as written, to be compiled when the limits are known.

    Attributes:
        hangs_on: Of one that is ready, the names that its meaning hangs on.
    """

    hangs_on: HangsOn | None = field(default=None, kw_only=True)

    @property
    def source(self) -> model.SourceOf | None:
        """Where it comes from."""
        return source_of(self.statement.details)

    @property
    def origin(self) -> model.Origin:
        """Where it stands."""
        return origin(self.statement.place)


@frozen(eq=False, slots=False)
class FormulaStatement(Definition[tree.Formula]):
    """A formula as written, to be compiled when it is called."""

    sort: ClassVar[str] = "formula"

    @property
    def form(self) -> str:
        """How it is called: `absolute(temperature in °C)`."""
        parameters = (
            f"{p.name} in {p.unit}" if p.unit else p.name for p in self.statement.parameters
        )
        return f"{self.statement.name}({', '.join(parameters)})"


@frozen(eq=False, slots=False)
class TableStatement(Definition[tree.Table]):
    """A table as written; `kinds` are those of its file."""

    kinds: Mapping[str, model.Type]
    sort: ClassVar[str] = "table"

    @property
    def type(self) -> model.Type | None:
        """The kind that it names, if there is one."""
        return self.kinds.get(self.statement.kind)

    @property
    def form(self) -> str:
        """How it is called: `speed-of(speed-symbol)`."""
        return f"{self.statement.name}({self.statement.kind})"


Calculation: TypeAlias = FormulaStatement | TableStatement
