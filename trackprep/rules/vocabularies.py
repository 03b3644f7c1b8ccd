"""The facts, formulas and tables that a file and all it uses give, each name once."""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rules import model
from trackprep.rules.definitions import (
    Calculation,
    DerivedStatement,
    FormulaStatement,
    TableStatement,
)
from trackprep.rules.facts import FactReader
from trackprep.rules.functions import FORMS
from trackprep.rules.loading import Loaded
from trackprep.rules.precompiled import StoredVocabulary
from trackprep.rules.reporting import Reporter
from trackprep.rules.storing import Later
from trackprep.source import Place
from trackprep.syntax import tree

EVENT_PATHS = frozenset({"event.date", "event.year-start"})


@frozen(eq=False)
class Vocabulary:
    """Facts, derived facts and kinds by name; `homes` says in which file a path stands.

    Attributes:
        calculations: Formulas and tables, which share their names.
        unread: Names of statements that could not be read; what names them is no mistake.
        unstored: Names of what was read from its text.
    """

    facts: Mapping[str, model.Fact]
    derived: dict[str, DerivedStatement]
    kinds: Mapping[str, model.Type]
    calculations: dict[str, Calculation]
    homes: dict[str, str]
    unread: frozenset[str]
    problems: tuple[Problem, ...]
    unstored: frozenset[str] = frozenset()


def vocabulary(loaded: Loaded) -> Vocabulary:
    """The vocabulary of a file with all it uses and supplements."""
    return _kept(loaded) if loaded.used.shipped else _made(loaded)


@lru_cache(maxsize=64)
def _kept(loaded: Loaded) -> Vocabulary:
    return _made(loaded)


def _made(loaded: Loaded) -> Vocabulary:
    merging = _Merging(loaded)
    for used in (loaded.base, *loaded.uses):
        if used is not None:
            merging.take_in(vocabulary(used))
    if loaded.stored is not None:
        merging.own_stored(loaded.stored)
    else:
        merging.own_statements()
    return merging.result()


