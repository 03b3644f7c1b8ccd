"""One ruleset on its event days."""

from collections.abc import Iterable, Iterator
from datetime import date

from trackprep.analysis.domains import LeafOf
from trackprep.analysis.events import EventDays
from trackprep.analysis.periods import Period
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.space import Space
from trackprep.rules.model import Rule, Rules


class OneSide:
    """A ruleset, and the event days that it is asked for."""

    def __init__(self, rules: Rules, period: Period) -> None:
        self.rules = rules
        self.shared = SharedFacts.of([rules])
        self.days = EventDays(self.shared.facts, period.first, period.last)
        self.first = Side.of(rules, period.first)
        self._sides: dict[date, Side] = {period.first: self.first}

    @property
    def required(self) -> list[Rule]:
        """The rules that decide whether a machine is ready."""
        return [rule for rule in self.rules.rules if rule.level == "required"]

    def leaves(self, rules: Iterable[Rule]) -> list[LeafOf]:
        """Every test of some rules."""
        return list(self.first.leaves(rules))

    def spaces(self, rules: Iterable[Rule]) -> Iterator[Space]:
        """The declarations for some rules, one space for each question that the days hold."""
        asked = list(rules)
        for event in self.days.questions(self.leaves(asked)):
            yield self.space(asked, event)

    def space(self, rules: Iterable[Rule], event: date) -> Space:
        """The declarations for some rules on a day."""
        if event not in self._sides:
            self._sides[event] = self.first.on(event)
        return Space([self._sides[event]], [list(rules)], self.shared)
