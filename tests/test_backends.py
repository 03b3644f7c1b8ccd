"""What rules answer: the reference by tables and by brute force, the fast back end by agreement."""

import ast
import operator
from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kleene import AND, NOT, OR, Truth
from models import (
    EVENTS,
    GRADES,
    SPANS,
    conditions,
    constants,
    day_terms,
    declarations,
    events,
    orders,
    ranges,
    rule,
    rules_of,
    rulesets,
    tests,
)

from trackprep.backends import checks, generated
from trackprep.backends.valueless import TooClose, Valueless, why_unknown
from trackprep.dates import Span, add, completed_years, span_of
from trackprep.enclosures import Enclosure
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount, Value
from trackprep.units import ONE, to_base, unit

EVENT = date(2026, 6, 14)
A, B, C = (c.FlagTest(path) for path in ("flag.a", "flag.b", "flag.inspector"))
MANY = settings(max_examples=600, deadline=None)
SAID: dict[Truth, list[str]] = {
    True: ["met", "not-met"],
    False: ["not-met", "met"],
    None: ["unsettled", "unsettled"],
}
"""What a rule that demands a condition answers, and one that demands its opposite."""
TRUTHS: tuple[Truth, ...] = (True, False, None)


def flags(**truths: Truth) -> dict[str, Value]:
    """Flags declared yes or no, or not at all."""
    return {f"flag.{name}": truth for name, truth in truths.items() if truth is not None}


def outcome(rules: Rules, values: dict[str, Value], event: date = EVENT) -> checks.Outcome:
    """What the first rule answers; the fast back end says the same."""
    known, _ = checks.prepared(rules, values, event)
    first, *_ = checks.outcomes(rules, known, event)
    assert fast(rules, values, event)[0] == first.status
    return first


def fast(rules: Rules, values: dict[str, Value], event: date = EVENT) -> list[str]:
    """The statuses that the fast back end gives."""
    program = generated.compiled(rules)
    return list(program.statuses(program.row(values), event))


def holds(condition: c.Condition, values: dict[str, Value], event: date = EVENT) -> Truth:
    """Whether a condition holds; the fast back end says the same."""
    truth = checks.holds(condition, values, event)
    rules = rules_of(rule((c.ALWAYS, condition)), rule((c.ALWAYS, c.Not(condition))))
    assert fast(rules, values, event) == SAID[truth]
    return truth


# ---- what a rule answers ----------------------------------------------------


@pytest.mark.parametrize(
    ("applies", "met", "status"),
    [  # the table of the language, "What a rule answers"
        (False, True, "not-asked"), (False, False, "not-asked"), (False, None, "not-asked"),
        (True, True, "met"), (None, True, "met"),
        (True, False, "not-met"),
        (True, None, "unsettled"),
        (None, False, "unsettled"), (None, None, "unsettled"),
    ],
)  # fmt: skip
def test_a_rule_answers_by_the_table(applies: Truth, met: Truth, status: str) -> None:
    assert outcome(rules_of(rule((A, B))), flags(a=applies, b=met)).status == status


@pytest.mark.parametrize(
    ("applies", "met", "declare"),
    [
        (True, None, ("flag.b",)),
        (None, False, ("flag.a",)),
        (None, None, ("flag.a", "flag.b")),
        (None, True, ()),
        (False, None, ()),
    ],
)
def test_an_unsettled_rule_asks_for_what_its_answer_hangs_on(
    applies: Truth, met: Truth, declare: tuple[str, ...]
) -> None:
    assert outcome(rules_of(rule((A, B))), flags(a=applies, b=met)).declare == declare


@pytest.mark.parametrize(
    ("statuses", "answer", "part"),
    [
        (("met", "not-met", "unsettled"), "not-met", "two"),
        (("not-asked", "met", "unsettled"), "unsettled", "three"),
        (("not-asked", "met", "met"), "met", "two"),
        (("not-asked", "not-asked", "not-asked"), "not-asked", "one"),
        (("not-met", "not-met", "met"), "not-met", "one"),
    ],
)
def test_of_several_parts_the_worst_answers(
    statuses: tuple[str, ...], answer: str, part: str
) -> None:
    asked: dict[str, tuple[c.Condition, c.Condition]] = {
        "met": (A, A), "not-met": (A, c.Not(A)), "unsettled": (A, B), "not-asked": (c.Not(A), A)
    }  # fmt: skip
    several = rule(*(asked[status] for status in statuses), parts=("one", "two", "three"))
    found = outcome(rules_of(several), flags(a=True))
    assert (found.status, found.part) == (answer, part)


