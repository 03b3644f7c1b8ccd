"""The facts that a file and all it uses give, each path once."""

from functools import lru_cache

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rules import model
from trackprep.rules.facts import FactReader, origin, source_of
from trackprep.rules.loading import Loaded
from trackprep.rules.reporting import Reporter
from trackprep.source import Place
from trackprep.syntax import tree

EVENT_PATHS = frozenset({"event.date", "event.year-start"})


@frozen(eq=False)
class DerivedStatement:
    """A derived fact as written, to be compiled when the limits are known."""

    statement: tree.Derived
    section: str

    @property
    def source(self) -> model.SourceOf | None:
        """Where it comes from."""
        return source_of(self.statement.details)

    @property
    def origin(self) -> model.Origin:
        """Where it stands."""
        return origin(self.statement.place)


@frozen(eq=False)
class Vocabulary:
    """Facts, derived facts and kinds by name; `homes` says in which file a path stands.

    Attributes:
        unread: Names of statements that could not be read; what names them is no mistake.
    """

    facts: dict[str, model.Fact]
    derived: dict[str, DerivedStatement]
    kinds: dict[str, model.Type]
    homes: dict[str, str]
    unread: frozenset[str]
    problems: tuple[Problem, ...]


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
    merging.own_statements()
    return merging.result()


class _Merging:
    """One file's vocabulary in the making."""

    def __init__(self, loaded: Loaded) -> None:
        self.loaded = loaded
        self.reporter = Reporter()
        self.facts: dict[str, model.Fact] = {}
        self.derived: dict[str, DerivedStatement] = {}
        self.kinds: dict[str, model.Type] = {}
        self.homes: dict[str, str] = {}
        self.unread: set[str] = {u.name for u in loaded.file.unread if u.name}
        self.branches: dict[str, str] = {}

    def take_in(self, used: Vocabulary) -> None:
        """Adds the vocabulary of a file that this one names."""
        self.unread |= used.unread
        for problem in used.problems:
            self.reporter.add(problem)
        for name, kind in used.kinds.items():
            self.kinds.setdefault(name, kind)
        for path, home in used.homes.items():
            if self.homes.setdefault(path, home) != home:
                self.two_homes(path, home)
        self.facts |= used.facts
        self.derived |= used.derived

    def two_homes(self, path: str, home: str) -> None:
        place = next(
            (s.place for s in self.loaded.file.statements if isinstance(s, tree.Uses)),
            Place(self.loaded.source, 0, 0),
        )
        self.reporter.report(
            "repeated-fact", f"`{path}` is a fact of `{self.homes[path]}` and of `{home}`", place,
            suggestion="use one of the two files",
        )  # fmt: skip

    def own_statements(self) -> None:
        reader = FactReader(self.kinds, self.reporter)
        section = ""
        own: set[str] = set()
        if self.loaded.implicit:
            self.give_way()
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
                case _:
                    pass
        self.kinds = reader.kinds

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

    def result(self) -> Vocabulary:
        return Vocabulary(
            self.facts, self.derived, self.kinds, self.homes, frozenset(self.unread),
            self.reporter.in_order(),
        )  # fmt: skip


def _heads(path: str) -> list[str]:
    """The branches above a path: of `a.b.c` they are `a` and `a.b`."""
    parts = path.split(".")
    return [".".join(parts[:count]) for count in range(1, len(parts))]
