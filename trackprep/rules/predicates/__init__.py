"""A subject and a predicate to a test: only what the subject's type allows."""

from trackprep.rules import conditions as c
from trackprep.rules import typed
from trackprep.rules.expressions import Expressions
from trackprep.rules.predicates.ages import Ages
from trackprep.rules.predicates.choices import Choices
from trackprep.rules.predicates.days import Days
from trackprep.rules.predicates.flags import Flags, flag_is
from trackprep.rules.predicates.forms import Forms
from trackprep.rules.predicates.numbers import Numbers
from trackprep.syntax import tree

__all__ = ["Predicates", "flag_is"]


class Predicates:
    """Makes tests in the scope of some expressions."""

    def __init__(self, expressions: Expressions) -> None:
        self.forms = Forms(expressions)

    def test(
        self, subject: typed.Typed, written: tree.Expression, predicate: tree.Predicate
    ) -> c.Condition | None:
        """The test, or None after a problem."""
        match subject:
            case typed.Chosen():
                return Choices(self.forms).of_one(subject, predicate)
            case typed.Several():
                return Choices(self.forms).of_several(subject, predicate)
            case typed.Flag():
                return Flags(self.forms).test(subject, written, predicate)
            case typed.Day():
                return Days(self.forms).test(subject, written, predicate)
            case typed.Age():
                return Ages(self.forms).test(subject, written, predicate)
            case typed.Number():
                return Numbers(self.forms).test(subject, written, predicate)
            case typed.Text() | typed.Word() | typed.YesOrNo():
                return self.forms.wrong(subject, written, predicate)
