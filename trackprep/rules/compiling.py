"""Loaded files to the checked model: every problem found, or the rules as they are meant."""

from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from attrs import evolve, frozen

from trackprep.dates import span_of
from trackprep.problems import Problem
from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.checking import Conditions
from trackprep.rules.examples import compiled_examples
from trackprep.rules.facts import origin, proses, read_constant, source_of
from trackprep.rules.loading import Loaded
from trackprep.rules.reading import Fault, read_values
from trackprep.rules.reporting import Reporter, nearest
from trackprep.rules.scope import Scope
from trackprep.rules.supplements import NamedStatement, RuleStatement, Statements
from trackprep.rules.values import Amount, Value
from trackprep.rules.vocabularies import vocabulary
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import Unit, unit


@frozen(eq=False)
class Compiled:
    """What came of a ruleset: its meaning, or None where it has problems."""

    rules: model.Rules | None
    problems: tuple[Problem, ...]


def compiled(loaded: Loaded, reporter: Reporter, folder: Path | None = None) -> Compiled:
    """The meaning of a loaded ruleset; `folder` is where its examples' files lie."""
    made = _Compilation(loaded, reporter, folder).rules()
    problems = reporter.in_order()
    return Compiled(None if problems else made, problems)


def _chain(loaded: Loaded) -> list[Loaded]:
    """The file and its bases, the deepest first."""
    chain = [loaded]
    while chain[-1].base is not None:
        chain.append(chain[-1].base)
    return chain[::-1]


def _files(loaded: Loaded) -> list[model.FileUsed]:
    """Every file that had a part, the named one first, each once."""
    found: dict[str, model.FileUsed] = {}
    waiting = [loaded]
    while waiting:
        here = waiting.pop(0)
        key = here.used.path or here.used.name
        if key not in found:
            found[key] = here.used
            waiting.extend(here.uses)
            if here.base is not None:
                waiting.append(here.base)
    return list(found.values())


