"""Where the answer of a test turns as one number, date, age or grade moves: its boundaries.

Each has two sides: the last value before the turn, and the first behind it. Between a
threshold and a gap these are the threshold itself and the value one sensible step past it.
"""

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction
from itertools import pairwise, product

from trackprep.analysis.days import day_pattern
from trackprep.analysis.domains import Leaf, LeafOf, answer
from trackprep.analysis.regions import Region, regions
from trackprep.analysis.representatives import Stretch
from trackprep.analysis.space import Space
from trackprep.analysis.thresholds import NotExactError, Surroundings, thresholds
from trackprep.backends.terms import Values
from trackprep.dates import Span
from trackprep.explanations.mentions import tests_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import Between, DayTest, GradeTest, NumberTest
from trackprep.rules.model import Choosing, Dated, Fact, Measured
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth
from trackprep.units import written

MOST_DIGITS = 7
"""Of a number that people would write in an example."""


@frozen
class Edge:
    """One side of a boundary.

    Attributes:
        value: What stands for it.
        region: The region of the fact that this lies in.
        truth: What the test answers there.
        upper: Whether it lies above the turn.
        turn: The threshold, where it is no part of this side.
    """

    value: Value
    region: int
    truth: Truth
    upper: bool
    turn: Fraction | None = None

    def at(self, value: Value | None) -> bool:
        """Whether a value lies as near to the turn as `value` does, or nearer."""
        match self.value, value:
            case Amount(own), Amount(number) if self.turn is not None:
                low, high = sorted((own, self.turn))
                return number != self.turn and low <= number <= high
            case Amount(own), Amount(number):
                return number == own
            case Span(first, last), Span(since, until):
                return since == first if self.upper else until == last
            case _:
                return value == self.value


@frozen(eq=False)
class Boundary:
    """A turn of one test, as the fact at `path` moves.

    Attributes:
        number: Which turn of the test it is, from the lowest.
        ways: Its lower and its upper side; several where other facts choose the threshold,
            none where they have a part in it: then `ways_beside` tells.
    """

    leaf: LeafOf
    path: str
    number: int
    ways: tuple[tuple[Edge, Edge], ...]

    @property
    def key(self) -> tuple[LeafOf, int]:
        """What it is known by on every event day."""
        return self.leaf, self.number


def boundaries(space: Space, leaf: LeafOf) -> Iterator[Boundary]:
    """The boundaries of a test on the day of the space, the lowest first."""
    path = _moving(space, leaf)
    if path is None:
        return
    if leaf in space.clauses.domains.free:
        yield from (Boundary(leaf, path, number, ()) for number in range(_most_turns(leaf.test)))
        return
    domain = space.clauses.domains.by_path[path]
    places = _places(domain.fact, domain.regions)
    found: dict[int, dict[tuple[Edge, Edge], None]] = {}
    for truths in _answers(space, leaf, path):
        for number, pair in enumerate(_turns(places, truths)):
            found.setdefault(number, {})[pair] = None
    for number, ways in found.items():
        yield Boundary(leaf, path, number, tuple(ways))


def ways_beside(
    boundary: Boundary, fact: Fact, values: Values, event: date
) -> tuple[tuple[Edge, Edge], ...]:
    """The sides of a boundary where the facts of the test but its own have these values."""
    leaf, path = boundary.leaf, boundary.path
    others = {other: value for other, value in values.items() if other != path}
    if not all(other in others for other in leaf.open if other != path):
        return ()
    given = {**leaf.settled, **others}
    try:
        if isinstance(fact.type, Dated):
            pattern = day_pattern(leaf.test, path, given, event)
            cuts = frozenset(map(Fraction, pattern.boundaries))
        else:
            tests = [test for test in tests_in(leaf.test) if isinstance(test, NumberTest)]
            around = Surroundings(
                {other: value for other, value in given.items() if other != path}, event
            )
            cuts = frozenset(cut for test in tests for cut in thresholds(test, around))
    except NotExactError:
        return ()
    its = list(regions(fact, cuts, event))
    truths = [answer(leaf, {**others, path: region.values[0]}, event) for region in its]
    turns = list(_turns(_places(fact, its), truths))
    return tuple(turns[boundary.number : boundary.number + 1])


