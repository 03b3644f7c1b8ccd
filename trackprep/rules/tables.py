"""Tables: what a standard prints, a value for each choice or for some counts."""

from fractions import Fraction

from trackprep.rules import model, typed
from trackprep.rules.arithmetic import nature_of
from trackprep.rules.definitions import TableStatement
from trackprep.rules.facts import how_of, origin, prose, proses, read_constant, source_of
from trackprep.rules.reading import quoted
from trackprep.rules.reporting import Reporter, nearest
from trackprep.syntax import tree
from trackprep.units import NUMBER, ONE, Unit, unit

MOST_ROWS = 1_000
"""How many rows a table may have."""


def nature_of_table(table: model.Table) -> typed.Nature:
    """What its values are: they are like constants in its unit."""
    return nature_of(table.unit, literal=True)


def compiled_table(found: TableStatement, reporter: Reporter) -> model.Table | None:
    """The table as it is meant, or None after a problem."""
    return _Table(found, reporter).compiled()


class _Table:
    """One table on its way from rows as written to rows as meant."""

    def __init__(self, found: TableStatement, reporter: Reporter) -> None:
        self.found, self.written = found, found.statement
        self.reporter, self.report = reporter, reporter.report
        self.broken = False

    def compiled(self) -> model.Table | None:
        choices = None if self.written.kind == "count" else self.choices()
        its_unit = ONE if self.written.unit is None else unit(self.written.unit)
        assert its_unit is not None
        if self.broken or self.too_long():
            return None
        rows = self.rows(choices, its_unit)
        if choices is not None:
            self.all_there(choices)
        if self.broken:
            return None
        details = self.written.details
        return model.Table(
            self.written.name,
            self.written.label or self.written.name.replace("-", " "),
            choices,
            rows,
            its_unit,
            how_of(details),
            proses(details, "caution"),
            prose(details, "reason"),
            self.found.section,
            source_of(details),
            origin(self.written.place),
        )

    def choices(self) -> model.Choosing | None:
        """The choices that are looked up; None after a problem."""
        kind, name = self.found.type, self.written.kind
        if isinstance(kind, model.Choosing) and kind.how != "several of":
            return kind
        self.broken = True
        if kind is not None:
            self.report(
                "wrong-kind", f"of `{name}` no single choice is declared, and a table looks one up",
                self.written.place, expected="a kind that is `one of …` or `graded …`, or `count`",
            )  # fmt: skip
            return None
        near = nearest(name, [*self.found.kinds, "count"])
        self.report(
            "unknown-type", f"`{name}` is no kind of this file", self.written.place,
            expected="a kind that is `one of …` or `graded …`, or `count`",
            suggestion=f"write `from {near}`" if near
            else f"name its choices first: `kind {name} one of …`",
        )  # fmt: skip
        return None

    def too_long(self) -> bool:
        if len(self.written.rows) <= MOST_ROWS:
            return False
        self.report(
            "too-large", f"`{self.written.name}` has more than {MOST_ROWS:,} rows",
            self.written.name_place, suggestion="make a formula, or several tables, of it",
        )  # fmt: skip
        return True

    def rows(
        self, choices: model.Choosing | None, its_unit: Unit
    ) -> tuple[tuple[str | Fraction, Fraction], ...]:
        """The rows that have a value, each choice or count once."""
        found: dict[str | Fraction, Fraction | None] = {}
        words = () if choices is None else choices.words
        for row in self.written.rows:
            key = self.count(row) if choices is None else self.choice(row, words)
            value = None if row.value is None else self.value(row.value, its_unit)
            if key is None or (value is None and row.value is not None):
                self.broken = True
            elif key in found:
                self.broken = True
                self.report(
                    "repeated-row", f"`{row.choice.place.text}` has a row in this table already",
                    row.choice.place, suggestion="keep one of the two",
                )  # fmt: skip
            else:
                found[key] = value
        return tuple((key, value) for key, value in found.items() if value is not None)

    def count(self, row: tree.TableRow) -> Fraction | None:
        """The count that a row is about; None after a problem."""
        if isinstance(row.choice, tree.Number):
            read = read_constant(row.choice, self.reporter)
            if read is None:
                return None
            if read[0].denominator == 1 and read[0] >= 0:
                return read[0]
        self.report(
            "not-whole", f"`{row.choice.place.text}` is no count", row.choice.place,
            expected="a whole number, such as `58`",
            suggestion=f"name the choices of `{self.written.name}` as a kind, and write"
            " `from` with its name" if isinstance(row.choice, tree.Word) else None,
        )  # fmt: skip
        return None

    def choice(self, row: tree.TableRow, words: tuple[str, ...]) -> str | None:
        """The choice that a row is about; None after a problem."""
        written = row.choice.text
        if isinstance(row.choice, tree.Word) and written in words:
            return written
        near = written if written in words else nearest(written, words)
        listed = ", ".join(words[:12]) + (" …" if words[12:] else "")
        self.report(
            "unknown-choice", f"`{written}` is no choice of `{self.written.kind}`",
            row.choice.place, expected=f"one of its choices: {listed}",
            suggestion=f"write `{quoted(near)}`" if near else None,
        )  # fmt: skip
        return None

    def value(self, written: tree.Constant, its_unit: Unit) -> Fraction | None:
        """The value of a row in base units; None after a problem."""
        read = read_constant(written, self.reporter)
        if read is None:
            return None
        value, own = read
        if own.dimension != its_unit.dimension:
            missing = own.dimension == NUMBER
            suggestion = f"write it in {its_unit.name}" if its_unit.name else (
                f"write `to {own.name}` behind `from {self.written.kind}`"
            )  # fmt: skip
            if missing:
                suggestion = f"write its unit, such as `{written.place.text} {its_unit.name}`"
            self.report(
                "unit-missing" if missing else "wrong-dimension",
                f"`{written.place.text}` is {own.dimension.words}; the values of"
                f" `{self.written.name}` are {_in_unit(its_unit)}",
                written.place, expected=its_unit.dimension.words, suggestion=suggestion,
            )  # fmt: skip
            return None
        if nature_of(own, literal=True) != nature_of(its_unit, literal=True):
            self.report(
                "point-and-difference",
                f"`{written.place.text}` stands among values in {its_unit.name}, whose zero is"
                " another",
                written.place, suggestion=f"write the value in {its_unit.name}",
            )  # fmt: skip
            return None
        return value

    def all_there(self, choices: model.Choosing) -> None:
        """Reports choices that have no row."""
        there = {row.choice.text for row in self.written.rows}
        missing = [word for word in choices.words if word not in there]
        if not missing or self.broken or self.written.damaged:
            return
        self.broken = True
        listed = ", ".join(f"`{quoted(word)}`" for word in missing[:12])
        self.report(
            "row-missing",
            f"`{self.written.name}` has no row for {listed}" + (" …" if missing[12:] else ""),
            self.written.name_place, expected=f"a row for each choice of `{self.written.kind}`",
            suggestion=f"write `row {quoted(missing[0])} is …`, or `is none` where the source has"
            " no value",
        )  # fmt: skip


def _in_unit(its_unit: Unit) -> str:
    return f"{its_unit.dimension.words}, in {its_unit.name}" if its_unit.name else "numbers"
