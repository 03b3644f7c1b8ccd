"""The formulas and tables of a ruleset, each compiled when it is first called."""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import TypeVar

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.bodies import body
from trackprep.rules.checking import DEEPEST, Conditions
from trackprep.rules.definitions import Calculation, FormulaStatement, TableStatement
from trackprep.rules.facts import how_of, origin, prose, proses, source_of
from trackprep.rules.functions import one_nature
from trackprep.rules.inlining import WorkedOut
from trackprep.rules.scope import Scope
from trackprep.rules.storing import Later
from trackprep.rules.tables import compiled_table
from trackprep.rules.weighing import Budget, excess
from trackprep.syntax import tree
from trackprep.units import ONE, Unit, unit

_T = TypeVar("_T", model.Formula, model.Table)


class Formulas:
    """Compiles formulas and tables, each once, and only those that somebody wants."""

    def __init__(self, scope: Scope) -> None:
        self.scope, self.report = scope, scope.reporter.report
        self.budget = Budget(scope.reporter)
        self.open: list[str] = []
        self.known_formulas: dict[str, WorkedOut | None] = {}
        self.known_tables: dict[str, model.Table | None] = {}
        self.ready: set[str] = set()

    def want(self, names: Iterable[str]) -> None:
        """Compiles these, whether they are called or not."""
        for name in names:
            if isinstance(self.scope.vocabulary.calculations.get(name), FormulaStatement):
                self.formula(name)
            else:
                self.table(name)

    def want_ready(self, names: Iterable[str]) -> None:
        """Takes in shipped ones as they are stored, which nothing needs to compile."""
        self.ready.update(names)

    def formulas(self) -> Mapping[str, model.Formula]:
        """Those that were wanted, in the order of the vocabulary."""
        made = {n: found.formula for n, found in self.known_formulas.items() if found is not None}
        return self.in_order(made, FormulaStatement)

    def tables(self) -> Mapping[str, model.Table]:
        """Those that were wanted, in the order of the vocabulary."""
        made = {n: found for n, found in self.known_tables.items() if found is not None}
        return self.in_order(made, TableStatement)

    def in_order(self, made: Mapping[str, _T], sort: type[Calculation]) -> Mapping[str, _T]:
        found: Later[_T] = Later()
        for name, written in self.scope.vocabulary.calculations.items():
            if name in made:
                found[name] = made[name]
            elif name in self.ready and written.ready and isinstance(written, sort):
                found.take_in(written.ready)
        return found

    def table(self, name: str) -> model.Table | None:
        """The table of that name; None after a problem."""
        if name not in self.known_tables:
            found = self.scope.vocabulary.calculations.get(name)
            self.known_tables[name] = (
                compiled_table(found, self.scope.reporter)
                if isinstance(found, TableStatement) else None
            )  # fmt: skip
        return self.known_tables[name]

    def formula(self, name: str) -> WorkedOut | None:
        """The formula of that name; None after a problem."""
        if name not in self.known_formulas:
            found = self.scope.vocabulary.calculations[name]
            assert isinstance(found, FormulaStatement)
            if name in self.open:
                self.report_circle(name)
                return None
            if len(self.open) >= DEEPEST:
                self.too_large(found, f"is one of more than {DEEPEST} that call one another")
                return None
            self.open.append(name)
            self.known_formulas[name] = self.worked_out(found)
            self.open.pop()
        return self.known_formulas[name]

    def worked_out(self, found: FormulaStatement) -> WorkedOut | None:
        """The formula compiled and weighed; None after a problem."""
        statement = found.statement
        parameters = self.parameters(statement)
        its_unit = ONE if statement.unit is None else unit(statement.unit)
        assert its_unit is not None
        if parameters is None or not self.whole_rows(statement):
            return None
        inside = body(found, parameters, self.scope, self, self.budget)
        rows = _Rows(statement, its_unit, inside)
        definition = rows.definition()
        if definition is None:
            return None
        what = excess(definition)
        if what is not None:
            self.too_large(found, f"has {what}")
            return None
        details = statement.details
        formula = model.Formula(
            statement.name,
            statement.label or statement.name.replace("-", " "),
            parameters,
            definition,
            its_unit,
            rows.nature == "difference",
            how_of(details),
            proses(details, "caution"),
            prose(details, "reason"),
            found.section,
            source_of(details),
            origin(statement.place),
        )
        return WorkedOut.of(formula, rows.nature)

    def too_large(self, found: FormulaStatement, what: str) -> None:
        self.report(
            "too-large", f"`{found.statement.name}` {what}", found.statement.name_place,
            suggestion="work it out with fewer calls",
        )  # fmt: skip

    def report_circle(self, name: str) -> None:
        """Reports a circle of formulas once, at the one that stands first."""
        circle = self.open[self.open.index(name) :]
        known = self.scope.vocabulary.calculations
        order = {known_name: number for number, known_name in enumerate(known)}
        first = known[min(circle, key=order.__getitem__)].statement
        self.report(
            "formula-in-circle", f"`{first.name}` is worked out from itself", first.name_place,
            suggestion="take one of the calls of the circle out",
        )  # fmt: skip

    def parameters(self, statement: tree.Formula) -> tuple[model.Parameter, ...] | None:
        """The parameters as they are meant; None after a problem."""
        found: dict[str, model.Parameter] = {}
        for written in statement.parameters:
            its_unit = ONE if written.unit is None else unit(written.unit)
            assert its_unit is not None
            if written.name in found:
                self.report(
                    "repeated-parameter", f"`{written.name}` stands in these brackets twice",
                    written.place, suggestion="give one of the two another name",
                )  # fmt: skip
                return None
            found[written.name] = model.Parameter(written.name, its_unit, its_unit.name == "K")
        return tuple(found.values())

    def whole_rows(self, statement: tree.Formula) -> bool:
        """Whether the rows end with one that always holds; if not, after a problem."""
        rows = statement.rows
        for before, row in pairwise(rows):
            if before.condition is None:
                end = "`otherwise`" if before.otherwise else "a row that always holds"
                self.report(
                    "row-after-otherwise", f"no row behind {end} is ever reached", row.place,
                    suggestion="move it to the front, or give the row before it a `when`",
                )  # fmt: skip
                return False
        if rows and rows[-1].condition is not None:
            self.report(
                "otherwise-missing", f"`{statement.name}` has no value where no row holds",
                rows[-1].place, expected="a last row with `otherwise`",
                suggestion=f"write `as {rows[-1].value.place.text} otherwise` behind it",
            )  # fmt: skip
        return bool(rows) and rows[-1].condition is None


