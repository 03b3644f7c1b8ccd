"""Several riders at one or more events: for each what the rules answer, shortly.

files ──joining──▶ Joined ──the events' checks──▶ Row ──reports.club──▶ a table, JSON
"""

from datetime import date
from typing import Literal, TypeAlias

from trackprep.backends.checks import Status, Verdict, outcome, waits_for_inspector
from trackprep.backends.terms import Values
from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rules.model import Rule, Rules

Worst: TypeAlias = Literal["problem", "not-ready", "incomplete", "ready"]
BY_WEIGHT: tuple[Worst, ...] = ("ready", "incomplete", "not-ready", "problem")


@frozen(eq=False)
class EventAnswer:
    """What one event's rules answer to one rider.

    Attributes:
        not_met: The required rules that are not met.
        not_heeded: How many recommended ones are not.
        declare: The facts that unsettled required rules wait for, but for the inspector's.
        narrow: Those that are declared too coarsely for them.
        for_inspector: How many required rules only the inspector can settle.
    """

    rules: Rules
    verdict: Verdict
    not_met: tuple[Rule, ...]
    not_heeded: int
    declare: tuple[str, ...]
    narrow: tuple[str, ...]
    for_inspector: int


@frozen(eq=False)
class Row:
    """One rider: an answer for each event, or the problems that stand in the way.

    A date that lies after the event is a problem beside the answers.
    """

    title: str
    files: tuple[str, ...]
    answers: tuple[EventAnswer, ...]
    problems: tuple[Problem, ...]

    @property
    def worst(self) -> Worst:
        """The worst of its answers."""
        if self.problems:
            return "problem"
        return max((answer.verdict for answer in self.answers), key=BY_WEIGHT.index)


@frozen(eq=False)
class Club:
    """Riders at events on a day."""

    rulesets: tuple[Rules, ...]
    event: date
    rows: tuple[Row, ...]

    @property
    def worst(self) -> Worst:
        """The worst answer of all riders."""
        return max((row.worst for row in self.rows), key=BY_WEIGHT.index, default="ready")


def event_answer(
    rules: Rules, statuses: tuple[Status, ...], values: Values, event: date
) -> EventAnswer:
    """The answer from the statuses of the rules; only what is unsettled is looked at once more."""
    not_met: list[Rule] = []
    declare: list[str] = []
    narrow: list[str] = []
    not_heeded = for_inspector = unsettled = 0
    for rule, status in zip(rules.rules, statuses, strict=True):
        if rule.level != "required":
            not_heeded += status == "not-met"
        elif status == "not-met":
            not_met.append(rule)
        elif status == "unsettled":
            waits = outcome(rule, values, event)
            if waits_for_inspector(rules, waits):
                for_inspector += 1
                continue
            unsettled += 1
            declare += (path for path in waits.declare if not rules.facts[path].for_the_inspector)
            narrow += waits.narrow
    verdict: Verdict = "not-ready" if not_met else "incomplete" if unsettled else "ready"
    return EventAnswer(
        rules, verdict, tuple(not_met), not_heeded,
        tuple(dict.fromkeys(declare)), tuple(dict.fromkeys(narrow)), for_inspector,
    )  # fmt: skip
