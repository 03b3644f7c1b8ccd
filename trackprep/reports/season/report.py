"""What `trackprep.look_ahead` gives: a season that shows itself."""

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from attrs import define

from trackprep.problems import Problem
from trackprep.reports.checked import Checked
from trackprep.reports.report import Report
from trackprep.rider.lookahead import EventAhead, worst

if TYPE_CHECKING:
    from trackprep.backends.checks import Verdict
    from trackprep.reports.pages.blocks import Page

# Each shape is imported where it is asked for.


@define(eq=False, slots=False, repr=False)
class SeasonReport:
    """On which day which rule starts to answer otherwise, with nothing declared changed.

    It prints as text (`str`), shows itself in a notebook as a picture, and gives JSON.

    Attributes:
        events: For each ruleset, its verdicts and changes over the season.
        reports: For each ruleset, the report for one day of it.
    """

    events: tuple[EventAhead, ...]
    reports: Sequence[Report]

    @property
    def worst(self) -> "Verdict":
        """The worst verdict on any day at any of the events."""
        return worst(ahead.worst for ahead in self.events)

    @property
    def never_known(self) -> tuple[Problem, ...]:
        """What is wrong all season: dates that cannot lie after an event, and lie behind it."""
        last = (
            Report(Checked.made(report.rules, report.declaration, ahead.last))
            for ahead, report in zip(self.events, self.reports, strict=True)
        )
        return tuple(problem for report in last for problem in report.problems)

    @cached_property
    def page(self) -> "Page":
        """The season as a page, in which nothing turns that looks at a private fact."""
        from trackprep.reports.season.page import SeasonPage

        return SeasonPage(self.events, self.reports).page()

    def text(self, width: int = 100) -> str:
        """As plain text for the rider, its bars in ASCII; private dates turn answers in it."""
        from trackprep.reports.pages.plain import page_text
        from trackprep.reports.season.page import SeasonPage

        season = SeasonPage(self.events, self.reports, columns=width, private=True)
        return page_text(season.page(), width=width)

    def html(self) -> str:
        """As one file to open in a browser; of one event, with the report for its day."""
        from trackprep.reports.checks.page import report_page
        from trackprep.reports.pages.html import page_html
        from trackprep.reports.season.page import SeasonPage

        if len(self.reports) > 1:
            return page_html(self.page)
        season = SeasonPage(self.events, self.reports).blocks()
        return page_html(report_page(self.reports[0], season))

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `grammar/report.schema.json` describes it."""
        from trackprep.reports.season.json_form import seasons_form

        return seasons_form(self.events, self.reports)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import table_html
        from trackprep.reports.season.drawing import drawing
        from trackprep.reports.season.page import SeasonPage
        from trackprep.reports.season.words import rows_of

        season, ahead = SeasonPage(self.events, self.reports), self.events[0]
        picture = drawing(rows_of(season.events), ahead.first, ahead.last)
        table = season.table()
        return f"{picture}\n{table_html(table)}" if table.rows else picture

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        names = ", ".join(repr(ahead.rules.name) for ahead in self.events)
        return f"SeasonReport({names}, {self.worst!r})"
