"""A page as text: plain, or on a terminal in colour; colour never says anything alone."""

from collections.abc import Iterable, Iterator, Sequence
from textwrap import fill
from typing import TYPE_CHECKING, assert_never

from trackprep.frozen import frozen
from trackprep.reports.pages.blocks import (
    Block,
    Break,
    Bullets,
    Entry,
    Facts,
    Folded,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Passage,
    Picture,
    Table,
    Tick,
    Tone,
)

if TYPE_CHECKING:
    from rich.console import Console

NARROW = 60
"""Below so many columns indents are halved."""
STEP = 4
BOX = "☐"
RULE = "─" * 20
HANGING = 2

_COLOURS: dict[Tone, str] = {
    "stricter": "bold red",
    "looser": "bold green",
    "mixed": "bold magenta",
    "added": "bold blue",
    "withdrawn": "bold yellow",
    "quiet": "bold",
    "warning": "bold yellow",
    "met": "bold green",
    "not-met": "bold red",
}

_BAR_COLOURS = {"━": "green", "▒": "yellow", "█": "red"}
"""Of drawings in characters, which differ without them."""


@frozen
class Line:
    """A paragraph of the text; `style` is for its first `styled` characters."""

    text: str
    indent: int = 0
    style: str = ""
    styled: int = 0


BLANK = Line("")


def page_text(page: Page, *, width: int = 100, whole: bool = False) -> str:
    """The page in lines of at most `width` columns; folded parts only with `whole`."""
    return "\n".join(_wrapped(line, width) for line in _lines(page, whole)) + "\n"


def print_page(page: Page, *, width: int | None = None, whole: bool = False) -> None:
    """Prints the page on standard output: the same words, with colour where a terminal has it."""
    from rich.console import Console  # slow to import, and needed on a terminal only

    _render_rich(page, Console(width=width), whole)


def _render_rich(page: Page, console: "Console", whole: bool) -> None:
    from rich.text import Text

    for line in _lines(page, whole):
        shown = _wrapped(line, console.width)
        text = Text(shown)
        if line.style:
            start = len(shown) - len(shown.lstrip())
            text.stylize(line.style, start, start + line.styled)
        for sign, colour in _BAR_COLOURS.items():
            if sign in shown:
                text.highlight_regex(f"{sign}+", colour)
        console.print(text, soft_wrap=True, highlight=False)


def _lines(page: Page, whole: bool) -> Iterator[Line]:
    """The lines of the page; of several blank ones in a row the first."""
    blank = False
    for line in _all_lines(page, whole):
        if line.text or not blank:
            yield line
        blank = not line.text


def _all_lines(page: Page, whole: bool) -> Iterator[Line]:
    yield _styled(page.title, "bold")
    yield from _blocks(page.blocks, 0, whole)
    if page.footer:
        yield from (BLANK, Line(page.footer))


def _blocks(blocks: Iterable[Block], indent: int, whole: bool) -> Iterator[Line]:
    for block in blocks:
        yield from _block(block, indent, whole)


def _block(block: Block, indent: int, whole: bool) -> Iterator[Line]:
    match block:
        case Heading(text, level):
            said = f"== {text} ==" if level == 2 else text
            yield from (BLANK, _styled(said, "bold cyan" if level == 2 else "italic", indent))
        case Paragraph(text, label, tone):
            yield _labelled(label, text, indent, _COLOURS[tone] if tone else "bold")
        case Bullets(points):
            for label, text in points:
                yield Line(f"- {_joined(label, text)}", indent + HANGING)
        case Pairs(rows):
            for label, text, place in rows:
                yield _labelled(label, f"{text} ({place})" if place else text, indent, "bold")
        case Facts(heading, rows, _):
            yield Line(heading, indent)
            for label, value, line in rows:
                yield Line(f"{label}: {value} [{line}]", indent + STEP // 2)
        case Table():
            yield from _table(block, indent)
        case Picture(alternative, _, lines):
            yield from (Line(line, indent) for line in lines)
            yield Line(alternative, indent)
        case Entry(badge, tone, title, name, inner, _):
            shown = badge.upper()
            yield BLANK
            text = f"{shown}  {title} [{name}]" if name else f"{shown}  {title}"
            yield Line(text, indent + STEP // 2, _COLOURS[tone], len(shown))
            yield from _blocks(inner, indent + STEP + HANGING, whole)
        case Passage(title, name, inner):
            yield from (BLANK, _styled(f"{title} [{name}]" if name else title, "bold", indent))
            yield from _blocks(inner, indent + STEP, whole)
        case Tick():
            yield from _tick(block, indent + HANGING, whole)
        case Break():
            yield from (BLANK, Line(RULE, indent), BLANK)
        case Folded(_, inner, instead):
            if instead and not whole:
                yield Line(instead, indent)
            else:
                yield from _blocks(inner, indent, whole)
        case _:
            assert_never(block)


def _tick(tick: Tick, indent: int, whole: bool) -> Iterator[Line]:
    """What takes a line alone stands close to its neighbours."""
    apart = tick.cautions or tick.blocks
    if apart:
        yield BLANK
    for caution in tick.cautions:
        yield _labelled("CAUTION", caution, indent, _COLOURS["warning"])
    styled = len(BOX) + 1 + len(tick.label)
    yield Line(f"{BOX} {_joined(tick.label, tick.text)}", indent, "bold", styled)
    yield from _blocks(tick.blocks, indent + STEP, whole)
    if apart:
        yield BLANK


def _table(table: Table, indent: int) -> Iterator[Line]:
    """A row as a paragraph: cells may be long, and terminals narrow."""
    yield Line(table.caption, indent)
    for first, *rest in table.rows:
        yield _styled(first, "bold", indent + STEP // 2)
        said: dict[str, list[str]] = {}
        for head, cell in zip(table.head[1:], rest, strict=True):
            if table.side_by_side:
                said.setdefault(cell, []).append(head)
            else:
                yield Line(f"{head}: {cell}", indent + STEP)
        for cell, heads in said.items():
            yield Line(f"{', '.join(heads)}: {cell}", indent + STEP)


def _styled(text: str, style: str, indent: int = 0) -> Line:
    return Line(text, indent, style, len(text))


def _labelled(label: str, text: str, indent: int, style: str) -> Line:
    return Line(_joined(label, text), indent, style if label else "", len(label))


def _joined(label: str, text: str) -> str:
    return f"{label}: {text}" if label else text


def _wrapped(line: Line, width: int) -> str:
    if not line.text:
        return ""
    indent = line.indent // 2 if width < NARROW else line.indent
    return fill(
        printable(line.text),
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + HANGING if line.indent else indent),
        break_long_words=False,
        break_on_hyphens=False,
    )


def printable(text: str) -> str:
    """The text without what could steer a terminal."""
    return text if text.isprintable() else "".join(map(_shown, text))


def _shown(character: str) -> str:
    if character.isprintable():
        return character
    return " " if character.isspace() else "\N{REPLACEMENT CHARACTER}"


def rider_lines(rows: Sequence[tuple[str, str, str]]) -> str:
    """The lines of a declaration, one under the other."""
    return "\n".join(line for _, _, line in rows)
