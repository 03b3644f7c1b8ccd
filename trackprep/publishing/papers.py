"""All that is handed out for an event, as files with their texts."""

from collections.abc import Iterator

from trackprep.analysis.comparisons import Comparison
from trackprep.frozen import frozen
from trackprep.publishing.editions import edition_of
from trackprep.publishing.marks import marked_html, marked_markdown
from trackprep.publishing.sheet import sheet_page
from trackprep.rules.model import Rules


@frozen
class Paper:
    """A file to hand out."""

    name: str
    text: str


@frozen(eq=False)
class Event:
    """A ruleset to hand out, with the base that it supplements and what changed in it."""

    rules: Rules
    base: Rules | None = None
    since: Comparison | None = None


def papers(event: Event) -> Iterator[Paper]:
    """The papers of an event. Every further one has its place here."""
    yield from _sheet(event)


def _sheet(event: Event) -> Iterator[Paper]:
    page = sheet_page(event.rules, base=event.base, since=event.since)
    edition = edition_of(event.rules)
    name = f"{event.rules.name}-sheet"
    yield Paper(f"{name}.html", marked_html(page, edition))
    yield Paper(f"{name}.md", marked_markdown(page, edition))