def test_every_unsettled_part_asks() -> None:
    both = rule((c.ALWAYS, A), (c.ALWAYS, B), parts=("one", "two"))
    assert outcome(rules_of(both), {}).declare == ("flag.a", "flag.b")


@pytest.mark.parametrize(
    ("required", "verdict"),
    [
        (({"a": True}, {"b": True}), "ready"),
        (({"a": True}, {"b": False}), "not-ready"),
        (({"a": None}, {"b": False}), "not-ready"),
        (({"a": True}, {"b": None}), "incomplete"),
        (({"a": True}, {"b": True, "inspector": False}), "not-ready"),
    ],
)
def test_the_verdict_goes_by_the_required_rules(
    required: tuple[dict[str, Truth], ...], verdict: str
) -> None:
    truths = {name: truth for one in required for name, truth in one.items()}
    advice = rule((c.ALWAYS, c.Not(A)), level="recommended")
    # The inspector's flag is undeclared but in the last row: that alone holds nothing up.
    rules = rules_of(*(rule((c.ALWAYS, flag)) for flag in (A, B, C)), advice)
    found = checks.outcomes(rules, flags(**truths), EVENT)
    assert checks.verdict(rules, found) == verdict


def test_a_rule_that_waits_for_rider_and_inspector_is_incomplete() -> None:
    rules = rules_of(rule((c.ALWAYS, c.All((A, C)))))
    assert checks.verdict(rules, checks.outcomes(rules, {}, EVENT)) == "incomplete"


def test_a_rule_that_waits_for_the_inspector_and_a_finer_date_is_incomplete() -> None:
    age = c.AgeTest(c.DayOf("day.any"), c.EventDay(), "at most", 60, None)
    rules = rules_of(rule((c.ALWAYS, c.All((age, C)))))
    found = checks.outcomes(rules, {"day.any": span_of("2021")}, EVENT)
    assert (found[0].declare, found[0].narrow) == (("flag.inspector",), ("day.any",))
    assert checks.verdict(rules, found) == "incomplete"


# ---- connectives ------------------------------------------------------------


@pytest.mark.parametrize("one", TRUTHS)
@pytest.mark.parametrize("other", TRUTHS)
def test_connectives_follow_kleenes_tables(one: Truth, other: Truth) -> None:
    values = flags(a=one, b=other)
    assert holds(c.All((A, B)), values) is AND[one, other]
    assert holds(c.AnyOf((A, B)), values) is OR[one, other]
    assert holds(c.Not(A), values) is NOT[one]
    assert holds(c.Meaning("derived", A), values) is one


@pytest.mark.parametrize("count", range(5))
@pytest.mark.parametrize("truths", list(product(TRUTHS, repeat=3)))
def test_at_least_is_any_way_of_having_so_many(count: int, truths: tuple[Truth, ...]) -> None:
    ways = [c.All(way) for way in combinations((A, B, C), count)]
    values = flags(**dict(zip(("a", "b", "inspector"), truths, strict=True)))
    counted = holds(c.AtLeast(count, (A, B, C)), values)
    assert counted is holds(c.AnyOf(tuple(ways)), values)


@pytest.mark.parametrize(
    ("first", "second", "answer"),
    [  # the first row's test is `choice.a is first`, the second's and the last's `is not second`
        (True, None, {"first": True, "second": False, "third": False}),
        (False, True, {"first": True, "second": False, "third": True}),
        (False, False, {"first": True, "second": False, "third": True}),
        (None, True, {"first": True, "second": False, "third": None}),
        (False, None, {"first": True, "second": False, "third": True}),
        (None, None, {"first": True, "second": False, "third": None}),
    ],
)
def test_a_limit_by_rows_is_known_where_all_rows_in_play_agree(
    first: Truth, second: Truth, answer: dict[str, Truth]
) -> None:
    rows = (
        c.Case(A, c.ChoiceTest("choice.a", frozenset({"first"}))),
        c.Case(B, c.ChoiceTest("choice.a", frozenset({"second"}), negated=True)),
        c.Case(None, c.ChoiceTest("choice.a", frozenset({"second"}), negated=True)),
    )
    given_flags = flags(a=first, b=second)
    for choice, truth in answer.items():
        assert holds(c.ByRows("limit", rows), {**given_flags, "choice.a": choice}) is truth


