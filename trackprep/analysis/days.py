"""Where a test may change its answer as one date moves: its boundary days.

Between two neighbouring boundaries a test has one answer for every day; of a week it has
that answer where all its days do, else none.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor

from trackprep.analysis.thresholds import NotExactError
from trackprep.backends.readings import possible
from trackprep.backends.terms import Values, day_span, numbers
from trackprep.dates import Grain, Span, age_boundary
from trackprep.dates.spans import FIRST_YEAR, LAST_YEAR
from trackprep.explanations.mentions import terms_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    AgeTest,
    Between,
    CompletedYears,
    Constant,
    DayOf,
    DayTest,
    EventDay,
    FixedDay,
    NumberTest,
    Order,
    Term,
    Test,
)
from trackprep.truth import Truth

FIRST_DAY = date(FIRST_YEAR, 1, 1).toordinal()
LAST_DAY = date(LAST_YEAR, 12, 31).toordinal()


@frozen
class DayPattern:
    """The answers of a test as one date moves: `truths[n]` from `boundaries[n - 1]` on."""

    boundaries: tuple[int, ...]
    truths: tuple[Truth, ...]

    def on(self, day: int) -> Truth:
        """The answer for one day."""
        return self.truths[bisect_right(self.boundaries, day)]

    def over(self, first: int, last: int) -> Truth:
        """The answer for all days from the first to the last; None where they differ."""
        low, high = bisect_right(self.boundaries, first), bisect_right(self.boundaries, last)
        truth = self.truths[low]
        same = all(self.truths[place] is truth for place in range(low, high + 1))
        return truth if same else None


def day_pattern(test: Test | Between, path: str, values: Values, event: date) -> DayPattern:
    """How a test answers as the date at `path` moves, all other facts as in `values`.

    Raises:
        NotExactError: Its boundaries cannot be told.
    """
    simple = _simple(test, event)
    if simple is not None:
        return simple

    def answer(day: int) -> Truth:
        moved = {**values, path: Span.of_day(date.fromordinal(day))}
        truths = possible(test, moved, event)
        return next(iter(truths)) if len(truths) == 1 else None

    boundaries: list[int] = []
    truths = [answer(FIRST_DAY)]
    for boundary in sorted(
        {day for probe in _probes(test) for day in _changes(probe, path, values, event)}
    ):
        truth = answer(boundary)
        if truth is not truths[-1]:
            boundaries.append(boundary)
            truths.append(truth)
    return DayPattern(tuple(boundaries), tuple(truths))


def _simple(test: Test | Between, event: date) -> DayPattern | None:
    """Of the plain tests of one declared date, told without trying days."""
    match test:
        case AgeTest(DayOf(), EventDay(False), comparison, months, days, grain):
            boundary, since = _edge(event, comparison, months or 0, days or 0, grain)
        case DayTest(DayOf(), ("at least" | "less than") as comparison, FixedDay(day)):
            boundary, since = day.toordinal(), comparison == "at least"
        case DayTest(DayOf(), ("more than" | "at most") as comparison, FixedDay(day)):
            boundary, since = day.toordinal() + 1, comparison == "more than"
        case _:
            return None
    return DayPattern((boundary,), (not since, since))


@lru_cache(maxsize=20_000)
def _edge(event: date, comparison: Order, months: int, days: int, grain: Grain) -> tuple[int, bool]:
    """The first day on one side of an age limit, and whether the test holds from it on."""
    edge = age_boundary(event, comparison, months=months, days=days, grain=grain)
    return edge.day.toordinal(), edge.since


def _probes(test: Test | Between) -> list[Test]:
    """Tests that change only where this one may, each in one direction."""
    match test:
        case Between(least, most):
            return [*_probes(least), *_probes(most)]
        case DayTest(left, "equal" | "not equal", right):
            return [DayTest(left, "at least", right), DayTest(left, "at most", right)]
        case _:
            return [test]


def _changes(probe: Test, path: str, values: Values, event: date) -> Iterator[int]:
    """The days on which a probe may change."""
    if isinstance(probe, NumberTest):
        for years in _years_in(probe.left, probe.right):
            yield from _birthdays(years, _counts(probe), path, values, event)
        return

    def truths(day: int) -> object:
        return possible(probe, {**values, path: Span.of_day(date.fromordinal(day))}, event)

    low, high = FIRST_DAY, LAST_DAY
    before = truths(low)
    if before == truths(high):
        return
    while high - low > 1:
        middle = (low + high) // 2
        if truths(middle) == before:
            low = middle
        else:
            high = middle
    yield high


def _years_in(*terms: Term) -> Iterator[CompletedYears]:
    for term in terms:
        for inner in terms_in(term):
            if isinstance(inner, CompletedYears):
                yield inner


def _counts(test: NumberTest) -> Iterable[int] | None:
    """The numbers of years at which a test of years alone may change; None of any other."""
    match test:
        case NumberTest(CompletedYears(), _, Constant(limit)):
            return (ceil(limit), floor(limit) + 1)
        case NumberTest(Constant(limit), _, CompletedYears()):
            return (ceil(limit), floor(limit) + 1)
        case _:
            return None


def _birthdays(
    years: CompletedYears, counts: Iterable[int] | None, path: str, values: Values, event: date
) -> Iterator[int]:
    """The days of a date on which the completed years from or to it change."""
    then = day_span(years.on, values, event)
    if years.of == DayOf(path) and then is not None and then.exact:
        if counts is None:
            counts = range(then.first.year - LAST_YEAR - 1, then.first.year - FIRST_YEAR + 2)
        for count in counts:
            edge = age_boundary(then.first, "at least", months=12 * count)
            yield edge.day.toordinal()
        return

    def reached(day: int) -> Fraction:
        worth = numbers(years, {**values, path: Span.of_day(date.fromordinal(day))}, event)
        if len(worth) != 1 or not isinstance(worth[0], Fraction):
            raise NotExactError
        return worth[0]

    # The years only grow, or only shrink, as the day moves on.
    stack = [(FIRST_DAY, LAST_DAY, reached(FIRST_DAY), reached(LAST_DAY))]
    while stack:
        low, high, at_low, at_high = stack.pop()
        if at_low == at_high:
            continue
        if high - low == 1:
            yield high
            continue
        middle = (low + high) // 2
        at_middle = reached(middle)
        stack += [(low, middle, at_low, at_middle), (middle, high, at_middle, at_high)]
