"""What in a test the day of the event has a part in, and whether that goes one way."""

from collections.abc import Iterator, Mapping
from typing import TypeAlias

from trackprep.backends.terms import named
from trackprep.dates import Span
from trackprep.explanations.mentions import terms_in
from trackprep.rules.conditions import (
    AgeTest,
    Between,
    CompletedYears,
    Constant,
    DayOf,
    DayTerm,
    DayTest,
    EventDay,
    NumberTest,
    Shifted,
    Test,
)
from trackprep.rules.values import Value

Watched: TypeAlias = Test | CompletedYears
"""What goes one way as the event moves."""


def watched_in(test: Test | Between) -> Iterator[Watched]:
    """What in a test the day of the event has a part in."""
    match test:
        case Between(least, most):
            yield from watched_in(least)
            yield from watched_in(most)
        case DayTest(left, "equal" | "not equal", right):
            yield from watched_in(DayTest(left, "at least", right))
            yield from watched_in(DayTest(left, "at most", right))
        case DayTest(one, _, other) | AgeTest(one, other):
            if _is_event(one) or _is_event(other):
                yield test
        case NumberTest(CompletedYears(one, other), comparison, Constant()) if comparison not in (
            "equal",
            "not equal",
        ):
            if _is_event(one) or _is_event(other):
                yield test
        case NumberTest(left, _, right):
            for side in (left, right):
                for term in terms_in(side):
                    if isinstance(term, CompletedYears) and (
                        _is_event(term.of) or _is_event(term.on)
                    ):
                        yield term
        case _:
            return


def goes_one_way(watched: Watched) -> bool:
    """Whether the event stands on one side alone."""
    match watched:
        case (
            DayTest(one, _, other)
            | AgeTest(one, other)
            | CompletedYears(one, other)
            | NumberTest(CompletedYears(one, other))
        ):
            return not (_is_event(one) and _is_event(other))
        case _:
            return False


def _is_event(day: DayTerm) -> bool:
    while isinstance(day, Shifted):
        day = day.day
    return isinstance(day, EventDay)


def takes_days_one_by_one(test: Test | Between, values: Mapping[str, Value]) -> bool:
    """Whether more than what is watched hangs on which day a date is, known to no day."""
    names = list(named(test))
    coarse = {
        path for path in names if isinstance(span := values.get(path), Span) and not span.exact
    }
    match test:
        case DayTest(left, "equal" | "not equal", right):
            # Months on from the days of a month there may be days missing, as 29 to 31 March.
            return bool(coarse) and any(
                isinstance(side, Shifted) and not _is_event(side) for side in (left, right)
            )
        case Between(AgeTest(DayOf(), EventDay()) as least, AgeTest() as most) if (
            (least.of, least.on, least.grain) == (most.of, most.on, most.grain)
            and (least.comparison, most.comparison) == ("at least", "at most")
            and _shorter(least, most)
        ):
            return False  # the event days that do for each day of the date leave no gap
        case Between() | NumberTest() if _counts_one_thing(test, coarse):
            return False  # every number of years between the least and the most is there
        case _:
            return any(names.count(path) > 1 for path in coarse)


def _shorter(least: AgeTest, most: AgeTest) -> bool:
    if least.months is not None and most.months is not None:
        return least.months < most.months
    return (least.days or 0) < (most.days or 0)


def _counts_one_thing(test: Test | Between, coarse: set[str]) -> bool:
    """Whether the coarse dates have a part in a test of numbers by one count of years alone."""
    match test:
        case Between(least, most):
            sides = [side for end in (least, most) if isinstance(end, NumberTest)
                     for side in (end.left, end.right)]  # fmt: skip
        case NumberTest(left, _, right):
            sides = [left, right]
        case _:
            return False
    counts = {
        term for side in sides for term in terms_in(side)
        if isinstance(term, CompletedYears) and not coarse.isdisjoint(named(term))
    }  # fmt: skip
    return len(counts) == 1 and all(len(list(named(count))) == 1 for count in counts)
