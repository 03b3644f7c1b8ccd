"""A page as one HTML file, which asks no network for anything and runs nothing."""

from base64 import b64encode
from collections.abc import Iterable, Iterator, Sequence
from hashlib import sha256
from html import escape
from itertools import count
from typing import assert_never

from trackprep.reports.pages.blocks import (
    SIGNS,
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
from trackprep.reports.pages.plain import printable, rider_lines
from trackprep.reports.pages.style import STYLE

_POLICY = "default-src 'none'; style-src {}; script-src {}; base-uri 'none'; form-action 'none'"
"""Nothing is fetched; what style and script there is, is known by its digest."""


def page_html(page: Page, *, marks: Iterable[tuple[str, str]] = ()) -> str:
    """The whole file; `marks` are names with what they say to programs."""
    headings = [block for block in page.blocks if isinstance(block, Heading) and block.level == 2]
    links = (
        f'<li><a href="#part-{number}">{escaped(heading.text)}</a></li>'
        for number, heading in enumerate(headings, 1)
    )
    return document(page.title, [
        *(["<nav aria-label=\"On this page\"><ul>", *links, "</ul></nav>"] if headings else []),
        '<main id="start">',
        *_blocks(page.blocks, count(1)),
        "</main>",
        *([f"<footer><p>{escaped(page.footer)}</p></footer>"] if page.footer else []),
    ], marks=marks)  # fmt: skip


def document(
    title: str,
    body: Iterable[str],
    *,
    marks: Iterable[tuple[str, str]] = (),
    style: str = "",
    scripts: Sequence[str] = (),
) -> str:
    """A whole file in the frame of every page.

    Args:
        body: The HTML under the title, with an element of the id `start`.
        marks: Names with what they say to programs.
        style: More than the style of every page.
        scripts: The only ones that may run. The first stands at the end; it may put in the others.
    """
    title = escaped(title)
    looks = STYLE + style
    policy = _POLICY.format(_known(looks), " ".join(map(_known, scripts)) or "'none'")
    return "\n".join([
        "<!doctype html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        *(f'<meta name="{escaped(name)}" content="{escaped(said)}">' for name, said in marks),
        f"<title>{title}</title>",
        f"<style>{looks}</style>",
        "</head>",
        "<body>",
        '<a class="skip" href="#start">To the text</a>',
        f"<header><h1>{title}</h1></header>",
        *body,
        *(f"<script>{script}</script>" for script in scripts[:1]),
        "</body>",
        "</html>",
        "",
    ])  # fmt: skip


def _known(text: str) -> str:
    """How a policy names a style or a script that stands in the page."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def blocks_html(
    blocks: Iterable[Block], numbers: Iterator[int], names: str | None = None
) -> Iterator[str]:
    """The blocks alone, for a page with a frame of its own.

    Args:
        numbers: What the headings are numbered by, to be pointed at.
        names: What stands before the name of a passage in the id that it is pointed at by.
    """
    for block in blocks:
        if names is not None and isinstance(block, Passage):
            yield f'<div class="passage" id="{escaped(names + block.name)}" tabindex="-1">'
            yield f"<h3>{_titled(block.title, block.name)}</h3>"
            yield from _blocks(block.blocks, numbers)
            yield "</div>"
        else:
            yield from _block(block, numbers)


def table_html(table: Table) -> str:
    """A table alone, for a notebook."""
    return "\n".join(_table(table))


def page_part(page: Page) -> str:
    """The page without its frame and its style, for a notebook."""
    # Only headings of a page of its own can be pointed at.
    lower = (Heading(b.text, 3) if isinstance(b, Heading) else b for b in page.blocks)
    footer = [f"<p>{escaped(page.footer)}</p>"] if page.footer else []
    title = f"<p><strong>{escaped(page.title)}</strong></p>"
    return "\n".join([title, *_blocks(lower, count(1)), *footer])


def escaped(text: str) -> str:
    """The text as HTML that shows just these characters."""
    return escape(printable(text))


def _blocks(blocks: Iterable[Block], numbers: Iterator[int]) -> Iterator[str]:
    for block in blocks:
        yield from _block(block, numbers)


def _block(block: Block, numbers: Iterator[int]) -> Iterator[str]:
    match block:
        case Heading(text, 2):
            yield f'<h2 id="part-{next(numbers)}">{escaped(text)}</h2>'
        case Heading(text, _):
            yield f"<h3>{escaped(text)}</h3>"
        case Paragraph(text, label, tone):
            yield f"<p>{_labelled(label, text, tone)}</p>"
        case Bullets(points):
            yield from ("<ul>", *(f"<li>{_labelled(*point)}</li>" for point in points), "</ul>")
        case Pairs(rows):
            yield from _pairs(rows)
        case Facts():
            yield from _facts(block)
        case Table():
            yield f'<div class="scrolls">{table_html(block)}</div>'
        case Picture(alternative, svg, _):
            # On a phone it would be too small to read: there it is pushed sideways, by keys too.
            yield f'<figure><div class="scrolls" tabindex="0">{svg}</div>'
            yield f"<figcaption>{escaped(alternative)}</figcaption></figure>"
        case Entry():
            yield from _entry(block, numbers)
        case Passage(title, name, inner):
            yield f'<div class="passage"><h3>{_titled(title, name)}</h3>'
            yield from _blocks(inner, numbers)
            yield "</div>"
        case Tick():
            yield from _tick(block, numbers)
        case Break():
            yield '<hr class="break">'
        case Folded(summary, inner, instead):
            kind = "" if instead else ' class="whole"'
            yield f"<details{kind}><summary>{escaped(summary)}</summary>"
            yield from _blocks(inner, numbers)
            yield "</details>"
        case _:
            assert_never(block)


def _labelled(label: str, text: str, tone: Tone | None = None) -> str:
    if not label:
        return escaped(text)
    colour = f' class="{tone}"' if tone else ""
    return f"<strong{colour}>{escaped(label)}:</strong> {escaped(text)}"


def _pairs(rows: Iterable[tuple[str, str, str]]) -> Iterator[str]:
    yield "<dl>"
    for label, text, place in rows:
        where = f' <span class="place">({escaped(place)})</span>' if place else ""
        yield f"<dt>{escaped(label)}</dt><dd>{escaped(text)}{where}</dd>"
    yield "</dl>"


def _facts(facts: Facts) -> Iterator[str]:
    yield f"<p>{escaped(facts.heading)}</p>"
    if facts.rows:
        yield from _pairs((label, value, "") for label, value, _ in facts.rows)
        lines = facts.rider or rider_lines(facts.rows)
        yield f"<details><summary>As a declaration</summary><pre>{_lines(lines)}</pre></details>"


def _lines(text: str) -> str:
    return "\n".join(escaped(line) for line in text.splitlines())


def _entry(entry: Entry, numbers: Iterator[int]) -> Iterator[str]:
    sign = f'<span aria-hidden="true">{SIGNS[entry.tone]}</span>'
    yield f'<article class="is-{entry.tone}">'
    yield f'<span class="badge {entry.tone}">{sign} {escaped(entry.badge)}</span>'
    yield f'<h{entry.level} class="title">{_titled(entry.title, entry.name)}</h{entry.level}>'
    yield from _blocks(entry.blocks, numbers)
    yield "</article>"


def _titled(title: str, name: str) -> str:
    named = f' <span class="name">[{escaped(name)}]</span>' if name else ""
    return f"{escaped(title)}{named}"


def _tick(tick: Tick, numbers: Iterator[int]) -> Iterator[str]:
    """Its box can be ticked on a screen too, which needs no script; nothing keeps it."""
    yield f'<div class="task{" close" if tick.close else ""}">'
    for caution in tick.cautions:
        yield f'<p class="caution">{_labelled("Caution", caution, "warning")}</p>'
    said = _labelled(tick.label, tick.text)
    yield f'<label class="tick"><input type="checkbox"> <span>{said}</span></label>'
    yield from _blocks(tick.blocks, numbers)
    yield "</div>"


def _table(table: Table) -> Iterator[str]:
    # A phone shows rows as blocks, which are cells to a screen reader only by their roles.
    yield f'<table role="table"><caption>{escaped(table.caption)}</caption>'
    yield '<thead role="rowgroup"><tr role="row">'
    yield from (f'<th role="columnheader" scope="col">{escaped(head)}</th>' for head in table.head)
    yield '</tr></thead><tbody role="rowgroup">'
    for first, *rest in table.rows:
        yield f'<tr role="row"><th role="rowheader" scope="row">{escaped(first)}</th>'
        for head, cell in zip(table.head[1:], rest, strict=True):
            yield f'<td role="cell" data-head="{escaped(head)}">{escaped(cell)}</td>'
        yield "</tr>"
    yield "</tbody></table>"