def _turns(places: Sequence["_Place"], truths: Sequence[Truth]) -> Iterator[tuple[Edge, Edge]]:
    """Both sides of each place at which the answer turns."""
    known = [(place, truths[place.region]) for place in places]
    known = [(place, truth) for place, truth in known if truth is not None]
    for (lower, before), (upper, behind) in pairwise(known):
        if before is not behind:
            yield lower.below(before), upper.above(behind)


def _most_turns(test: Leaf) -> int:
    """How often the answer can turn as one of the numbers moves."""
    match test:
        case Between() | NumberTest(comparison="equal" | "not equal"):
            return 2
        case DayTest(comparison="equal" | "not equal"):
            return 2
        case _:
            return 1


def _moving(space: Space, leaf: LeafOf) -> str | None:
    """The fact with an order whose boundaries the test has; None where there is none."""
    if leaf in space.clauses.domains.constant:
        return None
    if isinstance(leaf.test, GradeTest):
        return leaf.open[0]
    ordered = [path for path in leaf.open if _is_ordered(space.facts[path])]
    return ordered[0] if ordered else None


def _is_ordered(fact: Fact) -> bool:
    return isinstance(fact.type, Measured | Dated)


def _answers(space: Space, leaf: LeafOf, path: str) -> Iterator[Sequence[Truth]]:
    """What the test answers in each region of the fact, for each choice of the others."""
    domains = space.clauses.domains
    if leaf not in domains.joint:
        if leaf in domains.by_path[path].answers:
            yield domains.by_path[path].answers[leaf]
        return
    table = domains.joint[leaf]
    options = [range(len(domains.by_path[other].regions)) for other in leaf.open]
    place = leaf.open.index(path)
    moving, options[place] = options[place], range(1)
    for chosen in product(*options):
        yield [table[*chosen[:place], region, *chosen[place + 1 :]] for region in moving]


@frozen
class _Place:
    """A stretch of values in one region: a threshold, a gap, a span of days, a grade."""

    region: int
    order: tuple[Fraction, bool]
    low: Value
    high: Value
    stretch: Stretch | None = None

    def below(self, truth: Truth) -> Edge:
        """It as the lower side of a turn."""
        turn = self.stretch.high if self.stretch and self.stretch.high_open else None
        return Edge(self.high, self.region, truth, False, turn)

    def above(self, truth: Truth) -> Edge:
        """It as the upper side of a turn."""
        turn = self.stretch.low if self.stretch and self.stretch.low_open else None
        return Edge(self.low, self.region, truth, True, turn)


def _places(fact: Fact, its: Sequence[Region]) -> list[_Place]:
    """The stretches of a fact's values, the lowest first; those that nobody can write left out."""
    found: list[_Place] = []
    for number, region in enumerate(its):
        match fact.type:
            case Measured() as kind:
                found += [p for s in region.stretches if (p := _of_numbers(number, s, kind))]
            case Dated() if region.stretches:
                found += [_of_days(number, stretch) for stretch in region.stretches]
            case _:
                found += [_single(number, value, fact) for value in region.values]
    return sorted(found, key=lambda place: place.order)


def _single(region: int, value: Value, fact: Fact) -> _Place:
    """A week, or a grade."""
    if isinstance(value, Span):
        order = value.first.toordinal()
    else:
        assert isinstance(fact.type, Choosing)
        assert isinstance(value, str)
        order = fact.type.words.index(value)
    return _Place(region, (Fraction(order), False), value, value)


def _of_numbers(region: int, stretch: Stretch, kind: Measured) -> _Place | None:
    shown = [number for number in stretch.shown if _is_writable(number, kind)]
    if not shown:
        return None
    low = stretch.low if stretch.low is not None else min(shown)
    # Of a gap the value below the next threshold comes first, that above the last one behind.
    high_value, low_value = Amount(shown[0], kind.unit), Amount(shown[-1], kind.unit)
    return _Place(region, (low, stretch.low_open), low_value, high_value, stretch)


def _is_writable(number: Fraction, kind: Measured) -> bool:
    text = written(number, kind.unit)
    return text is not None and sum(sign.isdigit() for sign in text) <= MOST_DIGITS


def _of_days(region: int, stretch: Stretch) -> _Place:
    assert stretch.low is not None
    assert stretch.high is not None
    low, high = (_day(ordinal) for ordinal in (stretch.low, stretch.high))
    return _Place(region, (stretch.low, False), low, high)


def _day(ordinal: Fraction) -> Span:
    return Span.of_day(date.fromordinal(int(ordinal)))
