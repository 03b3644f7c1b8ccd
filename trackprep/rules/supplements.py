"""Applies supplements: from the deepest base up, one set of statements comes of all files.

This happens before anything is compiled, since inherited rules see the limits
and lists as the last supplement leaves them.
"""

from collections.abc import Iterator
from typing import Any

import attrs
from attrs import evolve, field, frozen

from trackprep.rules import model
from trackprep.rules.facts import origin, proses
from trackprep.rules.loading import Loaded
from trackprep.rules.reporting import Reporter, nearest
from trackprep.rules.vocabularies import vocabulary
from trackprep.source import Place
from trackprep.syntax import tree

_ON_CORE = frozenset({"reason", "fix", "undo", "inspect", "source", "caution"})


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


class Statements:
    """What all files of a ruleset say together."""

    def __init__(self, reporter: Reporter) -> None:
        self.reporter = reporter
        self.settings: dict[str, str] = {}
        self.valid: tree.Valid | None = None
        self.notes: dict[str, list[str]] = {"note": [], "bring": []}
        self.limits: dict[str, NamedStatement] = {}
        self.lists: dict[str, NamedStatement] = {}
        self.here: dict[str, tree.Given] = {}
        self.rules: dict[str, RuleStatement] = {}
        self.sections: list[tree.Section] = []
        self.withdrawn: dict[str, str] = {}

    def add_file(self, loaded: Loaded) -> None:
        """Applies one file on top of what its bases said."""
        _File(self, loaded).apply()


