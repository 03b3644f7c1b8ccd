"""The sides of each test that the form tries: a question is asked just where one can matter."""

from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from form.asked import Case, Values, by_interview, by_page
from models import GRADES, rule, rules_of
from test_page_backend import DAYS

from trackprep.dates import span_of
from trackprep.rules import conditions as c
from trackprep.rules.values import Amount
from trackprep.units import ONE


def exactly(call: Any, demand: c.Condition, cases: list[Case]) -> None:
    several = [rules_of(rule((c.ALWAYS, demand)))]
    for case, found in zip(cases, by_page(call, several, cases), strict=True):
        assert found == by_interview(several, case), case


DAY, PAST, WEEK = c.DayOf("day.any"), c.DayOf("day.past"), c.DayOf("day.week")
A, B = c.NumberOf("number.a"), c.NumberOf("number.b")
FLAG, UNHEARD = c.FlagTest("flag.a", True), c.FlagTest("flag.b", True)
ELDER = c.AgeTest(PAST, c.EventDay(), "at least", 12, None, "day")
YOUNGER = c.AgeTest(PAST, c.EventDay(), "at most", 60, None, "day")
A_MONTH_OLD = c.Between(
    c.AgeTest(WEEK, c.EventDay(), "at least", None, 30, "day"),
    c.AgeTest(WEEK, c.EventDay(), "at most", None, 45, "day"),
)


def number(text: str) -> c.Constant:
    return c.Constant(Fraction(text), ONE)


def at_least(left: c.Term, right: c.Term) -> c.NumberTest:
    return c.NumberTest(left, "at least", right)


INSIDE = c.All((at_least(A, number("1")), c.Not(c.NumberTest(A, "equal", number("1"))),
                c.NumberTest(A, "less than", number("2"))))  # fmt: skip


@pytest.mark.parametrize(
    ("test", "values"),
    [
        (ELDER, {}),
        (c.Between(ELDER, YOUNGER), {}),
        (c.AgeTest(WEEK, c.EventDay(), "at most", 60, None, "day"), {}),
        (A_MONTH_OLD, {}),
        (c.DayTest(WEEK, "at least", c.FixedDay(date(1995, 1, 1))), {}),
        (INSIDE, {}),
        (c.NumberTest(c.CompletedYears(PAST, c.EventDay()), "at least", number("18")), {}),
        (c.DayTest(DAY, "at least", c.FixedDay(DAYS[0])), {}),
        (c.DayTest(DAY, "equal", c.EventDay()), {}),
        (c.DayTest(PAST, "less than", DAY), {"day.any": span_of("2021-06-14")}),
        (at_least(A, number("1/3")), {}),
        (c.NumberTest(A, "equal", number("2")), {}),
        (at_least(A, B), {"number.b": Amount(Fraction(2))}),
        (c.Between(at_least(A, number("1")), c.NumberTest(A, "at most", number("2"))), {}),
        (at_least(c.Rounded(A, number("1"), False), number("3")), {}),
        (at_least(c.Called("sqrt", A), number("3")), {}),
        (c.GradeTest("grade.a", "at least", None, "grade.b", grades=GRADES), {}),
        (c.SetTest("set.a", "all", frozenset({"first", "second"})), {}),
        (c.ChoiceTest("choice.a", frozenset({"first", "third"}), False), {}),
    ],
)
def test_a_fact_is_tried_on_each_side(call: Any, test: c.Condition, values: Values) -> None:
    """A question is asked just where one of the sides that a test can take settles a rule."""
    never = c.All((FLAG, c.Not(FLAG)))  # no answer makes it true
    for demand in (test, c.Not(test), c.AnyOf((never, test)), c.All((test, FLAG))):
        exactly(call, demand, [([values], frozenset(), day) for day in DAYS])
    # Beside a fact that stays unknown only one side of the test settles anything.
    for demand in (c.AnyOf((test, UNHEARD)), c.All((test, UNHEARD))):
        exactly(call, demand, [([values], frozenset({"flag.b"}), day) for day in DAYS])
