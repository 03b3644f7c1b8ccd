"""The work list of one rider, for an event or for several on one day: it shows itself."""

from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any

from attrs import define

from trackprep.reports.report import Report
from trackprep.rider.work.events import Event
from trackprep.rider.work.planning import planned
from trackprep.rider.work.road_return import registered
from trackprep.rider.worklist import Arrival, Worklist

if TYPE_CHECKING:
    from trackprep.backends.checks import Verdict
    from trackprep.reports.pages.blocks import Page

_WORST: tuple["Verdict", ...] = ("not-ready", "incomplete", "ready")


@define(eq=False, slots=False, repr=False)
class WorklistReport:
    """What is left to find out, to do, to get and to put back.

    It prints as text (`str`), shows itself in a notebook, and gives Markdown, HTML and JSON.

    Attributes:
        worklist: All that stands on it.
        reports: What it was made from.
    """

    worklist: Worklist
    reports: tuple[Report, ...]

    @cached_property
    def verdict(self) -> "Verdict":
        """The worst verdict as declared."""
        verdicts = {report.verdict for report in self.reports}
        return next(verdict for verdict in _WORST if verdict in verdicts)

    # Each shape is imported where it is asked for.

    @cached_property
    def page(self) -> "Page":
        """The list as a page."""
        from trackprep.reports.worklist.page import WorklistPage

        return WorklistPage(self.worklist, self.reports).page()

    def text(self, width: int = 100) -> str:
        """As plain text, in lines of at most `width` columns."""
        from trackprep.reports.pages.plain import page_text

        return page_text(self.page, width=width)

    def markdown(self) -> str:
        """As Markdown, with boxes to tick."""
        from trackprep.reports.pages.markdown import page_markdown

        return page_markdown(self.page)

    def html(self) -> str:
        """As one file to open in a browser or to print, with boxes to tick."""
        from trackprep.reports.pages.html import page_html

        return page_html(self.page)

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `grammar/worklist.schema.json` describes it."""
        from trackprep.reports.worklist.json_form import worklist_form

        return worklist_form(self.worklist, self.reports)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import page_part

        return page_part(self.page)

    def _repr_markdown_(self) -> str:
        return self.markdown()

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        names = ", ".join(repr(one.name) for one in self.worklist.occasions)
        return f"WorklistReport({names}, {len(self.worklist.jobs)} jobs)"


def worklist(
    *reports: Report, arrival: Arrival | None = None, today: date | None = None
) -> WorklistReport:
    """What is left to do, from the reports on one declaration for events of one day.

    Args:
        arrival: `"ridden"` or `"carried"`; if None the machine comes on its own wheels where it
            is declared to be registered for the road.
        today: The day from which it is told whether there is still time to order; the real one
            if None.

    Raises:
        TypeError: There is no report, or one of them is none.
        ValueError: The reports are for different days, `arrival` is another word, or a machine
            that is declared not to be registered for the road is to be ridden there.
    """
    if not reports or not all(isinstance(report, Report) for report in reports):
        raise TypeError("`worklist` takes one report or more, as `Ruleset.check` gives them")
    if len({report.event for report in reports}) > 1:
        raise ValueError("the reports are for different days: make a work list for each day")
    if arrival not in (None, "ridden", "carried"):
        raise ValueError('`arrival` is "ridden", "carried" or None')
    events = [
        Event(place, report.outcomes, report.situation) for place, report in enumerate(reports)
    ]
    if arrival == "ridden" and registered(events) is False:
        raise ValueError(
            "the machine is declared not to be registered for the road, so it cannot be ridden to"
            " the event"
        )
    return WorklistReport(planned(events, arrival, today or date.today()), reports)