class _File:
    """One file on top of its bases."""

    def __init__(self, whole: Statements, loaded: Loaded) -> None:
        self.whole, self.loaded = whole, loaded
        self.reporter = whole.reporter
        self.name = next(
            (s.name for s in loaded.file.statements if isinstance(s, tree.Heading)), ""
        )
        self.section: tree.Section | None = None
        self.seen: dict[tuple[str, str], Place] = {}
        self.inherited_core = _core_names(whole, loaded) if loaded.base else frozenset()
        self.inherited_limits = frozenset(whole.limits)
        self.inherited_lists = frozenset(whole.lists)
        self.inherited_rules = frozenset(whole.rules)

    def apply(self) -> None:
        for statement in self.loaded.file.statements:
            match statement:
                case tree.Prose(keyword, text):
                    self.setting(statement, keyword, text)
                case tree.Valid():
                    if self.first("valid", "", statement.place):
                        self.whole.valid = statement
                case tree.Section():
                    self.section = self.joined(statement)
                case tree.Limit():
                    self.named(statement, "limit", self.whole.limits, self.inherited_limits)
                case tree.List():
                    self.named(statement, "list", self.whole.lists, self.inherited_lists)
                case tree.Here(given):
                    if self.first("here", given.path, statement.place):
                        self.whole.here[given.path] = given
                case tree.Rule():
                    self.rule(statement)
                case tree.Withdraw():
                    self.withdraw(statement)
                case _:
                    pass

    def setting(self, statement: tree.Prose, keyword: str, text: str) -> None:
        if keyword in self.whole.notes:
            self.whole.notes[keyword].append(text)
        elif self.first(keyword, "", statement.place):
            self.whole.settings[keyword] = text

    def joined(self, section: tree.Section) -> tree.Section:
        """The section itself, or an earlier one of equal title and condition."""
        for earlier in self.whole.sections:
            if (earlier.title, earlier.conditions) == (section.title, section.conditions):
                if section.details:
                    more = evolve(earlier, details=earlier.details + section.details)
                    self.whole.sections[self.whole.sections.index(earlier)] = more
                return earlier
        self.whole.sections.append(section)
        return section

    def first(self, kind: str, name: str, place: Place) -> bool:
        """Whether this file names it for the first time; if not, after a problem."""
        earlier = self.seen.setdefault((kind, name), place)
        if earlier is place:
            return True
        code = f"repeated-{kind}" if kind in ("rule", "limit", "list") else "said-twice"
        what = f"`{name}`" if name else f"`{kind}`"
        self.reporter.report(
            code, f"{what} stands at line {earlier.line} already", place,
            suggestion="keep one of the two" if not name else "keep one, or rename one of them",
        )  # fmt: skip
        return False

    # ---- limits and lists ----

    def named(
        self, statement: Any, kind: str, known: dict[str, NamedStatement], inherited: frozenset[str]
    ) -> None:
        if not self.first(kind, statement.name, statement.name_place):
            return
        other = self.whole.lists if kind == "limit" else self.whole.limits
        if statement.name in other:
            self.reporter.report(
                "repeated-name", f"`{statement.name}` is a {'list' if kind == 'limit' else 'limit'} already",
                statement.name_place, suggestion="give one of the two another name",
            )  # fmt: skip
            return
        if statement.strength in ("", "core"):
            self.new_named(statement, kind, known, inherited)
        elif self.in_time(statement.strength, kind, statement.place):
            self.change_named(statement, kind, known, inherited)

    def new_named(
        self, statement: Any, kind: str, known: dict[str, NamedStatement], inherited: frozenset[str]
    ) -> None:
        value = statement.value if kind == "limit" else statement.words
        if statement.name in inherited:
            self.reporter.report(
                f"repeated-{kind}", f"`{statement.name}` is a {kind} of the base already",
                statement.name_place,
                suggestion=f"write `stricter {kind} {statement.name} is …`,"
                f" or `looser` or `amend` in place of `stricter`",
            )  # fmt: skip
            return
        if value is None and not statement.damaged:
            self.reporter.report(
                "value-missing", f"the {kind} `{statement.name}` has no value", statement.place,
                suggestion=f"write `{kind} {statement.name} is …`",
            )  # fmt: skip
            return
        known[statement.name] = NamedStatement(
            statement, statement.strength == "core", origin(statement.place)
        )

    def change_named(
        self, statement: Any, kind: str, known: dict[str, NamedStatement], inherited: frozenset[str]
    ) -> None:
        name = statement.name
        if name not in inherited:
            self.unknown(name, kind, tuple(known), statement.name_place)
            return
        before = known[name]
        value = "value" if kind == "limit" else "words"
        gives_value = getattr(statement, value) is not None
        core = before.core or name in self.inherited_core
        if core and gives_value and statement.strength != "stricter":
            self.reporter.report(
                "core-changed", f"the {kind} `{name}` is core, or a core rule uses it",
                statement.place, expected=f"`stricter {kind} {name}`",
                suggestion="make it stricter, or leave it as the base has it",
            )  # fmt: skip
            return
        changes: dict[str, Any] = {"place": statement.place}
        if gives_value:
            changes[value] = getattr(statement, value)
        if statement.label is not None:
            changes["label"] = statement.label
        changes["details"] = _replaced(before.statement.details, statement.details)
        merged = evolve(before.statement, **changes)
        known[name] = NamedStatement(merged, before.core, origin(statement.place))

    def in_time(self, strength: str, kind: str, place: Place) -> bool:
        """Whether a change stands in a supplement and before its first section."""
        if self.loaded.base is None:
            if not self.loaded.missing:
                self.reporter.report(
                    "nothing-to-change", f"`{strength} {kind}` changes a base, and there is none",
                    place, suggestion='name the base: `supplements "…"`',
                )  # fmt: skip
            return False
        if self.section is not None:
            self.reporter.report(
                "change-in-section", f"`{strength} {kind}` stands under a section", place,
                expected="changes to the base before the first `section`",
                suggestion="move it above the first section: it keeps the section of its base",
            )  # fmt: skip
            return False
        return True

    def unknown(self, name: str, kind: str, known: tuple[str, ...], place: Place) -> None:
        near = nearest(name, known)
        self.reporter.report(
            f"unknown-{kind}", f"the base has no {kind} called `{name}`", place,
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip

    # ---- rules ----

    def rule(self, statement: tree.Rule) -> None:
        if not self.first("rule", statement.name, statement.name_place):
            return
        if statement.strength in ("", "core"):
            self.new_rule(statement)
        elif self.in_time(statement.strength, "rule", statement.place):
            self.change_rule(statement)

    def new_rule(self, statement: tree.Rule) -> None:
        name = statement.name
        if name in self.inherited_rules or name in self.whole.withdrawn:
            state = "is a rule of the base" if name in self.whole.rules else "was withdrawn"
            self.reporter.report(
                "repeated-rule", f"`{name}` {state}", statement.name_place,
                suggestion=f"write `amend rule {name}`, or choose another name",
            )  # fmt: skip
            return
        if statement.title is None and not statement.damaged:
            self.reporter.report(
                "title-missing", f"the rule `{name}` has no title", statement.name_place,
                expected='`rule NAME "Title"`', suggestion=f'write `rule {name} "…"`',
            )  # fmt: skip
        self.once_each(statement)
        self.whole.rules[name] = RuleStatement(
            name,
            statement.title or name,
            statement.parts,
            statement.details,
            self.section,
            statement.strength == "core",
            "",
            self.name,
            origin(statement.place),
            statement.damaged,
            statement.name_place,
        )

    def once_each(self, statement: tree.Rule) -> None:
        """Reports a clause that may not stand twice in a rule."""
        seen: set[str] = set()
        for detail in statement.details:
            kind = _kind(detail)
            if kind in seen and kind in ("reason", "inspect", "source"):
                self.reporter.report(
                    "said-twice", f"`{kind}` stands in this rule a second time", detail.place,
                    suggestion="make one of the two, several strings one after another if it is long",
                )  # fmt: skip
            seen.add(kind)

    def change_rule(self, statement: tree.Rule) -> None:
        name = statement.name
        if name not in self.inherited_rules:
            self.unknown(name, "rule", tuple(self.whole.rules), statement.name_place)
            return
        if name not in self.whole.rules:
            self.reporter.report(
                "withdrawn-rule", f"`{name}` is withdrawn in this file", statement.name_place,
                suggestion="keep one of the two changes",
            )  # fmt: skip
            return
        before = self.whole.rules[name]
        if before.core and not self.allowed_on_core(statement):
            return
        self.once_each(statement)
        changes: dict[str, Any] = {
            "details": _replaced(before.details, statement.details),
            "change": statement.strength,
            "origin": origin(statement.place),
            "place": statement.name_place,
            "damaged": before.damaged or statement.damaged,
        }
        if statement.title is not None:
            changes["title"] = statement.title
        if statement.parts:
            changes["parts"] = statement.parts
        self.whole.rules[name] = evolve(before, **changes)

    def allowed_on_core(self, statement: tree.Rule) -> bool:
        if statement.strength == "stricter":
            return True
        kinds = {_kind(detail) for detail in statement.details}
        if statement.strength == "amend" and kinds <= _ON_CORE and not statement.parts:
            return True
        self.reporter.report(
            "core-changed", f"`{statement.name}` is a core rule of the base", statement.name_place,
            expected="`stricter rule …`, or an `amend` of reason, fix, undo, inspect, source"
            " and caution",
            suggestion="make it stricter, or leave it as the base has it",
        )  # fmt: skip
        return False

    def withdraw(self, statement: tree.Withdraw) -> None:
        name = statement.name
        if not self.first("rule", name, statement.name_place) or not self.in_time(
            "withdraw", "rule", statement.place
        ):
            return
        if name not in self.inherited_rules:
            self.unknown(name, "rule", tuple(self.whole.rules), statement.name_place)
        elif self.whole.rules[name].core:
            self.reporter.report(
                "core-changed", f"`{name}` is a core rule of the base and stays", statement.name_place,
                suggestion="leave it as the base has it",
            )  # fmt: skip
        else:
            reason = " ".join(proses(statement.details, "reason"))
            if not reason and not statement.damaged:
                self.reporter.report(
                    "reason-missing", f"`{name}` is withdrawn without a reason", statement.place,
                    suggestion='say why: `reason "…"`',
                )  # fmt: skip
            del self.whole.rules[name]
            self.whole.withdrawn[name] = reason


def _kind(detail: Any) -> str:
    """The kind of a clause: an amendment replaces all clauses of the kinds it gives."""
    match detail:
        case tree.When():
            return "when"
        case tree.Demand():
            return "demand"
        case tree.Prose() | tree.Work():
            return str(detail.keyword)
        case _:
            return "source"


def _replaced(before: tuple[Any, ...], changes: tuple[Any, ...]) -> tuple[Any, ...]:
    given = {_kind(detail) for detail in changes}
    return tuple(d for d in before if _kind(d) not in given) + changes


def _core_names(whole: Statements, loaded: Loaded) -> frozenset[str]:
    """The limits and lists that a core rule uses, by whatever way."""
    assert loaded.base is not None
    derived = vocabulary(loaded.base).derived
    found: set[str] = set()
    waiting: list[Any] = [r.details for r in whole.rules.values() if r.core]
    waiting += [r.section.conditions for r in whole.rules.values() if r.core and r.section]
    waiting += [n.statement for n in whole.limits.values() if n.core]
    while waiting:
        for name in names_in(waiting.pop()):
            if name in found:
                continue
            found.add(name)
            if name in derived:
                waiting.append(derived[name].statement.definition)
            if name in whole.limits:
                waiting.append(whole.limits[name].statement.value)
    return frozenset(found)


def names_in(node: Any) -> Iterator[str]:
    """Every word and path that stands somewhere in a piece of a tree."""
    waiting = [node]
    while waiting:
        here = waiting.pop()
        if isinstance(here, tuple):
            waiting.extend(here)
        elif isinstance(here, tree.Word):
            yield here.text
        elif isinstance(here, tree.Reference):
            yield here.path
        elif attrs.has(type(here)) and not isinstance(here, Place):
            waiting.extend(getattr(here, f.name) for f in attrs.fields(type(here)) if f.eq)
