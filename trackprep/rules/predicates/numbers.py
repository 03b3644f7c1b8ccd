"""Tests of numbers and quantities: of one dimension, within the range of the fact."""

from trackprep.rules import conditions as c
from trackprep.rules import model, typed
from trackprep.rules.predicates.forms import TURNED, Forms, spoken
from trackprep.syntax import tree
from trackprep.units import NUMBER, show


class Numbers:
    """Makes tests of numbers and quantities."""

    def __init__(self, forms: Forms) -> None:
        self.forms = forms
        self.expressions, self.report = forms.expressions, forms.report

    def test(
        self, subject: typed.Number, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.Compare(comparison, bound):
                return self.against(subject, written, comparison, bound)
            case tree.Is(value, negated):
                equality: c.Comparison = "not equal" if negated else "equal"
                return self.against(subject, written, equality, value)
            case tree.Between(low, high):
                least = self.against(subject, written, "at least", low)
                most = self.against(subject, written, "at most", high)
                return self.forms.between(least, most, predicate)
            case tree.OnOr(side, bound):
                right = TURNED[side]
                return self.forms.wrong(
                    subject, written, predicate, f"write `is {right} {bound.place.text}`"
                )
            case _:
                return self.forms.wrong(subject, written, predicate)

    def against(
        self, subject: typed.Number, written: tree.Expression, comparison: c.Comparison,
        bound: tree.Expression,
    ) -> c.NumberTest | None:  # fmt: skip
        made = self.expressions.number(bound)
        if made is None or not self.comparable(subject, written, made, bound):
            return None
        self.in_range(subject, made, bound)
        return c.NumberTest(subject.term, comparison, made.term)

    def comparable(
        self, subject: typed.Number, written: tree.Expression, made: typed.Number,
        bound: tree.Expression,
    ) -> bool:  # fmt: skip
        name = spoken(written)
        if made.dimension != subject.dimension:
            self.report(
                "unit-missing" if made.dimension == NUMBER and made.constant else "wrong-dimension",
                f"`{name}` is {typed.in_words(subject)}; `{bound.place.text}` is"
                f" {typed.in_words(made)}",
                bound.place,
                expected=subject.dimension.words,
                suggestion=_other_unit(subject, made, bound),
            )
            return False
        natures = {subject.nature, made.nature}
        if natures == {"point", "difference"}:
            self.report(
                "point-and-difference",
                f"`{name}` is {typed.natured(subject)};"
                f" `{bound.place.text}` is {typed.natured(made)}",
                bound.place,
                suggestion="write a difference in `K`, such as `5 K`"
                if subject.dimension.words == "a temperature" else None,
            )  # fmt: skip
            return False
        return True

    def in_range(self, subject: typed.Number, made: typed.Number, bound: tree.Expression) -> None:
        """Reports a constant that no plausible value of the fact reaches."""
        fact = subject.fact
        if fact is None or not isinstance(made.term, c.Constant):
            return
        assert isinstance(fact.type, model.Measured)
        low, high, value = fact.type.low, fact.type.high, made.term.value
        if (low is None or value >= low) and (high is None or value <= high):
            return
        what = f"the limit `{made.term.limit}`" if made.term.limit else f"`{bound.place.text}`"
        shown = f", {show(value, made.unit)}," if made.term.limit else ""
        self.report(
            "outside-range", f"{what}{shown} lies outside the range of `{fact.path}`", bound.place,
            expected=f"a value {fact.type.range_in_words}",
            suggestion="mend the value, or the range of the fact",
        )  # fmt: skip


def _other_unit(subject: typed.Number, made: typed.Number, bound: tree.Expression) -> str | None:
    """What to write in place of a value of another dimension."""
    if made.dimension == NUMBER and made.constant and subject.unit.name:
        return f"write its unit, such as `{bound.place.text} {subject.unit.name}`"
    if subject.dimension.words == "a pressure" and made.dimension.words == "a mass":
        number = bound.number if isinstance(bound, tree.Quantity) else "2.2"
        return f"a gauge in kg reads kgf to the square centimetre: write `{number} kgf/cm^2`"
    if subject.unit.name:
        return f"write a value in {subject.unit.name}"
    return None
