"""The road-return list of a work list, in blocks."""

from collections.abc import Iterator, Sequence

from trackprep.reports.pages.blocks import Block, Heading, Pairs, Paragraph, Tick
from trackprep.reports.worklist.wording import jobs_text, served_text, total_text, work_text
from trackprep.rider.worklist import RoadReturn, Step, Worklist, total

NOT_LEGAL = (
    "Without its plate, lamps, mirrors or road pressures the machine is not legal on the road, on"
    " the way there as on the way home: carry it, or put everything back first."
)
NOT_REGISTERED = (
    "The machine is declared not to be registered for the road: there is nothing to put back, and"
    " it is carried."
)
UNKNOWN = (
    "Whether the machine is registered for the road is not declared (machine.registered). If it is"
    " not, leave this list out and carry it."
)


def road_blocks(worklist: Worklist, names: Sequence[str]) -> Iterator[Block]:
    """Before leaving the paddock, and later; or why there is no such list."""
    road = worklist.road
    if road.registered is False:
        yield from (Heading("Back on the road"), Paragraph(NOT_REGISTERED))
        return
    if road.leaving:
        yield Heading("Back on the road: before you leave the paddock")
        yield from _head(road, road.leaving)
        yield from (_tick(step, names) for step in road.leaving)
    if road.later:
        yield Heading("Back on the road: before its next ride there, or frost")
        if not road.leaving:
            yield from _head(road, road.later)
        yield from (_tick(step, names) for step in road.later)


def _head(road: RoadReturn, steps: Sequence[Step]) -> Iterator[Block]:
    if road.registered is None:
        yield Paragraph(UNKNOWN, "Note", "warning")
    yield Paragraph(NOT_LEGAL, "Caution", "warning")
    takes = total(tuple(step.takes for step in steps))
    yield Paragraph(f"{total_text(takes)}.", "Time")


def _tick(step: Step, names: Sequence[str]) -> Tick:
    label = step.point if step.serves else f"Last look, {step.point.lower()}" if step.point else ""
    rows = tuple(_details(step, names))
    blocks = (Pairs(rows),) if rows else ()
    return Tick(work_text(step.texts, step.takes, names), label, step.cautions, blocks)


def _details(step: Step, names: Sequence[str]) -> Iterator[tuple[str, str, str]]:
    if step.only_if:
        yield "Only if", "it was done: the declaration does not tell", ""
    if step.serves:
        yield "For", served_text(step.serves, names), ""
    if step.declared:
        yield "You declared", step.declared, ""
    if step.jobs:
        yield "Undoes", jobs_text(step.jobs), ""
    if step.parts:
        yield "Parts", ", ".join(step.parts), ""
    if step.tools:
        yield "Tools", ", ".join(step.tools), ""
