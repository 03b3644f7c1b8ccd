"""What the rules answer to one declaration: the report, and an answer for each rule.

Answers are cheap to make; words, notices and explanations are worked out when asked for.
"""

from collections.abc import Mapping
from datetime import date
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any

from attrs import define, field

from trackprep.backends import checks
from trackprep.backends.checks import Outcome, Status, Verdict
from trackprep.dates import long_form
from trackprep.problems import Problem
from trackprep.rules.model import Level, Rule, Rules, Work
from trackprep.rules.values import Value

# Explanations and layouts are imported where they are asked for: a check that
# nobody reads does not pay for them.
if TYPE_CHECKING:
    from trackprep.declarations.declaration import Declaration
    from trackprep.explanations.findings import Explanation
    from trackprep.explanations.situation import Situation
    from trackprep.reports.notices import Notice


# Not frozen, and with as little as may be: a club checks many riders.
@define(eq=False, slots=False)
class Report:
    """What a ruleset answers to a declaration, for an event on a day.

    Attributes:
        rules: The rules, as they are meant.
        declaration: What was declared.
        event: The day of the event.
        statuses: The answer of every rule, in report order.
    """

    rules: Rules = field(repr=False)
    declaration: "Declaration" = field(repr=False)
    event: date
    statuses: tuple[Status, ...] = field(repr=False)

    @classmethod
    def made(cls, rules: Rules, declaration: "Declaration", event: date) -> "Report":
        """The report by the reference meaning, its outcomes worked out at once."""
        prepared = checks.prepared(rules, declaration.values, event)
        outcomes = checks.outcomes(rules, prepared[0], event)
        report = cls(rules, declaration, event, tuple([one.status for one in outcomes]))
        report.__dict__ |= {"_prepared": prepared, "outcomes": outcomes}
        return report

    @cached_property
    def _prepared(self) -> tuple[Mapping[str, Value], tuple[str, ...]]:
        return checks.prepared(self.rules, self.declaration.values, self.event)

    @property
    def values(self) -> Mapping[str, Value]:
        """What is known on the day of the event, by fact."""
        return self._prepared[0]

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the declaration for this event.

        The report stands beside it, without the values that it is about.
        """
        future = self._prepared[1]
        return tuple(_after_the_event(path, self.declaration, self.event) for path in future)

    @cached_property
    def outcomes(self) -> tuple[Outcome, ...]:
        """What every rule answers, in report order, with what the unsettled ones wait for."""
        return checks.outcomes(self.rules, self.values, self.event)

    @cached_property
    def verdict(self) -> Verdict:
        """`ready`, `not-ready` or `incomplete`, by the required rules alone."""
        return checks.verdict(self.rules, self.outcomes)

    @cached_property
    def answers(self) -> tuple["Answer", ...]:
        """An answer for each rule: by section, required before recommended."""
        return tuple(map(partial(Answer, self), range(len(self.statuses))))

    @cached_property
    def notices(self) -> tuple["Notice", ...]:
        """What a reader of the report should know besides the answers."""
        from trackprep.reports.notices import notices

        return notices(self)

    @cached_property
    def situation(self) -> "Situation":
        """What the answers are explained from."""
        from trackprep.explanations.situation import Situation

        return Situation(self.rules, self.values, self.declaration.values, self.event)

    def text(self, width: int = 100) -> str:
        """The report as plain text, in lines of at most `width` columns."""
        from trackprep.reports.text import render_plain

        return render_plain(self, width)

    def to_dict(self) -> dict[str, Any]:
        """The report for a program, as `grammar/report.schema.json` describes it."""
        from trackprep.reports.json_form import report_form

        return report_form(self)

    def __str__(self) -> str:
        return self.text()


# Not frozen: that would double what it costs to make the answers.
@define(eq=False, repr=False)
class Answer:
    """What one rule answers, and why."""

    _report: Report
    _place: int

    @property
    def _rule(self) -> Rule:
        return self._report.rules.rules[self._place]

    @property
    def _outcome(self) -> Outcome:
        return self._report.outcomes[self._place]

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
        return self._report.statuses[self._place]

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
        facts = self._report.rules.facts
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

        return explain(self._rule, self._outcome, self._report.situation)

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
        from trackprep.explanations.reasons import answering

        situation = self._report.situation
        chosen = []
        for asked in answering(self._rule, self.status, situation):
            for work in asked.fixes:
                if work.when is None or situation.holds(work.when) is not False:
                    chosen.append(work)
                    break
        return tuple(dict.fromkeys(chosen))

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

        facts, declared = self._report.rules.facts, self._report.declaration.values
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


def _after_the_event(path: str, declaration: "Declaration", event: date) -> Problem:
    """The problem of a date that cannot lie after the event, and does."""
    from trackprep.explanations.wording import value_text

    value = value_text(path, declaration.values[path], declaration.rules)
    day = long_form(event)
    return Problem(
        "after-the-event",
        f"`{path}` is {value}, which lies after the event on {day}",
        declaration.places.get(path),
        path=path,
        expected=f"a date up to {day}",
        suggestion="correct the date, or leave it out",
        name=declaration.name,
    )
