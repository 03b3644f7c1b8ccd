"""What declarations can bring a rule to: each of its answers, and both sides of a boundary."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from functools import cached_property, partial
from itertools import permutations

from trackprep.analysis.boundaries import Boundary, Edge, boundaries, ways_beside
from trackprep.analysis.clauses import Clauses
from trackprep.analysis.domains import LeafOf, answer
from trackprep.analysis.elsewhere import Answered, Elsewhere
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import status
from trackprep.analysis.witnesses import found
from trackprep.backends.readings import prepared
from trackprep.backends.statuses import Status
from trackprep.dates import Span
from trackprep.frozen import frozen
from trackprep.rules.model import Dated, Measured, Rule, Rules
from trackprep.rules.values import Amount, Value
from trackprep.units import from_base, to_base

STATUSES: tuple[Status, ...] = ("met", "not-met", "unsettled", "not-asked")
_TELLING: tuple[Status, ...] = ("met", "not-met", "not-asked", "unsettled")

MOST_UNDECIDED = 3
"""So often what cannot be told of a boundary is asked in another way."""

SideKey = tuple[LeafOf, int, bool]
"""A side of a boundary: the test, which of its turns, and whether it is the upper side."""

Way = tuple[Edge, Edge]


@frozen(eq=False)
class Case:
    """A declaration for an event day, and what a rule answers to it.

    Attributes:
        edges: Where it stands on one side of a boundary, that side and the other.
    """

    values: Mapping[str, Value]
    event: date
    status: Status
    edges: tuple[Edge, Edge] | None = None


Cases = tuple[Case, Case]


@frozen
class Reached:
    """What a declaration brings a rule to."""

    status: Status
    sides: frozenset[SideKey]


class Reaching:
    """One rule on one event day."""

    def __init__(self, rules: Rules, rule: Rule, event: date, shared: SharedFacts) -> None:
        self.rule, self.event = rule, event
        self.side = Side.of(rules, event)
        self.shared = shared

    @cached_property
    def space(self) -> Space:
        """The declarations that the rule can tell apart."""
        return Space([self.side], [[self.rule]], self.shared)

    @cached_property
    def boundaries(self) -> tuple[Boundary, ...]:
        """All boundaries of the rule's tests."""
        tests = self.side.leaves([self.rule])
        return tuple(boundary for leaf in tests for boundary in boundaries(self.space, leaf))

    def answered(self, values: Mapping[str, Value]) -> Status:
        """What the ordinary check answers for the rule."""
        return status(self.side, self.rule, values)

    # ---- what a declaration reaches ----

    def reached(self, values: Mapping[str, Value]) -> Reached:
        """What the ordinary check makes of a declaration.

        A side of a boundary counts where the rule would answer something else on the other.
        """
        known, _ = prepared(self.side.rules, dict(values), self.event)
        came = self.answered(values)
        sides = (
            (*boundary.key, edge.upper)
            for boundary in self.boundaries
            for pair in self.ways(boundary, known)
            for edge, other in (pair, pair[::-1])
            if edge.at(known.get(boundary.path))
            and answer(boundary.leaf, known, self.event) is edge.truth
            and self.answered({**values, boundary.path: other.value}) != came
        )
        return Reached(came, frozenset(sides))

    def ways(self, boundary: Boundary, values: Mapping[str, Value]) -> tuple[Way, ...]:
        """Both sides of a boundary, where other facts have a part in it beside their values."""
        if boundary.ways:
            return boundary.ways
        return ways_beside(boundary, self.space.facts[boundary.path], dict(values), self.event)

    # ---- what can be reached ----

    def case_of(self, wanted: Status) -> Case | None:
        """A declaration in few facts to which the rule answers so; None where there is none.

        Raises:
            UndecidedError: It cannot be told.
        """
        if self.answered({}) == wanted:
            return Case({}, self.event, wanted)
        literals = self.statuses(self.space.clauses)
        for goals in ([literals.by_status[wanted], literals.asked], [literals.by_status[wanted]]):
            if not self.space.circuit.possible(*goals):
                continue
            facts = self.side.open_facts(self.rule)
            witness = found(self.space, goals, facts, lambda v: self.answered(v) == wanted)
            if witness is not None:
                return Case(witness.values, self.event, wanted)
        return None

    def cases_at(self, boundary: Boundary) -> Cases | None:
        """A declaration on either side of a boundary to which the rule answers differently.

        Raises:
            UndecidedError: It cannot be told.
        """
        undecided: list[UndecidedError] = []
        tries = (
            [partial(self._on_both, boundary.path, *way) for way in boundary.ways]
            or [partial(self._beside, boundary, pair) for pair in _pairs()]
        )  # fmt: skip
        for attempt in tries:
            try:
                cases = attempt()
            except UndecidedError as why:
                undecided.append(why)
                if len(undecided) == MOST_UNDECIDED:
                    break
                continue
            if cases is not None:
                return cases
        if undecided:
            raise undecided[0]
        return None

    def _beside(self, boundary: Boundary, pair: tuple[Status, Status]) -> Cases | None:
        """On either side of a boundary in which other facts have a part, with these answers."""
        cases: list[Cases] = []

        def turns(values: Mapping[str, Value]) -> bool:
            for given in (values, self.amid(boundary, values)):
                known, _ = prepared(self.side.rules, dict(given), self.event)
                for way in self.ways(boundary, known):
                    one, other = self.on_both_sides(boundary.path, way, given)
                    if {one.status, other.status} == set(pair):
                        cases.append((one, other))
            return bool(cases)

        clauses, leaf = self.space.clauses, boundary.leaf
        holds = self.statuses(Answered(clauses, leaf, True)).by_status[pair[0]]
        fails = self.statuses(Answered(clauses, leaf, False)).by_status[pair[1]]
        if self.space.circuit.possible(holds, fails, *self.space.complete(leaf.open)):
            facts = self.side.open_facts(self.rule)
            found(self.space, [holds, fails], facts, turns, declared=leaf.open)
        return cases[0] if cases else None

    def _on_both(self, path: str, lower: Edge, upper: Edge) -> Cases | None:
        here = self.statuses(self.space.clauses)
        there = self.statuses(Elsewhere(self.space.clauses, path, upper.region))
        stands = self.space.clauses.facts[path].regions[lower.region]
        for one, other in _pairs():

            def differs(
                values: Mapping[str, Value], one: Status = one, other: Status = other
            ) -> bool:
                moved = ({**values, path: edge.value} for edge in (lower, upper))
                return [self.answered(each) for each in moved] == [one, other]

            goals = [stands, here.by_status[one], there.by_status[other]]
            if not self.space.circuit.possible(*goals):
                continue
            witness = found(self.space, goals, self.side.open_facts(self.rule), differs)
            if witness is not None:
                return self.on_both_sides(path, (lower, upper), witness.values)
        return None

    def on_both_sides(self, path: str, way: Way, values: Mapping[str, Value]) -> Cases:
        """The values with one fact on either side of a boundary, and what comes of each."""
        low, high = ({**values, path: edge.value} for edge in way)
        return (
            Case(low, self.event, self.answered(low), way),
            Case(high, self.event, self.answered(high), way[::-1]),
        )

    def amid(self, boundary: Boundary, values: Mapping[str, Value]) -> dict[str, Value]:
        """The values with those beside the boundary's fact away from the ends of their ranges."""
        found = dict(values)
        for path in boundary.leaf.open:
            match self.space.facts[path].type:
                case Measured(unit, low, high) if low is not None and high is not None:
                    middle = round(from_base((low + high) / 2, unit))
                    found[path] = Amount(to_base(Fraction(middle), unit), unit)
                case Dated(how) if how != "week code":
                    found[path] = Span.of_day(self.event - timedelta(days=1_000))
        return found

    def statuses(self, clauses: Clauses) -> "_Literals":
        """The literals of the rule's answers."""
        circuit, here = clauses.circuit, self.side.here
        parts = [
            (clauses.says(part.when, here), clauses.says(part.demand, here))
            for part in self.rule.asked
        ]
        unasked = circuit.all_of(when.false for when, _ in parts)
        lets = circuit.all_of(circuit.any_of((when.false, met.true)) for when, met in parts)
        refuses = circuit.any_of(circuit.all_of((when.true, met.false)) for when, met in parts)
        return _Literals(
            {
                "met": circuit.all_of((lets, -unasked)),
                "not-met": refuses,
                "unsettled": circuit.all_of((-lets, -refuses)),
                "not-asked": unasked,
            },
            circuit.any_of(when.true for when, _ in parts),
        )


@frozen
class _Literals:
    """One for each answer of a rule, and that it is asked for certain of some part."""

    by_status: Mapping[Status, int]
    asked: int


def _pairs() -> Iterator[tuple[Status, Status]]:
    """Two different answers, those first that tell most."""
    yield from sorted(permutations(_TELLING, 2), key=lambda pair: max(map(_TELLING.index, pair)))
