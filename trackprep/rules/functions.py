"""The functions of the language: what each takes, and what it gives."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from trackprep.enclosures import LARGEST_POWER
from trackprep.rules import conditions as c
from trackprep.rules import folding, typed
from trackprep.rules.arithmetic import SCALES
from trackprep.rules.reporting import Reporter
from trackprep.rules.weighing import MOST_TERMS
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.units import NUMBER, ONE, Dimension, Unit

FORMS = {
    "log10": "log10(NUMBER)",
    "ten-to": "ten-to(NUMBER)",
    "sqrt": "sqrt(VALUE)",
    "minimum": "minimum(VALUE, VALUE, …)",
    "maximum": "maximum(VALUE, VALUE, …)",
}
"""How each is called."""

_MEANT = {
    "max": "write `maximum(…, …)`",
    "min": "write `minimum(…, …)`",
    "log": "write `log10(…)`, the logarithm to the base 10",
    "lg": "write `log10(…)`",
    "pow": "for a power of 10 write `ten-to(…)`",
    "root": "write `sqrt(…)`",
    "round": "write `… rounded to 1`, with the step and its unit behind it",
    "floor": "write `… rounded down to 1`, with the step and its unit behind it",
    "abs": "write `maximum(x, 0 - x)`",
}


def meant(name: str) -> str | None:
    """What to write in place of a function that other languages have."""
    return _MEANT.get(name.lower())


class Functions:
    """Types calls of the functions; each argument comes as a number and as it was written."""

    def __init__(self, reporter: Reporter) -> None:
        self.report = reporter.report

    def call(
        self, call: tree.Call, arguments: Sequence[typed.Number | None]
    ) -> typed.Number | None:
        """What the call gives, or None after a problem."""
        if not self.right_number(call):
            return None
        given = [made for made in arguments if made is not None]
        if len(given) < len(arguments):
            return None
        match call.name:
            case "log10" | "ten-to":
                return self.of_number(call.name, given[0], call.arguments[0])
            case "sqrt":
                return self.square_root(given[0], call.arguments[0])
            case "minimum" | "maximum":
                return self.extreme(call.name, given, call)
            case _:
                raise AssertionError(call.name)

    def right_number(self, call: tree.Call) -> bool:
        """Whether as many arguments are given as the function takes."""
        count = len(call.arguments)
        several = call.name in ("minimum", "maximum")
        if count > MOST_TERMS:
            self.report(
                "too-large", f"more than {MOST_TERMS} values stand in these brackets", call.place,
                suggestion=f"take the {call.name} of parts of them as derived facts",
            )  # fmt: skip
            return False
        if count >= 2 if several else count == 1:
            return True
        what = "two values or more" if several else "one value"
        stand = "1 stands" if count == 1 else f"{count} stand"
        self.report(
            "wrong-arguments", f"`{call.name}` takes {what}, and {stand} in the brackets",
            call.place, expected=f"`{FORMS[call.name]}`",
            suggestion="add the value that is missing" if several else "keep one of them",
        )  # fmt: skip
        return False

    def of_number(
        self, name: Literal["log10", "ten-to"], made: typed.Number, written: tree.Expression
    ) -> typed.Number | None:
        """A function of a plain number."""
        if made.dimension != NUMBER:
            self.report(
                "wrong-dimension",
                f"`{written.place.text}` is {typed.in_words(made)}; `{name}` takes a plain number",
                written.place, expected="a number", suggestion=_as_ratio(made, written),
            )  # fmt: skip
            return None
        if isinstance(made.term, c.Constant):
            value = made.term.value
            if name == "log10" and value <= 0:
                self.without_value(name, written, "a number above zero")
                return None
            if name == "ten-to" and abs(value) > LARGEST_POWER:
                ends = f"a number from -{LARGEST_POWER} to {LARGEST_POWER}"
                self.without_value(name, written, ends)
                return None
        return typed.Number(c.Called(name, made.term), NUMBER, ONE)

    def square_root(self, made: typed.Number, written: tree.Expression) -> typed.Number | None:
        """A square root: of a number, or of what is itself a square of something."""
        exponents = made.dimension.exponents
        half = Dimension(tuple(exponent // 2 for exponent in exponents))
        if any(exponent % 2 for exponent in exponents) or half.words in SCALES:
            self.report(
                "wrong-dimension",
                f"`{written.place.text}` is {made.dimension.words}, the square of no quantity",
                written.place,
                expected="a number, or what two equal quantities multiplied give, such as an area",
            )
            return None
        if isinstance(made.term, c.Constant) and made.term.value < 0:
            self.without_value("sqrt", written, "a value of zero or above")
            return None
        its_unit = ONE if half == NUMBER else Unit("", half, Fraction(1))
        return typed.Number(c.Called("sqrt", made.term), half, its_unit)

    def without_value(self, name: str, written: tree.Expression, expected: str) -> None:
        self.report(
            "no-value", f"`{name}` has no value for `{written.place.text}`", written.place,
            expected=expected,
        )  # fmt: skip

    def extreme(
        self, which: Literal["minimum", "maximum"], given: list[typed.Number], call: tree.Call
    ) -> typed.Number | None:
        """The least or greatest of numbers of one dimension and one nature."""
        nature: typed.Nature = given[0].nature
        for made, written in zip(given[1:], call.arguments[1:], strict=True):
            if made.dimension != given[0].dimension:
                self.report(
                    "wrong-dimension",
                    f"`{written.place.text}` is {typed.in_words(made)}; the first value of"
                    f" `{which}` is {typed.in_words(given[0])}",
                    written.place, expected=given[0].dimension.words,
                )  # fmt: skip
                return None
            joined = one_nature(nature, made.nature)
            if joined is None:
                self.report_natures(which, written, call.place)
                return None
            nature = joined
        constant = all(made.constant for made in given)
        term = folding.extreme(which, [made.term for made in given])
        return typed.Number(term, given[0].dimension, given[0].unit, nature, constant)

    def report_natures(self, which: str, written: tree.Expression, place: Place) -> None:
        self.report(
            "point-and-difference",
            f"`{which}` has points on a scale and differences here: they cannot be compared",
            written.place, suggestion="give it points alone, or differences alone",
        )  # fmt: skip


def one_nature(one: typed.Nature, other: typed.Nature) -> typed.Nature | None:
    """What two numbers of one dimension are together; None for a point and a difference."""
    if one == other or other == "either":
        return one
    return other if one == "either" else None


def _as_ratio(made: typed.Number, written: tree.Expression) -> str | None:
    """What to write for a quantity in place of a number."""
    if made.nature == "plain" and made.unit.name:
        ratio = f"{written.place.text} / 1 {made.unit.name}"
        return f"divide it by a quantity of its kind, such as `{ratio}`"
    return None