def test_a_limit_by_rows_asks_for_its_unknown_conditions_then_for_its_tests() -> None:
    number = c.NumberOf("number.a")
    rows = tuple(
        c.Case(when, c.NumberTest(number, "at most", c.Constant(Fraction(most), ONE)))
        for when, most in ((A, 92), (B, 98), (None, 95))
    )
    rules = rules_of(rule((c.ALWAYS, c.ByRows("limit", rows))))
    assert outcome(rules, {}).declare == ("flag.a", "flag.b", "number.a")
    assert outcome(rules, flags(a=True)).declare == ("number.a",)
    assert outcome(rules, flags(a=False) | {"number.a": Amount(Fraction(97))}).declare == (
        "flag.b",
    )
    assert outcome(rules, {"number.a": Amount(Fraction(92))}).status == "met"


# ---- tests ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("how", "declared", "truth"),
    [
        ("any", {"first", "third"}, True), ("any", {"third"}, False), ("any", set(), False),
        ("all", {"first", "second", "third"}, True), ("all", {"first"}, False),
        ("none", {"third"}, True), ("none", set(), True), ("none", {"second"}, False),
        ("any", None, None), ("all", None, None), ("none", None, None),
    ],
)  # fmt: skip
def test_sets_include_any_all_or_none(how: str, declared: set[str] | None, truth: Truth) -> None:
    test = c.SetTest("set.a", how, frozenset({"first", "second"}))  # type: ignore[arg-type]
    assert holds(test, {} if declared is None else {"set.a": frozenset(declared)}) is truth


@given(orders, st.sampled_from(GRADES), st.sampled_from(GRADES))
def test_grades_compare_by_their_order(order: c.Order, one: str, other: str) -> None:
    ranks = {"low": 1, "middle": 2, "high": 3}
    expected = {
        "at least": ranks[one] >= ranks[other], "at most": ranks[one] <= ranks[other],
        "more than": ranks[one] > ranks[other], "less than": ranks[one] < ranks[other],
    }[order]  # fmt: skip
    with_word = c.GradeTest("grade.a", order, word=other, grades=GRADES)
    with_fact = c.GradeTest("grade.a", order, other="grade.b", grades=GRADES)
    assert holds(with_word, {"grade.a": one}) is expected
    assert holds(with_fact, {"grade.a": one, "grade.b": other}) is expected
    assert holds(with_fact, {"grade.a": one}) is None


@pytest.mark.parametrize(
    ("declared", "comparison", "limit", "truth"),
    [  # 1 in is 25.4 mm, 1 psi is 0.45359237 * 9.80665 / 0.0254^2 Pa (NIST SP 811, appendix B)
        (("1.2", "in"), "at most", ("30.48", "mm"), True),
        (("1.2", "in"), "less than", ("30.48", "mm"), False),
        (("3048", "mm"), "equal", ("10", "ft"), True),
        (("0.1", "cm"), "at least", ("1", "mm"), True),
        (("33.8", "°F"), "equal", ("1", "°C"), True),
        (("50", "%"), "equal", ("0.5", ""), True),
        (("0.3333333333333333", ""), "less than", ("1/3", ""), True),
    ],
)
def test_limits_in_other_units_are_met_exactly(
    declared: tuple[str, str], comparison: c.Comparison, limit: tuple[str, str], truth: bool
) -> None:
    value, bound = (
        to_base(Fraction(number), ONE if spelling == "" else unit(spelling) or ONE)
        for number, spelling in (declared, limit)
    )
    test = c.NumberTest(c.NumberOf("number.a"), comparison, c.Constant(bound, ONE))
    assert holds(test, {"number.a": Amount(value)}) is truth


def test_what_only_the_event_can_tell_may_stay_unknown() -> None:
    years = c.CompletedYears(c.DayOf("day.any"), c.EventDay())
    ratio = c.Arithmetic("/", c.NumberOf("number.a"), years)
    test = c.NumberTest(ratio, "at least", c.Constant(Fraction(1), ONE))
    values: dict[str, Value] = {
        "number.a": Amount(Fraction(2)),
        "day.any": Span.of_day(date(2024, 6, 15)),
    }
    assert holds(test, values, date(2025, 6, 14)) is None
    assert holds(test, values, date(2026, 6, 15)) is True
    assert holds(test, values, date(2028, 6, 14)) is False


