"""How much of a file's rules its examples try: answers reached, both sides of each boundary.

An example tries a rule by what it expects of it: `expect RULE is …` by whatever comes,
`expect ready` by each required rule that is met or not asked. An answer that no declaration
can bring about on any event day is not missed, nor is a boundary at which no declaration for
the usual day turns the answer.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from functools import partial
from typing import TypeVar

from attrs import define, field

from trackprep.analysis.boundaries import Boundary
from trackprep.analysis.events import questions
from trackprep.analysis.periods import period_of
from trackprep.analysis.reaching import STATUSES, Case, Reached, Reaching, SideKey
from trackprep.analysis.sides import SharedFacts
from trackprep.analysis.solving import UndecidedError
from trackprep.backends.statuses import Status
from trackprep.frozen import frozen
from trackprep.rules.model import Rule, Rules
from trackprep.rules.own_file import OwnFile

Found = TypeVar("Found")


@frozen(eq=False)
class BoundarySide:
    """One side of a boundary: whether an example stands there, else one that would.

    Attributes:
        upper: Whether it is the upper side.
        case: None where an example stands there.
    """

    boundary: Boundary
    upper: bool
    case: Case | None

    @property
    def key(self) -> SideKey:
        """What the side is known by."""
        return (*self.boundary.key, self.upper)


@frozen(eq=False)
class RuleCoverage:
    """What the examples of a file try of one rule, and what they leave.

    Attributes:
        reached: The answers that examples reach.
        missing: Those that they do not, each with a declaration that does.
        sides: Every side of the boundaries at which the rule's answer can turn.
        untold: Answers of which it could not be told whether they can come.
        undecided: Why something could not be told, each reason once.
    """

    rule: Rule
    reached: frozenset[Status]
    missing: Mapping[Status, Case]
    sides: tuple[BoundarySide, ...]
    untold: frozenset[Status] = frozenset()
    undecided: tuple[str, ...] = ()

    @property
    def lacking(self) -> tuple[BoundarySide, ...]:
        """The sides of boundaries at which no example stands."""
        return tuple(side for side in self.sides if side.case is not None)


@frozen(eq=False)
class Coverage:
    """What the examples of a file try of its rules.

    Attributes:
        unasked: How many inherited rules that the file leaves as they are were left out.
    """

    rules: Rules
    covered: tuple[RuleCoverage, ...]
    unasked: int = 0


def coverage(own: OwnFile, *, every: bool = False) -> Coverage:
    """What the examples of a file try of the rules that it makes or changes.

    Args:
        every: Also inherited rules that the file leaves as they are.
    """
    names = own_rules(own)
    rules = [rule for rule in own.rules.rules if every or rule.name in names]
    shared = SharedFacts.of([own.rules])
    covered = tuple(_Covering(own.rules, rule, shared).covered() for rule in rules)
    return Coverage(own.rules, covered, len(own.rules.rules) - len(rules))


def own_rules(own: OwnFile) -> frozenset[str]:
    """The rules whose answers the file has a part in: its own, changed ones, changed limits."""
    names = {
        head.name
        for head in own.of("rule")
        if head.new or not head.clauses.isdisjoint(("demand", "when"))
    }
    for head in own.of("limit", "list"):
        names |= set(own.users.get(head.name, ()))
    return frozenset(names)


def first_day(rules: Rules) -> date:
    """The day that examples are for: the first valid one, or that of most examples."""
    if rules.valid is not None:
        return rules.valid[0]
    days = Counter(example.on for example in rules.examples)
    return days.most_common(1)[0][0] if days else period_of(rules).first


@define(eq=False)
class _Covering:
    """One rule, looked at through the examples and then for what they leave."""

    rules: Rules
    rule: Rule
    shared: SharedFacts
    _on: dict[date, Reaching] = field(factory=dict)

    def on(self, event: date) -> Reaching:
        if event not in self._on:
            self._on[event] = Reaching(self.rules, self.rule, event, self.shared)
        return self._on[event]

    def covered(self) -> RuleCoverage:
        statuses: set[Status] = set()
        keys: set[SideKey] = set()
        for reached in self.reached():
            statuses.add(reached.status)
            keys |= reached.sides
        left = _Left([status for status in STATUSES if status not in statuses], keys)
        left.look_at_boundaries(self.on(first_day(self.rules)))
        for event in self.days():
            left.look(self.on(event))
            if left.complete:
                break
        missing = {status: left.missing[status] for status in STATUSES if status in left.missing}
        sides = tuple(side for pair in left.sides.values() if pair for side in pair)
        reasons = dict.fromkeys(left.undecided.values())
        untold = frozenset(status for status in STATUSES if status in left.undecided)
        return RuleCoverage(self.rule, frozenset(statuses), missing, sides, untold, tuple(reasons))

    def reached(self) -> Iterator[Reached]:
        """What the examples that expect something of the rule bring it to."""
        for example in self.rules.examples:
            if any(expected.rule == self.rule.name for expected in example.expectations):
                yield self.on(example.on).reached(example.values)
            elif self.rule.level == "required" and any(
                expected.rule is None and expected.outcome == "ready"
                for expected in example.expectations
            ):
                reached = self.on(example.on).reached(example.values)
                if reached.status in ("met", "not-asked"):
                    yield reached

    def days(self) -> Iterator[date]:
        """The event days to look at, the usual one first; lazily, since it mostly is enough."""
        usual = first_day(self.rules)
        yield usual
        period = period_of(self.rules)
        leaves = self.on(usual).side.leaves([self.rule])
        alike = questions(self.rules.facts, leaves, period.first, period.last)
        yield from (day for day, days in alike.items() if usual not in days)


@define(eq=False)
class _Left:
    """What the examples leave of a rule, and what was found for it so far.

    Attributes:
        wanted: The answers that no example reaches.
        keys: The sides of boundaries at which examples stand.
        sides: Both sides of each boundary; None where no declaration turns the answer there.
    """

    wanted: list[Status]
    keys: set[SideKey]
    missing: dict[Status, Case] = field(factory=dict)
    sides: dict[object, tuple[BoundarySide, BoundarySide] | None] = field(factory=dict)
    undecided: dict[object, str] = field(factory=dict)

    @property
    def complete(self) -> bool:
        """Whether nothing is left that another day could show."""
        return len(self.missing) == len(self.wanted)

    def look(self, reaching: Reaching) -> None:
        """Looks for the answers that are left, on one more day."""
        for status in self.wanted:
            if status not in self.missing:
                case = self.tried(status, partial(reaching.case_of, status))
                if case is not None:
                    self.missing[status] = case

    def look_at_boundaries(self, reaching: Reaching) -> None:
        """Looks at all boundaries on a day."""
        for boundary in reaching.boundaries:
            self.sides[boundary.key] = self.of_boundary(boundary, reaching)

    def of_boundary(
        self, boundary: Boundary, reaching: Reaching
    ) -> tuple[BoundarySide, BoundarySide] | None:
        lower_there, upper_there = ((*boundary.key, upper) in self.keys for upper in (False, True))
        if lower_there and upper_there:
            return BoundarySide(boundary, False, None), BoundarySide(boundary, True, None)
        cases = self.tried(boundary.key, partial(reaching.cases_at, boundary))
        if cases is None:
            return None
        lower, upper = cases
        return (
            BoundarySide(boundary, False, None if lower_there else lower),
            BoundarySide(boundary, True, None if upper_there else upper),
        )

    def tried(self, key: object, ask: Callable[[], Found | None]) -> Found | None:
        """What is found, or None; why it could not be told is kept while that is so."""
        self.undecided.pop(key, None)
        try:
            return ask()
        except UndecidedError as why:
            self.undecided[key] = why.reason
            return None


# ---- the examples that are missing ----------------------------------------------


def filling(coverage: Coverage) -> Iterator[tuple[RuleCoverage, BoundarySide | Status, Case]]:
    """Few declarations that together reach all that is missing, rule by rule.

    Each with the side of a boundary, or else the answer, that it is for.
    """
    shared = SharedFacts.of([coverage.rules])
    for covered in coverage.covered:
        covering = _Covering(coverage.rules, covered.rule, shared)
        statuses: set[Status] = set()
        keys: set[SideKey] = set()
        wanted: list[tuple[BoundarySide | Status, Case]] = [
            (side, side.case) for side in covered.sides if side.case is not None
        ]
        wanted += covered.missing.items()
        for what, case in wanted:
            if what in statuses or (isinstance(what, BoundarySide) and what.key in keys):
                continue
            reached = covering.on(case.event).reached(case.values)
            statuses.add(reached.status)
            keys |= reached.sides
            yield covered, what, case
