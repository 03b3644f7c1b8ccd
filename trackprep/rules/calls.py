"""Calls of formulas, tables and functions, and rounding, to typed terms."""

from collections.abc import Callable, Sequence
from typing import Protocol

from trackprep.rules import conditions as c
from trackprep.rules import folding, model, typed
from trackprep.rules.arithmetic import Arithmetic, nature_of
from trackprep.rules.definitions import FormulaStatement
from trackprep.rules.facts import read_constant
from trackprep.rules.functions import FORMS, Functions, meant, one_nature
from trackprep.rules.inlining import WorkedOut
from trackprep.rules.lookups import Lookups
from trackprep.rules.reporting import nearest
from trackprep.rules.scope import Scope
from trackprep.rules.weighing import HEAVIEST
from trackprep.syntax import tree
from trackprep.units import NUMBER


class Calculations(Protocol):
    """Gives the formulas and tables of a vocabulary, compiled; None after a problem."""

    def formula(self, name: str) -> WorkedOut | None: ...
    def table(self, name: str) -> model.Table | None: ...


class Calls:
    """Types calls and roundings.

    Args:
        value: What an expression is, or None after a problem.
        calculations: The formulas and tables that may be called.
    """

    def __init__(
        self,
        value: Callable[[tree.Expression], typed.Typed | None],
        scope: Scope,
        calculations: Calculations,
    ) -> None:
        self.value, self.scope, self.calculations = value, scope, calculations
        self.arithmetic = Arithmetic(value, scope.reporter)
        self.report = scope.reporter.report

    def call(self, call: tree.Call) -> typed.Number | None:
        """What the call gives, or None after a problem."""
        if call.name in FORMS:
            return Functions(self.scope.reporter).call(call, self.numbers(call))
        found = self.scope.vocabulary.calculations.get(call.name)
        if found is None:
            self.unknown(call)
            return None
        if isinstance(found, FormulaStatement):
            numbers = self.numbers(call)
            worked_out = self.calculations.formula(call.name)
            return None if worked_out is None else self.of_formula(worked_out, call, numbers)
        table = self.calculations.table(call.name)
        return None if table is None else Lookups(self.value, self.scope).in_table(table, call)

    def numbers(self, call: tree.Call) -> list[typed.Number | None]:
        return [self.arithmetic.number(argument) for argument in call.arguments]

    def unknown(self, call: tree.Call) -> None:
        """Reports a name that is called and is no formula, with the nearest that is."""
        name, scope = call.name, self.scope
        if scope.missing or name in scope.vocabulary.unread:
            return
        found = nearest(name, [*scope.vocabulary.calculations, *FORMS])
        suggestion = meant(name) or (f"write `{found}(…)`" if found else None)
        if scope.find(name) is not None or scope.limit(name) is not None:
            suggestion = f"`{name}` alone is the value; for a product write `{name} * […]`"
        self.report(
            "unknown-formula", f"there is no formula, table or function called `{name}`",
            call.name_place,
            expected="a formula or table of the vocabulary, or one of "
            + ", ".join(f"`{known}`" for known in FORMS),
            suggestion=suggestion or f"define it: `formula {name}(…) as …`",
        )  # fmt: skip

    # ---- formulas ----

    def of_formula(
        self, worked_out: WorkedOut, call: tree.Call, numbers: Sequence[typed.Number | None]
    ) -> typed.Number | None:
        """The formula with the arguments put in."""
        formula = worked_out.formula
        if len(numbers) != len(formula.parameters):
            self.wrong_number(formula, call)
            return None
        arguments: dict[str, c.Term] = {}
        for parameter, made, written in zip(
            formula.parameters, numbers, call.arguments, strict=True
        ):
            if made is not None and self.fits(parameter, made, written, formula):
                arguments[parameter.name] = made.term
        if len(arguments) < len(numbers):
            return None
        if worked_out.weight_with(arguments) > HEAVIEST:
            self.report(
                "too-large",
                f"`{formula.name}` with these values has more than {HEAVIEST:,} parts",
                call.place, suggestion="write it with fewer calls one in another",
            )  # fmt: skip
            return None
        return typed.Number(
            worked_out.with_arguments(arguments),
            formula.unit.dimension,
            formula.unit,
            worked_out.nature,
        )

    def wrong_number(self, formula: model.Formula, call: tree.Call) -> None:
        wanted, given = formula.parameters, len(call.arguments)
        form = self.scope.vocabulary.calculations[formula.name].form
        missing = ", ".join(f"`{parameter.name}`" for parameter in wanted[given:])
        self.report(
            "wrong-arguments",
            f"`{formula.name}` takes {_counted(len(wanted))}, and {given} stand"
            f"{'s' if given == 1 else ''} in the brackets",
            call.place, expected=f"`{form}`",
            suggestion=f"add a value for {missing}" if missing
            else f"keep {_counted(len(wanted))}",
        )  # fmt: skip

    def fits(
        self, parameter: model.Parameter, made: typed.Number, written: tree.Expression,
        formula: model.Formula,
    ) -> bool:  # fmt: skip
        """Whether a number may be put in for a parameter; if not, after a problem."""
        wanted = typed.Number(
            c.NumberOf(parameter.name), parameter.unit.dimension, parameter.unit,
            nature_of_parameter(parameter),
        )  # fmt: skip
        what = f"`{parameter.name}` of `{formula.name}`"
        said, its_unit = written.place.text, parameter.unit.name
        if made.dimension != wanted.dimension:
            missing = made.dimension == NUMBER and made.constant
            suggestion = f"write a value in {its_unit}" if its_unit else None
            self.report(
                "unit-missing" if missing else "wrong-dimension",
                f"`{said}` is {typed.in_words(made)}; {what} is {typed.in_words(wanted)}",
                written.place,
                expected=f"{wanted.dimension.words}" + (f", in {its_unit}" if its_unit else ""),
                suggestion=f"write its unit, such as `{said} {its_unit}`" if missing
                else suggestion,
            )  # fmt: skip
            return False
        if one_nature(made.nature, wanted.nature) is None:
            self.report(
                "point-and-difference",
                f"`{said}` is {typed.natured(made)}; {what} is {typed.natured(wanted)}",
                written.place,
                suggestion="hand over a difference in `K`, such as `5 K`"
                if parameter.difference else f"hand over {wanted.dimension.words} itself, no"
                " difference of two",
            )  # fmt: skip
            return False
        return True

    # ---- rounding ----

    def rounded(self, written: tree.Rounded) -> typed.Number | None:
        """A number rounded to a multiple of a step."""
        made = self.arithmetic.number(written.inner)
        read = read_constant(written.step, self.scope.reporter)
        if made is None or read is None:
            return None
        value, its_unit = read
        if made.dimension.words == "a temperature":
            self.report(
                "rounded-temperature",
                f"`{written.inner.place.text}` is a temperature, which is not rounded:"
                " its multiples hang on the scale", written.place,
                suggestion="compare it as it is, or round a plain number that comes of it",
            )  # fmt: skip
            return None
        if its_unit.dimension != made.dimension:
            self.wrong_step(made, written)
            return None
        if value <= 0:
            self.report(
                "step-not-above-zero", f"nothing is rounded to multiples of"
                f" `{written.step.place.text}`", written.step.place,
                expected="a step above zero, such as "
                + (f"`1 {its_unit.name}`" if its_unit.name else "`1`"),
            )  # fmt: skip
            return None
        term = folding.rounded(made.term, c.Constant(value, its_unit), written.down)
        return typed.Number(term, made.dimension, made.unit, made.nature, made.constant)

    def wrong_step(self, made: typed.Number, written: tree.Rounded) -> None:
        step, name = written.step, made.unit.name
        missing = isinstance(step, tree.Number)
        suggestion = f"write a step in {name}" if name else None
        if missing and name:
            suggestion = f"write its unit, such as `{step.place.text} {name}`"
        said = typed.in_words(made)
        self.report(
            "unit-missing" if missing else "wrong-dimension",
            f"`{written.inner.place.text}` is {said}, and is not rounded to"
            f" `{step.place.text}`", step.place,
            expected=made.dimension.words, suggestion=suggestion,
        )  # fmt: skip


def nature_of_parameter(parameter: model.Parameter) -> typed.Nature:
    """Whether a parameter is a point on its scale, a difference, or neither."""
    if parameter.difference:
        return "difference"
    return nature_of(parameter.unit, literal=False)


def _counted(count: int) -> str:
    return "one value" if count == 1 else f"{count} values"
