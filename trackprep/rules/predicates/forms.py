"""The forms that a test may take: wrong ones reported, two ends made one `between`."""

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.expressions import Expressions
from trackprep.syntax import tree

TURNED: dict[str, tree.Comparison] = {"after": "at least", "before": "at most"}
"""`on or after` and `on or before` as comparisons."""

FORMS: dict[type[typed.Typed], str] = {
    typed.Chosen: "`is WORD`, `is not WORD`, `is one of …` or `is none of …`",
    typed.Several: "`includes any of …`, `includes all of …` or `includes none of …`",
    typed.Flag: "`is yes`, `is no`, or the path alone",
    typed.Day: "`is on or after DATE`, `is on or before DATE`, `is between …`, or `age of …`",
    typed.Age: "`is at least`, `at most`, `more than`, `less than` or `between`, with a duration",
    typed.Number: "`is at least`, `at most`, `more than`, `less than`, `between` or `is`,"
    " with a value",
    typed.Text: "no test: its words are only shown",
}
"""What may be asked, by the type of the subject."""


class Forms:
    """What the tests of every type share, in the scope of some expressions."""

    def __init__(self, expressions: Expressions) -> None:
        self.expressions = expressions
        self.scope = expressions.scope
        self.report = expressions.report

    def wrong(
        self, subject: typed.Typed, written: tree.Expression, predicate: tree.Predicate,
        suggestion: str | None = None,
    ) -> c.Condition | None:  # fmt: skip
        """Reports a predicate that the subject's type does not allow."""
        name = spoken(written)
        form = FORMS.get(type(subject), "a fact in front of the test")
        self.report(
            "wrong-test", f"`{name}` is {typed.in_words(subject)}, which this test does not ask",
            predicate.place, expected=form, suggestion=suggestion,
        )  # fmt: skip
        return None

    def between(
        self, least: c.Test | None, most: c.Test | None, predicate: tree.Predicate
    ) -> c.Condition | None:
        """Both tests as one, unless the ends stand the wrong way round."""
        if least is None or most is None:
            return None
        if _reversed(least, most):
            self.report(
                "reversed-range", "the first end lies above the second: nothing is between them",
                predicate.place, suggestion="put the smaller end first",
            )  # fmt: skip
            return None
        return c.Between(least, most)


def spoken(written: tree.Expression) -> str:
    """The subject of a test as it was written."""
    if isinstance(written, tree.Reference):
        return written.path
    return written.text if isinstance(written, tree.Word) else written.place.text


def _reversed(least: c.Test, most: c.Test) -> bool:
    """Whether two ends are known and the first lies above the second."""
    match least, most:
        case (
            c.NumberTest(right=c.Constant(value=low)),
            c.NumberTest(right=c.Constant(value=high)),
        ):
            return low > high
        case c.DayTest(right=c.FixedDay(first)), c.DayTest(right=c.FixedDay(last)):
            return first > last
        case c.AgeTest(months=int() as low_months), c.AgeTest(months=int() as high_months):
            return low_months > high_months
        case c.AgeTest(days=int() as low_days), c.AgeTest(days=int() as high_days):
            return low_days > high_days
        case c.GradeTest(word=str() as one, grades=grades), c.GradeTest(word=str() as other):
            return grades.index(one) > grades.index(other)
        case _:
            return False
