"""What a formula is made of: it knows its parameters, and nothing else of a ruleset."""

from attrs import evolve, field

from trackprep.frozen import frozen
from trackprep.rules import model, typed
from trackprep.rules.calls import Calculations, nature_of_parameter
from trackprep.rules.checking import Conditions
from trackprep.rules.definitions import FormulaStatement
from trackprep.rules.expressions import Expressions
from trackprep.rules.reporting import nearest
from trackprep.rules.scope import Scope
from trackprep.rules.statements import Statements
from trackprep.rules.vocabularies import Vocabulary
from trackprep.rules.weighing import Budget
from trackprep.source import Place
from trackprep.syntax import tree


@frozen(eq=False)
class BodyScope(Scope):
    """The names in a formula's body: its parameters; `around` is the scope of the ruleset."""

    around: Scope = field(kw_only=True)
    found: FormulaStatement = field(kw_only=True)

    def unknown(self, name: str, place: Place, *, limits: bool = True) -> None:
        """Reports a name that is no parameter, and how a fact or limit comes to the formula."""
        if self.found.statement.damaged or self.without_brackets(name, place):
            return
        formula, around = self.found.statement.name, self.around
        what = "fact" if around.find(name) or around.below(name) else None
        what = "limit" if around.limit(name) else "list" if around.words(name) else what
        parameters = ", ".join(f"`{parameter}`" for parameter in self.vocabulary.facts)
        if what is None:
            near = nearest(name, self.vocabulary.facts)
            self.reporter.report(
                "unknown-parameter", f"`{name}` is no parameter of `{formula}`", place,
                expected=f"one of its parameters: {parameters}",
                suggestion=f"write `{near}`" if near
                else f"add it in the brackets behind `formula {formula}`, with its unit",
            )  # fmt: skip
            return
        fact = around.find(name)
        number = not isinstance(fact, model.Fact) or isinstance(fact.type, model.Measured)
        self.handed_over(f"`{name}` is a {what}", place, number=number and what != "list")

    def handed_over(self, what: str, place: Place, *, number: bool) -> None:
        """Reports what a formula cannot know; a `number` can be handed over to it."""
        name = self.found.statement.name
        self.reporter.report(
            "not-handed-over", f"{what}, and a formula knows only its parameters", place,
            expected="one of its parameters: "
            + ", ".join(f"`{parameter}`" for parameter in self.vocabulary.facts),
            suggestion=f"make it a parameter of `{name}`, and hand it over in each call"
            if number else f"test it, or look it up, where `{name}` is called: a parameter is a"
            " number",
        )  # fmt: skip


def body(
    found: FormulaStatement,
    parameters: tuple[model.Parameter, ...],
    around: Scope,
    calculations: Calculations,
    budget: Budget,
) -> Conditions:
    """What compiles the expressions and conditions in a formula's body."""
    facts = {
        parameter.name: model.Fact(parameter.name, parameter.name, model.Measured(parameter.unit))
        for parameter in parameters
    }
    whole = around.vocabulary
    words = Vocabulary(facts, {}, whole.kinds, whole.calculations, {}, whole.unread, ())
    scope = BodyScope(
        words, Statements(), around.missing, around.reporter, around=around, found=found
    )
    return _Body(scope, calculations, budget, {p.name: p for p in parameters})


class _Body(Conditions):
    """The conditions of a formula's rows."""

    def __init__(
        self,
        scope: BodyScope,
        calculations: Calculations,
        budget: Budget,
        parameters: dict[str, model.Parameter],
    ) -> None:
        super().__init__(scope, calculations)
        self.body_scope, self.budget, self.parameters = scope, budget, parameters

    def expressions(self, it: str | None, rows: dict[str, int]) -> Expressions:
        return _BodyExpressions(self, rows)


class _BodyExpressions(Expressions):
    """The expressions in a formula's body."""

    def __init__(self, body: _Body, rows: dict[str, int]) -> None:
        super().__init__(body.body_scope, None, rows, body.derived, body.calculations)
        self.body_scope, self.parameters = body.body_scope, body.parameters

    def value(self, expression: tree.Expression) -> typed.Typed | None:
        if isinstance(expression, tree.Age | tree.CompletedYears | tree.Day):
            what = "a date" if isinstance(expression, tree.Day) else "an age"
            said, years = expression.place.text, isinstance(expression, tree.CompletedYears)
            self.body_scope.handed_over(f"`{said}` is {what}", expression.place, number=years)
            return None
        return super().value(expression)

    def path(self, written: str, place: Place) -> typed.Typed | None:
        """A parameter."""
        if written == "it" or written.startswith(("it.", "event.")):
            what = "a part of a rule" if written.startswith("it") else "a date"
            self.body_scope.handed_over(f"`{written}` is {what}", place, number=False)
            return None
        made = super().path(written, place)
        if isinstance(made, typed.Number):
            return evolve(made, nature=nature_of_parameter(self.parameters[written]))
        return made
