"""Where a topic works: what it was given, the formulas and tables at hand, what it notes down."""

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from attrs import define, field

from trackprep.explanations.clauses import clause
from trackprep.explanations.wording import limit_label
from trackprep.measures.figures import both_ways
from trackprep.measures.inputs import Given, InputError
from trackprep.measures.measurement import Result
from trackprep.measures.working import Step, UnworkableError, looked_up, worked_out
from trackprep.rules.model import Formula, Limit, Rules, Table
from trackprep.rules.values import Amount, Value
from trackprep.units import ONE, show, show_apart


@define
class Bench:
    """What was read for a topic, and what the topic has said so far."""

    rules: Rules
    day: date
    inputs: Mapping[str, Given]
    given: list[tuple[str, str]] = field(factory=list)
    steps: list[Step] = field(factory=list)
    results: list[Result] = field(factory=list)
    says: list[str] = field(factory=list)
    cautions: list[str] = field(factory=list)
    sources: list[tuple[str, str]] = field(factory=list)

    # ---- what was given -----------------------------------------------------

    def amount(self, name: str) -> Amount:
        """The amount that was given under a name."""
        amount = self.inputs[name]
        assert isinstance(amount, Amount)
        return amount

    def word(self, name: str) -> str:
        """The choice or the text that was given under a name."""
        word = self.inputs[name]
        assert isinstance(word, str)
        return word

    def has(self, *names: str) -> bool:
        """Whether all of them were given."""
        return all(name in self.inputs for name in names)

    # ---- working ------------------------------------------------------------

    def table(self, name: str) -> Table:
        """The table of that name."""
        return self.rules.tables[name]

    def work(self, name: str, **arguments: Amount) -> Amount:
        """The result of a formula, its working noted down.

        Raises:
            InputError: It has no value for these.
        """
        given = {parameter.replace("_", "-"): amount for parameter, amount in arguments.items()}
        return self.work_with(self.rules.formulas[name], given)

    def work_with(self, formula: Formula, values: Mapping[str, Value]) -> Amount:
        """The same of any formula, for values under the names that it uses."""
        try:
            found, steps = worked_out(formula, values, self.rules)
        except UnworkableError as why:
            raise InputError(str(why), "check the figures that were given") from None
        for step in steps:
            self.note(step)
        return found

    def look_up(self, name: str, key: str | Amount) -> Amount | None:
        """What a table has for a choice or a whole number, noted down; None if nothing."""
        table = self.table(name)
        found, step = looked_up(table, key.value if isinstance(key, Amount) else key)
        if step is not None:
            self.note(step)
        else:
            self.cite(table)
        return found

    def note(self, step: Step) -> None:
        """A line of working, once, with what there is to know about its formula or table."""
        if step not in self.steps:
            self.steps.append(step)
        known = self.rules.formulas.get(step.name) or self.rules.tables.get(step.name)
        if known is not None:
            self.cite(known)
        elif step.source:
            self.source(step.name, step.source)

    def cite(self, known: Formula | Table) -> None:
        """The source and the cautions of a formula or a table."""
        for caution in known.cautions:
            self.caution(caution)
        if known.source:
            self.source(known.name, str(known.source))

    def caution(self, text: str) -> None:
        """What can hurt somebody, once, even where another caution has it among others."""
        if not any(text in said for said in self.cautions):
            self.cautions = [said for said in self.cautions if said not in text] + [text]

    def source(self, what: str, source: str) -> None:
        """Where something comes from, once."""
        if (what, source) not in self.sources:
            self.sources.append((what, source))

    # ---- answering ----------------------------------------------------------

    def answer(self, label: str, amount: Amount, *, rounded: bool = True) -> None:
        """A result in both families of units; `rounded` to what an instrument shows."""
        self.results.append(Result(label, amount, both_ways(amount, rounded=rounded)))

    def answer_in_its_unit(self, label: str, amount: Amount) -> None:
        """A result in its own unit alone, not rounded."""
        self.results.append(Result(label, amount, show(amount.value, amount.unit)))

    def say(self, sentence: str) -> None:
        """A sentence of the answer."""
        self.says.append(sentence)

    def limit(self, name: str) -> Amount | None:
        """The ruleset's limit of that name, if it has one that hangs on nothing else."""
        limit = self.rules.limits.get(name)
        if limit is None or len(limit.rows) != 1 or limit.rows[0].condition is not None:
            return None
        value = limit.rows[0].value
        return value if isinstance(value, Amount) else None

    def against(self, name: str, amount: Amount, *, at_least: bool = False) -> None:
        """How a figure stands to a limit of the ruleset, where that has one.

        Of a limit by rows, how it stands to each of them: the machine is not known here.
        """
        limit = self.rules.limits.get(name)
        if limit is None:
            return
        for row in limit.rows:
            if not isinstance(row.value, Amount):
                return
            where = ""
            if len(limit.rows) > 1:
                where = (
                    f" if {clause(row.condition, self.rules)}" if row.condition else " otherwise"
                )
            self._stands(name, where, amount, row.value, at_least)
        self.source_of_limit(name)

    def _stands(self, name: str, where: str, amount: Amount, bound: Amount, at_least: bool) -> None:
        """Says how a figure stands to one row of a limit."""
        one, other = show_apart(amount.value, bound.value, bound.unit)
        if amount.value == bound.value:
            stands = "exactly that"
        else:
            gap = Amount(abs(amount.value - bound.value), bound.unit)
            over = amount.value > bound.value
            stands = f"{both_ways(gap)} {'more' if over else 'less'}"
        kept = amount.value >= bound.value if at_least else amount.value <= bound.value
        verdict = "within it" if kept else "outside it"
        self.say(f"{self.limit_words(name)}, {other}{where}: {one} is {stands}, {verdict}.")

    def limit_words(self, name: str) -> str:
        """`Common practice, limit “Least tread”`."""
        return f"{self.rules.title}, limit {limit_label(name, self.rules)}"

    def source_of_limit(self, name: str) -> None:
        """Notes down where a limit comes from."""
        limit: Limit = self.rules.limits[name]
        if limit.source:
            self.source(f"limit {name}", str(limit.source))


def plain(number: int) -> Amount:
    """A whole number as an amount."""
    return Amount(Fraction(number), ONE)
