"""Several rulesets before one machine: what each asks, and what is ready at all of them."""

from collections.abc import Sequence
from datetime import date
from typing import Literal

from trackprep.analysis.common_set import CommonSet, common_set
from trackprep.analysis.events import EventDays
from trackprep.analysis.least_changes import Undecided
from trackprep.analysis.limits_table import Row, limits_table
from trackprep.analysis.periods import Period, period_of
from trackprep.analysis.sides import Clash, SharedFacts, Side
from trackprep.analysis.space import Space
from trackprep.frozen import frozen
from trackprep.rules.model import Rules


@frozen(eq=False)
class Venues:
    """Several rulesets side by side.

    Attributes:
        rows: What each asks, and which asks most.
        common: What is ready at all of them, or why nothing is.
        clashes: Facts that no value can be read for by all.
    """

    rulesets: tuple[Rules, ...]
    period: Period
    rows: tuple[Row, ...]
    common: CommonSet
    clashes: tuple[Clash, ...] = ()

    @property
    def outcome(self) -> Literal["same", "differs", "undecided"]:
        """Whether they ask the same; `undecided` wherever something could not be told."""
        if isinstance(self.common, Undecided) or self.clashes:
            return "undecided"
        if not self.differing:
            return "same"
        return "undecided" if all(row.unsure for row in self.differing) else "differs"

    @property
    def differing(self) -> tuple[Row, ...]:
        """The rows on which they do not all agree."""
        return tuple(row for row in self.rows if not row.agree)


def venues(rulesets: Sequence[Rules], *, on: date | None = None) -> Venues:
    """Two or more rulesets compared, for every event day of all of them or on a single one."""
    period = period_of(*rulesets, on=on)
    shared = SharedFacts.of(rulesets)
    first = [Side.of(rules, period.first) for rules in rulesets]
    leaves = [leaf for side in first for leaf in side.leaves(side.rules.rules)]
    days = EventDays(shared.facts, period.first, period.last).questions(leaves)
    spaces = [Space([side.on(day) for side in first], shared=shared) for day in days]
    rows = limits_table(first, shared)
    found = Venues(tuple(rulesets), period, rows, common_set(spaces), shared.clashes)
    for space in spaces:
        space.circuit.close()
    return found
