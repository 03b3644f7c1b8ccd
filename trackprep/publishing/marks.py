"""The digests that a paper carries, for programs: in the head of HTML, at the foot of Markdown.

Beside the edition's two there is the paper's own, by which an alteration shows: the digest
of its text with that digest left out, with plain line ends, and none at the end but one.
"""

import re
from collections.abc import Iterable
from html import unescape

from trackprep.digests import digest_of
from trackprep.frozen import frozen
from trackprep.publishing.editions import Edition
from trackprep.reports.pages.blocks import Page
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown
from trackprep.reports.pages.plain import printable

OWN = "sha256/paper-1"
_UNKNOWN = "0" * 64
_EDITION = ("ruleset", "edition", "bytes", "meaning")
_NAMES = (*_EDITION, "paper")
_META = re.compile(r'<meta name="trackprep-([a-z]+)" content="([^"]*)">')
_FOOT = re.compile(r"\n```\n((?:trackprep-[a-z]+:[^\n]*\n)+)```\n\Z")
_LINE = re.compile(r"trackprep-([a-z]+): ?([^\n]*)\n")
_PAPER = re.compile(rf"{OWN}:([0-9a-f]{{64}})")


@frozen
class Carried:
    """What a paper says that it is, and whether it is as it was made.

    Attributes:
        editions: One for each event that it is about.
    """

    editions: tuple[Edition, ...]
    unaltered: bool


def marked_html(page: Page, edition: Edition) -> str:
    """The page as an HTML file that carries its digests in its head."""
    return sealed(page_html(page, marks=marks_of([edition])))


def marks_of(editions: Iterable[Edition]) -> list[tuple[str, str]]:
    """What the head of an HTML file carries, to be `sealed`."""
    said = [(name, text) for edition in editions for name, text in _said(edition)]
    return [
        (f"trackprep-{name}", text) for name, text in [*said, (_NAMES[-1], f"{OWN}:{_UNKNOWN}")]
    ]


def marked_markdown(page: Page, edition: Edition) -> str:
    """The page as Markdown that carries its digests at its foot."""
    lines = "".join(f"{name}: {said}\n" for name, said in marks_of([edition]))
    return sealed(f"{page_markdown(page, whole=True)}\n```\n{lines}```\n")


def carried(text: str) -> Carried | None:
    """What a paper carries; None of a text that is no paper of ours, or has lost its digests.

    Titles and prose cannot feign it: they are escaped in HTML, and stand above the foot in
    Markdown.
    """
    plain = _plain(text)
    if _is_html(plain):
        head, _, _ = plain.partition("</head>")
        found = [(name, unescape(said)) for name, said in _META.findall(head)]
    else:
        foot = _FOOT.search(plain)
        found = _LINE.findall(foot[1]) if foot is not None else []
    *said, own = found or [("", "")]
    editions = [said[at : at + len(_EDITION)] for at in range(0, len(said), len(_EDITION))]
    known = editions and all(tuple(name for name, _ in one) == _EDITION for one in editions)
    digest = _PAPER.fullmatch(own[1]) if own[0] == _NAMES[-1] else None
    if not known or digest is None:
        return None
    blank = _with_own(plain, _UNKNOWN)
    return Carried(
        tuple(Edition(*(text for _, text in one)) for one in editions),
        digest_of(blank.encode()) == digest[1],
    )


def _said(edition: Edition) -> list[tuple[str, str]]:
    said = (edition.ruleset, edition.edition, edition.bytes, edition.meaning)
    texts = (" ".join(printable(text).split()) for text in said)
    return list(zip(_EDITION, texts, strict=True))


def sealed(text: str) -> str:
    """The text with its own digest in place of the unknown one."""
    plain = _plain(text)
    return _with_own(plain, digest_of(plain.encode()))


def _with_own(plain: str, digest: str) -> str:
    """The text with another digest of its own where it carries one."""
    if _is_html(plain):
        before = f'<meta name="trackprep-paper" content="{OWN}:'
        at = plain.index(before) + len(before)
    else:
        before = f"\ntrackprep-paper: {OWN}:"
        at = plain.rindex(before) + len(before)
    return plain[:at] + digest + plain[at + len(digest) :]


def _is_html(plain: str) -> bool:
    return plain.lstrip()[:9].lower() == "<!doctype"


def _plain(text: str) -> str:
    """The text as it is counted: mail programs and editors change line ends."""
    return text.replace("\r\n", "\n").removeprefix("\N{BYTE ORDER MARK}").rstrip() + "\n"
