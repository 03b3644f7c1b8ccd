"""Expressions to typed terms: constants read, names found, ages taken."""

from collections.abc import Callable

from attrs import evolve

from trackprep.dates import Span, span_of
from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.arithmetic import Arithmetic, nature_of
from trackprep.rules.calls import Calculations, Calls
from trackprep.rules.definitions import DerivedStatement
from trackprep.rules.facts import read_constant
from trackprep.rules.scope import Scope
from trackprep.rules.statements import NamedStatement
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import NUMBER, ONE, unit


class Expressions:
    """Types expressions in a scope.

    Args:
        it: What `it` stands for in a rule `for each of`.
        rows: For each limit by rows, which of its rows is meant here.
        derived: Compiles a derived fact, for the rows that are meant.
        calculations: The formulas and tables that may be called.
    """

    def __init__(
        self,
        scope: Scope,
        it: str | None,
        rows: dict[str, int],
        derived: Callable[[DerivedStatement, dict[str, int]], typed.Typed | None],
        calculations: Calculations,
    ) -> None:
        self.scope, self.it, self.rows, self.calculations = scope, it, rows, calculations
        self.report = scope.reporter.report
        self.derived = derived

    def value(self, expression: tree.Expression) -> typed.Typed | None:
        """What the expression is, or None after a problem."""
        match expression:
            case tree.Number() | tree.Quantity():
                return self.constant(expression)
            case tree.Day():
                return self.day(expression)
            case tree.Flag(value):
                return typed.YesOrNo(value)
            case tree.Word(text, quoted):
                return typed.Word(text) if quoted else self.named(text, expression.place)
            case tree.Reference(path):
                return self.path(path, expression.place)
            case tree.Group(inner):
                return self.value(inner)
            case tree.Sum():
                return self.arithmetic().sum(expression)
            case tree.Product():
                return self.arithmetic().product(expression)
            case tree.Age():
                return self.age(expression)
            case tree.CompletedYears():
                return self.completed_years(expression)
            case tree.Call():
                return self.calls().call(expression)
            case tree.Rounded():
                return self.calls().rounded(expression)

    def number(self, expression: tree.Expression) -> typed.Number | None:
        """The expression as a number; None after a problem."""
        return self.arithmetic().number(expression)

    def arithmetic(self) -> Arithmetic:
        return Arithmetic(self.value, self.scope.reporter)

    def calls(self) -> Calls:
        return Calls(self.value, self.scope, self.calculations)

    # ---- constants and names ----

    def constant(self, written: tree.Number | tree.Quantity) -> typed.Number | None:
        read = read_constant(written, self.scope.reporter)
        if read is None:
            return None
        value, its_unit = read
        return typed.Number(
            c.Constant(value, its_unit),
            its_unit.dimension,
            its_unit,
            nature_of(its_unit, literal=True),
            constant=True,
        )

    def day(self, written: tree.Day) -> typed.Day | None:
        span = self.span(written)
        if span is None:
            return None
        if not span.exact:
            self.report(
                "day-missing", f"`{written.text}` is no single day", written.place,
                expected="a date as year, month, day",
                suggestion=f"write `{span.first.isoformat()}`, or `{span.last.isoformat()}`",
            )  # fmt: skip
            return None
        return typed.Day(c.FixedDay(span.first), constant=True)

    def span(self, written: tree.Day) -> Span | None:
        try:
            return span_of(written.text)
        except ValueError as why:
            self.report("bad-date", str(why), written.place, expected="a date like `2026-06-14`")
            return None

    def named(self, name: str, place: Place) -> typed.Typed | None:
        """A bare word: a one-word fact or a limit."""
        lower = name.lower()
        limit = self.scope.limit(lower)
        if limit is not None:
            return self.limit(lower, limit)
        if self.scope.words(lower) is not None:
            self.report(
                "list-as-value", f"`{name}` is a list", place,
                suggestion=f"write `is one of {lower}`, or `is none of {lower}`",
            )  # fmt: skip
            return None
        return self.path(lower, place)

    def limit(self, name: str, limit: NamedStatement) -> typed.Typed | None:
        value = limit.statement.value
        if name in self.scope.broken:
            return None
        if isinstance(value, tuple):
            value = value[self.rows[name]].value
        match value:
            case tree.Number() | tree.Quantity():
                number = self.constant(value)
                if number is None:
                    return None
                assert isinstance(number.term, c.Constant)
                return evolve(number, term=evolve(number.term, limit=name))
            case tree.Day():
                day = self.day(value)
                if day is None:
                    return None
                assert isinstance(day.term, c.FixedDay)
                return typed.Day(c.FixedDay(day.term.day, name), constant=True)
            case tree.Flag(value=flag):
                return typed.YesOrNo(flag)
            case tree.Word(text):
                return typed.Word(text, name)
            case _:
                return None

    def real_path(self, path: str) -> str:
        """The path with `it` replaced by the part that it stands for."""
        if self.it is not None and (path == "it" or path.startswith("it.")):
            return self.it + path[2:]
        return path

    def path(self, written: str, place: Place) -> typed.Typed | None:
        if written == "event.date" or written == "event.year-start":
            return typed.Day(c.EventDay(written == "event.year-start"), constant=True)
        if self.it is None and (written == "it" or written.startswith("it.")):
            self.report(
                "it-without-part", "`it` stands for a part, and this rule has none", place,
                expected="a rule `for each of` some parts",
                suggestion="name the fact, or write `for each of …` behind the rule's title",
            )  # fmt: skip
            return None
        path = self.real_path(written)
        found = self.scope.find(path)
        if found is None:
            self.scope.unknown(path, place)
            return None
        return of_fact(found) if isinstance(found, model.Fact) else self.derived(found, self.rows)

    def as_derived(
        self, path: str, statement: tree.Derived, made: typed.Typed
    ) -> typed.Typed | None:
        """What a definition makes of a derived fact: a number in its unit, or an age."""
        if isinstance(made, typed.Age):
            return evolve(made, derived=path)
        if not isinstance(made, typed.Number):
            self.report(
                "not-a-number", f"`{path}` is worked out as {typed.in_words(made)}",
                statement.definition.place,
                expected="a number, a quantity or an age; a condition is derived with `means`",
            )  # fmt: skip
            return None
        its_unit = ONE if statement.unit is None else unit(statement.unit)
        assert its_unit is not None
        if its_unit.dimension != made.dimension:
            if statement.unit is None:
                example = made.unit.name or "mm"
                suggestion = f"name its unit behind the label, such as `in {example}`"
            else:
                suggestion = "mend the unit or the expression"
            self.report(
                "wrong-dimension",
                f"`{path}` is to be {its_unit.dimension.words}; this works out"
                f" {typed.in_words(made)}",
                statement.definition.place,
                suggestion=suggestion,
            )
            return None
        difference = made.nature == "difference"
        term = c.DerivedNumber(path, made.term, its_unit, difference)
        return typed.Number(term, made.dimension, its_unit, made.nature)

    # ---- ages ----

    def dated(self, reference: tree.Reference) -> typed.Day | None:
        made = self.path(reference.path, reference.place)
        if made is None or isinstance(made, typed.Day):
            return made
        self.report(
            "not-a-date", f"`{reference.path}` is {typed.in_words(made)}", reference.place,
            expected="a fact that is a date or a week code",
        )  # fmt: skip
        return None

    def on_day(self, on: tree.Day | tree.Reference | None) -> typed.Day | None:
        if on is None:
            return typed.Day(c.EventDay(), constant=True)
        if isinstance(on, tree.Day):
            return self.day(on)
        limit = self.scope.limit(on.path) if "." not in on.path else None
        made = self.limit(on.path, limit) if limit else self.path(on.path, on.place)
        if made is None or isinstance(made, typed.Day):
            return made
        self.report(
            "not-a-date", f"`{on.path}` is {typed.in_words(made)}", on.place, expected="a date"
        )
        return None

    def age(self, expression: tree.Age) -> typed.Age | None:
        of, on = self.dated(expression.of), self.on_day(expression.on)
        if of is None or on is None:
            return None
        path = self.real_path(expression.of.path)
        return typed.Age(of.term, on.term, expression.grain, path)

    def completed_years(self, expression: tree.CompletedYears) -> typed.Number | None:
        of, on = self.dated(expression.of), self.on_day(expression.on)
        if of is None or on is None:
            return None
        return typed.Number(c.CompletedYears(of.term, on.term), NUMBER, ONE)


def of_fact(fact: model.Fact) -> typed.Typed:
    """What a declared fact is."""
    match fact.type:
        case model.Choosing(how="several of"):
            return typed.Several(fact, fact.type)
        case model.Choosing():
            return typed.Chosen(fact, fact.type)
        case model.YesOrNo():
            return typed.Flag(fact.path, c.FlagTest(fact.path))
        case model.Dated():
            return typed.Day(c.DayOf(fact.path), fact=fact)
        case model.Measured(unit=its_unit):
            nature = nature_of(its_unit, literal=False)
            return typed.Number(
                c.NumberOf(fact.path), its_unit.dimension, its_unit, nature, fact=fact
            )
        case model.FreeText():
            return typed.Text(fact.path)
