"""Tests of calendar ages: compared with durations in whole days or whole months."""

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.arithmetic import calendar_duration
from trackprep.rules.predicates.forms import Forms
from trackprep.syntax import tree
from trackprep.units import NUMBER, show


class Ages:
    """Makes tests of calendar ages."""

    def __init__(self, forms: Forms) -> None:
        self.forms = forms
        self.expressions, self.report = forms.expressions, forms.report

    def test(
        self, subject: typed.Age, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.Compare(comparison, bound):
                return self.against(subject, comparison, bound)
            case tree.Between(low, high):
                least = self.against(subject, "at least", low)
                most = self.against(subject, "at most", high)
                if self.mixed(least, most, predicate):
                    return None
                return self.forms.between(least, most, predicate)
            case tree.Is():
                return self.forms.wrong(
                    subject, written, predicate, "write `is at most …` or `is at least …`"
                )
            case _:
                return self.forms.wrong(subject, written, predicate)

    def mixed(
        self, least: c.AgeTest | None, most: c.AgeTest | None, predicate: tree.Predicate
    ) -> bool:
        """Whether one end counts days and the other months, which is reported."""
        if least is None or most is None or (least.months is None) == (most.months is None):
            return False
        self.report(
            "mixed-durations", "days and weeks do not mix with months and years here",
            predicate.place, suggestion="write both ends in the same kind of unit",
        )  # fmt: skip
        return True

    def against(
        self, subject: typed.Age, comparison: tree.Comparison, bound: tree.Expression
    ) -> c.AgeTest | None:
        """The age compared with a duration."""
        value = self.expressions.value(bound)
        if value is not None and not isinstance(value, typed.Number):
            self.no_duration(value, bound, None)
            return None
        made = value
        duration = None if made is None else self.whole_duration(made, bound)
        if made is None or duration is None:
            return None
        if self.persons_age(subject, comparison, bound) or self.wrong_grain(subject, made, bound):
            return None
        assert isinstance(made.term, c.Constant)
        months, days = duration
        by_months = made.unit.calendar == "months"
        return c.AgeTest(
            subject.of,
            subject.on,
            comparison,
            months if by_months else None,
            None if by_months else days,
            subject.grain,
            shown=show(made.term.value, made.unit),
            limit=made.term.limit,
            derived=subject.derived,
        )

    def whole_duration(self, made: typed.Number, bound: tree.Expression) -> tuple[int, int] | None:
        """The whole months and days of a bound, or None after a problem."""
        if not made.constant or made.unit.calendar is None:
            suggestion = None
            if made.dimension == NUMBER and made.constant:
                suggestion = f"write `{bound.place.text} years`"
            self.no_duration(made, bound, suggestion)
            return None
        duration = calendar_duration(made)
        if duration is None:
            self.report(
                "not-whole", f"`{bound.place.text}` is no whole number of days or months",
                bound.place, expected="a whole number of days, weeks, months or years",
            )  # fmt: skip
        return duration

    def no_duration(
        self, made: typed.Typed, bound: tree.Expression, suggestion: str | None
    ) -> None:
        self.report(
            "not-a-duration",
            f"an age is compared with a duration; `{bound.place.text}` is {typed.in_words(made)}",
            bound.place,
            expected="a number of days, weeks, months or years",
            suggestion=suggestion,
        )

    def persons_age(
        self, subject: typed.Age, comparison: tree.Comparison, bound: tree.Expression
    ) -> bool:
        """`age of rider.born is at most 10 years` excludes who is ten already: hardly meant."""
        if subject.path.rpartition(".")[2] != "born" or comparison not in ("at most", "more than"):
            return False
        number = bound.number if isinstance(bound, tree.Quantity) else "N"
        self.report(
            "age-of-person",
            f"`age of {subject.path} is {comparison}` turns on the birthday itself",
            bound.place, expected="a person's age in completed years",
            suggestion=f"write `completed years of {subject.path} is {comparison} {number}`",
        )  # fmt: skip
        return True

    def wrong_grain(self, subject: typed.Age, made: typed.Number, bound: tree.Expression) -> bool:
        """`to the month` takes months or years, `to the year` years."""
        assert isinstance(made.term, c.Constant)
        months = made.unit.calendar == "months"
        whole_years = months and made.term.value % 12 == 0
        if subject.grain == "day" or (months and subject.grain == "month") or whole_years:
            return False
        wanted = "months or years" if subject.grain == "month" else "years"
        self.report(
            "wrong-grain", f"an age `to the {subject.grain}` is counted in {wanted}", bound.place,
            suggestion=f"write a number of {wanted}",
        )  # fmt: skip
        return True
