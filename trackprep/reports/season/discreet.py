"""A season that may be handed on: what looks at private facts does not turn in it."""

from trackprep.analysis.turning import Course, Turn
from trackprep.reports.checks.discreet import looks_at_private
from trackprep.reports.report import Report
from trackprep.rider.lookahead import EventAhead, ahead_by


def discreetly_ahead(ahead: EventAhead, report: Report) -> EventAhead:
    """The season with each rule that looks at a private fact as it answers in the report."""
    courses = tuple(
        Course(course.rule, (Turn(ahead.first, outcome),))
        if looks_at_private(course.rule, report)
        else course
        for course, outcome in zip(ahead.courses, report.outcomes, strict=True)
    )
    return ahead_by(ahead.rules, courses, ahead.first, ahead.last)
