"""Sums and products of typed terms: dimensions agree, points on a scale stay points.

Of temperatures and sound levels points and differences are told apart: two
points are subtracted, never added, and only a difference is multiplied.
"""

from collections.abc import Callable
from fractions import Fraction
from typing import Literal

from attrs import evolve

from trackprep.rules import conditions as c
from trackprep.rules import folding, typed
from trackprep.rules.reporting import Reporter
from trackprep.rules.weighing import MOST_TERMS
from trackprep.syntax import tree
from trackprep.units import NUMBER, ONE, Unit

SCALES = frozenset({"a temperature", "a sound level"})
"""Of these, points and differences are told apart."""
_DAY = 86_400  # seconds
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


class Arithmetic:
    """Works with what expressions are.

    Args:
        value: What an expression is, or None after a problem.
    """

    def __init__(
        self, value: Callable[[tree.Expression], typed.Typed | None], reporter: Reporter
    ) -> None:
        self.value, self.report = value, reporter.report

    def number(self, expression: tree.Expression) -> typed.Number | None:
        """The expression as a number; None after a problem."""
        return self.as_number(self.value(expression), expression)

    def as_number(
        self, made: typed.Typed | None, expression: tree.Expression
    ) -> typed.Number | None:
        if made is None or isinstance(made, typed.Number):
            return made
        self.report(
            "not-a-number", f"`{expression.place.text}` is {typed.in_words(made)}",
            expression.place, expected="a number or a quantity",
            suggestion=_AGE_ALONE if isinstance(made, typed.Age) else None,
        )  # fmt: skip
        return None

    def sum(self, expression: tree.Sum) -> typed.Typed | None:
        """A sum of numbers, or a date plus or minus durations."""
        if self.too_long(expression):
            return None
        first = self.value(expression.first)
        if isinstance(first, typed.Day):
            return self.shifted(first, expression)
        total = self.as_number(first, expression.first)
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
        self,
        left: typed.Number,
        sign: Literal["+", "-"],
        right: typed.Number,
        written: tree.Expression,
    ) -> typed.Number | None:
        if left.dimension != right.dimension:
            self.report(
                "wrong-dimension",
                f"`{written.place.text}` is {typed.in_words(right)};"
                f" what stands before it is {typed.in_words(left)}",
                written.place,
                expected=left.dimension.words,
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
        term = folding.arithmetic(sign, left.term, right.term)
        constant = left.constant and right.constant
        return typed.Number(term, left.dimension, left.unit, nature, constant)

    def too_long(self, expression: tree.Sum | tree.Product) -> bool:
        """Whether there are more terms than anybody means, which is reported."""
        if len(expression.rest) < MOST_TERMS:
            return False
        self.report(
            "too-large", f"more than {MOST_TERMS} terms stand in a row here", expression.place,
            suggestion="work parts of it out as derived facts",
        )  # fmt: skip
        return True

    def product(self, expression: tree.Product) -> typed.Number | None:
        """A product of plain numbers, quantities and differences."""
        if self.too_long(expression):
            return None
        made = self.number(expression.first)
        if not self.may_be_factor(made, expression.first):
            made = None
        for sign, factor in expression.rest:
            right = self.number(factor)
            if not self.may_be_factor(right, factor) or made is None or right is None:
                made = None
                continue
            made = self.multiplied(made, sign, right, factor)
        return made

    def may_be_factor(self, number: typed.Number | None, written: tree.Expression) -> bool:
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
        self,
        left: typed.Number,
        sign: Literal["*", "/"],
        right: typed.Number,
        written: tree.Expression,
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
        nature: typed.Nature = "difference" if scales and dimension.words in SCALES else "plain"
        constant = left.constant and right.constant
        term = folding.arithmetic(sign, left.term, right.term)
        return typed.Number(term, dimension, shown, nature, constant)


def nature_of(its_unit: Unit, *, literal: bool) -> typed.Nature:
    """Point, difference or either, for a value in a unit."""
    if its_unit.dimension.words not in SCALES:
        return "plain"
    return "either" if literal and its_unit.name in ("K", "dB") else "point"


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
    days = value / _DAY
    return (0, int(days)) if days.denominator == 1 else None
