"""A declaration as it was checked: what a report and its answers are both worked out from."""

from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from attrs import define, field

from trackprep.backends import checks
from trackprep.backends.checks import Outcome, Status
from trackprep.backends.terms import Values
from trackprep.rules.model import Rules

# A check that nobody reads does not pay for explanations.
if TYPE_CHECKING:
    from trackprep.analysis.turning import Turning
    from trackprep.declarations.declaration import Declaration
    from trackprep.explanations.situation import Situation


# Not frozen, and with as little as may be: a club checks many riders. Answers look at this and
# not at their report, which holds them: a circle would keep the memory of every report in use.
@define(eq=False, slots=False)
class Checked:
    """One declaration, checked for an event on a day.

    Attributes:
        statuses: The answer of every rule, in report order.
    """

    rules: Rules
    declaration: "Declaration"
    event: date
    statuses: tuple[Status, ...] = field(repr=False)

    @classmethod
    def made(cls, rules: Rules, declaration: "Declaration", event: date) -> "Checked":
        """By the reference meaning, the outcomes worked out at once."""
        prepared = checks.prepared(rules, declaration.values, event)
        outcomes = checks.outcomes(rules, prepared[0], event)
        made = cls(rules, declaration, event, tuple([one.status for one in outcomes]))
        made.__dict__ |= {"_prepared": prepared, "outcomes": outcomes}
        return made

    @cached_property
    def _prepared(self) -> tuple[Values, tuple[str, ...]]:
        return checks.prepared(self.rules, self.declaration.values, self.event)

    @property
    def values(self) -> Values:
        """What is known on the day of the event, by fact."""
        return self._prepared[0]

    @property
    def after_the_event(self) -> tuple[str, ...]:
        """The facts whose dates cannot lie after the event, and do."""
        return self._prepared[1]

    @cached_property
    def outcomes(self) -> tuple[Outcome, ...]:
        """What every rule answers, in report order, with what the unsettled ones wait for."""
        return checks.outcomes(self.rules, self.values, self.event)

    @cached_property
    def turning(self) -> "Turning":
        """The same declaration, the day of the event left open."""
        from trackprep.analysis.turning import Turning

        return Turning(self.rules, self.declaration.values)

    @cached_property
    def situation(self) -> "Situation":
        """What the answers are explained from."""
        from trackprep.explanations.situation import Situation

        return Situation(self.rules, self.values, self.declaration.values, self.event)