class _Rows:
    """The rows of one formula, all of one dimension and one nature."""

    def __init__(self, statement: tree.Formula, its_unit: Unit, inside: Conditions) -> None:
        self.statement, self.unit, self.inside = statement, its_unit, inside
        self.report = inside.scope.reporter.report
        self.nature: typed.Nature = "plain"

    def definition(self) -> c.Term | None:
        """The one row's value, or all rows with their conditions; None after a problem."""
        made: list[c.TermCase] = []
        natures: list[typed.Nature] = []
        for row in self.statement.rows:
            condition = None if row.condition is None else self.inside.whole(row.condition)
            value = self.value(row)
            if value is None or (row.condition is not None and condition is None):
                continue
            made.append(c.TermCase(condition, value.term))
            natures.append(value.nature)
        if len(made) < len(self.statement.rows) or not self.agree(natures):
            return None
        return made[0].value if len(made) == 1 else c.ByCase(tuple(made))

    def agree(self, natures: list[typed.Nature]) -> bool:
        """Whether all rows are points or all are differences; if not, after a problem."""
        self.nature = natures[0]
        for row, nature in zip(self.statement.rows, natures, strict=True):
            joined = one_nature(self.nature, nature)
            if joined is None:
                self.report(
                    "point-and-difference",
                    f"one row of `{self.statement.name}` is a point on the scale of"
                    f" {self.unit.dimension.words}, another a difference",
                    row.value.place, suggestion="make points of all rows, or differences",
                )  # fmt: skip
                return False
            self.nature = joined
        return True

    def value(self, row: tree.FormulaRow) -> typed.Number | None:
        """The value of a row, in the dimension of the formula."""
        made = self.inside.expressions(None, {}).number(row.value)
        if made is None or made.dimension == self.unit.dimension:
            return made
        example = made.unit.name or "mm"
        self.report(
            "wrong-dimension",
            f"`{self.statement.name}` is to be {self.unit.dimension.words}; this works out"
            f" {typed.in_words(made)}",
            row.value.place,
            suggestion=f"name its unit in front of `as`, such as `in {example}`"
            if self.statement.unit is None else "mend the unit or the expression",
        )  # fmt: skip
        return None
