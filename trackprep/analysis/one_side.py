"""One ruleset on its event days."""

from collections.abc import Iterable, Iterator
from datetime import date

from trackprep.analysis.events import steady
from trackprep.analysis.periods import Period
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.space import Space
from trackprep.rules.model import Rule, Rules


class OneSide:
    """A ruleset, and the event days that it is asked for."""

    def __init__(self, rules: Rules, period: Period) -> None:
        self.rules = rules
        self.shared = SharedFacts.of([rules])
        self.days = steady([rules], self.shared.facts, period.first, period.last)
        self.first = Side.of(rules, period.first)
        self._sides: dict[date, Side] = {period.first: self.first}

    @property
    def required(self) -> list[Rule]:
        """The rules that decide whether a machine is ready."""
        return [rule for rule in self.rules.rules if rule.level == "required"]

    def one_question(self, rules: Iterable[Rule]) -> bool:
        """Whether some rules are the same question on every event day."""
        leaves = list(self.first.leaves(rules))
        return len(self.days) == 1 and not self.days[0].moves(leaves)

    def spaces(self, rules: Iterable[Rule]) -> Iterator[Space]:
        """The declarations for some rules, one space for each question that the days hold."""
        asked = list(rules)
        for days in self.days:
            for event in days.questions(self.on(days.first).leaves(asked)):
                yield self.space(asked, event)

    def on(self, event: date) -> Side:
        """The ruleset on a day."""
        if event not in self._sides:
            self._sides[event] = self.first.on(event)
        return self._sides[event]

    def space(self, rules: Iterable[Rule], event: date) -> Space:
        """The declarations for some rules on a day."""
        return Space([self.on(event)], [list(rules)], self.shared)
