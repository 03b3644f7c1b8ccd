"""Expressions to typed terms: names found, dimensions and offset temperatures checked."""

from collections.abc import Callable
from fractions import Fraction
from typing import Literal

from attrs import evolve

from trackprep.dates import Span, span_of
from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.facts import read_constant
from trackprep.rules.scope import Scope
from trackprep.rules.supplements import NamedStatement
from trackprep.rules.vocabularies import DerivedStatement
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import NUMBER, ONE, Unit, unit

_SCALES = frozenset({"a temperature", "a sound level"})
DAY = 86_400  # seconds


def nature_of(its_unit: Unit, *, literal: bool) -> typed.Nature:
    """Point, difference or either, for a value in a unit."""
    if its_unit.dimension.words not in _SCALES:
        return "plain"
    return "either" if literal and its_unit.name in ("K", "dB") else "point"


class Expressions:
    """Types expressions in a scope.

    Args:
        it: What `it` stands for in a rule `for each of`.
        rows: For each limit by rows, which of its rows is meant here.
        derived_condition: Compiles what a derived fact `means`.
    """

    def __init__(
        self,
        scope: Scope,
        it: str | None,
        rows: dict[str, int],
        derived_condition: Callable[[DerivedStatement], c.Condition | None],
        open_derived: tuple[str, ...] = (),
    ) -> None:
        self.scope, self.it, self.rows = scope, it, rows
        self.report = scope.reporter.report
        self.derived_condition = derived_condition
        self.open_derived = open_derived

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
                return self.sum(expression)
            case tree.Product():
                return self.product(expression)
            case tree.Age():
                return self.age(expression)
            case tree.CompletedYears():
                return self.completed_years(expression)

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
        return of_fact(found) if isinstance(found, model.Fact) else self.derived(path, found, place)

    def derived(self, path: str, found: DerivedStatement, place: Place) -> typed.Typed | None:
        statement = found.statement
        if path in self.open_derived:
            self.report(
                "derived-in-circle", f"`{path}` is worked out from itself",
                self.scope.vocabulary.derived[path].statement.path_place,
                suggestion="take one of the names of the circle out",
            )  # fmt: skip
            return None
        inner = Expressions(
            self.scope, None, self.rows, self.derived_condition, (*self.open_derived, path)
        )
        if statement.is_condition:
            condition = self.derived_condition(found)
            return None if condition is None else typed.Flag(path, c.Meaning(path, condition))
        made = inner.value(statement.definition)  # type: ignore[arg-type]
        return None if made is None else self.as_derived(path, statement, made)

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
                suggestion = f"name its unit behind the label, such as `in {made.unit.name or 'mm'}`"
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

    # ---- arithmetic ----

    def number(self, expression: tree.Expression) -> typed.Number | None:
        """The expression as a number; None after a problem."""
        made = self.value(expression)
        if made is None or isinstance(made, typed.Number):
            return made
        self.report(
            "not-a-number", f"`{expression.place.text}` is {typed.in_words(made)}",
            expression.place, expected="a number or a quantity",
            suggestion=_AGE_ALONE if isinstance(made, typed.Age) else None,
        )  # fmt: skip
        return None

    def sum(self, expression: tree.Sum) -> typed.Typed | None:
        total = self.value(expression.first)
        if isinstance(total, typed.Day):
            return self.shifted(total, expression)
        if not isinstance(total, typed.Number):
            total = self.number(expression.first)
        for sign, term in expression.rest:
            right = self.number(term)
            total = None if total is None or right is None else self.added(total, sign, right, term)
        return total

    def shifted(self, day: typed.Day, expression: tree.Sum) -> typed.Day | None:
        """A date plus or minus constant durations."""
        made: typed.Day | None = day
        for sign, term in expression.rest:
            right = self.number(term)
            if right is None or made is None:
                made = None
                continue
            duration = calendar_duration(right)
            if duration is None:
                self.report(
                    "not-a-duration", "a date goes only with a constant duration", term.place,
                    expected="a whole number of days, weeks, months or years, such as `5 years`",
                )  # fmt: skip
                made = None
                continue
            months, days = duration
            turn = -1 if sign == "-" else 1
            made = evolve(made, term=c.Shifted(made.term, turn * months, turn * days), fact=None)
        return made

    def added(
        self, left: typed.Number, sign: Literal["+", "-"], right: typed.Number, written: tree.Expression
    ) -> typed.Number | None:
        if left.dimension != right.dimension:
            self.report(
                "wrong-dimension",
                f"`{written.place.text}` is {typed.in_words(right)};"
                f" what stands before it is {typed.in_words(left)}",
                written.place,
                suggestion=_unit_wanted(left, right, written),
            )
            return None
        nature = _SUMS.get((left.nature, sign, right.nature))
        if nature is None:
            scale = left.dimension.words
            what = "added" if sign == "+" else "subtracted so"
            self.report(
                "point-and-point", f"two points on the scale of {scale} cannot be {what}",
                written.place,
                suggestion="write a difference in `K`, such as `5 K`"
                if scale == "a temperature" else "write the difference as a number of `dB`",
            )  # fmt: skip
            return None
        term = _folded(sign, left, right)
        constant = left.constant and right.constant
        unit_shown = left.unit if nature != "difference" else left.unit
        return typed.Number(term, left.dimension, unit_shown, nature, constant)

    def product(self, expression: tree.Product) -> typed.Number | None:
        made = self.number(expression.first)
        self.refuse_point(made, expression.first)
        for sign, factor in expression.rest:
            right = self.number(factor)
            if not self.refuse_point(right, factor) or made is None or right is None:
                made = None
                continue
            made = self.multiplied(made, sign, right, factor)
        return None if made is None or made.nature == "point" else made

    def refuse_point(self, number: typed.Number | None, written: tree.Expression) -> bool:
        """Whether a number may be a factor: a point on a scale may not."""
        if number is None or number.nature != "point":
            return True
        self.report(
            "point-as-factor",
            f"`{written.place.text}` is a point on a scale, which cannot be multiplied or divided",
            written.place, suggestion="work with a difference, in `K` or in `dB`",
        )  # fmt: skip
        return False

    def multiplied(
        self, left: typed.Number, sign: Literal["*", "/"], right: typed.Number, written: tree.Expression
    ) -> typed.Number | None:
        if sign == "/" and isinstance(right.term, c.Constant) and right.term.value == 0:
            self.report(
                "division-by-zero", "this divides by zero", written.place,
                suggestion="divide by something else",
            )  # fmt: skip
            return None
        dimension = (
            left.dimension * right.dimension if sign == "*" else left.dimension / right.dimension
        )
        shown = left.unit if right.dimension == NUMBER else ONE
        if sign == "*" and left.dimension == NUMBER:
            shown = right.unit
        if shown.dimension != dimension:
            shown = Unit("", dimension, Fraction(1))
        scales = {left.nature, right.nature} - {"plain"}
        nature: typed.Nature = "difference" if scales and dimension.words in _SCALES else "plain"
        constant = left.constant and right.constant
        return typed.Number(_folded(sign, left, right), dimension, shown, nature, constant)

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


