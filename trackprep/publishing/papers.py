"""All that is handed out for an event, as files with their texts."""

from collections.abc import Iterator, Sequence
from datetime import date

from trackprep.analysis.comparisons import Comparison
from trackprep.frozen import frozen
from trackprep.publishing.editions import edition_of
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


@frozen(eq=False)
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


def papers(event: Event) -> Iterator[Paper]:
    """The papers of an event. Every further one has its place here."""
    rules = event.rules
    yield from _paper("sheet", sheet_page(rules, base=event.base, since=event.since), rules)
    yield from _paper("inspection", blank_sheet(rules, event.day), rules)
    if event.riders and event.day is not None:
        # A file of its own: the others go on the web, and this one must not.
        page = riders_sheet(rules, event.riders, event.day)
        yield from _paper("inspection-riders", page, rules)


def declaring(events: Sequence[Event]) -> Paper:
    """The page in which riders declare and see what is answered, one for all events together."""
    rulesets = [event.rules for event in events]
    sheets = [sheet_page(each.rules, base=each.base, since=each.since) for each in events]
    page = form_page(rulesets, sheets, marks_of(map(edition_of, rulesets)))
    name = f"{rulesets[0].name}-declare" if len(events) == 1 else "declare"
    return Paper(f"{name}.html", sealed(page))


def _paper(what: str, page: Page, rules: Rules) -> Iterator[Paper]:
    edition = edition_of(rules)
    yield Paper(f"{rules.name}-{what}.html", marked_html(page, edition))
    yield Paper(f"{rules.name}-{what}.md", marked_markdown(page, edition))
