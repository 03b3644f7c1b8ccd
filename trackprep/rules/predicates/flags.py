"""Tests of a yes or no."""

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.predicates.forms import Forms
from trackprep.syntax import tree


class Flags:
    """Makes tests of a yes or no."""

    def __init__(self, forms: Forms) -> None:
        self.forms = forms

    def test(
        self, subject: typed.Flag, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        if isinstance(predicate, tree.Is):
            value = predicate.value
            if (
                isinstance(value, tree.Word)
                and not value.quoted
                and self.forms.scope.limit(value.text)
            ):
                made = self.forms.expressions.value(value)
                value = tree.Flag(made.value) if isinstance(made, typed.YesOrNo) else value
            if isinstance(value, tree.Flag):
                return flag_is(subject.condition, value.value != predicate.negated)
        return self.forms.wrong(subject, written, predicate, "write `is yes` or `is no`")


def flag_is(condition: c.Condition, value: bool) -> c.Condition:
    """That a flag is yes, or no."""
    if isinstance(condition, c.FlagTest):
        return c.FlagTest(condition.path, value)
    return condition if value else c.Not(condition)
