"""Two rulesets side by side on the event days of both."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from trackprep.analysis.events import steady
from trackprep.analysis.periods import Period
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.backends.checks import Verdict, outcome, outcomes, prepared, verdict
from trackprep.backends.statuses import Status
from trackprep.rules.model import Rule, Rules
from trackprep.rules.values import Value

UNREADABLE = "the two define a fact so that no value can be read by both"


class TwoSides:
    """Two rulesets, the facts that both can read, and the event days that they are asked for."""

    def __init__(self, one: Rules, other: Rules, period: Period) -> None:
        self.rulesets = (one, other)
        self.shared = SharedFacts.of(self.rulesets)
        self.clashing = frozenset(clash.path for clash in self.shared.clashes)
        self.days = steady(self.rulesets, self.shared.facts, period.first, period.last)
        self._first = (Side.of(one, period.first), Side.of(other, period.first))
        self._sides: dict[date, tuple[Side, Side]] = {}

    @property
    def first(self) -> tuple[Side, Side]:
        """Both on the first day."""
        return self._first

    def on(self, event: date) -> tuple[Side, Side]:
        """Both on a day."""
        if event not in self._sides:
            one, other = self._first
            self._sides[event] = (one.on(event), other.on(event))
        return self._sides[event]

    def questions(self, asked: Sequence[Sequence[Rule]]) -> Iterator[date]:
        """One event day for each question that the period holds about some rules of each."""
        for days in self.days:
            sides = zip(self.on(days.first), asked, strict=True)
            yield from days.questions(leaf for side, rules in sides for leaf in side.leaves(rules))


def status(side: Side, rule: Rule, values: Mapping[str, Value]) -> Status:
    """What the ordinary check answers for a rule."""
    known, _ = prepared(side.rules, dict(values), side.event)
    return outcome(rule, known, side.event).status


def answers(side: Side, values: Mapping[str, Value]) -> tuple[Verdict, tuple[Status, ...]]:
    """What the ordinary check answers for the whole, and for each rule in order."""
    known, _ = prepared(side.rules, dict(values), side.event)
    said = outcomes(side.rules, known, side.event)
    return verdict(side.rules, said), tuple(outcome.status for outcome in said)
