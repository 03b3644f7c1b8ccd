"""Tests and terms in the words of an SMT solver."""

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction
from typing import Any, assert_never

from trackprep.analysis.leaves import LeafOf
from trackprep.analysis.regions import Region
from trackprep.analysis.solving import UndecidedError
from trackprep.backends.terms import day_span, named
from trackprep.backends.terms import numbers as worth_of
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    Arithmetic,
    Between,
    ByCase,
    ChoiceLookup,
    Comparison,
    Condition,
    DayOf,
    DayTerm,
    DayTest,
    DerivedNumber,
    Extreme,
    FormulaNumber,
    Not,
    NumberLookup,
    NumberOf,
    NumberTest,
    Rounded,
    Shifted,
    Term,
)
from trackprep.rules.model import Dated, Fact, Measured
from trackprep.truth import Truth

NOT_SPOKEN = "it hangs on arithmetic of several facts that cannot be told exactly"


class Numbers:
    """The solver's variables for facts, and its constants.

    Attributes:
        regions: The region of each fact, with its literal.
    """

    def __init__(
        self,
        z3: Any,
        facts: Mapping[str, Fact],
        regions: Mapping[str, tuple[int, Region]],
        event: date,
    ) -> None:
        self.z3, self.facts, self.regions, self.event = z3, facts, regions, event
        self.names = {path: f"f{number}" for number, path in enumerate(facts)}

    def number(self, path: str) -> Any:
        """The variable of a measured or dated fact."""
        kind = self.facts[path].type
        if isinstance(kind, Dated):
            if kind.how == "week code":
                raise UndecidedError(NOT_SPOKEN)
            return self.z3.Int(self.names[path])
        assert isinstance(kind, Measured)
        if kind.whole:
            return self.z3.ToReal(self.z3.Int(self.names[path]))
        return self.z3.Real(self.names[path])

    def constant(self, number: Fraction) -> Any:
        return self.z3.RealVal(f"{number.numerator}/{number.denominator}")


