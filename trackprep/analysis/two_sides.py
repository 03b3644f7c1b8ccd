"""Two rulesets side by side on the event days of both."""

from collections.abc import Mapping
from datetime import date

from trackprep.analysis.events import EventDays
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
        self.days = EventDays(self.shared.facts, period.first, period.last)
        self._first = tuple(Side.of(rules, period.first) for rules in self.rulesets)
        self._sides: dict[date, tuple[Side, Side]] = {}

    @property
    def first(self) -> tuple[Side, Side]:
        """Both on the first day."""
        return self.on(self.days.first)

    def on(self, event: date) -> tuple[Side, Side]:
        """Both on a day."""
        if event not in self._sides:
            one, other = self._first
            self._sides[event] = (one.on(event), other.on(event))
        return self._sides[event]


def status(side: Side, rule: Rule, values: Mapping[str, Value]) -> Status:
    """What the ordinary check answers for a rule."""
    known, _ = prepared(side.rules, dict(values), side.event)
    return outcome(rule, known, side.event).status


def answers(side: Side, values: Mapping[str, Value]) -> tuple[Verdict, tuple[Status, ...]]:
    """What the ordinary check answers for the whole, and for each rule in order."""
    known, _ = prepared(side.rules, dict(values), side.event)
    said = outcomes(side.rules, known, side.event)
    return verdict(side.rules, said), tuple(outcome.status for outcome in said)
