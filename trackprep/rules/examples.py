"""A rule file's examples: what they declare, on which day, and what they expect."""

from datetime import date
from pathlib import Path

from trackprep.dates import span_of
from trackprep.problems import Problem
from trackprep.rules import model
from trackprep.rules.declaring import declared_values
from trackprep.rules.facts import origin
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.reading import Fault
from trackprep.rules.reporting import nearest
from trackprep.rules.scope import Scope
from trackprep.rules.values import Value
from trackprep.source import Source
from trackprep.syntax import tree
from trackprep.syntax.rider import parse_rider


def compiled_examples(
    statements: list[tree.Example],
    rules: model.Rules,
    scope: Scope,
    folder: Path | None,
    unread: frozenset[str],
    valid_unread: bool,
) -> tuple[model.Example, ...]:
    """The examples of the file they stand in.

    `unread` are rules that could not be read; `valid_unread` says that a `valid` could not be.
    """
    reading = _Reading(rules, scope, folder, unread, valid_unread)
    made = (reading.example(statement) for statement in statements)
    return tuple(example for example in made if example is not None)


class _Reading:
    """Reads examples against one ruleset."""

    def __init__(
        self,
        rules: model.Rules,
        scope: Scope,
        folder: Path | None,
        unread: frozenset[str],
        valid_unread: bool,
    ) -> None:
        self.rules, self.scope, self.folder, self.unread = rules, scope, folder, unread
        self.valid_unread = valid_unread or scope.statements.valid is not None
        self.report = scope.reporter.report
        self.rule_names = {rule.name for rule in rules.rules}

    def example(self, statement: tree.Example) -> model.Example | None:
        on = self.day(statement)
        given = tuple(d for d in statement.details if isinstance(d, tree.Given))
        expected = [d for d in statement.details if isinstance(d, tree.Expect)]
        values = self.values(given, self.scope.vocabulary.unread)
        if statement.file is not None:
            values = self.from_file(statement) | values
        if not expected and not statement.damaged:
            self.report(
                "nothing-expected", f"the example `{statement.title}` expects nothing",
                statement.place, expected="`expect RULE is met`, or `expect ready`",
                suggestion="add what should come of it: `expect …`",
            )  # fmt: skip
        expectations = tuple(self.expectation(e) for e in expected)
        if on is None:
            return None
        return model.Example(
            statement.title, on, values, expectations, statement.file, origin(statement.place)
        )

    def day(self, statement: tree.Example) -> date | None:
        if statement.on is None:
            if self.rules.valid is None:
                if self.valid_unread:
                    return None  # the mistake in `valid` is told already
                self.report(
                    "day-missing", f"the example `{statement.title}` has no day", statement.place,
                    expected="`on DATE`, since this ruleset has no `valid from … to …`",
                    suggestion="write `on 2026-06-14` behind its title",
                )  # fmt: skip
                return None
            return self.rules.valid[0]
        try:
            span = span_of(statement.on.text)
        except ValueError as why:
            self.report(
                "bad-date", str(why), statement.on.place, expected="a date like `2026-06-14`"
            )
            return None
        if not span.exact:
            self.report(
                "day-missing", f"`{statement.on.text}` is no single day", statement.on.place,
                suggestion=f"write `{span.first.isoformat()}`",
            )  # fmt: skip
            return None
        return span.first

    def values(
        self, given: tuple[tree.Given, ...], unread: frozenset[str] = frozenset()
    ) -> dict[str, Value]:
        lines = [g for g in given if g.path not in unread]

        def tell(index: int, fault: Fault, *, at_value: bool) -> None:
            line = lines[index]
            if fault.code == "unknown-fact" and self.scope.missing:
                return
            place = line.values[0].place if at_value and line.values else line.path_place
            self.scope.reporter.add(
                Problem(
                    fault.code, fault.message, place, expected=fault.expected,
                    suggestion=fault.suggestion,
                )
            )  # fmt: skip

        return declared_values(self.rules, ((g.path, g.values) for g in lines), tell)

    def from_file(self, statement: tree.Example) -> dict[str, Value]:
        """The values of the rider's file that an example starts from."""
        assert statement.file is not None
        path = self.inside(statement.file)
        if path is None:
            self.report(
                "unusable-file", f"`{statement.file}` lies outside this file's folder",
                statement.place, suggestion="copy it beside the rule file",
            )  # fmt: skip
            return {}
        try:
            text, _ = read_text(path)
        except UnreadableFileError as why:
            self.report(
                "unusable-file", f"`{statement.file}`: {why}", statement.place,
                suggestion="mend the name, or put the file there",
            )  # fmt: skip
            return {}
        parsed = parse_rider(Source(statement.file, text))
        for problem in parsed.problems:
            self.scope.reporter.add(problem)
        rider: tree.RiderFile = parsed.tree
        return self.values(rider.entries)

    def inside(self, name: str) -> Path | None:
        """A file in the rule file's folder, or None where the name leads elsewhere."""
        if self.folder is None or "\0" in name or Path(name).is_absolute():
            return None
        root = self.folder.resolve()
        try:
            path = (root / name).resolve()
        except (OSError, RuntimeError):
            return None
        return path if path.is_relative_to(root) else None

    def expectation(self, expected: tree.Expect) -> model.Expectation:
        rule = expected.rule
        if rule is not None and rule.text not in self.rule_names:
            excused = rule.text in self.unread or self.scope.missing
            if rule.text in self.rules.withdrawn:
                self.report(
                    "unknown-rule", f"the rule `{rule.text}` is withdrawn", rule.place,
                    suggestion="take this line out",
                )  # fmt: skip
            elif not excused:
                near = nearest(rule.text, sorted(self.rule_names))
                self.report(
                    "unknown-rule", f"there is no rule called `{rule.text}`", rule.place,
                    expected="the name of a rule of this ruleset",
                    suggestion=f"write `{near}`" if near else None,
                )  # fmt: skip
        return model.Expectation(
            expected.outcome, rule.text if rule else None, origin(expected.place)
        )
