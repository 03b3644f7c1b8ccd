"""All that is handed out for an event, as files with their texts."""

from collections.abc import Iterator, Sequence
from datetime import date
from functools import cached_property

from trackprep.analysis.comparisons import Comparison
from trackprep.frozen import frozen
from trackprep.publishing.editions import Edition, edition_of
from trackprep.publishing.form.page import form_page
from trackprep.publishing.inspection import blank_sheet, riders_sheet
from trackprep.publishing.marks import marked_html, marked_markdown, marks_of, sealed
from trackprep.publishing.presented import Presented
from trackprep.publishing.sheet import sheet_page
from trackprep.reports.pages.blocks import Page
from trackprep.rules.model import Rules


@frozen
class Paper:
    """A file to hand out."""

    name: str
    text: str


@frozen(eq=False, slots=False)
class Event:
    """A ruleset to hand out, with the base that it supplements and what changed in it.

    Attributes:
        day: When it is, where that is known: it has to be for riders.
        riders: Who is to present, each with the answer for this event.
    """

    rules: Rules
    base: Rules | None = None
    since: Comparison | None = None
    day: date | None = None
    riders: tuple[Presented, ...] = ()

    @cached_property
    def edition(self) -> Edition:
        """What its papers say that they are."""
        return edition_of(self.rules)

    @cached_property
    def sheet(self) -> Page:
        """Its sheet, which is a paper and stands in the page that checks itself too."""
        return sheet_page(self.rules, base=self.base, since=self.since)


def papers(event: Event) -> Iterator[Paper]:
    """The papers of an event. Every further one has its place here."""
    rules = event.rules
    yield from _paper("sheet", event.sheet, event)
    yield from _paper("inspection", blank_sheet(rules, event.day), event)
    if event.riders and event.day is not None:
        # A file of its own: the others go on the web, and this one must not.
        page = riders_sheet(rules, event.riders, event.day)
        yield from _paper("inspection-riders", page, event)


def declaring(events: Sequence[Event]) -> Paper:
    """The page in which riders declare and see what is answered, one for all events together."""
    marks = marks_of(event.edition for event in events)
    page = form_page([event.rules for event in events], [event.sheet for event in events], marks)
    name = f"{events[0].rules.name}-declare" if len(events) == 1 else "declare"
    return Paper(f"{name}.html", sealed(page))


def _paper(what: str, page: Page, event: Event) -> Iterator[Paper]:
    name = f"{event.rules.name}-{what}"
    yield Paper(f"{name}.html", marked_html(page, event.edition))
    yield Paper(f"{name}.md", marked_markdown(page, event.edition))