def test_division_by_zero_is_unknown_and_asks_nothing() -> None:
    ratio = c.Arithmetic("/", c.NumberOf("number.a"), c.NumberOf("number.b"))
    test = c.NumberTest(ratio, "at least", c.Constant(Fraction(1), ONE))
    values: dict[str, Value] = {"number.a": Amount(Fraction(2)), "number.b": Amount(Fraction(0))}
    assert outcome(rules_of(rule((c.ALWAYS, test))), values) == checks.Outcome("unsettled")
    assert holds(test, values | {"number.b": Amount(Fraction(2))}) is True


# ---- formulas, tables, functions --------------------------------------------

X, Y = c.NumberOf("number.a"), c.NumberOf("number.b")
SPEED = c.ChoiceLookup(
    "speed", "choice.a", (("first", Fraction(150)), ("second", Fraction(180))), ONE
)
"""The third and the fourth choice have no row."""
LOAD = c.NumberLookup(
    "load", X, ((Fraction(58), Fraction(236)), (Fraction(60), Fraction(250))), ONE
)
"""Loads of two load indices (UNECE R75, annex 4), in kg."""


def constant(number: str) -> c.Constant:
    return c.Constant(Fraction(number), ONE)


def given_numbers(**written: str | None) -> dict[str, Value]:
    """`number.a` and `number.b`, or not declared."""
    there = {name: number for name, number in written.items() if number is not None}
    return {f"number.{name}": Amount(Fraction(number)) for name, number in there.items()}


def speed_of_test(rated: c.Term) -> c.ByCase:
    """The engine speed of the stationary sound test, by its two rows."""
    fast_turning = c.NumberTest(rated, "more than", constant("5000"))
    return c.ByCase(
        (
            c.TermCase(fast_turning, c.Arithmetic("/", rated, constant("2"))),
            c.TermCase(None, c.Arithmetic("*", rated, constant("3/4"))),
        )
    )


@pytest.mark.parametrize(
    ("term", "number", "comparison", "bound", "truth"),
    [
        # log10 2 = 0.30102 99956 63981…, sqrt 2 = 1.41421 35623 73095… (OEIS A007524, A002193)
        (c.Called("log10", X), "2", "at least", "0.301029995663981", True),
        (c.Called("log10", X), "2", "at least", "0.301029995663982", False),
        (c.Called("sqrt", X), "2", "equal", "1.414213562373095", False),
        (c.Called("sqrt", X), "2", "not equal", "1.414213562373095", True),
        (c.Called("sqrt", X), "9/4", "equal", "3/2", True),
        (c.Called("ten-to", X), "-2", "at most", "0.01", True),
        (c.Called("ten-to", X), "1/2", "at most", "3.16", False),
        (c.Called("log10", X), "0", "at least", "-1000", None),
        (c.Called("log10", X), "-1", "at least", "-1000", None),
        (c.Called("sqrt", X), "-1", "at least", "0", None),
        (c.Called("ten-to", X), "1001", "at least", "0", None),
        (c.Called("ten-to", X), "-1001", "at least", "0", None),
        (c.Called("log10", X), None, "at least", "0", None),
        # a root squared is not told from the number itself
        (c.Arithmetic("*", c.Called("sqrt", X), c.Called("sqrt", X)), "2", "at least", "2", None),
        (c.Arithmetic("*", c.Called("sqrt", X), c.Called("sqrt", X)), "2", "at most", "3", True),
        (c.Arithmetic("/", constant("1"), c.Arithmetic("-", c.Called("sqrt", X), c.Called(
            "sqrt", X))), "2", "at most", "3", None),
        (c.Rounded(c.Called("sqrt", X), constant("0.01")), "2", "equal", "1.41", True),
        (c.Rounded(X, constant("1"), down=True), "94.9", "equal", "94", True),
        (c.Rounded(X, constant("1")), "94.5", "equal", "95", True),
        (c.Rounded(X, constant("1")), "-94.5", "equal", "-95", True),
        (c.Extreme("minimum", (X, constant("3"))), "5", "equal", "3", True),
        (c.Extreme("maximum", (X, constant("3"))), "5", "equal", "5", True),
        (c.Extreme("maximum", (X, constant("3"))), None, "at least", "3", None),
        (c.Extreme("maximum", (c.Called("sqrt", X), constant("2"))), "3", "equal", "2", True),
        (LOAD, "58", "equal", "236", True),
        (LOAD, "60", "more than", "236", True),
        (LOAD, "59", "at least", "0", None),
        (LOAD, "58.5", "at least", "0", None),
        (c.FormulaNumber("half", (), c.Arithmetic("/", X, constant("2")), ONE), "3", "equal",
         "1.5", True),
    ],
)  # fmt: skip
def test_a_computed_number_is_compared_with_a_bound(
    term: c.Term, number: str | None, comparison: c.Comparison, bound: str, truth: Truth
) -> None:
    values = given_numbers(a=number)
    assert holds(c.NumberTest(term, comparison, constant(bound)), values) is truth
    mirrored = c.NumberTest(constant(bound), c.MIRRORED[comparison], term)
    assert holds(mirrored, values) is truth
    beside = c.NumberTest(term, comparison, Y)
    assert holds(beside, {**values, **given_numbers(b=bound)}) is truth
    assert holds(beside, values) is None


