"""The inspection sheet: what the inspector looks at, station by station, with boxes to tick."""

from collections.abc import Iterable, Iterator
from datetime import date

from trackprep.dates import long_form
from trackprep.publishing.known_again import known_again
from trackprep.publishing.presented import Presented, rider_blocks
from trackprep.publishing.stations import Point, stations
from trackprep.reports.pages.blocks import Block, Break, Heading, Page, Pairs, Paragraph
from trackprep.rules.model import Rules

DECIDES = (
    "The inspector, always, by what is seen and measured. A tick says that the point was looked"
    " at and is as asked; it does not say that machine or gear is safe."
)
CARE = (
    "Machine steady on its stand; engine off unless a point says otherwise. After a ride engine,"
    " exhaust and brakes are hot. Fingers out of chain, sprocket and disc."
)
AFTER_A_FALL = "Machine and helmet are presented again, before the next session (common practice)."
INSPECTORS_ONLY = (
    "For the organizer's inspectors alone: it holds what riders declared, so keep it off the web"
    " and off the wall. Of what a rider keeps private it says only what follows."
)
_TO_FILL = "…" * 12


def blank_sheet(rules: Rules, day: date | None = None) -> Page:
    """Every rule with its box, and when it applies."""
    event = f"{rules.title}, {long_form(day)}" if day else rules.title
    blocks: tuple[Block, ...] = (
        Pairs((
            ("Rider and machine", _TO_FILL, ""),
            ("Event", event, ""),
            *((("Venue", rules.venue, ""),) if rules.venue else ()),
            *(() if day else (("Day", _TO_FILL, ""),)),
        )),
        *_before(),
        *stations(map(Point, rules.rules), rules, 2),
        Heading("After a fall"),
        Paragraph(AFTER_A_FALL),
        *known_again(rules, "This sheet has a box for all"),
    )  # fmt: skip
    return Page(_title("Inspection", rules), blocks)


def riders_sheet(rules: Rules, riders: Iterable[Presented], day: date) -> Page:
    """One page a rider, each of them whole on a clipboard."""
    blocks = (
        Paragraph(INSPECTORS_ONLY),
        *_pages(rules, riders, day),
        *known_again(rules, "These pages are made by all"),
    )
    return Page(_title("Inspection by rider", rules), blocks)


def _pages(rules: Rules, riders: Iterable[Presented], day: date) -> Iterator[Block]:
    for number, rider in enumerate(riders):
        if number:
            yield Break()
        yield Heading(rider.title)
        told, *more = rider_blocks(rider, rules, day)
        yield told
        yield from _before()
        yield from more
        yield Paragraph(AFTER_A_FALL, "After a fall")


def _before() -> Iterator[Block]:
    yield Paragraph(DECIDES, "Who decides", "warning")
    yield Paragraph(CARE, "Caution", "warning")


def _title(what: str, rules: Rules) -> str:
    edition = f", edition {rules.edition}" if rules.edition else ""
    return f"{what}: {rules.title}{edition}"
