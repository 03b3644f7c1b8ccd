"""Values looked up in tables: by a declared choice, a choice word, or a number."""

from collections.abc import Callable

from trackprep.rules import conditions as c
from trackprep.rules import folding, model, typed
from trackprep.rules.arithmetic import Arithmetic
from trackprep.rules.reading import quoted
from trackprep.rules.reporting import nearest
from trackprep.rules.scope import Scope
from trackprep.rules.tables import nature_of_table
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import NUMBER


class Lookups:
    """Types calls of tables.

    Args:
        value: What an expression is, or None after a problem.
    """

    def __init__(
        self, value: Callable[[tree.Expression], typed.Typed | None], scope: Scope
    ) -> None:
        self.value, self.scope, self.report = value, scope, scope.reporter.report

    def in_table(self, table: model.Table, call: tree.Call) -> typed.Number | None:
        """What the table says of the argument, or None after a problem."""
        form = self.scope.vocabulary.calculations[table.name].form
        if len(call.arguments) != 1:
            self.report(
                "wrong-arguments",
                f"the table `{table.name}` takes one value, and {len(call.arguments)} stand in"
                " the brackets", call.place, expected=f"`{form}`", suggestion="keep one of them",
            )  # fmt: skip
            return None
        (written,) = call.arguments
        if table.choices is None:
            return self.by_number(table, written)
        return self.by_choice(table, table.choices, written)

    def found(self, table: model.Table, term: c.Term) -> typed.Number:
        constant = isinstance(term, c.Constant)
        nature = nature_of_table(table)
        return typed.Number(term, table.unit.dimension, table.unit, nature, constant)

    def without_value(self, table: model.Table, place: Place) -> None:
        self.report(
            "no-value", f"`{table.name}` has no value for `{place.text}`", place,
            expected="what has a row with a value in this table",
        )  # fmt: skip

    # ---- by a number ----

    def by_number(self, table: model.Table, written: tree.Expression) -> typed.Number | None:
        made = Arithmetic(self.value, self.scope.reporter).number(written)
        if made is None:
            return None
        if made.dimension != NUMBER:
            self.report(
                "wrong-dimension",
                f"`{written.place.text}` is {typed.in_words(made)}; `{table.name}` is looked up"
                " by a count", written.place, expected="a number without a unit",
            )  # fmt: skip
            return None
        rows = tuple((key, value) for key, value in table.rows if not isinstance(key, str))
        term = folding.looked_up(c.NumberLookup(table.name, made.term, rows, table.unit))
        if isinstance(made.term, c.Constant) and not isinstance(term, c.Constant):
            self.without_value(table, written.place)
            return None
        return self.found(table, term)

    # ---- by a choice ----

    def by_choice(
        self, table: model.Table, choices: model.Choosing, written: tree.Expression
    ) -> typed.Number | None:
        if isinstance(written, tree.Word):
            word = written.text
            known = self.known(written)
            if word in choices.words and known is not None:
                self.ambiguous(written, table, known)
                return None
            if word in choices.words:
                return self.by_word(table, word, written.place)
            if known is None:
                self.unknown_choice(word, table, choices, written.place)
                return None
        match self.value(written):
            case None:
                return None
            case typed.Word(word, limit):
                if word in choices.words:
                    return self.by_word(table, word, written.place)
                what = f"the limit `{limit}`, {word}," if limit else f"`{word}`"
                self.unknown_choice(word, table, choices, written.place, what)
                return None
            case typed.Chosen(fact, its_choices) if its_choices == choices:
                rows = tuple((key, value) for key, value in table.rows if isinstance(key, str))
                return self.found(table, c.ChoiceLookup(table.name, fact.path, rows, table.unit))
            case made:
                self.wrong_fact(made, table, written)
                return None

    def known(self, word: tree.Word) -> str | None:
        """What a bare word is beside a choice: a limit or a fact; None if it is neither."""
        lower = word.text.lower()
        if word.quoted:
            return None
        if self.scope.limit(lower) is not None:
            return "limit"
        return None if self.scope.find(lower) is None else "fact"

    def by_word(self, table: model.Table, word: str, place: Place) -> typed.Number | None:
        value = dict(table.rows).get(word)
        if value is None:
            self.without_value(table, place)
            return None
        return self.found(table, c.Constant(value, table.unit))

    def ambiguous(self, word: tree.Word, table: model.Table, what: str) -> None:
        self.report(
            "ambiguous-word", f"`{word.text}` is a choice of `{table.name}` and a {what} too",
            word.place,
            suggestion=f'for the choice write `"{word.text}"`, or rename the {what}',
        )  # fmt: skip

    def unknown_choice(
        self, word: str, table: model.Table, choices: model.Choosing, place: Place,
        what: str = "",
    ) -> None:  # fmt: skip
        if self.scope.excused(word):
            return
        kind, near = self.kind(table), nearest(word, choices.words)
        listed = ", ".join(choices.words[:12]) + (" …" if choices.words[12:] else "")
        self.report(
            "unknown-choice", f"{what or f'`{word}`'} is no choice of `{kind}`", place,
            expected=f"a fact of the kind `{kind}`, or one of its choices: {listed}",
            suggestion=f"write `{quoted(near)}`" if near else None,
        )  # fmt: skip

    def kind(self, table: model.Table) -> str:
        """The name of the kind that a table is looked up by."""
        statement = self.scope.vocabulary.calculations[table.name].statement
        assert isinstance(statement, tree.Table)
        return statement.kind

    def wrong_fact(self, made: typed.Typed, table: model.Table, written: tree.Expression) -> None:
        """Reports what is no choice, or one of another kind."""
        said, wanted = written.place.text, self.kind(table)
        if isinstance(made, typed.Chosen):
            message = (
                f"`{said}` has other choices than `{wanted}`, by which `{table.name}` is looked up"
            )
        else:
            message = (
                f"`{said}` is {typed.in_words(made)}; `{table.name}` is looked up by a"
                f" choice of `{wanted}`"
            )
        facts = self.scope.vocabulary.facts.values()
        fitting = [fact.path for fact in facts if fact.type == table.choices]
        self.report(
            "wrong-choices", message, written.place, expected=f"a fact of the kind `{wanted}`",
            suggestion="write " + " or ".join(f"`{path}`" for path in fitting[:2])
            if fitting else f'define one: `fact PATH "Label" {wanted}`',
        )  # fmt: skip
