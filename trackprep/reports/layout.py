"""The lines of a report, in order, each with its part in it; neither wrapped nor coloured."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import TYPE_CHECKING, Literal, TypeAlias

from trackprep.backends.checks import Status
from trackprep.dates import long_form
from trackprep.explanations.wording import counted
from trackprep.frozen import frozen
from trackprep.reports.notices import CHECK_AGAIN
from trackprep.reports.verdicts import verdict_lines
from trackprep.reports.works import work_lines

if TYPE_CHECKING:
    from trackprep.reports.answer import Answer
    from trackprep.reports.report import Report

Role: TypeAlias = Literal[
    "title", "plain", "ready", "not-ready", "incomplete", "heading", "level",
    "not-met", "unsettled", "met", "detail", "caution", "problem",
]  # fmt: skip
"""What a line is; a terminal may show it in colour, but its words say it too."""

BADGES: dict[Status, str] = {"not-met": "NOT MET", "unsettled": "UNSETTLED", "met": "met"}
_URGENCY: dict[Status, int] = {"not-met": 0, "unsettled": 1, "met": 2, "not-asked": 3}


@frozen
class Line:
    """A paragraph of the report: a heading within the line, and its text."""

    role: Role
    text: str
    label: str = ""
    indent: int = 0


BLANK = Line("plain", "")


def report_lines(report: "Report") -> Iterator[Line]:
    """The whole report: verdict, problems, the rules by section, and what to know."""
    for line, alike in groupby(_all_lines(report)):
        yield from (BLANK,) if line == BLANK else alike


def _all_lines(report: "Report") -> Iterator[Line]:
    yield from _head(report)
    yield from _problems(report)
    aged = any(notice.code == "check-again" for notice in report.notices)
    titles = {rule.name: rule.title for rule in report.rules.rules}
    for section, members in groupby(report.answers, key=lambda answer: answer.section):
        yield from _section(section, list(members), titles, aged)
    yield BLANK
    yield Line("heading", "== To know ==")
    for notice in report.notices:
        yield Line("plain", notice.text, indent=2)
    yield BLANK
    yield Line(report.verdict, verdict_lines(report)[0])


def _head(report: "Report") -> Iterator[Line]:
    rules = report.rules
    edition = f", edition {rules.edition}" if rules.edition else ""
    yield Line("title", f"{rules.title}{edition}")
    event = f"event on {long_form(report.event)}"
    title = report.declaration.title
    yield Line("plain", f"{title}: {event}" if title else f"{event[0].upper()}{event[1:]}")
    yield BLANK
    verdict, *more = verdict_lines(report)
    yield Line(report.verdict, verdict)
    for text in more:
        yield Line("plain", text, indent=2)


def _problems(report: "Report") -> Iterator[Line]:
    if not report.problems:
        return
    yield BLANK
    yield Line("heading", "== Problems in the declaration ==")
    for problem in report.problems:
        where = str(problem.place) if problem.place else problem.file
        yield Line("problem", f"{where}: {problem.message}" if where else problem.message, indent=2)
        if problem.expected:
            yield Line("detail", problem.expected, "Expected", 6)
        if problem.suggestion:
            yield Line("detail", problem.suggestion, "Try", 6)


def _section(
    section: str, answers: list["Answer"], titles: dict[str, str], aged: bool
) -> Iterator[Line]:
    asked = [answer for answer in answers if answer.status != "not-asked"]
    yield BLANK
    yield Line("heading", f"== {section or 'Rules'} ==")
    for level, members in groupby(asked, key=lambda answer: answer.level):
        yield Line("level", level.capitalize())
        for answer in sorted(members, key=lambda answer: _URGENCY[answer.status]):
            yield from _answer(answer, titles, aged)
    if number := len(answers) - len(asked):
        yield Line("plain", f"Not asked of you: {counted(number, 'rule')}.")


def _answer(answer: "Answer", titles: dict[str, str], aged: bool) -> Iterator[Line]:
    status = answer.status
    if status == "not-asked":
        return
    badge = "FOR THE INSPECTOR" if answer.waits_for_inspector else BADGES[status]
    mark = f", {CHECK_AGAIN}" if aged and answer.check_again else ""
    yield Line(status, f"{answer.title} [{answer.rule}]{mark}", badge, 2)
    if status == "met":
        return
    for sentence in answer.why:
        yield Line("detail", sentence, indent=6)
    yield from (Line(role, text, label, 6) for role, label, text in _details(answer, titles))
    yield BLANK


def _details(answer: "Answer", titles: dict[str, str]) -> Iterable[tuple[Role, str, str]]:
    """What the rule's author says about it; what can hurt stands before the job."""
    if answer.reason:
        yield "detail", "Why", answer.reason
    for caution in answer.cautions:
        yield "caution", "CAUTION", caution
    for work in answer.fixes if not answer.waits_for_inspector else ():
        for label, text in work_lines(work, answer, titles):
            conditional = label == "Fix" and answer.status == "unsettled"
            yield "detail", "Fix, if it is needed" if conditional else label, text
    if answer.inspect:
        yield "detail", "The inspector", answer.inspect
    if answer.source:
        yield "detail", "Source", answer.source
