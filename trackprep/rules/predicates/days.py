"""Tests of days: on or after one, on or before one, between two."""

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.arithmetic import calendar_duration
from trackprep.rules.predicates.forms import FORMS, TURNED, Forms, spoken
from trackprep.syntax import tree


class Days:
    """Makes tests of days."""

    def __init__(self, forms: Forms) -> None:
        self.forms = forms
        self.expressions, self.report = forms.expressions, forms.report

    def test(
        self, subject: typed.Day, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        match predicate:
            case tree.OnOr(side, bound):
                return self.against(subject, TURNED[side], bound)
            case tree.Is(value, negated):
                return self.against(subject, "not equal" if negated else "equal", value)
            case tree.Between(low, high):
                least = self.against(subject, "at least", low)
                most = self.against(subject, "at most", high)
                return self.forms.between(least, most, predicate)
            case tree.Compare(comparison, bound):
                return self.compared(written, comparison, bound, predicate)
            case _:
                return self.forms.wrong(subject, written, predicate)

    def compared(
        self, written: tree.Expression, comparison: tree.Comparison, bound: tree.Expression,
        predicate: tree.Predicate,
    ) -> c.Condition | None:  # fmt: skip
        """`is at least` and the like of a date: the right form depends on what is meant."""
        name = spoken(written)
        made = self.expressions.value(bound)
        if made is None:
            return None
        if isinstance(made, typed.Number) and calendar_duration(made) is not None:
            suggestion = f"for its age, write `age of {name} is {comparison} {bound.place.text}`"
        else:
            side = "after" if comparison in ("at least", "more than") else "before"
            suggestion = f"write `is on or {side} {bound.place.text}`"
        self.report(
            "wrong-form", f"`is {comparison}` is not asked of a date", predicate.place,
            expected=FORMS[typed.Day], suggestion=suggestion,
        )  # fmt: skip
        return None

    def against(
        self, subject: typed.Day, comparison: c.Comparison, bound: tree.Expression
    ) -> c.DayTest | None:
        made = self.expressions.value(bound)
        if made is None:
            return None
        if not isinstance(made, typed.Day):
            self.report(
                "not-a-date", f"`{bound.place.text}` is {typed.in_words(made)}", bound.place,
                expected="a date, such as `2026-06-14`, a date fact, or `event.date`",
            )  # fmt: skip
            return None
        return c.DayTest(subject.term, comparison, made.term)
