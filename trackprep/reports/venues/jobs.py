"""What has to be done to make a change, in the words of the rules that ask for it."""

from collections.abc import Iterable, Iterator, Sequence

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
class Job:
    """Work, and the changes that it makes.

    Attributes:
        texts: What to do, each way of saying it once, with the rulesets that say it so.
        details: What it needs: each with its heading.
        cautions: What can hurt somebody during the work.
        rules: The rules that it is for.
    """

    texts: tuple[tuple[str, tuple[int, ...]], ...]
    details: tuple[tuple[str, str], ...]
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
        answers = [(rule, _answer(rule, change, plan, reports)) for rule in change.rules]
        gathered = _Gathered.of(answers, reports)
        found.setdefault(tuple(gathered.texts), gathered).changes.append(change)
        found[tuple(gathered.texts)].rules.update(dict.fromkeys(change.rules))
    return tuple(job.job() for job in found.values())


@define(eq=False)
class _Gathered:
    texts: dict[str, list[int]] = field(factory=dict)
    details: dict[tuple[str, str], None] = field(factory=dict)
    cautions: dict[str, None] = field(factory=dict)
    changes: list[Change] = field(factory=list)
    rules: dict[RuleOf, None] = field(factory=dict)

    @classmethod
    def of(
        cls, answers: Iterable[tuple[RuleOf, Answer]], reports: Sequence[Report]
    ) -> "_Gathered":
        found = cls()
        for rule, answer in answers:
            titles = {one.name: one.title for one in reports[rule.ruleset].rules.rules}
            found.cautions.update(dict.fromkeys(answer.cautions))
            for label, text in _lines(answer, titles):
                if label == "Fix":
                    numbers = found.texts.setdefault(text, [])
                    if rule.ruleset not in numbers:
                        numbers.append(rule.ruleset)
                else:
                    found.details[(label, text)] = None
        return found

    def job(self) -> Job:
        texts = tuple((text, tuple(numbers)) for text, numbers in self.texts.items())
        return Job(
            texts, tuple(self.details), tuple(self.cautions), tuple(self.changes),
            tuple(self.rules),
        )  # fmt: skip


def _lines(answer: Answer, titles: dict[str, str]) -> Iterator[tuple[str, str]]:
    fixes = answer.fixes
    for work in fixes:
        yield from work_lines(work, answer, titles)
    if not fixes:
        yield "Fix", f"Meet the rule “{answer.title}”"


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