_SUMS: dict[tuple[typed.Nature, str, typed.Nature], typed.Nature] = {
    ("plain", "+", "plain"): "plain",
    ("plain", "-", "plain"): "plain",
    ("point", "+", "difference"): "point",
    ("point", "+", "either"): "point",
    ("difference", "+", "point"): "point",
    ("either", "+", "point"): "point",
    ("difference", "+", "difference"): "difference",
    ("difference", "+", "either"): "difference",
    ("either", "+", "difference"): "difference",
    ("either", "+", "either"): "either",
    ("point", "-", "point"): "difference",
    ("point", "-", "difference"): "point",
    ("point", "-", "either"): "point",
    ("either", "-", "point"): "difference",
    ("either", "-", "either"): "either",
    ("either", "-", "difference"): "either",
    ("difference", "-", "either"): "difference",
    ("difference", "-", "difference"): "difference",
}
_AGE_ALONE = (
    "compare an age alone: `age of FACT is at most 5 years`; a number of years is"
    " `completed years of FACT`"
)


def _folded(sign: Literal["+", "-", "*", "/"], left: typed.Number, right: typed.Number) -> c.Term:
    """The arithmetic, worked out where both sides are constants."""
    one, other = left.term, right.term
    if isinstance(one, c.Constant) and isinstance(other, c.Constant):
        match sign:
            case "+":
                value = one.value + other.value
            case "-":
                value = one.value - other.value
            case "*":
                value = one.value * other.value
            case "/":
                value = one.value / other.value
        shown = one.unit if sign in "+-" or other.unit == ONE else ONE
        return c.Constant(value, other.unit if sign == "*" and one.unit == ONE else shown)
    return c.Arithmetic(sign, one, other)


def _unit_wanted(left: typed.Number, right: typed.Number, written: tree.Expression) -> str | None:
    if right.dimension == NUMBER and left.unit.name:
        return f"write its unit, such as `{written.place.text} {left.unit.name}`"
    return None


def calendar_duration(number: typed.Number) -> tuple[int, int] | None:
    """Whole months and whole days of a constant calendar duration; None if it is none."""
    if not isinstance(number.term, c.Constant) or number.unit.calendar is None:
        return None
    value = number.term.value
    if number.unit.calendar == "months":
        return (int(value), 0) if value.denominator == 1 else None
    days = value / DAY
    return (0, int(days)) if days.denominator == 1 else None
