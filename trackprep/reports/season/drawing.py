"""A season as SVG: bars that stretch to the page's width, letters that keep their size.

States differ by pattern besides colour. Colours stand as attributes for a place without our
style sheet, and take the page's own, dark or light, where it has one.
"""

from collections.abc import Iterator, Sequence
from datetime import date

from trackprep.backends.statuses import Status
from trackprep.dates import Span
from trackprep.reports.pages.html import escaped
from trackprep.reports.season.bars import MANY, month_name, months, named_months
from trackprep.reports.season.words import Row

INK, LINE = "#5a6470", "#9aa4ae"
COLOURS: dict[Status, str] = {
    "met": "#17612c", "unsettled": "#9a5b00", "not-met": "#9c1c1c", "not-asked": LINE,
}  # fmt: skip
MEANINGS: tuple[tuple[Status, str], ...] = (
    ("met", "ready to present; of a rule, met"),
    ("unsettled", "incomplete; of a rule, unsettled"),
    ("not-met", "not ready; of a rule, not met"),
    ("not-asked", "of a rule, not asked"),
)
RULER, LABEL, EVENT_BAR, RULE_BAR, GAP, KEY = 24, 20, 20, 10, 8, 22  # px
NARROWEST_MONTH = 9.3  # percent of a phone; a name needs so much


def drawing(rows: Sequence[Row], first: date, last: date) -> str:
    """The whole picture, as wide as the place where it stands."""
    body, bottom = _rows(rows, first, last)
    keys = list(_keys(rows, bottom + GAP))
    height = bottom + GAP + KEY * len(keys)
    return "\n".join([
        f'<svg class="season" role="img" aria-label="The season as bars; told in words below"'
        f' width="100%" height="{height}" font-family="system-ui, sans-serif" font-size="13">',
        _PATTERNS,
        *_months(first, last, bottom),
        *body,
        *keys,
        "</svg>",
    ])  # fmt: skip


_PATTERNS = (
    '<defs><pattern id="season-unsettled" width="7" height="7" patternUnits="userSpaceOnUse">'
    f'<circle class="unsettled" cx="3.5" cy="3.5" r="1.8" fill="{COLOURS["unsettled"]}"/>'
    '</pattern><pattern id="season-not-met" width="6" height="6" patternUnits="userSpaceOnUse"'
    ' patternTransform="rotate(45)">'
    f'<rect class="not-met" width="3.4" height="6" fill="{COLOURS["not-met"]}"/>'
    "</pattern></defs>"
)


def _rows(rows: Sequence[Row], first: date, last: date) -> tuple[list[str], int]:
    """The rows below the ruler, and where they end."""
    lines, top = [], RULER
    for row in rows:
        weight, height = ("600", EVENT_BAR) if row.event else ("400", RULE_BAR)
        lines.append(
            f'<text class="ink" x="0" y="{top + LABEL - 6}" font-weight="{weight}"'
            f' fill="{INK}">{escaped(_short(row.label))}</text>'
        )
        top += LABEL
        for piece in row.pieces:
            left, wide = _place(piece.span, first, last)
            lines += _box(piece.state, f"{left:.3f}%", f"{wide:.3f}%", top, height)
        top += height + GAP
    return lines, top


def _box(state: Status, left: str, wide: str, top: int, height: int) -> Iterator[str]:
    """A bar in one state: filled, dotted, hatched, or a mere line."""
    place = f'x="{left}" width="{wide}"'
    colour = COLOURS[state]
    match state:
        case "met":
            yield f'<rect class="met" {place} y="{top}" height="{height}" fill="{colour}"/>'
        case "not-asked":
            middle = top + height // 2
            yield f'<rect class="line" {place} y="{middle}" height="1" fill="{colour}"/>'
        case "unsettled" | "not-met":
            yield (
                f'<rect class="{state} edge" {place} y="{top}" height="{height}"'
                f' fill="url(#season-{state})" stroke="{colour}"/>'
            )


def _months(first: date, last: date, bottom: int) -> Iterator[str]:
    """A line at the start of each month, and its name where there is room."""
    starts = months(first, last)
    named = named_months(starts, room=100, each=NARROWEST_MONTH)
    for month in starts if len(starts) <= MANY else named:
        left, _ = _place(Span.of_day(max(month, first)), first, last)
        yield (
            f'<rect class="line" x="{left:.3f}%" y="4" width="1" height="{bottom - 4 - GAP}"'
            f' fill="{LINE}"/>'
        )
        if month in named and left < 100 - NARROWEST_MONTH / 2:
            name = month_name(month, starts)
            yield (
                f'<text class="soft" x="{left:.3f}%" dx="4" y="15" font-size="12"'
                f' fill="{INK}">{name}</text>'
            )


def _keys(rows: Sequence[Row], top: int) -> Iterator[str]:
    """What the patterns mean, of those that occur."""
    shown = {piece.state for row in rows for piece in row.pieces}
    for state, meaning in MEANINGS:
        if state in shown:
            yield "".join(_box(state, "1", "22", top + 4, 12)) + (
                f'<text class="ink" x="30" y="{top + 15}" fill="{INK}">{meaning}</text>'
            )
            top += KEY


def _place(span: Span, first: date, last: date) -> tuple[float, float]:
    """Where the days begin, and how much they take, in percent of the season."""
    days = (last - first).days + 1
    left = (span.first - first).days / days
    return 100 * left, 100 * ((span.last - span.first).days + 1) / days


def _short(label: str) -> str:
    """As much of a label as a phone has room for; the table has all of it."""
    return label if len(label) <= 46 else f"{label[:45].rstrip()}…"
