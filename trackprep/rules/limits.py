"""Limits, lists, and what a ruleset says of its own venue with `here`."""

from datetime import date

from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.checking import Conditions
from trackprep.rules.facts import prose, read_constant, source_of
from trackprep.rules.reading import Fault, read_values
from trackprep.rules.statements import NamedStatement
from trackprep.rules.values import Amount, Value
from trackprep.syntax import tree
from trackprep.units import unit


class Limits:
    """Compiles the values and words that the rules of a ruleset name."""

    def __init__(self, conditions: Conditions) -> None:
        self.conditions, self.scope = conditions, conditions.scope
        self.statements = conditions.scope.statements
        self.reporter = conditions.scope.reporter

    def limits(self) -> dict[str, model.Limit]:
        return {name: self.limit(named) for name, named in self.statements.limits.items()}

    def lists(self) -> dict[str, model.WordList]:
        return {name: self.word_list(named) for name, named in self.statements.lists.items()}

    def names_apart(self) -> None:
        """Reports a limit or list that is named like a fact."""
        for kind, known in (("limit", self.statements.limits), ("list", self.statements.lists)):
            for name, named in known.items():
                if self.scope.find(name) is not None:
                    self.reporter.report(
                        "repeated-name", f"`{name}` is a fact, so that no {kind} can be called so",
                        named.statement.name_place, suggestion=f"write `{name}-limit`, say",
                    )  # fmt: skip

    def limit(self, named: NamedStatement) -> model.Limit:
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
        return model.Limit(
            statement.name,
            statement.label or statement.name.replace("-", " "),
            tuple(rows),
            named.core,
            prose(statement.details, "reason"),
            source_of(statement.details),
            named.origin,
        )

    def whole_rows(self, statement: tree.Limit, rows: tuple[tree.Row, ...]) -> None:
        """Reports rows without an end, behind it, or of different kinds."""
        if all(row.condition is not None for row in rows):
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
            self.scope.broken.add(statement.name)

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

    def word_list(self, named: NamedStatement) -> model.WordList:
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
        return model.WordList(
            statement.name,
            statement.label or statement.name.replace("-", " "),
            tuple(dict.fromkeys(word.text for word in words)),
            named.core,
            prose(statement.details, "reason"),
            source_of(statement.details),
            named.origin,
        )

    def here(self) -> dict[str, Value]:
        """What the ruleset says of every machine at its venue, by path."""
        found: dict[str, Value] = {}
        for path, given in self.statements.here.items():
            fact = self.scope.vocabulary.facts.get(path)
            if fact is None:
                if path in self.scope.vocabulary.derived:
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