class Spoken:
    """A test in the solver's terms, with what must hold for it to have an answer at all.

    Attributes:
        needed: What must hold.
        hinges: Literals of the choices that were looked up.
    """

    def __init__(self, numbers: Numbers, leaf: LeafOf) -> None:
        self.numbers, self.leaf = numbers, leaf
        self.z3 = numbers.z3
        self.given = leaf.settled
        self.needed: list[Any] = []
        self.hinges: list[int] = []

    def answered(self, truth: Truth) -> Any:
        """That the test has this answer, or none."""
        said = self.test(self.leaf.test)
        if truth is None:
            return self.z3.Not(self.z3.And(*self.needed))
        return self.z3.And(said if truth else self.z3.Not(said), *self.needed)

    def test(self, test: Condition) -> Any:
        match test:
            case Between(least, most):
                return self.z3.And(self.test(least), self.test(most))
            case NumberTest(left, comparison, right):
                return _compared(comparison, self.term(left), self.term(right))
            case DayTest(left, comparison, right):
                return _compared(comparison, self.day(left), self.day(right))
            case AgeTest(of, on, comparison, None, int(days), "day"):
                return _compared(comparison, self.day(on) - self.day(of), days)
            case _:
                raise UndecidedError(NOT_SPOKEN)

    def day(self, day: DayTerm) -> Any:
        match day:
            case DayOf(path) if path not in self.given:
                return self.numbers.number(path)
            case Shifted(inner, 0, days):
                return self.day(inner) + days
            case _:
                span = day_span(day, self.given, self.numbers.event)
                if span is None or not span.exact:
                    raise UndecidedError(NOT_SPOKEN)
                return self.z3.IntVal(span.first.toordinal())

    def term(self, term: Term) -> Any:
        if not any(path in self.leaf.open for path in named(term)):
            return self.known(term)
        match term:
            case NumberOf(path):
                return self.numbers.number(path)
            case DerivedNumber(_, definition) | FormulaNumber(definition=definition):
                return self.term(definition)
            case Arithmetic(operator, left, right):
                return self.joined(operator, self.term(left), self.term(right))
            case Extreme(which, parts):
                return self.extreme(which, [self.term(part) for part in parts])
            case Rounded(of, step, down):
                return self.rounded(self.term(of), self.numbers.constant(step.value), down)
            case ChoiceLookup(path=path, rows=rows):
                return self.looked_up(path, dict(rows))
            case NumberLookup(of=of, rows=rows):
                return self.numbered(self.term(of), rows)
            case ByCase():
                return self.by_case(term)
            case _:
                raise UndecidedError(NOT_SPOKEN)

    def known(self, term: Term) -> Any:
        worth = worth_of(term, self.given, self.numbers.event)
        if worth == (None,):
            self.needed.append(self.z3.BoolVal(False))
            return self.numbers.constant(Fraction(0))
        if len(worth) != 1 or not isinstance(worth[0], Fraction):
            raise UndecidedError(NOT_SPOKEN)
        return self.numbers.constant(worth[0])

    def joined(self, operator: str, left: Any, right: Any) -> Any:
        match operator:
            case "+":
                return left + right
            case "-":
                return left - right
            case "*":
                return left * right
            case _:
                self.needed.append(right != 0)
                return left / right

    def extreme(self, which: str, parts: list[Any]) -> Any:
        found = parts[0]
        for part in parts[1:]:
            first = part < found if which == "minimum" else part > found
            found = self.z3.If(first, part, found)
        return found

    def rounded(self, number: Any, step: Any, down: bool) -> Any:
        def below(value: Any) -> Any:
            return self.z3.ToReal(self.z3.ToInt(value))

        steps = number / step
        if down:
            return below(steps) * step
        half = self.numbers.constant(Fraction(1, 2))
        return self.z3.If(steps >= 0, below(steps + half), -below(half - steps)) * step

    def looked_up(self, path: str, rows: Mapping[str, Fraction]) -> Any:
        literal, region = self.numbers.regions[path]
        if len(region.values) != 1:
            raise UndecidedError(NOT_SPOKEN)
        self.hinges.append(literal)
        (word,) = region.values
        if word not in rows:
            self.needed.append(self.z3.BoolVal(False))
            return self.numbers.constant(Fraction(0))
        return self.numbers.constant(rows[str(word)])

    def numbered(self, number: Any, rows: Iterable[tuple[Fraction, Fraction]]) -> Any:
        found = self.numbers.constant(Fraction(0))
        keys = []
        for key, value in rows:
            here = number == self.numbers.constant(key)
            keys.append(here)
            found = self.z3.If(here, self.numbers.constant(value), found)
        self.needed.append(self.z3.Or(*keys))
        return found

    def by_case(self, term: ByCase) -> Any:
        """The first row that holds gives the value, and what must hold for it to have one."""
        before, self.needed = self.needed, []
        conditions = [self.condition(row.condition) for row in term.rows if row.condition]
        if self.needed:  # whether a row holds may be unknown
            raise UndecidedError(NOT_SPOKEN)
        values, needs = [], []
        for row in term.rows:
            self.needed = []
            values.append(self.term(row.value))
            needs.append(self.z3.And(*self.needed))
        found, need = values[-1], needs[-1]
        for place in reversed(range(len(conditions))):
            found = self.z3.If(conditions[place], values[place], found)
            need = self.z3.If(conditions[place], needs[place], need)
        self.needed = [*before, need]
        return found

    def condition(self, condition: Condition) -> Any:
        match condition:
            case Not(inner):
                return self.z3.Not(self.condition(inner))
            case All(parts):
                return self.z3.And(*map(self.condition, parts))
            case AnyOf(parts):
                return self.z3.Or(*map(self.condition, parts))
            case _:
                return self.test(condition)


def _compared(comparison: Comparison, left: Any, right: Any) -> Any:
    match comparison:
        case "at least":
            return left >= right
        case "at most":
            return left <= right
        case "more than":
            return left > right
        case "less than":
            return left < right
        case "equal":
            return left == right
        case "not equal":
            return left != right
        case _:
            assert_never(comparison)
