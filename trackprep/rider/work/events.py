"""The events of a work list: what each asks, answers, and holds of one declaration."""

from collections.abc import Iterator, Sequence

from trackprep.backends.checks import Outcome, Status, waits_for_inspector
from trackprep.explanations.situation import Situation
from trackprep.explanations.ways import chosen
from trackprep.explanations.wording import part_label
from trackprep.frozen import frozen
from trackprep.rider.worklist import Served
from trackprep.rules.model import Asked, Rule, Rules, Work


@frozen(eq=False)
class Event:
    """One event: its rules with their answers, and what these are explained from.

    Attributes:
        place: Its place among the events of the list.
        outcomes: The answer of every rule, in report order.
    """

    place: int
    outcomes: Sequence[Outcome]
    situation: Situation

    @property
    def rules(self) -> Rules:
        """The rules of the event."""
        return self.situation.rules

    def answers(self, *statuses: Status) -> Iterator[tuple[Rule, Outcome]]:
        """The rules with one of these answers."""
        for rule, outcome in zip(self.rules.rules, self.outcomes, strict=True):
            if outcome.status in statuses:
                yield rule, outcome

    def for_inspector(self, outcome: Outcome) -> bool:
        """Whether an unsettled rule waits for the inspector alone."""
        return waits_for_inspector(self.rules, outcome)

    def chosen(self, rule: Rule, status: Status) -> tuple[tuple[Asked, Work], ...]:
        """The work that is meant for each part of the rule that has this answer."""
        return tuple(chosen(rule, status, self.situation))

    def served(self, rule: Rule, part: str | None = None) -> Served:
        """The rule as one that something is for, with the part that it is about."""
        parts = (part_label(part, self.rules),) if part else ()
        return Served(self.place, rule.name, rule.title, rule.level, parts)


def joined(serves: Sequence[Served]) -> tuple[Served, ...]:
    """Each rule of each event once, with all its parts."""
    found: dict[tuple[int, str], Served] = {}
    for one in serves:
        key = (one.occasion, one.rule)
        parts = (*found[key].parts, *one.parts) if key in found else one.parts
        found[key] = Served(
            one.occasion, one.rule, one.title, one.level, tuple(dict.fromkeys(parts))
        )
    return tuple(found.values())