@pytest.mark.parametrize(
    ("choice", "least", "truth"),
    [
        ("first", "150", True), ("first", "151", False), ("second", "180", True),
        ("second", "181", False), ("third", "1", None), (None, "1", None),
    ],
)  # fmt: skip
def test_a_choice_is_looked_up(choice: str | None, least: str, truth: Truth) -> None:
    values: dict[str, Value] = {} if choice is None else {"choice.a": choice}
    assert holds(c.NumberTest(SPEED, "at least", constant(least)), values) is truth
    with_fact = c.NumberTest(SPEED, "at least", Y)
    assert holds(with_fact, {**values, **given_numbers(b=least)}) is truth


@pytest.mark.parametrize(
    ("rated", "bound", "truth"),
    [
        ("5000", "3750", True), ("5000", "3751", False), ("5001", "2500.5", True),
        ("5001", "2501", False), ("10000", "5000", True), (None, "1", None),
    ],
)  # fmt: skip
def test_the_first_row_that_holds_gives_the_value(
    rated: str | None, bound: str, truth: Truth
) -> None:
    values = given_numbers(a=rated)
    formula = c.FormulaNumber("test-speed", (("rated", X),), speed_of_test(X), ONE)
    assert holds(c.NumberTest(formula, "at least", constant(bound)), values) is truth


def test_where_the_row_is_unknown_all_that_may_be_it_count() -> None:
    which = c.NumberTest(X, "more than", constant("5"))
    rows = (c.TermCase(which, constant("10")), c.TermCase(None, Y))
    term = c.ByCase(rows)
    for other, truth in (("12", True), ("8", None), (None, None)):
        values = given_numbers(b=other)
        assert holds(c.NumberTest(term, "at least", constant("9")), values) is truth
    # Neither 10 nor 1 lies between 2 and 5.
    middle = c.Between(
        c.NumberTest(term, "at least", constant("2")), c.NumberTest(term, "at most", constant("5"))
    )
    assert holds(middle, given_numbers(b="1")) is False
    assert holds(middle, given_numbers(a="1", b="3")) is True


def test_rows_hang_on_the_day_that_their_values_hang_on() -> None:
    years = c.CompletedYears(c.DayOf("day.any"), c.FixedDay(date(2026, 6, 14)))
    young = c.NumberTest(years, "less than", constant("5"))
    # Five years old or more it is 5, else 5 less the years: never 0, whichever the day.
    term = c.ByCase(
        (
            c.TermCase(young, c.Arithmetic("-", constant("5"), years)),
            c.TermCase(None, constant("5")),
        )
    )
    values: dict[str, Value] = {"day.any": span_of("2021")}
    assert holds(c.NumberTest(term, "more than", constant("0")), values) is True
    assert holds(c.NumberTest(term, "at least", constant("5")), values) is None


def test_an_unsettled_formula_asks_for_the_facts_that_it_reads() -> None:
    formula = c.FormulaNumber("test-speed", (("rated", X),), speed_of_test(X), ONE)
    ratio = c.Arithmetic("/", formula, Y)
    rules = rules_of(rule((c.ALWAYS, c.NumberTest(ratio, "at least", c.NumberOf("number.a")))))
    assert outcome(rules, {}).declare == ("number.a", "number.b")
    assert outcome(rules, given_numbers(a="1")).declare == ("number.b",)
    looked_up = rules_of(rule((c.ALWAYS, c.NumberTest(SPEED, "at least", X))))
    assert outcome(looked_up, {}).declare == ("choice.a", "number.a")
    assert outcome(looked_up, {"choice.a": "third", **given_numbers(a="1")}).declare == ()


