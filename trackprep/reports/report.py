"""What the rules answer to one declaration: the report, with an answer for each rule.

Answers are cheap to make; words, notices and explanations are worked out when asked for.
"""

from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from attrs import define, field

from trackprep.backends import checks
from trackprep.backends.checks import Outcome, Status, Verdict
from trackprep.backends.terms import Values
from trackprep.dates import long_form
from trackprep.problems import Problem
from trackprep.reports.answer import Answer, answers_of
from trackprep.reports.checked import Checked
from trackprep.rules.model import Rules

# Explanations and layouts are imported where they are asked for: a check that
# nobody reads does not pay for them.
if TYPE_CHECKING:
    from trackprep.declarations.declaration import Declaration
    from trackprep.explanations.situation import Situation
    from trackprep.reports.notices import Notice
    from trackprep.reports.pages.blocks import Page
    from trackprep.reports.would_do.report import WouldDoReport


# Not frozen, and with as little as may be: a club checks many riders.
@define(eq=False, slots=False, repr=False)
class Report:
    """What a ruleset answers to a declaration, for an event on a day."""

    _checked: Checked
    _answers: tuple[Answer, ...] | None = field(default=None, init=False)

    @property
    def rules(self) -> Rules:
        """The rules, as they are meant."""
        return self._checked.rules

    @property
    def declaration(self) -> "Declaration":
        """What was declared."""
        return self._checked.declaration

    @property
    def event(self) -> date:
        """The day of the event."""
        return self._checked.event

    @property
    def statuses(self) -> tuple[Status, ...]:
        """The answer of every rule, in report order."""
        return self._checked.statuses

    @property
    def values(self) -> Values:
        """What is known on the day of the event, by fact."""
        return self._checked.values

    @property
    def outcomes(self) -> tuple[Outcome, ...]:
        """What every rule answers, in report order, with what the unsettled ones wait for."""
        return self._checked.outcomes

    @property
    def situation(self) -> "Situation":
        """What the answers are explained from."""
        return self._checked.situation

    @property
    def answers(self) -> tuple[Answer, ...]:
        """An answer for each rule: by section, required before recommended."""
        if self._answers is None:  # a cached property would lock, at the price of ten
            self._answers = answers_of(self._checked)
        return self._answers

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the declaration for this event.

        The report stands beside it, without the values that it is about.
        """
        future = self._checked.after_the_event
        return tuple(_after_the_event(path, self.declaration, self.event) for path in future)

    @cached_property
    def verdict(self) -> Verdict:
        """`ready`, `not-ready` or `incomplete`, by the required rules alone."""
        return checks.verdict(self.rules, self.outcomes)

    @cached_property
    def notices(self) -> tuple["Notice", ...]:
        """What a reader of the report should know besides the answers."""
        from trackprep.reports.notices import notices

        return notices(self)

    @cached_property
    def until(self) -> date | None:
        """The first day after the event on which some answer is worse, with nothing changed.

        Of required and recommended rules; `Answer.until` tells it of each. None where the
        calendar alone makes none worse within twenty years.
        """
        days = (answer.until for answer in self.answers)
        return min((day for day in days if day is not None), default=None)

    def what_would_do(self) -> "WouldDoReport":
        """For each rule not met the least that meets it, and the least to be ready to present."""
        # A check needs no solver.
        from trackprep.analysis.would_do import would_do
        from trackprep.reports.would_do.report import WouldDoReport

        return WouldDoReport(would_do(self.rules, self.declaration.values, self.event), self)

    @cached_property
    def page(self) -> "Page":
        """The report as a page, which has no value of a private fact."""
        from trackprep.reports.checks.page import report_page

        return report_page(self)

    def html(self) -> str:
        """The page as one file to open in a browser; it asks no network for anything."""
        from trackprep.reports.pages.html import page_html

        return page_html(self.page)

    def markdown(self) -> str:
        """The page as Markdown."""
        from trackprep.reports.pages.markdown import page_markdown

        return page_markdown(self.page)

    def _repr_html_(self) -> str:
        from trackprep.reports.checks.table import report_summary

        return report_summary(self)

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

    def __repr__(self) -> str:
        return f"Report(event={self.event!r})"


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
