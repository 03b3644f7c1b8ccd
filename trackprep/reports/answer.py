"""The answer of one rule to one declaration.

Cheap to make; explanations and work are looked up when asked for.
"""

from datetime import date
from typing import TYPE_CHECKING

from trackprep.backends.checks import Outcome, Status
from trackprep.reports.checked import Checked
from trackprep.rules.model import Level, Rule, Work

# Imported where they are asked for: a check that nobody reads does not pay for them.
if TYPE_CHECKING:
    from trackprep.explanations.findings import Explanation


class Answer:
    """What one rule answers, and why."""

    __slots__ = ("_checked", "_place")
    _checked: Checked
    _place: int

    @property
    def _rule(self) -> Rule:
        return self._checked.rules.rules[self._place]

    @property
    def _outcome(self) -> Outcome:
        return self._checked.outcomes[self._place]

    @property
    def rule(self) -> str:
        """The rule's name."""
        return self._rule.name

    @property
    def title(self) -> str:
        """The rule's title."""
        return self._rule.title

    @property
    def section(self) -> str:
        """The title of the section that it stands in."""
        return self._rule.section

    @property
    def level(self) -> Level:
        """`required` or `recommended`."""
        return self._rule.level

    @property
    def status(self) -> Status:
        """`met`, `not-met`, `unsettled` or `not-asked`."""
        return self._checked.statuses[self._place]

    @property
    def part(self) -> str | None:
        """Of a rule that asks the same of several parts, the first with this answer."""
        return self._outcome.part

    @property
    def declare(self) -> tuple[str, ...]:
        """The facts that it waits for, in reading order."""
        return self._outcome.declare

    @property
    def narrow(self) -> tuple[str, ...]:
        """The facts that are declared too coarsely for it."""
        return self._outcome.narrow

    @property
    def waits_for_inspector(self) -> bool:
        """Whether it is unsettled, and only the inspector can say."""
        facts = self._checked.rules.facts
        return (
            bool(self.declare)
            and not self.narrow
            and all(facts[path].for_the_inspector for path in self.declare)
        )

    @property
    def reason(self) -> str:
        """Why the rule exists, in its author's words."""
        return self._rule.reason

    @property
    def explanation(self) -> "Explanation":
        """What decided the answer, and what would meet the rule; worked out when asked for."""
        from trackprep.explanations.reasons import explain

        return explain(self._rule, self._outcome, self._checked.situation)

    @property
    def why(self) -> tuple[str, ...]:
        """The explanation in sentences."""
        from trackprep.explanations.telling import told

        return told(self.explanation)

    @property
    def fixes(self) -> tuple[Work, ...]:
        """The work that meets it, for each part that is not met or unsettled, each once.

        Of several ways, the first whose condition holds or may hold.
        """
        if self.status not in ("not-met", "unsettled"):
            return ()
        from trackprep.explanations.ways import chosen

        ways = chosen(self._rule, self.status, self._checked.situation)
        return tuple(dict.fromkeys(work for _, work in ways))

    @property
    def undos(self) -> tuple[Work, ...]:
        """What to put back before the road: of a rule that is asked, each once, if it may apply."""
        if self.status == "not-asked":
            return ()
        situation = self._checked.situation
        asked = (one for one in self._rule.asked if situation.holds(one.when) is not False)
        undos = (work for one in asked for work in one.undos)
        return tuple(dict.fromkeys(
            work for work in undos
            if work.when is None or situation.holds(work.when) is not False
        ))  # fmt: skip

    @property
    def until(self) -> date | None:
        """The first day after the event on which the answer is worse, with nothing changed.

        Unsettled is worse than met or not asked, and not met is worse than unsettled. None
        where the calendar alone does not make it worse within twenty years.
        """
        return self._checked.turning.worse_from(self._rule, self._checked.event)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt someone during the work: of the rule and of its fixes."""
        of_fixes = (caution for work in self.fixes for caution in work.cautions)
        return tuple(dict.fromkeys((*self._rule.cautions, *of_fixes)))

    @property
    def check_again(self) -> tuple[str, ...]:
        """The declared facts among those it asks for that wear or work loose."""
        if self.status == "not-asked":
            return ()
        from trackprep.explanations.mentions import facts_in

        facts, declared = self._checked.rules.facts, self._checked.declaration.values
        asked = (path for asked in self._rule.asked for path in facts_in(asked.demand))
        return tuple(
            path
            for path in dict.fromkeys(asked)
            if path in declared and "check again" in facts[path].marks
        )

    @property
    def inspect(self) -> str:
        """What the inspector does at the gate."""
        return self._rule.inspect

    @property
    def source(self) -> str:
        """Where what is asked comes from."""
        return str(self._rule.source) if self._rule.source else ""

    @property
    def undone_later(self) -> bool:
        """Whether something is put back before the road, so that the work is for the paddock."""
        return any(asked.undos for asked in self._rule.asked)

    def __repr__(self) -> str:
        return f"<Answer {self.rule}: {self.status}>"


def answers_of(checked: Checked) -> tuple[Answer, ...]:
    """An answer for each rule, in report order."""
    made = []
    for place in range(len(checked.statuses)):
        # Filled from here: an `__init__` would nearly double what they cost.
        answer = Answer()
        answer._checked = checked
        answer._place = place
        made.append(answer)
    return tuple(made)
