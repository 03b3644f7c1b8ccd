"""On which event days the answers to one declaration turn, with nothing of it changed.

The event has a part in an answer in two ways only: through the tests that name its day, and
through the days of past dates that lie after it. A test of one date against the event goes
one way as the event moves, so that equal answers on two days are the answers of all days
between; where a test is made of several of these, it stays as it is while they do.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from typing import TypeAlias

from attrs import define, field

from trackprep.analysis.event_tests import (
    Watched,
    goes_one_way,
    takes_days_one_by_one,
    watched_in,
)
from trackprep.backends.checks import Outcome, outcome, prepared
from trackprep.backends.connectives import tests_of
from trackprep.backends.readings import possible
from trackprep.backends.statuses import Status
from trackprep.backends.terms import named, numbers
from trackprep.dates import Span
from trackprep.dates.spans import LAST_YEAR
from trackprep.frozen import frozen
from trackprep.rules.conditions import Between, CompletedYears, Test
from trackprep.rules.model import Dated, Rule, Rules
from trackprep.rules.values import Value

LAST_DAY = date(LAST_YEAR, 12, 31)
"""The last day of an event that can be asked about."""
HORIZON = 7_305
"""Days that are looked ahead for a worse answer: twenty years, longer than a machine is kept."""
FIRST_LOOK = 400
"""Days looked ahead at first; most answers that turn do so within a season."""
BADNESS: Mapping[Status, int] = {"not-asked": 0, "met": 0, "unsettled": 1, "not-met": 2}
"""An answer gets worse when this grows."""


@frozen
class Turn:
    """A day from which on a rule answers so."""

    day: date
    outcome: Outcome


@define(eq=False)
class Turning:
    """One declaration before one ruleset, the day of the event left open.

    Attributes:
        declared: Path to value, as the rider wrote it.
    """

    rules: Rules
    declared: Mapping[str, Value]
    _known: dict[date, dict[str, Value]] = field(factory=dict, init=False, repr=False)

    def turns(self, rule: Rule, first: date, last: date) -> tuple[Turn, ...]:
        """What the rule answers on the first day, and each day up to the last on which it turns."""
        days = {first}
        for test in _tests(rule):
            days.update(self._turning_days(test, first, last))
        found: list[Turn] = []
        for day in sorted(days):
            answer = outcome(rule, self._values(day), day)
            if not found or answer != found[-1].outcome:
                found.append(Turn(day, answer))
        return tuple(found)

    def worse_from(self, rule: Rule, event: date) -> date | None:
        """The first day after the event on which the answer is worse than on the event.

        None where there is none within `HORIZON`; within `FIRST_LOOK` where every day has
        to be asked, as only odd rules need it.
        """
        if not self._may_turn(rule, event):
            return None
        start, length = event, FIRST_LOOK
        ahead = FIRST_LOOK if self._takes_each_day(rule) else HORIZON
        horizon = min(event + timedelta(days=ahead), LAST_DAY)
        bad = BADNESS[outcome(rule, self._values(event), event).status]
        while start < horizon and bad < max(BADNESS.values()):
            end = min(start + timedelta(days=length), horizon)
            for turn in self.turns(rule, start, end):
                if BADNESS[turn.outcome.status] > bad:
                    return turn.day
            start, length = end, 4 * length
        return None

    def _may_turn(self, rule: Rule, event: date) -> bool:
        """Whether the event has a part in what the rule answers after a day."""
        return any(
            any(watched_in(test)) or any(day > event for day in self._days_cut(test))
            for test in _tests(rule)
        )

    def _takes_each_day(self, rule: Rule) -> bool:
        return any(
            not all(map(goes_one_way, watched_in(test)))
            or (any(watched_in(test)) and takes_days_one_by_one(test, self.declared))
            for test in _tests(rule)
        )

    def _values(self, day: date) -> dict[str, Value]:
        """What is known on a day."""
        if day not in self._known:
            self._known[day] = prepared(self.rules, self.declared, day)[0]
        return self._known[day]

    # ---- the days of one test ----

    def _turning_days(self, test: Test | Between, first: date, last: date) -> Iterator[date]:
        """Days up to the last among which are all on which the test answers otherwise."""
        cuts = sorted(day for day in self._days_cut(test) if first < day <= last)
        yield from cuts
        watched = list(watched_in(test))
        if not watched:
            return
        starts = [first, *cuts]
        ends = [*(day - timedelta(days=1) for day in cuts), last]
        for start, end in zip(starts, ends, strict=True):
            if start < end:
                yield from self._between_cuts(test, watched, start, end)

    def _days_cut(self, test: Test | Between) -> Iterator[date]:
        """The days from which on more is known of a past date, as fewer of its days are to come."""
        laid = {**self.declared, **self.rules.here}
        for path in dict.fromkeys(named(test)):
            span, kind = laid.get(path), self.rules.facts[path].type
            if isinstance(span, Span) and isinstance(kind, Dated) and kind.past:
                yield from _each_day(span.first, span.last)

    def _between_cuts(
        self, test: Test | Between, watched: list[Watched], first: date, last: date
    ) -> Iterator[date]:
        """The same where what is known stays as it is."""
        values = self._values(first)
        if not all(map(goes_one_way, watched)):
            yield from _each_day(first, last)
            return
        readings = [_reading(one, values) for one in watched]
        days = sorted({day for reading in readings for day in _changes(reading, first, last)})
        yield from days
        if not takes_days_one_by_one(test, values):
            return
        # While something watched is open, which of its days count may change every day.
        for start, end in zip([first, *days], [*days, last + timedelta(days=1)], strict=True):
            if any(len(reading(start)) > 1 for reading in readings):
                yield from _each_day(start, end - timedelta(days=1))


def _tests(rule: Rule) -> Iterator[Test | Between]:
    for asked in rule.asked:
        yield from tests_of(asked.when)
        yield from tests_of(asked.demand)


Reading: TypeAlias = Callable[[date], frozenset[object]]


def _reading(watched: Watched, values: Mapping[str, Value]) -> Reading:
    """All that something watched may be, by the day of the event."""
    if isinstance(watched, CompletedYears):
        return lambda day: frozenset(numbers(watched, values, day))
    return lambda day: frozenset(possible(watched, values, day))


def _changes(reading: Reading, first: date, last: date) -> Iterator[date]:
    """The days after the first on which a reading that goes one way is not as the day before."""
    stack = [(first.toordinal(), last.toordinal(), reading(first), reading(last))]
    while stack:
        low, high, at_low, at_high = stack.pop()
        if at_low == at_high:
            continue
        if high - low == 1:
            yield date.fromordinal(high)
            continue
        middle = (low + high) // 2
        at_middle = reading(date.fromordinal(middle))
        stack += [(low, middle, at_low, at_middle), (middle, high, at_middle, at_high)]


def _each_day(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


@frozen
class Course:
    """What a rule answers over a stretch of event days."""

    rule: Rule
    turns: tuple[Turn, ...]

    def statuses(self, last: date) -> Iterator[tuple[Span, Status]]:
        """The stretches up to the last day on which the rule answers alike."""
        start = self.turns[0]
        for turn in self.turns[1:]:
            if turn.outcome.status != start.outcome.status:
                yield Span(start.day, turn.day - timedelta(days=1)), start.outcome.status
                start = turn
        yield Span(start.day, last), start.outcome.status

    def on(self, day: date) -> Outcome:
        """The answer on a day of the stretch."""
        place = bisect_right([turn.day for turn in self.turns], day)
        return self.turns[max(place, 1) - 1].outcome
