"""A page as Markdown, to paste where people read it; nothing in a title is taken for a sign."""

import re
from collections.abc import Iterable, Iterator
from typing import assert_never

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
)
from trackprep.reports.pages.plain import printable, rider_lines

_SIGNS = re.compile(r"([\\`*_\[\]<>#|~])")
_OPENING = re.compile(r"^([-+]|\d+(?=[.)]))(?=[.)]?(?:\s|$))")
_ENTITY = re.compile(r"&(?=#?\w+;)")


def page_markdown(page: Page, *, whole: bool = False) -> str:
    """The page; folded parts only with `whole`."""
    paragraphs = [f"# {escaped(page.title)}", *_blocks(page.blocks, whole)]
    if page.footer:
        paragraphs += ["---", escaped(page.footer)]
    return "\n\n".join(paragraphs) + "\n"


def escaped(text: str) -> str:
    """The text as Markdown that shows just these characters."""
    said = _ENTITY.sub("&amp;", " ".join(printable(text).split()))
    return _OPENING.sub(_opened, _SIGNS.sub(r"\\\1", said))


def _opened(found: "re.Match[str]") -> str:
    """A beginning of a line that is no list."""
    said: str = found[1]
    return f"{said}\\" if said.isdecimal() else f"\\{said}"


def _blocks(blocks: Iterable[Block], whole: bool) -> Iterator[str]:
    for block in blocks:
        yield from _block(block, whole)


def _block(block: Block, whole: bool) -> Iterator[str]:
    match block:
        case Heading(text, level):
            yield f"{'#' * level} {escaped(text)}"
        case Paragraph(text, label, _):
            yield _labelled(label, text)
        case Bullets(listed):
            yield "\n".join(f"- {_labelled(label, text)}" for label, text in listed)
        case Pairs(rows):
            yield "\n".join(
                f"- {_labelled(label, text)}{f' (`{_coded(place)}`)' if place else ''}"
                for label, text, place in rows
            )
        case Facts(heading, rows, _):
            points = "\n".join(f"- {escaped(label)}: {escaped(value)}" for label, value, _ in rows)
            yield "\n\n".join(part for part in (escaped(heading), points) if part)
            if rows:
                yield _fenced(rider_lines(rows))
        case Table():
            yield from _table(block)
        case Picture(alternative, _, lines):
            yield _fenced("\n".join(map(printable, lines)))
            yield escaped(alternative)
        case Passage(title, name, inner):
            yield f"### {escaped(title)}" + (f" (`{_coded(name)}`)" if name else "")
            yield from _blocks(inner, whole)
        case Entry(badge, _, title, name, inner, level):
            said = f"{'#' * level} {escaped(title)}"
            yield f"{said} (`{_coded(name)}`): {badge}" if name else f"{said} {badge.capitalize()}"
            yield from _blocks(inner, whole)
        case Tick(text, label, cautions, inner, _):
            yield from (_labelled("Caution", caution) for caution in cautions)
            below = "\n".join(_blocks(inner, whole)).splitlines()
            yield "\n".join([f"- [ ] {_labelled(label, text)}", *(f"  {line}" for line in below)])
        case Break():
            yield "---"
        case Folded(_, inner, instead):
            yield from (escaped(instead),) if instead and not whole else _blocks(inner, whole)
        case _:
            assert_never(block)


def _table(table: Table) -> Iterator[str]:
    yield escaped(table.caption)
    rows = [table.head, ("---",) * len(table.head), *table.rows]
    yield "\n".join(
        f"| {' | '.join(cell if cell == '---' else escaped(cell) for cell in row)} |"
        for row in rows
    )


def _labelled(label: str, text: str) -> str:
    return f"**{escaped(label)}:** {escaped(text)}" if label else escaped(text)


def _coded(text: str) -> str:
    """Names and places, which hold no grave accent unless somebody wants to break out."""
    return " ".join(printable(text).replace("`", "'").split())


def _fenced(text: str) -> str:
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * max(3, longest + 1)
    return f"{fence}\n{text}\n{fence}"