@pytest.mark.parametrize(
    ("term", "values", "why", "of"),
    [
        (c.Arithmetic("/", X, Y), given_numbers(a="1", b="0"), "division by zero", "0"),
        (c.Called("sqrt", X), given_numbers(a="-1"), "root below zero", "-1"),
        (c.Called("log10", X), given_numbers(a="0"), "logarithm not above zero", "0"),
        (c.Called("ten-to", X), given_numbers(a="2000"), "power out of range", "2000"),
        (LOAD, given_numbers(a="59"), "no row", "59"),
        (speed_of_test(LOAD), given_numbers(a="59"), "no row", "59"),
    ],
)
def test_what_has_no_value_says_why(
    term: c.Term, values: dict[str, Value], why: str, of: str
) -> None:
    test = c.NumberTest(c.DerivedNumber("derived", term, ONE), "at least", constant("1"))
    (reason,) = why_unknown(test, values, EVENT)
    assert isinstance(reason, Valueless)
    assert (reason.why, reason.of) == (why, Fraction(of))
    assert list(why_unknown(test, {}, EVENT)) == []


def test_a_choice_without_a_row_is_named() -> None:
    test = c.NumberTest(SPEED, "at least", constant("1"))
    reason = Valueless(SPEED, "no row", "third")
    assert list(why_unknown(test, {"choice.a": "third"}, EVENT)) == [reason]
    assert list(why_unknown(test, {"choice.a": "first"}, EVENT)) == []


def test_what_is_too_close_to_tell_is_told() -> None:
    square = c.Arithmetic("*", c.Called("sqrt", X), c.Called("sqrt", X))
    test = c.NumberTest(square, "at least", constant("2"))
    (reason,) = why_unknown(test, given_numbers(a="2"), EVENT)
    assert isinstance(reason, TooClose)
    assert reason.test == test
    assert isinstance(reason.left, Enclosure)
    assert reason.left.low < reason.right < reason.left.high
    # The same where a formula's row hangs on it.
    by_case = c.ByCase((c.TermCase(test, constant("1")), c.TermCase(None, constant("3"))))
    outer = c.NumberTest(by_case, "at least", constant("2"))
    assert holds(outer, given_numbers(a="2")) is None
    assert list(why_unknown(outer, given_numbers(a="2"), EVENT)) == [reason]
    assert list(why_unknown(outer, given_numbers(a="4"), EVENT)) == []


# ---- dates known to a span --------------------------------------------------

COMPARE = {
    "at least": lambda one, other: one >= other,
    "at most": lambda one, other: one <= other,
    "more than": lambda one, other: one > other,
    "less than": lambda one, other: one < other,
    "equal": lambda one, other: one == other,
    "not equal": lambda one, other: one != other,
}
short = st.sampled_from([span for span in SPANS if (span.last - span.first).days < 40])


def days_of(span: Span) -> list[date]:
    return [span.first + timedelta(days=n) for n in range((span.last - span.first).days + 1)]


def worth(term: c.DayTerm, chosen: dict[str, date]) -> date:
    match term:
        case c.DayOf(path):
            return chosen[path]
        case c.FixedDay(day):
            return day
        case c.EventDay(year_start):
            return date(EVENT.year, 1, 1) if year_start else EVENT
        case c.Shifted(day, months, days):
            return add(worth(day, chosen), months=months, days=days)


@pytest.mark.parametrize("comparison", sorted(COMPARE))
def test_a_test_between_two_spans_is_known_where_all_pairs_agree(
    comparison: c.Comparison,
) -> None:
    first = date(2021, 6, 13)
    spans = [
        Span(first + timedelta(days=start), first + timedelta(days=start + length))
        for start in range(4)
        for length in range(3)
    ]
    test = c.DayTest(c.DayOf("day.any"), comparison, c.DayOf("day.past"))
    for one, other in product(spans, spans):
        truths = {COMPARE[comparison](*pair) for pair in product(days_of(one), days_of(other))}
        expected = truths.pop() if len(truths) == 1 else None
        assert holds(test, {"day.any": one, "day.past": other}) is expected, (one, other)


