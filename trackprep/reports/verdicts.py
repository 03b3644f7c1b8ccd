"""The verdict in words: of a machine that is ready to present, never that it passed."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, assert_never

from trackprep.dates import long_form
from trackprep.explanations.wording import counted

if TYPE_CHECKING:
    from trackprep.reports.answer import Answer
    from trackprep.reports.report import Report


def verdict_lines(report: "Report") -> tuple[str, ...]:
    """The verdict first, then what else there is to do or to know about it."""
    required = [answer for answer in report.answers if answer.level == "required"]
    unsettled = [
        answer
        for answer in required
        if answer.status == "unsettled" and not answer.waits_for_inspector
    ]
    declared = _as_declared(report)
    lines = []
    match report.verdict:
        case "ready":
            lines.append(
                f"{declared}, nothing here is against the required rules: ready to present."
            )
        case "not-ready":
            number = sum(answer.status == "not-met" for answer in required)
            lower = declared[0].lower() + declared[1:]
            lines.append(f"{counted(number, 'required rule')} not met, {lower}.")
            if unsettled:
                lines.append(f"{counted(len(unsettled), 'more is', 'more are')} unsettled.")
        case "incomplete":
            said = counted(len(unsettled), "required rule is", "required rules are")
            lines.append(
                f"{declared}, nothing is against the required rules, but {said} unsettled."
            )
        case _:
            assert_never(report.verdict)
    return (*lines, *_still_to_declare(unsettled), *_besides(report.answers))


def _as_declared(report: "Report") -> str:
    day = report.declaration.declared_on
    return f"As declared on {long_form(day)}" if day else "As declared"


def _still_to_declare(unsettled: Iterable["Answer"]) -> list[str]:
    """How many facts would settle the required rules."""
    unsettled = list(unsettled)
    undeclared = {path for answer in unsettled for path in answer.declare}
    coarse = {path for answer in unsettled for path in answer.narrow}
    lines = []
    if undeclared:
        lines.append(f"Still to declare: {counted(len(undeclared), 'fact')}.")
    if coarse:
        lines.append(f"Not known finely enough: {counted(len(coarse), 'date')}.")
    return lines


def _besides(answers: Iterable["Answer"]) -> list[str]:
    """What only the inspector decides, and what is only recommended."""
    answers = list(answers)
    for_inspector = sum(
        answer.status == "unsettled" and answer.waits_for_inspector for answer in answers
    )
    not_heeded = sum(
        answer.level == "recommended" and answer.status == "not-met" for answer in answers
    )
    lines = []
    if for_inspector:
        verb = "is" if for_inspector == 1 else "are"
        lines.append(f"{counted(for_inspector, 'point')} {verb} for the inspector alone to decide.")
    if not_heeded:
        said = counted(not_heeded, "recommendation is", "recommendations are")
        lines.append(f"{said} not met.")
    return lines
