"""What is printed: of the figures now, of one reading, and what stands at the end of all."""

from collections.abc import Iterator, Mapping, Sequence

from trackprep.measures.bench import Bench
from trackprep.pressures.advice import Advice
from trackprep.pressures.setting import Setting, dangers, dangers_now
from trackprep.pressures.tyres import TYRES, Figures, Reading, Tyre
from trackprep.pressures.working import (
    WINS,
    caution_blocks,
    in_families,
    said,
    working_blocks,
)
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Page, Pairs, Paragraph, Table
from trackprep.rules.values import Amount

COLD = (
    "Set tyres cold: not ridden on, not in the sun, warmers off. One gauge for both wheels, the"
    " same all day."
)
WHEN = (
    ("First", "cold, in the shade, before the first ride and before warmers."),
    (
        "As the day warms",
        "cold again, after a long break. The table says what the same air shows then: leave it. A"
        " tyre that shows less has lost air; find out why before you ride.",
    ),
    (
        "Right after riding",
        "hot, for your notes. Nothing is bled or added hot, unless you typed a hot target for"
        " that tyre and it stays above the maker's least.",
    ),
    ("After every change, and after a fall or a hard kerb", "cold."),
)


def road_line(figures: Mapping[Tyre, Figures]) -> str:
    """The last thing to do: the road pressures, cold."""
    known = [(tyre, road) for tyre in TYRES if (road := figures[tyre].road) is not None]
    told = [f"the {tyre} tyre to {said(road)}" for tyre, road in known]
    missing = [tyre for tyre in TYRES if figures[tyre].road is None]
    start = "Before the road, when the tyres have cooled down: set "
    if not known:
        return f"{start}both tyres, cold, to the road figures in the machine's manual."
    line = f"{start}{' and '.join(told)}, cold, by the road figure in the machine's manual"
    if missing:
        line += f"; the {missing[0]} tyre too, whose road figure is not noted here"
    return f"{line}."


# ---- now ------------------------------------------------------------------------


def now_page(
    bench: Bench,
    settings: Sequence[Setting],
    figures: Mapping[Tyre, Figures],
    altitude: Amount | None,
) -> Page:
    """What the figures equal now, when to check, and the working."""
    place = f", {said(altitude)} up" if altitude is not None else ""
    blocks: list[Block] = [
        Paragraph(f"For cold tyres at {said(settings[0].air)}{place}."),
        *caution_blocks(
            *(text for one in settings for text in dangers_now(one)), COLD, *bench.cautions
        ),
    ]
    for one in settings:
        blocks += _setting_blocks(one)
    blocks += [Heading("When to check"), Bullets(WHEN), *working_blocks(bench), WINS]
    return Page("Tyre pressures for the track, now", tuple(blocks), road_line(figures))


def _setting_blocks(one: Setting) -> Iterator[Block]:
    figures = one.figures
    figure = figures.figure
    assert figure is not None
    yield Heading(f"{one.tyre.capitalize()} tyre: set {said(one.goal)}")
    given = f" at {said(figures.given_at)}" if figures.given_at is not None else ""
    if figures.given_altitude is not None:
        given += f", {said(figures.given_altitude)} up"
    rows = [("Tyre maker's track figure, cold", f"{said(figure)}{given}", "")]
    if figures.given_at is None:
        rows.append(("Given for", "no temperature: it holds for the tyre as it stands, cold", ""))
    else:
        rows.append(("The same now", said(one.equals), ""))
    if one.thumb is not None:
        rows.append(("By rule of thumb", said(one.thumb), ""))
    if one.hot is not None and one.hot_at is not None:
        rows.append((f"Hot, at {said(one.hot_at)}", said(one.hot), ""))
    if figures.least is None:
        rows.append(("Least that its maker allows", "not noted: look it up, never go below", ""))
    yield Pairs((*rows, *_known(figures)))
    yield Table(
        "The same air as the day warms, cold and in the shade: leave it then",
        ("Air", "Gauge", "Also"),
        tuple(
            (" / ".join(in_families(air)), *reversed(in_families(pressure)))
            if pressure.unit.name == "psi"
            else (" / ".join(in_families(air)), *in_families(pressure))
            for air, pressure in ((one.air, one.goal), *one.later)
        ),
    )


def _known(figures: Figures) -> Iterator[tuple[str, str, str]]:
    """The other figures, by their names, so that nobody takes one for another."""
    names = (
        ("Least that its maker allows, cold", figures.least),
        ("Maximum on the sidewall, no setting", figures.sidewall),
        ("Hot target that you typed", figures.hot_target),
        ("Machine's road figure, cold", figures.road),
    )
    yield from ((name, said(value), "") for name, value in names if value is not None)


def figures_blocks(figures: Mapping[Tyre, Figures]) -> Iterator[Block]:
    """All that is known of both tyres."""
    for tyre in TYRES:
        rows = [*_known(figures[tyre])]
        if (figure := figures[tyre].figure) is not None:
            at = figures[tyre].given_at
            given = f" at {said(at)}" if at is not None else ""
            rows.insert(0, ("Tyre maker's track figure, cold", f"{said(figure)}{given}", ""))
        if rows:
            yield Heading(f"{tyre.capitalize()} tyre", 3)
            yield Pairs(tuple(rows))


# ---- a figure, a reading ----------------------------------------------------------


def figure_page(tyre: Tyre, figures: Mapping[Tyre, Figures]) -> Page:
    """What is known after a figure was noted."""
    blocks = (*caution_blocks(*dangers(tyre, figures[tyre])), *figures_blocks(figures), WINS)
    return Page("Figures of the tyres", blocks, road_line(figures))


def reading_page(
    bench: Bench, reading: Reading, found: Advice, figures: Mapping[Tyre, Figures]
) -> Page:
    """What one reading asks for, with the working."""
    was = "set to" if reading.was_set else "shows"
    at = f" at {said(reading.temperature)}" if reading.temperature is not None else ""
    blocks: list[Block] = [
        *caution_blocks(*found.cautions, *bench.cautions),
        Paragraph(
            f"the {reading.tyre} tyre {was} {said(reading.pressure)}, {reading.state}{at}.",
            f"{reading.at:%H:%M}",
        ),
        Paragraph(found.says, found.do.capitalize()),
        *working_blocks(bench),
        WINS,
    ]
    title = f"{reading.tyre.capitalize()} tyre, {reading.state}"
    return Page(title, tuple(blocks), road_line(figures))