@MANY
@given(day_terms, st.sampled_from(sorted(COMPARE)), day_terms, st.tuples(short, short, short))
def test_a_test_on_spans_is_known_where_all_days_agree(
    left: c.DayTerm, comparison: c.Comparison, right: c.DayTerm, spans: tuple[Span, ...]
) -> None:
    paths = ("day.any", "day.past", "day.week")
    declared = dict(zip(paths, spans, strict=True))
    named = sorted({path for path in paths if f"'{path}'" in repr((left, right))})
    try:
        truths = {
            COMPARE[comparison](worth(left, days), worth(right, days))
            for chosen in product(*(days_of(declared[path]) for path in named))
            for days in [dict(zip(named, chosen, strict=True))]
        }
    except OverflowError:  # no calendar has the day
        return
    expected = truths.pop() if len(truths) == 1 else None
    assert checks.holds(c.DayTest(left, comparison, right), declared, EVENT) is expected


@MANY
@given(st.sampled_from(SPANS), orders, constants, st.sampled_from("+-*"), constants)
def test_completed_years_of_a_span_are_those_of_its_days(
    born: Span, order: c.Order, limit: c.Constant, sign: str, by: c.Constant
) -> None:
    years = c.CompletedYears(c.DayOf("day.any"), c.EventDay())
    term = c.Arithmetic(sign, years, by)  # type: ignore[arg-type]
    count = {"+": operator.add, "-": operator.sub, "*": operator.mul}[sign]
    numbers = {Fraction(completed_years(day, EVENT)) for day in days_of(born)}
    for left, values in ((years, numbers), (term, {count(number, by.value) for number in numbers})):
        truths = {COMPARE[order](number, limit.value) for number in values}
        expected = truths.pop() if len(truths) == 1 else None
        assert holds(c.NumberTest(left, order, limit), {"day.any": born}) is expected


def aged(comparison: c.Order, months: int | None, days: int | None) -> c.AgeTest:
    """An age on 31 March 2026."""
    on = c.FixedDay(date(2026, 3, 31))
    return c.AgeTest(c.DayOf("day.any"), on, comparison, months, days)


@pytest.mark.parametrize(
    "never",
    [
        c.Between(
            c.DayTest(c.DayOf("day.any"), "at least", c.FixedDay(date(2026, 6, 15))),
            c.DayTest(c.DayOf("day.any"), "at most", c.FixedDay(date(2026, 6, 13))),
        ),
        # 28 February and a month is 28 March, 1 March and a month 1 April.
        c.Between(aged("at least", 1, None), aged("at most", 1, None)),
        c.Between(aged("at least", None, 30), aged("at most", None, 1)),
        c.NumberTest(
            c.CompletedYears(c.DayOf("day.any"), c.FixedDay(date(2031, 6, 14))),
            "equal",
            c.Constant(Fraction("4.5"), ONE),
        ),
    ],
)
def test_what_no_day_of_a_span_meets_is_false_whichever_day_is_meant(never: c.Condition) -> None:
    assert holds(never, {"day.any": span_of("2026")}) is False


def test_a_date_named_twice_is_one_day() -> None:
    made = c.DayOf("day.any")
    values: dict[str, Value] = {"day.any": span_of("2021")}
    assert holds(c.DayTest(made, "at most", made), values) is True
    assert holds(c.DayTest(c.Shifted(made, months=1), "more than", made), values) is True
    assert holds(c.AgeTest(made, c.Shifted(made, days=40), "at most", 1, None), values) is False


@pytest.mark.parametrize(
    ("made", "narrow"),
    [("2021", ("day.any",)), ("2021-06", ("day.any",)), ("2021-05", ()), ("2021-06-14", ())],
)
def test_an_unsettled_rule_names_the_dates_to_narrow(made: str, narrow: tuple[str, ...]) -> None:
    age = c.AgeTest(c.DayOf("day.any"), c.EventDay(), "at most", 60, None)
    assert outcome(rules_of(rule((c.ALWAYS, age))), {"day.any": span_of(made)}).narrow == narrow


def test_what_is_undeclared_is_asked_before_dates_are_narrowed() -> None:
    test = c.DayTest(c.DayOf("day.any"), "at least", c.DayOf("day.past"))
    found = outcome(rules_of(rule((c.ALWAYS, test))), {"day.any": span_of("2021")})
    assert (found.declare, found.narrow) == (("day.past",), ())


# ---- the event --------------------------------------------------------------


def test_the_event_settles_facts_and_cuts_the_days_after_it() -> None:
    rules = rules_of(here={"flag.a": True})
    values: dict[str, Value] = {
        "flag.a": False,
        "day.any": span_of("2026"),
        "day.past": span_of("2026"),
        "day.week": span_of("2026-07"),
    }
    known, future = checks.prepared(rules, values, EVENT)
    assert known == {
        "flag.a": True,
        "day.any": span_of("2026"),
        "day.past": Span(date(2026, 1, 1), EVENT),
    }
    assert future == ("day.week",)


