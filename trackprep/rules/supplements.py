"""Applies supplements: from the deepest base up, one set of statements comes of all files.

This happens before anything is compiled, since inherited rules see the limits
and lists as the last supplement leaves them.
"""

from collections.abc import Iterable
from typing import Any

from attrs import evolve

from trackprep.rules.clauses import once_each, replaced
from trackprep.rules.facts import origin, proses
from trackprep.rules.kept_units import keeps_units
from trackprep.rules.loading import Loaded
from trackprep.rules.protection import allowed_on_core, core_names, drops_others
from trackprep.rules.reporting import Reporter, nearest
from trackprep.rules.statements import NamedStatement, RuleStatement, Statements
from trackprep.source import Place
from trackprep.syntax import tree


def supplemented(files: Iterable[Loaded], reporter: Reporter) -> Statements:
    """What the files say together, each on top of those before it."""
    whole = Statements()
    for loaded in files:
        _File(whole, loaded, reporter).apply()
    return whole


class _File:
    """One file on top of its bases."""

    def __init__(self, whole: Statements, loaded: Loaded, reporter: Reporter) -> None:
        self.whole, self.loaded, self.reporter = whole, loaded, reporter
        self.name = next(
            (s.name for s in loaded.file.statements if isinstance(s, tree.Heading)), ""
        )
        self.section: tree.Section | None = None
        self.seen: dict[tuple[str, str], Place] = {}
        self.inherited_core = core_names(whole, loaded) if loaded.base else frozenset()
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

    def first(self, kind: str, name: str, place: Place, *, new: bool = False) -> bool:
        """Whether this file names it for the first time; if not, after a problem."""
        earlier = self.seen.setdefault((kind, name), place)
        if earlier is place:
            return True
        code = f"repeated-{kind}" if kind in ("rule", "limit", "list") else "said-twice"
        what = f"`{name}`" if name else f"`{kind}`"
        self.reporter.report(
            code, f"{what} stands at line {earlier.line} already", place,
            suggestion="keep one, or rename one of them" if new else "keep one of the two",
        )  # fmt: skip
        return False

    # ---- limits and lists ----

    def named(
        self, statement: Any, kind: str, known: dict[str, NamedStatement], inherited: frozenset[str]
    ) -> None:
        new = statement.strength in ("", "core")
        if not self.first(kind, statement.name, statement.name_place, new=new):
            return
        other = self.whole.lists if kind == "limit" else self.whole.limits
        if statement.name in other:
            its_kind = "list" if kind == "limit" else "limit"
            self.reporter.report(
                "repeated-name", f"`{statement.name}` is a {its_kind} already",
                statement.name_place, suggestion="give one of the two another name",
            )  # fmt: skip
            return
        if new:
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
                suggestion=f"write `stricter {kind} {statement.name} is …`{self.above()},"
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
        if kind == "limit" and not keeps_units(statement, before.statement, self.reporter):
            return
        changes: dict[str, Any] = {"place": statement.place}
        if gives_value:
            changes[value] = getattr(statement, value)
        if statement.label is not None:
            changes["label"] = statement.label
        changes["details"] = replaced(
            before.statement.details, statement.details, value=gives_value
        )
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

    def above(self) -> str:
        """Where a change belongs, said under a section only: above it, there is nothing to move."""
        return " above the first `section`" if self.section is not None else ""

    def unknown(self, name: str, kind: str, known: tuple[str, ...], place: Place) -> None:
        near = nearest(name, known)
        self.reporter.report(
            f"unknown-{kind}", f"the base has no {kind} called `{name}`", place,
            expected=f"the name of a {kind} of the base",
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip

    # ---- rules ----

    def rule(self, statement: tree.Rule) -> None:
        new = statement.strength in ("", "core")
        if not self.first("rule", statement.name, statement.name_place, new=new):
            if new:
                self.clash(statement)
            return
        if new:
            self.new_rule(statement)
        elif self.in_time(statement.strength, "rule", statement.place):
            self.change_rule(statement)

    def new_rule(self, statement: tree.Rule) -> None:
        name = statement.name
        if name in self.inherited_rules or name in self.whole.withdrawn:
            gone = name in self.whole.withdrawn
            self.reporter.report(
                "repeated-rule", f"`{name}` {'was withdrawn' if gone else 'is a rule of the base'}",
                statement.name_place,
                suggestion="choose another name" if gone
                else f"write `amend rule {name}`{self.above()}, or choose another name",
            )  # fmt: skip
            self.clash(statement)
            return
        if statement.title is None and not statement.damaged:
            self.reporter.report(
                "title-missing", f"the rule `{name}` has no title", statement.name_place,
                expected='`rule NAME "Title"`', suggestion=f'write `rule {name} "…"`',
            )  # fmt: skip
        once_each(statement, self.reporter)
        self.whole.rules[name] = self.made(statement)

    def clash(self, statement: tree.Rule) -> None:
        """Keeps a rule whose name is taken for the mistakes in it, though not for what it lacks."""
        once_each(statement, self.reporter)
        self.whole.clashing.append(evolve(self.made(statement), damaged=True))

    def made(self, statement: tree.Rule) -> RuleStatement:
        """A rule as this file writes it, on nothing of its base."""
        return RuleStatement(
            statement.name,
            statement.title or statement.name,
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
        if before.core and not allowed_on_core(statement):
            self.reporter.report(
                "core-changed", f"`{name}` is a core rule of the base", statement.name_place,
                expected="`stricter rule …`, or an `amend` of reason, fix, undo, inspect, source"
                " and caution",
                suggestion="make it stricter, or leave it as the base has it",
            )  # fmt: skip
            return
        if drops_others(statement, before, self.reporter):
            return
        once_each(statement, self.reporter)
        changes: dict[str, Any] = {
            "details": replaced(before.details, statement.details),
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
                "core-changed", f"`{name}` is a core rule of the base and stays",
                statement.name_place, suggestion="leave it as the base has it",
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
