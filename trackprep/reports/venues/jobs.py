"""What has to be done to make a change, in the words of the rules that ask for it."""

from collections.abc import Sequence

from attrs import define, evolve, field

from trackprep.analysis.least_changes import Change, Plan
from trackprep.analysis.replaying import RuleOf
from trackprep.frozen import frozen
from trackprep.reports.answer import Answer
from trackprep.reports.checked import Checked
from trackprep.reports.report import Report
from trackprep.reports.works import work_lines
from trackprep.rules.values import Value


@frozen
class Fix:
    """One way of saying what to do.

    Attributes:
        by: The rulesets that say it so, by their numbers.
        details: What it needs, each with its heading.
    """

    text: str
    by: tuple[int, ...]
    details: tuple[tuple[str, str], ...]


KEEP = Fix("Change this too, so that what is asked of you stays the same.", (), ())
"""Of a change that no rule is in want of."""


@frozen
class Job:
    """Work, and the changes that it makes.

    Attributes:
        fixes: What to do, each way of saying it once.
        cautions: What can hurt somebody during the work.
        rules: The rules that it is for.
    """

    fixes: tuple[Fix, ...]
    cautions: tuple[str, ...]
    changes: tuple[Change, ...]
    rules: tuple[RuleOf, ...]


def jobs(plan: Plan, reports: Sequence[Report]) -> tuple[Job, ...]:
    """The work for all changes of a plan; changes that one piece of work makes stand together.

    Args:
        reports: On the declaration as it is, for each of the plan's rulesets.
    """
    found: dict[tuple[str, ...], _Gathered] = {}
    for change in plan.changes:
        gathered = _Gathered()
        for rule in change.rules:
            titles = {one.name: one.title for one in reports[rule.ruleset].rules.rules}
            gathered.add(rule.ruleset, _answer(rule, change, plan, reports), titles)
        known = found.setdefault(tuple(gathered.by), gathered)
        known.changes.append(change)
        known.rules.update(dict.fromkeys(change.rules))
        known.cautions.update(gathered.cautions)
    return tuple(gathered.job() for gathered in found.values())


@define(eq=False)
class _Gathered:
    """What rules say about one piece of work."""

    by: dict[str, dict[int, None]] = field(factory=dict)
    details: dict[str, dict[tuple[str, str], None]] = field(factory=dict)
    cautions: dict[str, None] = field(factory=dict)
    changes: list[Change] = field(factory=list)
    rules: dict[RuleOf, None] = field(factory=dict)

    def add(self, ruleset: int, answer: Answer, titles: dict[str, str]) -> None:
        self.cautions.update(dict.fromkeys(answer.cautions))
        for work in answer.fixes:
            (_, text), *details = work_lines(work, answer, titles)
            self.by.setdefault(text, {})[ruleset] = None
            self.details.setdefault(text, {}).update(dict.fromkeys(details))
        if not answer.fixes:
            self.by.setdefault(f"Meet the rule “{answer.title}”.", {})[ruleset] = None

    def job(self) -> Job:
        fixes = (
            Fix(text, tuple(by), tuple(self.details.get(text, ()))) for text, by in self.by.items()
        )
        return Job(
            tuple(fixes) or (KEEP,), tuple(self.cautions), tuple(self.changes), tuple(self.rules)
        )


def _answer(rule: RuleOf, change: Change, plan: Plan, reports: Sequence[Report]) -> Answer:
    """What a rule answers as declared; if it lets that through, with all done but the change."""
    report = reports[rule.ruleset]
    answer = _of(report, rule)
    if answer.status in ("not-met", "unsettled"):
        return answer
    undone: dict[str, Value] = {p: v for p, v in plan.values.items() if p != change.path}
    if change.old is not None:
        undone[change.path] = change.old
    own = {path: value for path, value in undone.items() if path in report.rules.facts}
    declaration = evolve(report.declaration, values=own)
    return _of(Report(Checked.made(report.rules, declaration, report.event)), rule)


def _of(report: Report, rule: RuleOf) -> Answer:
    return next(answer for answer in report.answers if answer.rule == rule.rule)
