"""A ruleset seen from the file that it was read from: what this very file says and claims."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Literal, TypeAlias

from attrs import field

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.acceptances import Acceptance, acceptances, named
from trackprep.rules.clauses import kind_of
from trackprep.rules.compiling import chain, without_examples
from trackprep.rules.facts import origin
from trackprep.rules.loading import Loaded
from trackprep.rules.mentions import names_in
from trackprep.rules.reporting import Reporter
from trackprep.rules.statements import RuleStatement, Statements
from trackprep.rules.supplements import supplemented
from trackprep.rules.vocabularies import vocabulary
from trackprep.syntax import tree

Kind: TypeAlias = Literal["rule", "limit", "list", "fact", "derived", "formula", "table", "example"]


@frozen
class Head:
    """A statement of this very file.

    Attributes:
        clauses: The kinds of clause that it gives, with `value` and `title`.
    """

    kind: Kind
    name: str
    strength: tree.Strength
    clauses: frozenset[str]
    origin: model.Origin = field(eq=False)

    @property
    def about(self) -> str:
        """What findings about it are about: `rule tread`."""
        return (
            f'{self.kind} "{self.name}"' if self.kind == "example" else f"{self.kind} {self.name}"
        )

    @property
    def new(self) -> bool:
        """Whether it changes nothing of a base."""
        return self.strength in ("", "core")


@frozen(eq=False)
class OwnFile:
    """A finished ruleset, and what of it stands in the file that was read.

    Attributes:
        base: The direct base compiled by itself; None where there is none, or where it has
            mistakes that this file does away with.
        users: For each limit and list, the rules whose answers hang on it, here or in the
            base, by whatever way.
        named: The limits and lists that something names.
    """

    rules: model.Rules
    base: model.Rules | None
    heads: tuple[Head, ...]
    users: Mapping[str, tuple[str, ...]]
    named: frozenset[str]
    accepts: tuple[Acceptance, ...]

    def of(self, *kinds: Kind) -> Iterator[Head]:
        """The statements of some kinds."""
        return (head for head in self.heads if head.kind in kinds)


def own_file(loaded: Loaded, rules: model.Rules) -> OwnFile:
    """What of a ruleset without problems stands in the file it was read from."""
    files = chain(loaded)
    whole = supplemented(files, Reporter())
    before = supplemented(files[:-1], Reporter())
    derived = vocabulary(loaded).derived
    statements = loaded.file.statements
    uses = [_Uses(those, derived) for those in (before, whole)]
    return OwnFile(
        rules,
        without_examples(loaded.base).rules if loaded.base is not None else None,
        tuple(_heads(statements)),
        _users(uses),
        uses[-1].named(),
        acceptances(statements),
    )


def _heads(statements: Iterable[tree.Statement]) -> Iterator[Head]:
    for statement in statements:
        about = named(statement)
        if about is None:
            continue
        kind: Any = type(statement).__name__.lower()
        name = statement.title if isinstance(statement, tree.Example) else about.split()[1]
        strength: tree.Strength = getattr(statement, "strength", "")
        yield Head(kind, name, strength, _clauses(statement), origin(statement.place))


def _clauses(statement: Any) -> frozenset[str]:
    given = {kind_of(detail) for detail in getattr(statement, "details", ())}
    if any(getattr(statement, name, None) is not None for name in ("value", "words")):
        given.add("value")
    if any(getattr(statement, name, None) is not None for name in ("title", "label")):
        given.add("title")
    return frozenset(given)


def _users(uses: Iterable["_Uses"]) -> dict[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for each in uses:
        for rule in each.whole.rules.values():
            for name in each.reached(_deciding(rule)):
                found.setdefault(name, {})[rule.name] = None
    return {name: tuple(rules) for name, rules in found.items()}


def _deciding(rule: RuleStatement) -> list[Any]:
    """The pieces of a rule that its answer hangs on."""
    deciding: list[Any] = [d for d in rule.details if isinstance(d, tree.When | tree.Demand)]
    return [*deciding, rule.section.conditions] if rule.section else deciding


class _Uses:
    """Which limits and lists the statements of a ruleset name, by whatever way."""

    def __init__(self, whole: Statements, derived: Mapping[str, Any]) -> None:
        self.whole, self.derived = whole, derived

    def named(self) -> frozenset[str]:
        """Those that something names."""
        whole = self.whole
        pieces: list[Any] = [rule.details for rule in whole.rules.values()]
        pieces += [section.conditions for section in whole.sections]
        pieces += [limit.statement.value for limit in whole.limits.values()]
        pieces += [d.statement.definition for d in self.derived.values() if d.ready is None]
        return frozenset(self.reached(pieces))

    def reached(self, pieces: list[Any]) -> set[str]:
        """The limits and lists that the pieces name, and those that these hang on."""
        seen: set[str] = set()
        waiting = list(pieces)
        while waiting:
            for name in map(str.lower, names_in(waiting.pop())):
                if name in seen:
                    continue
                seen.add(name)
                if name in self.derived:
                    waiting.append(self.derived[name].statement.definition)
                elif name in self.whole.limits:
                    waiting.append(self.whole.limits[name].statement.value)
        return {name for name in seen if name in self.whole.limits or name in self.whole.lists}
