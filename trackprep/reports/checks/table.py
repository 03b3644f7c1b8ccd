"""A report in short, for a notebook: the verdict, and a table of what is left."""

from typing import TYPE_CHECKING

from trackprep.reports.checks.discreet import discreetly_told
from trackprep.reports.checks.page import ANSWERS
from trackprep.reports.pages.blocks import Table
from trackprep.reports.pages.html import escaped, table_html
from trackprep.reports.verdicts import verdict_lines

if TYPE_CHECKING:
    from trackprep.reports.report import Report


def report_summary(report: "Report") -> str:
    """The verdict and what else there is to do, and a row for each rule with an open end."""
    verdict, *more = verdict_lines(report)
    said = f"<p><strong>{escaped(verdict)}</strong> {escaped(' '.join(more))}</p>"
    table = left_table(report)
    return f"{said}\n{table_html(table)}" if table.rows else said


def left_table(report: "Report") -> Table:
    """The rules that are not met or unsettled, with why."""
    rows = tuple(
        (
            answer.title,
            ANSWERS[answer.status][0],
            answer.level,
            " ".join(discreetly_told(answer.explanation, report.rules)),
        )
        for answer in report.answers
        if answer.status in ("not-met", "unsettled")
    )
    return Table("What is left", ("Rule", "Answer", "Level", "Why"), rows)
