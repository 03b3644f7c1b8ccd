"""What a page is made of: nouns without a shape, that every renderer walks."""

from typing import Literal, TypeAlias

from trackprep.frozen import frozen

Tone: TypeAlias = Literal[
    "stricter", "looser", "mixed", "added", "withdrawn", "quiet", "warning", "met", "not-met",
]  # fmt: skip
"""What a badge means; a shape may show it in colour and with a sign, the badge's words say it."""

SIGNS: dict[Tone, str] = {
    "stricter": "▲",
    "looser": "▼",
    "mixed": "◆",
    "added": "+",
    "withdrawn": "−",
    "quiet": "=",
    "warning": "?",
    "met": "✓",
    "not-met": "✗",
}


@frozen
class Heading:
    """A heading; the page's own title is above level 2."""

    text: str
    level: Literal[2, 3] = 2


@frozen
class Paragraph:
    """Words, with a label in front where there is one."""

    text: str
    label: str = ""
    tone: Tone | None = None


@frozen
class Bullets:
    """Points, each with a label in front where it has one."""

    points: tuple[tuple[str, str], ...]


@frozen
class Pairs:
    """Labels with what stands for each: what the two sides ask, and where it is written."""

    rows: tuple[tuple[str, str, str], ...]
    """Label, text, and the place where it is written, which may be empty."""


@frozen
class Facts:
    """Declared facts: each with its label, its value in words, and its line in a declaration.

    Attributes:
        heading: Whose they are, with a colon.
        rider: The whole declaration as a `.rider` file.
    """

    heading: str
    rows: tuple[tuple[str, str, str], ...]
    rider: str = ""


@frozen
class Table:
    """Rows under headings; the first cell of a row says what the row is about.

    Attributes:
        side_by_side: Whether all other cells say the same kind of thing, so that equal ones
            of a row may be told together.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    side_by_side: bool = False


@frozen
class Entry:
    """Something with a badge, perhaps a name, and the blocks that tell about it."""

    badge: str
    tone: Tone
    title: str
    name: str
    blocks: tuple["Block", ...] = ()
    level: Literal[2, 3, 4] = 4


@frozen
class Passage:
    """A titled piece of text, perhaps with a name, that print keeps on one page if it can."""

    title: str
    name: str
    blocks: tuple["Block", ...]


@frozen
class Folded:
    """What most readers pass over.

    Attributes:
        instead: What stands in its place where nothing can be folded; empty: all of it.
    """

    summary: str
    blocks: tuple["Block", ...]
    instead: str = ""


@frozen
class Tick:
    """Something to do or to have, with a box to tick.

    Attributes:
        cautions: What can hurt somebody who does it: stands in front of the box.
        blocks: What else there is to know about it.
        close: Whether it is one of many, set as close as can be read.
    """

    text: str
    label: str = ""
    cautions: tuple[str, ...] = ()
    blocks: tuple["Block", ...] = ()
    close: bool = False


@frozen
class Picture:
    """A drawing that shows at a glance what the page says in words too.

    Attributes:
        alternative: What it shows, in sentences.
        svg: The drawing, made by us: it goes into a page as it is.
        lines: The same in characters.
    """

    alternative: str
    svg: str
    lines: tuple[str, ...]


@frozen
class Break:
    """Where print goes on on a new page."""


Block: TypeAlias = (
    Heading | Paragraph | Bullets | Pairs | Facts | Picture | Table | Entry | Passage | Folded
    | Tick | Break
)  # fmt: skip


@frozen
class Page:
    """A title, and what stands under it."""

    title: str
    blocks: tuple[Block, ...]
    footer: str = ""