def test_a_week_that_begins_before_the_event_is_old_enough_by_the_days_left() -> None:
    on_the_day = c.AgeTest(c.DayOf("day.week"), c.EventDay(), "at most", None, 0)
    rules = rules_of(rule((c.ALWAYS, on_the_day)))
    week = Span(date(2026, 6, 14), date(2026, 6, 20))
    assert outcome(rules, {"day.week": week}).status == "met"
    assert outcome(rules, {"day.week": week}, date(2026, 6, 13)).declare == ("day.week",)


# ---- the fast back end ------------------------------------------------------


@MANY
@given(st.one_of(tests, ranges()), declarations, events)
def test_every_test_answers_as_in_the_reference(
    test: c.Condition, values: dict[str, Value], event: date
) -> None:
    known, _ = checks.prepared(rules_of(), values, event)
    truth = checks.holds(test, known, event)
    rules = rules_of(rule((c.ALWAYS, test)), rule((c.ALWAYS, c.Not(test))))
    assert fast(rules, values, event) == SAID[truth]


@MANY
@given(rulesets(), declarations, st.lists(events, min_size=1, max_size=3))
def test_the_fast_back_end_agrees_with_the_reference(
    rules: Rules, values: dict[str, Value], days: list[date]
) -> None:
    program = generated.compiled(rules)
    row = program.row(values)
    for event in days:
        known, _ = checks.prepared(rules, values, event)
        expected = [one.status for one in checks.outcomes(rules, known, event)]
        assert list(program.statuses(row, event)) == expected


@given(st.lists(conditions, min_size=1, max_size=3), declarations)
def test_hundreds_of_rules_answer_as_each_alone(
    some: list[c.Condition], values: dict[str, Value]
) -> None:
    few = rules_of(*(rule((c.ALWAYS, condition)) for condition in some))
    many = rules_of(*(few.rules * 250))
    assert fast(many, values) == fast(few, values) * 250


def test_a_row_is_checked_on_any_number_of_event_days() -> None:
    rules = rules_of(
        rule((c.ALWAYS, c.AgeTest(c.DayOf("day.any"), c.EventDay(), "at most", 60, None)))
    )
    program = generated.compiled(rules)
    row = program.row({"day.any": span_of("2021-06-14")})
    days = [EVENTS[0] + timedelta(days=n) for n in range(-100, 100)]
    answers = [program.statuses(row, day) for day in days * 2]
    assert answers == ([("met",)] * 101 + [("not-met",)] * 99) * 2


@pytest.mark.parametrize("number", ["0", "1", "2", "1e400", "1e500"])
def test_numbers_past_any_float_keep_their_order(number: str) -> None:
    of = c.NumberOf("number.a")
    bounds = [Fraction(bound) for bound in ("1", "1e400")]
    rules = rules_of(
        *(
            rule((c.ALWAYS, c.NumberTest(of, "at least", c.Constant(bound, ONE))))
            for bound in bounds
        )
    )
    expected = ["met" if Fraction(number) >= bound else "not-met" for bound in bounds]
    assert fast(rules, {"number.a": Amount(Fraction(number))}) == expected


def test_no_text_of_a_rule_file_becomes_code(monkeypatch: pytest.MonkeyPatch) -> None:
    hostile = '"); __import__("os").system("true") #'
    sources: list[object] = []
    real = compile

    def watched(source: object, *rest: object, **named: object) -> object:
        sources.append(source)
        return real(source, *rest, **named)  # type: ignore[call-overload]

    monkeypatch.setattr("builtins.compile", watched)
    kind = model.Choosing("one of", (model.Choice(hostile), model.Choice("plain")))
    facts = {hostile: model.Fact(hostile, hostile, kind)}
    test = c.ChoiceTest(hostile, frozenset({hostile}))
    rules = model.Rules(hostile, hostile, facts=facts, rules=(rule((c.ALWAYS, test)),))
    assert fast(rules, {hostile: hostile}) == ["met"]
    assert fast(rules, {hostile: "plain"}) == ["not-met"]
    trees = [source for source in sources if isinstance(source, ast.AST)]
    assert trees, "the functions are compiled from trees"
    assert not any("__import__" in ast.dump(tree) for tree in trees)