class _Merging:
    """One file's vocabulary in the making."""

    def __init__(self, loaded: Loaded) -> None:
        self.loaded = loaded
        self.reporter = Reporter()
        self.facts: Later[model.Fact] = Later()
        self.derived: dict[str, DerivedStatement] = {}
        self.kinds: Later[model.Type] = Later()
        self.calculations: dict[str, Calculation] = {}
        self.homes: dict[str, str] = {}
        self.unread: set[str] = set()
        self.unstored: set[str] = set()
        self.branches: dict[str, str] = {}

    def take_in(self, used: Vocabulary) -> None:
        """Adds the vocabulary of a file that this one names."""
        self.unread |= used.unread
        self.unstored |= used.unstored
        for problem in used.problems:
            self.reporter.add(problem)
        self.kinds.take_in(used.kinds, replacing=False)
        for path, home in used.homes.items():
            if self.homes.setdefault(path, home) != home:
                self.two_homes(path, self.homes[path], home, None)
        for name, calculation in used.calculations.items():
            known = self.calculations.setdefault(name, calculation)
            if known.file != calculation.file:
                self.two_homes(name, known.file, calculation.file, known)
        self.facts.take_in(used.facts)
        self.derived |= used.derived

    def two_homes(self, name: str, one: str, other: str, known: Calculation | None) -> None:
        what = "fact" if known is None else known.sort
        place = next(
            (s.place for s in self.loaded.file.statements if isinstance(s, tree.Uses)),
            Place(self.loaded.source, 0, 0),
        )
        self.reporter.report(
            f"repeated-{what}", f"`{name}` is a {what} of `{one}` and of `{other}`", place,
            suggestion="use one of the two files",
        )  # fmt: skip

    def own_stored(self, stored: StoredVocabulary) -> None:
        """Adds what stands in this file; its names were held to be free when it was stored."""
        source = self.loaded.source
        self.kinds.take_in(stored.kinds)
        self.facts.take_in(stored.facts)
        self.homes.update(dict.fromkeys(stored.facts, source.name))
        for keyword, name, start, end, section in stored.statements:
            place = Place(source, start, end)
            match keyword:
                case "derived":
                    self.homes[name] = source.name
                    self.derived[name] = DerivedStatement(
                        place, section,
                        ready=stored.derived.only(name), hangs_on=stored.hangs_on.get(name),
                    )  # fmt: skip
                case "formula":
                    self.calculations[name] = FormulaStatement(
                        place, section, ready=stored.formulas.only(name)
                    )
                case "table":
                    self.calculations[name] = TableStatement(
                        place, section, self.kinds, ready=stored.tables.only(name)
                    )

    def own_statements(self) -> None:
        self.unread.update(u.name for u in self.loaded.file.unread if u.name)
        section = ""
        own: set[str] = set()
        if self.loaded.implicit:
            self.give_way()
        reader = FactReader(self.kinds, self.reporter)
        self.unstored.update(_defined(self.loaded.file.statements))
        for statement in self.loaded.file.statements:
            if isinstance(statement, tree.Kind):  # a fact may stand before its kind
                reader.kind(statement)
        for statement in self.loaded.file.statements:
            match statement:
                case tree.Section(title):
                    section = title
                case tree.Fact(path) if self.may_define(path, statement.path_place, own):
                    own.add(path)
                    fact = reader.fact(statement, section)
                    if fact is None:
                        self.unread.add(path)
                    else:
                        self.facts[path] = fact
                case tree.Derived(path) if self.may_define(path, statement.path_place, own):
                    own.add(path)
                    self.derived[path] = DerivedStatement(statement, section)
                case tree.Formula(name) if self.may_name(statement):
                    self.calculations[name] = FormulaStatement(statement, section)
                case tree.Table(name) if self.may_name(statement):
                    self.calculations[name] = TableStatement(statement, section, self.kinds)
                case _:
                    pass

    def give_way(self) -> None:
        """What the file defines itself takes the place of what it did not ask for."""
        names: set[str] = set()
        limits: set[str] = set()
        for statement in self.loaded.file.statements:
            if isinstance(statement, tree.Fact | tree.Derived):
                names.add(statement.path)
            elif isinstance(statement, tree.Limit | tree.List):
                limits.add(statement.name)
            elif isinstance(statement, tree.Kind):
                self.kinds.pop(statement.name, None)
            elif isinstance(statement, tree.Formula | tree.Table):
                self.calculations.pop(statement.name, None)
        heads = {_head for name in names for _head in _heads(name)}
        for path in list(self.homes):
            if path in names | limits or path in heads or names.intersection(_heads(path)):
                self.homes.pop(path)
                self.facts.pop(path, None)
                self.derived.pop(path, None)

    def may_define(self, path: str, place: Place, own: set[str]) -> bool:
        """Whether the path is free; if not, after a problem."""
        if path in EVENT_PATHS or path == "it" or path.startswith("it."):
            self.reporter.report(
                "reserved-path", f"`{path}` has a meaning of its own", place,
                suggestion="choose another path",
            )  # fmt: skip
            return False
        if path in self.homes:
            where = "here" if path in own else f"in `{self.homes[path]}`"
            self.reporter.report(
                "repeated-fact", f"`{path}` is a fact already, {where}", place,
                suggestion="take one of the two out, or give it another path",
            )  # fmt: skip
            return False
        if not self.branches:
            self.branches = {head: known for known in self.homes for head in _heads(known)}
        clash = self.branches.get(path) or next(
            (head for head in _heads(path) if head in self.homes), None
        )
        if clash is not None:
            longer, shorter = max(path, clash), min(path, clash)
            self.reporter.report(
                "value-and-branch",
                f"`{shorter}` is a fact, so that `{longer}` cannot stand below it",
                place,
                suggestion=f"name one of them otherwise, such as `{shorter}.kind`",
            )
            return False
        self.homes[path] = self.loaded.source.name
        self.branches.update(dict.fromkeys(_heads(path), path))
        return True

    def may_name(self, statement: tree.Formula | tree.Table) -> bool:
        """Whether the name of a formula or table is free; if not, after a problem."""
        name, place = statement.name, statement.name_place
        what = "formula" if isinstance(statement, tree.Formula) else "table"
        if name in FORMS:
            self.reporter.report(
                "reserved-function", f"`{name}` is a function of the language", place,
                suggestion="choose another name",
            )  # fmt: skip
            return False
        known = self.calculations.get(name)
        if known is None:
            return True
        where = "here" if known.file == self.loaded.source.name else f"in `{known.file}`"
        self.reporter.report(
            f"repeated-{what}", f"`{name}` is a {known.sort} already, {where}", place,
            suggestion="take one of the two out, or give it another name",
        )  # fmt: skip
        return False

    def result(self) -> Vocabulary:
        return Vocabulary(
            self.facts, self.derived, self.kinds, self.calculations, self.homes,
            frozenset(self.unread), self.reporter.in_order(), frozenset(self.unstored),
        )  # fmt: skip


def _defined(statements: Iterable[tree.Statement]) -> Iterator[str]:
    """The names that the statements give to something of a vocabulary."""
    for statement in statements:
        match statement:
            case (
                tree.Kind(name)
                | tree.Fact(name)
                | tree.Derived(name)
                | tree.Formula(name)
                | tree.Table(name)
            ):
                yield name
            case _:
                pass


def _heads(path: str) -> list[str]:
    """The branches above a path: of `a.b.c` they are `a` and `a.b`."""
    parts = path.split(".")
    return [".".join(parts[:count]) for count in range(1, len(parts))]
