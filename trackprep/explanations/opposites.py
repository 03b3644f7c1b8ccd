"""The opposite of a condition, said about its tests: `not at least 2 mm` is `less than 2 mm`."""

from typing import assert_never

from attrs import evolve

from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    Case,
    ChoiceTest,
    Comparison,
    Condition,
    DayTest,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    NumberTest,
    Order,
    SetTest,
)

_ORDERS: dict[Order, Order] = {
    "at least": "less than",
    "less than": "at least",
    "at most": "more than",
    "more than": "at most",
}
_COMPARISONS: dict[Comparison, Comparison] = {
    "at least": "less than",
    "less than": "at least",
    "at most": "more than",
    "more than": "at most",
    "equal": "not equal",
    "not equal": "equal",
}


def opposite(condition: Condition) -> Condition:
    """What holds where `condition` does not, and is unknown where it is.

    `Not` stays only about what has no opposite of its own: a derived fact's
    meaning, and a set that includes all of some words.
    """
    match condition:
        case ChoiceTest():
            return evolve(condition, negated=not condition.negated)
        case GradeTest() | AgeTest():
            return evolve(condition, comparison=_ORDERS[condition.comparison])
        case NumberTest() | DayTest():
            return evolve(condition, comparison=_COMPARISONS[condition.comparison])
        case FlagTest():
            return evolve(condition, value=not condition.value)
        case SetTest(how="any"):
            return evolve(condition, how="none")
        case SetTest(how="none"):
            return evolve(condition, how="any")
        case SetTest() | Meaning():
            return Not(condition)
        case Not(inner):
            return without_not(inner)
        case ByRows():
            rows = tuple(Case(row.condition, opposite(row.test)) for row in condition.rows)
            return evolve(condition, rows=rows)
        case Between():
            return opposite(condition.ends)
        case All(parts):
            return AnyOf(tuple(map(opposite, parts)), form="or")
        case AnyOf(parts, form):
            return All(tuple(map(opposite, parts)), form="each" if form == "some" else "and")
        case AtLeast(count, parts):
            return AtLeast(len(parts) - count + 1, tuple(map(opposite, parts)))
        case _:
            assert_never(condition)


def without_not(condition: Condition) -> Condition:
    """The same condition with every `Not` carried down to the tests."""
    match condition:
        case Not(inner):
            return opposite(inner)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            return evolve(condition, parts=tuple(map(without_not, parts)))
        case ByRows():
            rows = tuple(Case(row.condition, without_not(row.test)) for row in condition.rows)
            return evolve(condition, rows=rows)
        case _:
            return condition
