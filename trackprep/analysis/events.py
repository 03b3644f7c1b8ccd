"""Which event days are one question: those on which the regions of every fact are alike.

An age is counted to the event, so that its boundary moves with it. What a question hangs on
is only the order in which the boundaries of a fact lie, and whether there is a day, or a
week, between them.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from itertools import product
from typing import TypeAlias

from trackprep.analysis.days import FIRST_DAY, LAST_DAY, DayPattern, day_pattern
from trackprep.analysis.leaves import LeafOf, answer
from trackprep.analysis.regions import choices, sundays
from trackprep.analysis.thresholds import NotExactError
from trackprep.backends.terms import numbers
from trackprep.dates import Span
from trackprep.explanations.mentions import terms_in
from trackprep.rules.conditions import (
    AgeTest,
    Between,
    CompletedYears,
    DayOf,
    DayTerm,
    DayTest,
    EventDay,
    NumberTest,
    Shifted,
    Test,
)
from trackprep.rules.model import Dated, Fact, Rules
from trackprep.rules.values import Value


def steady(
    rulesets: Iterable[Rules], facts: Mapping[str, Fact], first: date, last: date
) -> list["EventDays"]:
    """The days from the first to the last, cut where what the events settle changes.

    A past date of the venue's own settles nothing before it has come.
    """
    cuts: set[date] = set()
    for rules in rulesets:
        for path, value in rules.here.items():
            kind = rules.facts[path].type
            if isinstance(value, Span) and isinstance(kind, Dated) and kind.past:
                days = (value.last - value.first).days + 1
                cuts |= {value.first + timedelta(days=n) for n in range(days)}
    starts = [first, *sorted(cut for cut in cuts if first < cut <= last)]
    ends = [*(start - timedelta(days=1) for start in starts[1:]), last]
    return [EventDays(facts, *ends) for ends in zip(starts, ends, strict=True)]


def questions(
    facts: Mapping[str, Fact], leaves: Iterable[LeafOf], first: date, last: date
) -> dict[date, tuple[date, ...]]:
    """The event days from the first to the last, gathered under one that stands for them."""
    return EventDays(facts, first, last).questions(leaves)


Trace: TypeAlias = tuple[tuple[DayPattern, ...], ...]
"""For each event day, how a test answers as its date moves, for each choice beside it."""
Column: TypeAlias = tuple[object, ...]
"""For each event day, something that must be alike for two days to be one question."""


class EventDays:
    """The event days of a period, and which of them are alike for some tests."""

    def __init__(self, facts: Mapping[str, Fact], first: date, last: date) -> None:
        self.facts, self.first = facts, first
        self.days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
        self._moving: dict[LeafOf, bool] = {}
        self._traces: dict[object, Trace] = {}
        self._columns: dict[object, Column] = {}
        self._by_ranks: dict[object, object] = {}

    def questions(self, leaves: Iterable[LeafOf]) -> dict[date, tuple[date, ...]]:
        """The days gathered under one that stands for them: on all, the tests answer alike."""
        moving = [leaf for leaf in dict.fromkeys(leaves) if self._moves(leaf)]
        if not moving:
            return {self.first: tuple(self.days)}
        found: dict[object, list[date]] = {}
        for event, key in zip(self.days, self._keys(moving), strict=True):
            found.setdefault(key, []).append(event)
        return {days[0]: tuple(days) for days in found.values()}

    def moves(self, leaves: Iterable[LeafOf]) -> bool:
        """Whether the day of the event has a part in some of the tests."""
        return any(map(self._moves, leaves))

    def _moves(self, leaf: LeafOf) -> bool:
        """Whether the day of the event has a part in the test, or in what its fact can be."""
        if leaf not in self._moving:
            self._moving[leaf] = bool(self._dates(leaf)) or _names_event(leaf.test)
        return self._moving[leaf]

    def _dates(self, leaf: LeafOf) -> list[str]:
        """The dates that a declaration decides the test by."""
        return [path for path in leaf.open if isinstance(self.facts[path].type, Dated)]

    def _keys(self, moving: list[LeafOf]) -> Iterable[object]:
        """What the answers can be on each event day."""
        # What hangs on how two dates lie to each other is asked anew each day, unless all
        # of it is a matter of days between them, and so alike on all.
        if any(len(self._dates(leaf)) > 1 for leaf in moving) and not all(
            map(_only_days_between, moving)
        ):
            return self.days
        columns: list[Column] = []
        traces: dict[str, list[Trace]] = {}
        for leaf in moving:
            match self._dates(leaf):
                case []:
                    columns.append(self._settled(leaf))
                case [path]:
                    traces.setdefault(path, []).append(self._trace(leaf, path))
        columns += [self._answers(path, found) for path, found in traces.items()]
        different = {id(column): column for column in columns}
        return zip(*different.values(), strict=True) if different else [()] * len(self.days)

    def _settled(self, leaf: LeafOf) -> Column:
        """All that the event has to say in a test whose facts are no dates."""
        if leaf not in self._columns:
            said = _years_reached if leaf.open else _answered
            self._columns[leaf] = tuple(said(leaf, event) for event in self.days)
        return self._columns[leaf]

    def _trace(self, leaf: LeafOf, path: str) -> Trace:
        key: object = leaf
        match leaf.test:
            case AgeTest(DayOf(), EventDay(False), comparison, months, days, grain):
                key = (comparison, months, days, grain)  # the same for every date
        if key not in self._traces:
            found = self.days if _names_event(leaf.test) else self.days[:1]
            trace = tuple(tuple(_patterns(leaf, path, self.facts, event)) for event in found)
            self._traces[key] = trace * (len(self.days) // len(trace))
        return self._traces[key]

    def _answers(self, path: str, traces: list[Trace]) -> Column:
        """The answers of all tests of a date in each of its regions, each once."""
        kind = self.facts[path].type
        assert isinstance(kind, Dated)
        key = (kind, tuple(map(id, traces)))
        if key not in self._columns:
            self._columns[key] = tuple(
                self._on_day(kind, [pattern for patterns in on_day for pattern in patterns], event)
                for event, *on_day in zip(self.days, *traces, strict=True)
            )
        return self._columns[key]

    def _on_day(self, kind: Dated, patterns: list[DayPattern], event: date) -> object:
        cuts = sorted({cut for pattern in patterns for cut in pattern.boundaries})
        if kind.how == "week code":
            end = event.toordinal()
            return frozenset(
                tuple(pattern.over(sunday, min(sunday + 6, end)) for pattern in patterns)
                for sunday in sundays(cuts, end)
            )
        end = min(LAST_DAY, event.toordinal()) if kind.past else LAST_DAY
        inside = [cut for cut in cuts if FIRST_DAY < cut <= end]
        # Where the boundaries come in the same order, the days between answer the same.
        rank = {cut: -1 if cut <= FIRST_DAY else len(inside) for cut in cuts}
        rank |= {cut: place for place, cut in enumerate(inside)}
        ranked = ((p.truths, tuple(rank[cut] for cut in p.boundaries)) for p in patterns)
        key = (len(inside), *ranked)
        if key not in self._by_ranks:
            self._by_ranks[key] = frozenset(
                tuple(pattern.on(day) for pattern in patterns) for day in (FIRST_DAY, *inside)
            )
        return self._by_ranks[key]


def _names_event(test: Test | Between) -> bool:
    match test:
        case Between(least, most):
            return _names_event(least) or _names_event(most)
        case AgeTest(of, on):
            return _is_event(of) or _is_event(on)
        case DayTest(left, _, right):
            return _is_event(left) or _is_event(right)
        case NumberTest():
            return any(_is_event(years.of) or _is_event(years.on) for years in _years(test))
        case _:
            return False


def _years(test: Test | Between) -> Iterator[CompletedYears]:
    match test:
        case Between(least, most):
            yield from _years(least)
            yield from _years(most)
        case NumberTest(left, _, right):
            for side in (left, right):
                for term in terms_in(side):
                    if isinstance(term, CompletedYears):
                        yield term


def _is_event(day: DayTerm) -> bool:
    while isinstance(day, Shifted):
        day = day.day
    return isinstance(day, EventDay)


def _answered(leaf: LeafOf, event: date) -> object:
    return answer(leaf, {}, event)


def _years_reached(leaf: LeafOf, event: date) -> object:
    """All that the event day has to say in a test whose other facts are no dates."""
    return tuple(numbers(years, leaf.settled, event) for years in _years(leaf.test))


def _only_days_between(leaf: LeafOf) -> bool:
    """Whether a test stays as it is where the event and all declared dates move alike."""
    match leaf.test:
        case Between(least, most):
            ends = (LeafOf(end, leaf.here) for end in (least, most))
            return all(map(_only_days_between, ends))
        case DayTest(left, _, right):
            return _moves_along(left, leaf) and _moves_along(right, leaf)
        case AgeTest(of, on, _, None, _, "day"):
            return _moves_along(of, leaf) and _moves_along(on, leaf)
        case _:
            return False


def _moves_along(day: DayTerm, leaf: LeafOf) -> bool:
    match day:
        case Shifted(inner, 0, _):
            return _moves_along(inner, leaf)
        case DayOf(path):
            return path in leaf.open
        case EventDay(year_start):
            return not year_start
        case _:
            return False


def _patterns(
    leaf: LeafOf, path: str, facts: Mapping[str, Fact], event: date
) -> Iterator[DayPattern]:
    """How a test answers as its one date moves, for each choice of its other facts."""
    given = [other for other in leaf.open if other != path]
    for words in product(*(choices(facts[other]) for other in given)):
        values: dict[str, Value] = {**leaf.settled, **dict(zip(given, words, strict=True))}
        try:
            yield day_pattern(leaf.test, path, values, event)
        except NotExactError:
            return
