"""The page as one HTML file: its form and its script, and the sheets for all who run none."""

import json
from base64 import b64encode
from collections.abc import Iterator, Sequence
from itertools import count
from pathlib import Path
from zlib import Z_BEST_COMPRESSION, compress

from trackprep.dates import Span, long_form
from trackprep.explanations.wording import listed
from trackprep.publishing.form.data import form_data
from trackprep.publishing.form.script import LOADER, form_script
from trackprep.reports.notices import COME_FIRST
from trackprep.reports.pages.blocks import Page
from trackprep.reports.pages.html import blocks_html, document, escaped
from trackprep.rules.model import Rules

_HERE = Path(__file__).parent
_FIRST = (
    f"{COME_FIRST} This page says what the rules ask and what you declared; it does not say that a"
    " machine or its gear is safe."
)
_WITHOUT = (
    "This page checks a declaration by a script, and here no script runs, or the browser is too"
    " old for it. The rules are all here to read."
)


def form_page(
    rulesets: Sequence[Rules], sheets: Sequence[Page], marks: Sequence[tuple[str, str]]
) -> str:
    """The page for some events.

    Args:
        sheets: The sheet of each.
        marks: What the head of the file says to programs.
    """
    titles = listed([rules.title for rules in rulesets], "and")
    body = [
        '<main id="start">',
        f'<p><strong class="warning">Caution:</strong> {escaped(_FIRST)}</p>',
        *_particulars(rulesets),
        f'<p id="without"><strong>{escaped(_WITHOUT)}</strong></p>',
        (_HERE / "form.html").read_text(encoding="utf-8").rstrip(),
        '<section id="rules" class="view" tabindex="-1" aria-label="The rules">',
        *_sheets(sheets),
        "</section>",
        "</main>",
        f'<div id="data" hidden>{packed(_json(form_data(rulesets)))}</div>',
        f'<div id="script" hidden>{packed(form_script())}</div>',
    ]
    style = (_HERE / "form.css").read_text(encoding="utf-8")
    title = f"{titles}: declare and check"
    return document(title, body, marks=marks, style=style, scripts=(LOADER, form_script()))


def _particulars(rulesets: Sequence[Rules]) -> Iterator[str]:
    """Which event it is, whose, and when."""
    for rules in rulesets:
        edition = f"edition {rules.edition}" if rules.edition else ""
        days = f"for events {long_form(Span(*rules.valid))}" if rules.valid else ""
        said = [edition, days, rules.venue, rules.organizer, rules.contact]
        title = f"{rules.title}: " if len(rulesets) > 1 else ""
        yield f"<p>{escaped(title + ', '.join(filter(None, said)))}</p>"


def packed(text: str) -> str:
    """The text in fewer characters: compressed as RFC 1950 says, and in letters (RFC 4648, 4).

    As they are, script and data would make the page too large for a phone in a paddock.
    """
    return b64encode(compress(text.encode(), Z_BEST_COMPRESSION)).decode()


def _json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _sheets(sheets: Sequence[Page]) -> Iterator[str]:
    numbers = count(1)
    for place, sheet in enumerate(sheets, 1):
        yield f"<h2>{escaped(sheet.title)}</h2>"
        yield from blocks_html(sheet.blocks, numbers, f"rule-{place}-")
        if sheet.footer:
            yield f"<p>{escaped(sheet.footer)}</p>"