class _Compilation:
    """One ruleset on its way from statements to meaning."""

    def __init__(self, loaded: Loaded, reporter: Reporter, folder: Path | None) -> None:
        self.loaded, self.reporter, self.folder = loaded, reporter, folder
        self.words = vocabulary(loaded)
        for problem in self.words.problems:
            reporter.add(problem)
        self.chain = _chain(loaded)
        self.statements = Statements(reporter)
        for file in self.chain:
            self.statements.add_file(file)
        missing = any(file.missing for file in self.chain)
        self.scope = Scope(self.words, self.statements, missing, reporter)
        self.unread_names = {u.name for file in self.chain for u in file.file.unread if u.name}
        self.words = self.scope.vocabulary
        self.conditions = Conditions(self.scope)
        self.sections: dict[int, c.Condition | None] = {}

    def rules(self) -> model.Rules:
        heading = self.heading()
        self.names_apart()
        limits = {name: made for name, made in map(self.limit, self.statements.limits.values())}
        lists = {name: made for name, made in map(self.word_list, self.statements.lists.values())}
        here = self.here()
        sections = [self.section(s) for s in self.statements.sections]
        rules = self.in_report_order([self.rule(rule) for rule in self.statements.rules.values()])
        self.work_in_circle(rules)
        derived = self.derived()
        settings = self.statements.settings
        made = model.Rules(
            name=heading.name,
            title=heading.title,
            edition=self.own_edition(),
            organizer=settings.get("organizer", ""),
            venue=settings.get("venue", ""),
            contact=settings.get("contact", ""),
            valid=self.valid(),
            notes=tuple(self.statements.notes["note"]),
            brings=tuple(self.statements.notes["bring"]),
            facts=self.words.facts,
            derived=derived,
            limits=limits,
            lists=lists,
            here=here,
            sections=tuple(sections),
            rules=rules,
            withdrawn=dict(self.statements.withdrawn),
            base=self.chain[-2].used.name if len(self.chain) > 1 else None,
            vocabulary=heading.keyword == "vocabulary",
            files=tuple(_files(self.loaded)),
        )
        examples = [s for s in self.loaded.file.statements if isinstance(s, tree.Example)]
        return evolve(
            made,
            examples=compiled_examples(
                examples, made, self.scope, self.folder, frozenset(self.unread_names)
            ),
        )

    # ---- header ----

    def heading(self) -> tree.Heading:
        found = [s for s in self.loaded.file.statements if isinstance(s, tree.Heading)]
        unread = any(u.keyword in ("ruleset", "vocabulary") for u in self.loaded.file.unread)
        if not found:
            if not unread:
                self.reporter.report(
                    "heading-missing", "this file does not say what it is",
                    Place(self.loaded.source, 0, 0),
                    expected='`ruleset NAME "Title"`, or `vocabulary NAME "Title"` for facts alone',
                    suggestion='begin it with `ruleset my-day "My day"`',
                )  # fmt: skip
            return tree.Heading("ruleset", "", "")
        for again in found[1:]:
            self.reporter.report(
                "said-twice", f"`{again.keyword}` stands here a second time", again.place,
                suggestion="keep one heading; a second ruleset belongs in a file of its own",
            )  # fmt: skip
        if found[0].keyword == "vocabulary":
            self.only_facts()
        return found[0]

    def only_facts(self) -> None:
        """Reports what has no place in a vocabulary."""
        for statement in self.loaded.file.statements:
            if isinstance(statement, tree.Rule | tree.Limit | tree.List | tree.Withdraw | tree.Example | tree.Here):
                self.reporter.report(
                    "not-in-vocabulary", "a vocabulary holds facts alone", statement.place,
                    expected="`fact`, `kind` and `derived` statements under sections",
                    suggestion="move this to a ruleset, or begin the file with `ruleset`",
                )  # fmt: skip

    def own_edition(self) -> str:
        """The edition of the file itself: its base's is not its own."""
        own = (s for s in self.loaded.file.statements if isinstance(s, tree.Prose))
        return next((s.text for s in own if s.keyword == "edition"), "")

    def valid(self) -> tuple[date, date] | None:
        statement = self.statements.valid
        if statement is None:
            return None
        ends = []
        for day in (statement.first, statement.last):
            try:
                span = span_of(day.text)
            except ValueError as why:
                self.reporter.report(
                    "bad-date", str(why), day.place, expected="a date like `2026-06-14`"
                )
                return None
            ends.append(span)
        if ends[0].first > ends[1].last:
            self.reporter.report(
                "reversed-range", "the ruleset ends before it begins", statement.place,
                suggestion="put the earlier date first",
            )  # fmt: skip
            return None
        return ends[0].first, ends[1].last

    # ---- limits, lists, here ----

    def names_apart(self) -> None:
        """Reports a limit or list that is named like a fact."""
        for kind, known in (("limit", self.statements.limits), ("list", self.statements.lists)):
            for name, named in known.items():
                if self.scope.find(name) is not None:
                    self.reporter.report(
                        "repeated-name", f"`{name}` is a fact, so that no {kind} can be called so",
                        named.statement.name_place, suggestion=f"write `{name}-limit`, say",
                    )  # fmt: skip

    def limit(self, named: NamedStatement) -> tuple[str, model.Limit]:
        statement: tree.Limit = named.statement
        rows: list[model.LimitRow] = []
        if isinstance(statement.value, tuple):
            self.whole_rows(statement, statement.value)
            for number, row in enumerate(statement.value):
                condition = (
                    self.conditions.row_condition(statement.name, number) if row.condition else None
                )
                value = self.limit_value(row.value)
                if value is not None:
                    rows.append(model.LimitRow(value, condition))
        elif statement.value is not None:
            value = self.limit_value(statement.value)
            if value is not None:
                rows.append(model.LimitRow(value))
        return statement.name, model.Limit(
            statement.name,
            statement.label or statement.name.replace("-", " "),
            tuple(rows),
            named.core,
            " ".join(proses(statement.details, "reason")),
            source_of(statement.details),
            named.origin,
        )

    def whole_rows(self, statement: tree.Limit, rows: tuple[tree.Row, ...]) -> None:
        """Reports rows without an end, behind it, or of different kinds."""
        if rows[-1].condition is not None:
            self.reporter.report(
                "otherwise-missing", f"`{statement.name}` has no value where no row holds",
                rows[-1].place, expected="a last row with `otherwise`",
                suggestion=f"write `, {rows[-1].value.place.text} otherwise` behind it",
            )  # fmt: skip
        for row in rows[:-1]:
            if row.condition is None:
                self.reporter.report(
                    "row-after-otherwise", "no row behind `otherwise` is ever reached", row.place,
                    suggestion="move it to the end",
                )  # fmt: skip
        kinds = {_kind_of(row.value) for row in rows}
        if len(kinds) > 1:
            self.reporter.report(
                "mixed-types", f"the rows of `{statement.name}` are not of one kind",
                statement.place, suggestion="write every row in units of one kind",
            )  # fmt: skip

    def limit_value(self, value: tree.Value) -> Amount | date | str | None:
        match value:
            case tree.Number() | tree.Quantity():
                read = read_constant(value, self.reporter)
                return Amount(read[0], read[1], value.place.text) if read else None
            case tree.Day():
                day = self.conditions.expressions(None, {}).day(value)
                return day.term.day if day and isinstance(day.term, c.FixedDay) else None
            case tree.Word(text):
                return text
            case tree.Flag(flag):
                return "yes" if flag else "no"

    def word_list(self, named: NamedStatement) -> tuple[str, model.WordList]:
        statement: tree.List = named.statement
        words = statement.words or ()
        seen: set[str] = set()
        for word in words:
            if word.text in seen:
                self.reporter.report(
                    "repeated-choice", f"`{word.text}` stands in this list twice", word.place,
                    suggestion="take one of the two out",
                )  # fmt: skip
            seen.add(word.text)
        return statement.name, model.WordList(
            statement.name,
            statement.label or statement.name.replace("-", " "),
            tuple(dict.fromkeys(word.text for word in words)),
            named.core,
            " ".join(proses(statement.details, "reason")),
            source_of(statement.details),
            named.origin,
        )

    def here(self) -> dict[str, Value]:
        found: dict[str, Value] = {}
        for path, given in self.statements.here.items():
            fact = self.words.facts.get(path)
            if fact is None:
                if path in self.words.derived:
                    self.reporter.report(
                        "derived-declared", f"`{path}` is worked out, not declared",
                        given.path_place, suggestion="give the facts that it is worked out from",
                    )  # fmt: skip
                else:
                    self.scope.unknown(path, given.path_place, limits=False)
                continue
            value = read_values(fact, given.values)
            if isinstance(value, Fault):
                place = given.values[0].place if given.values else given.place
                self.reporter.report(
                    value.code, value.message, place, expected=value.expected,
                    suggestion=value.suggestion,
                )  # fmt: skip
            else:
                found[path] = value
        return found

    # ---- rules ----

    def section(self, statement: tree.Section) -> model.Section:
        return model.Section(
            statement.title,
            self.section_condition(statement),
            proses(statement.details, "note"),
            proses(statement.details, "bring"),
        )

    def section_condition(self, section: tree.Section) -> c.Condition | None:
        if not section.conditions:
            return None
        key = id(section.conditions)
        if key not in self.sections:
            parts = [self.when(w, None) for w in section.conditions]
            self.sections[key] = _joined(parts)
        return self.sections[key]

    def when(self, when: tree.When, it: str | None) -> c.Condition | None:
        made = self.conditions.condition(when.condition, it)
        return c.Not(made) if made is not None and when.negated else made

    def rule(self, rule: RuleStatement) -> model.Rule:
        demands = rule.demands
        if not demands and not rule.damaged:
            self.reporter.report(
                "nothing-demanded", f"the rule `{rule.name}` demands nothing", rule.place,
                expected="`require CONDITION`, or `recommend CONDITION`",
                suggestion="add a line below it, such as `require …`",
            )  # fmt: skip
        kinds = {demand.keyword for demand in demands}
        if len(kinds) > 1:
            self.reporter.report(
                "required-and-recommended", f"`{rule.name}` both requires and recommends",
                demands[-1].place, suggestion="make two rules of it",
            )  # fmt: skip
        parts: list[str | None] = [part.path for part in rule.parts] or [None]
        self.known_parts(rule)
        details = rule.details
        return model.Rule(
            rule.name,
            rule.title,
            rule.section.title if rule.section else "",
            "recommended" if kinds == {"recommend"} else "required",
            tuple(self.asked(rule, part) for part in parts),
            rule.core,
            " ".join(proses(details, "reason")),
            " ".join(proses(details, "inspect")),
            proses(details, "caution"),
            proses(details, "note"),
            proses(details, "bring"),
            source_of(details),
            rule.base,
            rule.change,
            rule.origin,
        )

    def known_parts(self, rule: RuleStatement) -> None:
        for part in rule.parts:
            if self.scope.find(part.path) is None and not self.scope.below(part.path):
                self.scope.unknown(part.path, part.place, limits=False)

    def asked(self, rule: RuleStatement, part: str | None) -> model.Asked:
        details = rule.details
        whens = [self.when(d, part) for d in details if isinstance(d, tree.When)]
        if rule.section is not None and rule.section.conditions:
            whens.insert(0, self.section_condition(rule.section))
        demands = [self.conditions.condition(d.condition, part) for d in rule.demands]
        return model.Asked(
            part,
            _joined(whens) or c.ALWAYS,
            _joined(demands) or c.ALWAYS,
            self.works(details, "fix", part),
            self.works(details, "undo", part),
        )

    def works(
        self, details: Iterable[tree.RuleDetail], keyword: str, part: str | None
    ) -> tuple[model.Work, ...]:
        return tuple(
            self.work(d, part) for d in details if isinstance(d, tree.Work) and d.keyword == keyword
        )

    def work(self, work: tree.Work, part: str | None) -> model.Work:
        made: dict[str, Any] = {"cautions": proses(work.details, "caution")}
        whens = []
        for detail in work.details:
            match detail:
                case tree.Takes(duration):
                    made["takes"] = self.duration(duration)
                case tree.Parts(parts):
                    made["parts"] = made.get("parts", ()) + tuple(
                        model.Part(p.name, self.duration(p.allow) if p.allow else None)
                        for p in parts
                    )
                case tree.Tools(names):
                    made["tools"] = made.get("tools", ()) + names
                case tree.After(rules):
                    made["after"] = made.get("after", ()) + self.after(rules)
                case tree.Where(where):
                    made["where"] = where
                case tree.When():
                    whens.append(self.when(detail, part))
                case _:
                    pass
        return model.Work(work.text, when=_joined(whens), **made)

    def duration(self, quantity: tree.Quantity) -> Amount | None:
        read = read_constant(quantity, self.reporter)
        if read is None:
            return None
        value, its_unit = read
        if its_unit.dimension.words != "a duration" and its_unit.calendar is None:
            self.reporter.report(
                "wrong-dimension",
                f"`{quantity.place.text}` is {its_unit.dimension.words}, not a duration",
                quantity.place, expected="a duration, such as `25 min`, `2 h` or `3 days`",
            )  # fmt: skip
            return None
        return Amount(value, its_unit, quantity.place.text)

    def after(self, names: tuple[tree.Word, ...]) -> tuple[str, ...]:
        """The rules named, without those that were withdrawn."""
        found: list[str] = []
        for word in names:
            if word.text in self.statements.rules:
                found.append(word.text)
            elif word.text not in self.statements.withdrawn:
                self.unknown_rule(word)
        return tuple(found)

    def unknown_rule(self, word: tree.Word) -> None:
        if word.text in self.unread_names or self.scope.missing:
            return
        near = nearest(word.text, [*self.statements.rules])
        self.reporter.report(
            "unknown-rule", f"there is no rule called `{word.text}`", word.place,
            suggestion=f"write `{near}`" if near else None,
        )  # fmt: skip

    def work_in_circle(self, rules: tuple[model.Rule, ...]) -> None:
        """Reports work that would have to be done before itself."""
        before = {
            rule.name: {name for asked in rule.asked for fix in asked.fixes for name in fix.after}
            for rule in rules
        }
        told: set[str] = set()
        for name in before:
            circle = _circle(name, before)
            if circle and not told.intersection(circle):
                told.update(circle)
                self.reporter.report(
                    "work-in-circle",
                    "this work would come before itself: " + " after ".join(f"`{n}`" for n in circle),
                    self.statements.rules[name].place,
                    suggestion="take one of the `after`s out",
                )

    def in_report_order(self, rules: list[model.Rule]) -> tuple[model.Rule, ...]:
        """Section by section as they first come, required before recommended in each."""
        titles: dict[str, int] = {}
        for rule in rules:
            titles.setdefault(rule.section, len(titles))
        return tuple(
            sorted(rules, key=lambda rule: (titles[rule.section], rule.level == "recommended"))
        )

    # ---- derived facts ----

    def derived(self) -> Mapping[str, model.DerivedFact]:
        """Every derived fact compiled, the unused ones of this file too; rows give their first."""
        rows = {name: 0 for name in self.conditions.rowed}
        found: dict[str, model.DerivedFact] = {}
        expressions = self.conditions.expressions(None, rows)
        for path, statement in self.words.derived.items():
            made = expressions.path(path, statement.statement.path_place)
            definition: Any
            its_unit: Unit | None = None
            match made:
                case typed.Number(term=c.DerivedNumber(definition=definition)):
                    its_unit = made.unit
                case typed.Age(path=of, grain=grain):
                    definition = (of, grain)
                case typed.Flag(condition=c.Meaning(condition=definition)):
                    pass
                case _:
                    continue
            written = statement.statement
            found[path] = model.DerivedFact(
                path,
                written.label or path.replace(".", " ").replace("-", " "),
                definition,
                its_unit,
                isinstance(made, typed.Number) and made.nature == "difference",
                statement.section,
                statement.source,
                origin(written.place),
            )
        return found


def _joined(parts: list[c.Condition | None]) -> c.Condition | None:
    """All of the conditions; None where there is none, or one could not be compiled."""
    whole = tuple(part for part in parts if part is not None)
    if len(whole) < len(parts) or not whole:
        return None
    return whole[0] if len(whole) == 1 else c.All(whole)


def _kind_of(value: tree.Value) -> object:
    match value:
        case tree.Number():
            return "a number"
        case tree.Quantity(unit=name):
            known = unit(name)
            words = known.dimension.words if known else name
            return "a number" if words == "a number" else words
        case _:
            return type(value)


def _circle(start: str, before: Mapping[str, set[str]]) -> list[str]:
    """The way from a rule's work back to itself, or nothing."""
    waiting = [[start]]
    seen: set[str] = set()
    while waiting:
        way = waiting.pop()
        for name in sorted(before.get(way[-1], ())):
            if name == start:
                return [*way, start]
            if name not in seen:
                seen.add(name)
                waiting.append([*way, name])
    return []
