"""Conditions as written to conditions as meant."""

from math import prod

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.calls import Calculations
from trackprep.rules.definitions import DerivedStatement
from trackprep.rules.expressions import Expressions, of_fact
from trackprep.rules.mentions import names_in
from trackprep.rules.model import Choosing, Fact
from trackprep.rules.predicates import Predicates
from trackprep.rules.reporting import nearest
from trackprep.rules.scope import Scope
from trackprep.rules.weighing import Budget, excess
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import unit

DEEPEST = 30
"""How many derived facts, or limits by rows, may be worked out one of another."""
MOST_ROWS = 256
"""How many combinations of rows one test may have."""


class Conditions:
    """Compiles the conditions of a ruleset; what a derived fact means is compiled once."""

    def __init__(self, scope: Scope, calculations: Calculations) -> None:
        self.scope, self.calculations = scope, calculations
        self.rowed = {
            name: limit.statement.value
            for name, limit in scope.statements.limits.items()
            if isinstance(limit.statement.value, tuple)
        }
        self.row_conditions: dict[tuple[str, int], c.Condition | None] = {}
        self.budget = Budget(scope.reporter)
        self.open_limits: list[str] = []
        self.open_derived: list[str] = []
        self.known_derived: dict[tuple[str, frozenset[tuple[str, int]]], typed.Typed | None] = {}

    def condition(
        self, written: tree.Condition, it: str | None = None, rows: dict[str, int] | None = None
    ) -> c.Condition | None:
        """The condition as meant, or None after a problem."""
        rows = rows or {}
        match written:
            case tree.Not(inner):
                made = self.condition(inner, it, rows)
                return None if made is None else c.Not(made)
            case tree.All(parts) | tree.AnyOf(parts):
                if self.stray_word(written):
                    return None
                all_made = [self.condition(part, it, rows) for part in parts]
                whole = tuple(part for part in all_made if part is not None)
                if len(whole) < len(all_made):
                    return None
                return c.All(whole) if isinstance(written, tree.All) else c.AnyOf(whole)
            case tree.Counted():
                return self.counted(written, it, rows)
            case tree.Bare() | tree.Test():
                return self.leaf(written, it, rows)

    def whole(self, written: tree.Condition, it: str | None = None) -> c.Condition | None:
        """A condition that stands by itself, within bounds, or None after a problem."""
        made = self.condition(written, it)
        return made if made is not None and self.budget.light(made, written.place) else None

    def when(self, clause: tree.When, it: str | None = None) -> c.Condition | None:
        """The condition of a `when` or an `unless`, or None after a problem."""
        made = self.whole(clause.condition, it)
        return c.Not(made) if made is not None and clause.negated else made

    # ---- single tests ----

    def leaf(
        self, written: tree.Bare | tree.Test, it: str | None, rows: dict[str, int]
    ) -> c.Condition | None:
        if not self.budget.spend(written.place):
            return None
        named = self.limit_by_rows(written, rows)
        if named is not None:
            return self.by_rows(named, written, it, rows)
        expressions = self.expressions(it, rows)
        subject = expressions.value(written.subject)
        if subject is None:
            return None
        if isinstance(written, tree.Test):
            return Predicates(expressions).test(subject, written.subject, written.predicate)
        if isinstance(subject, typed.Flag):
            return subject.condition
        self.scope.reporter.report(
            "test-missing", f"`{written.place.text}` is {typed.in_words(subject)}, not a yes or no",
            written.place, expected="a test behind it, such as `is …` or `is at least …`",
        )  # fmt: skip
        return None

    def expressions(self, it: str | None, rows: dict[str, int]) -> Expressions:
        return Expressions(self.scope, it, rows, self.derived, self.calculations)

    # ---- derived facts ----

    def derived(self, found: DerivedStatement, rows: dict[str, int]) -> typed.Typed | None:
        """A derived fact, compiled once for each choice of rows."""
        statement = found.statement
        key = (statement.path, frozenset(rows.items()))
        if key not in self.known_derived:
            if statement.path in self.open_derived:
                self.report_circle(statement.path)
                return None
            if len(self.open_derived) >= DEEPEST:
                self.too_large(statement, f"more than {DEEPEST} derived facts one of another")
                return None
            self.open_derived.append(statement.path)
            self.known_derived[key] = self.worked_out(statement, rows)
            self.open_derived.pop()
        return self.known_derived[key]

    def worked_out(self, statement: tree.Derived, rows: dict[str, int]) -> typed.Typed | None:
        """What the definition of a derived fact makes of it."""
        path, definition = statement.path, statement.definition
        made: typed.Typed | None
        if statement.is_condition:
            condition = self.condition(definition, None, rows)  # type: ignore[arg-type]
            made = None if condition is None else typed.Flag(path, c.Meaning(path, condition))
        else:
            expressions = self.expressions(None, rows)
            made = expressions.value(definition)  # type: ignore[arg-type]
            made = None if made is None else expressions.as_derived(path, statement, made)
        what = excess(made)
        if what is not None:
            self.too_large(statement, f"worked out from {what}")
            return None
        return made

    def too_large(self, statement: tree.Derived, what: str) -> None:
        self.scope.reporter.report(
            "too-large", f"`{statement.path}` is {what}", statement.path_place,
            suggestion="work it out from fewer facts",
        )  # fmt: skip

    def report_circle(self, path: str) -> None:
        """Reports a circle of derived facts once, at the one that stands first."""
        circle = self.open_derived[self.open_derived.index(path) :]
        known = self.scope.vocabulary.derived
        order = {name: number for number, name in enumerate(known)}
        first = known[min(circle, key=order.__getitem__)].statement
        self.scope.reporter.report(
            "derived-in-circle", f"`{first.path}` is worked out from itself", first.path_place,
            suggestion="take one of the names of the circle out",
        )  # fmt: skip

    def stray_word(self, written: tree.All | tree.AnyOf) -> bool:
        """`lens.tail is taped or removed`: a choice that stands where a test belongs."""
        joined = "or" if isinstance(written, tree.AnyOf) else "and"
        for before, part in zip(written.parts, written.parts[1:], strict=False):
            if not (isinstance(before, tree.Test) and isinstance(part, tree.Bare)):
                continue
            word, predicate = part.subject, before.predicate
            if not isinstance(word, tree.Word) or not isinstance(predicate, tree.Is | tree.IsOneOf):
                continue
            if not word.quoted and self.scope.find(word.text.lower()) is not None:
                continue
            if isinstance(predicate, tree.IsOneOf):
                members = [w.text for w in predicate.words]
            else:
                members = [predicate.value.place.text]
            negated = "none" if predicate.negated else "one"
            self.scope.reporter.report(
                "word-without-test",
                f"`{word.text}` is no test: `{joined}` joins tests, not choices",
                word.place, expected="a list with commas",
                suggestion=f"write `is {negated} of"
                f" {', '.join([*members, self.meant(word, before)])}`",
            )  # fmt: skip
            return True
        return False

    def meant(self, word: tree.Word, before: tree.Test) -> str:
        """The choice that a stray word means, by the subject of the test before it."""
        fact = self.scope.find(getattr(before.subject, "path", ""))
        if not isinstance(fact, Fact) or not isinstance(fact.type, Choosing):
            return word.text
        for choice in fact.type.choices:
            if word.text.lower() in map(str.lower, (choice.word, *choice.also)):
                return choice.word
        return nearest(word.text, fact.type.words) or word.text

    # ---- several facts at once ----

    def counted(
        self, written: tree.Counted, it: str | None, rows: dict[str, int]
    ) -> c.Condition | None:
        paths = self.paths(written, it) if self.budget.spend(written.place) else None
        if paths is None:
            return None
        subjects = [tree.Reference(path, place=place) for path, place in paths]
        tests = [
            self.leaf(tree.Test(s, written.predicate, place=s.place), it, rows) for s in subjects
        ]
        parts = tuple(test for test in tests if test is not None)
        if len(parts) < len(tests):
            return None
        match written.quantifier:
            case "each":
                return c.All(parts, "each")
            case "some":
                return c.AnyOf(parts, "some")
            case "none":
                return c.Not(c.AnyOf(parts, "some"))
            case "at least":
                if written.least.isdigit() and 1 <= int(written.least) <= len(parts):
                    return c.AtLeast(int(written.least), parts)
                self.scope.reporter.report(
                    "wrong-count",
                    f"at least {written.least} of {len(parts)} facts cannot be asked",
                    written.place, expected=f"a whole number from 1 to {len(parts)}",
                )  # fmt: skip
                return None

    def paths(self, written: tree.Counted, it: str | None) -> "list[tuple[str, Place]] | None":
        """The facts that are counted, patterns spread out; they are of one type."""
        found: list[tuple[str, Place]] = []
        types: list[tuple[object, str]] = []
        broken = False
        expressions = self.expressions(it, {})
        for item in written.items:
            path = expressions.real_path(item.path)
            if isinstance(item, tree.Pattern):
                inside = [p for p in self.scope.below(path) if p in self.scope.vocabulary.facts]
                if not inside and not self.scope.excused(path):
                    self.scope.reporter.report(
                        "empty-pattern", f"no fact stands below `{path}`", item.place,
                        suggestion="name a branch that has facts below it",
                    )  # fmt: skip
                broken = broken or not inside
                found.extend((below, item.place) for below in inside)
            else:
                found.append((path, item.place))
        for path, place in found:
            fact = self.scope.find(path)
            if fact is None:
                self.scope.unknown(path, place)
                broken = True
            else:
                types.append((_sort(fact), path))
        first = types[0] if types else None
        for sort, path in types:
            if first is not None and sort != first[0]:
                self.scope.reporter.report(
                    "mixed-types", f"`{first[1]}` and `{path}` are not of one type", written.place,
                    suggestion="ask them in two tests",
                )  # fmt: skip
                return None
        return None if broken else found

    # ---- limits by rows ----

    def limit_by_rows(self, written: tree.Bare | tree.Test, rows: dict[str, int]) -> str | None:
        """The first limit by rows that a test names, also by way of derived facts."""
        if not self.rowed:
            return None
        waiting, seen = [written], set()
        while waiting:
            for name in names_in(waiting.pop()):
                lower = name.lower()
                if lower in seen:
                    continue
                seen.add(lower)
                if lower in self.rowed and lower not in rows:
                    return lower
                derived = self.scope.vocabulary.derived.get(lower)
                if derived is not None and not derived.statement.is_condition:
                    waiting.append(derived.statement.definition)  # type: ignore[arg-type]
        return None

    def by_rows(
        self, name: str, written: tree.Bare | tree.Test, it: str | None, rows: dict[str, int]
    ) -> c.Condition | None:
        """The test with each row's value, under that row's condition."""
        cases: list[c.Case] = []
        combinations = prod(len(self.rowed[limit]) for limit in (*rows, name))
        if combinations > MOST_ROWS or len(self.open_limits) >= DEEPEST:
            self.too_many_rows(written)
            return None
        for number, row in enumerate(self.rowed[name]):
            condition = self.row_condition(name, number) if row.condition else None
            test = self.leaf(written, it, rows | {name: number})
            if test is None or (row.condition and condition is None):
                return None
            cases.append(c.Case(condition, test))
        made = c.ByRows(name, tuple(cases))
        if excess(made):
            self.too_many_rows(written)
            return None
        return made

    def too_many_rows(self, written: tree.Bare | tree.Test) -> None:
        self.scope.reporter.report(
            "too-large", "the limits by rows in this test have too many rows between them",
            written.place, suggestion="write fewer rows, or split the test",
        )  # fmt: skip

    def row_condition(self, name: str, number: int) -> c.Condition | None:
        key = (name, number)
        if key not in self.row_conditions:
            if name in self.open_limits:
                limit = self.scope.statements.limits[name].statement
                self.scope.reporter.report(
                    "limit-in-circle", f"the rows of `{name}` depend on `{name}` itself",
                    limit.name_place, suggestion="take the name out of its conditions",
                )  # fmt: skip
                return None
            self.open_limits.append(name)
            self.row_conditions[key] = self.condition(self.rowed[name][number].condition)
            self.open_limits.pop()
        return self.row_conditions[key]


def all_of(parts: list[c.Condition | None]) -> c.Condition | None:
    """All of the conditions; None where there is none, or one could not be compiled."""
    whole = tuple(part for part in parts if part is not None)
    if len(whole) < len(parts) or not whole:
        return None
    return whole[0] if len(whole) == 1 else c.All(whole)


def _sort(found: Fact | DerivedStatement) -> object:
    """What facts must share to be counted together: what kind of thing they are."""
    if isinstance(found, Fact):
        made = of_fact(found)
        return made.dimension if isinstance(made, typed.Number) else type(made)
    if found.statement.is_condition:
        return typed.Flag
    its_unit = unit(found.statement.unit) if found.statement.unit else None
    return its_unit.dimension if its_unit else None
