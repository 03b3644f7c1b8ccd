"""The sheet: everything that a ruleset asks and says, in plain sentences, for riders to read."""

from collections.abc import Iterable, Iterator
from itertools import groupby

from attrs import evolve

from trackprep.analysis.comparisons import Comparison
from trackprep.dates import long_form
from trackprep.explanations.wording import capitalized, label_of, value_text
from trackprep.publishing.known_again import known_again
from trackprep.publishing.passages import Base, passage
from trackprep.reports.comparison.log import change_log
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Page, Pairs, Paragraph
from trackprep.rules.model import Rules

FIRST = (
    "The organizer's inspector, your machine's manual, local law and a qualified mechanic come"
    " before anything on this sheet. Who meets all of it is ready to present, never more."
)
_LEVELS = (
    "“Required” is what a machine and its rider have to meet to be ready to present;"
    " “recommended” turns nobody away."
)


def sheet_page(rules: Rules, *, base: Rules | None, since: Comparison | None) -> Page:
    """The sheet of a ruleset.

    Args:
        rules: The finished ruleset.
        base: What it supplements: what is otherwise here is marked.
        since: The comparison with an earlier edition, whose change log is printed.
    """
    edition = f", edition {rules.edition}" if rules.edition else ""
    blocks = (
        *_particulars(rules, base),
        Paragraph(FIRST, "Caution", "warning"),
        Paragraph(_LEVELS),
        *_before_the_day(rules),
        *(_changes(since) if since is not None else ()),
        *_sections(rules, None if base is None else Base(base, rules)),
        *_withdrawn(rules, base),
        *known_again(rules, "This sheet says all"),
    )
    return Page(f"{rules.title}{edition}", blocks)


def _particulars(rules: Rules, base: Rules | None) -> Iterator[Block]:
    said = {
        "Edition": rules.edition,
        "Valid for events": _valid(rules),
        "Organizer": rules.organizer,
        "Venue": rules.venue,
        "Contact": rules.contact,
    }
    said |= {
        f"{capitalized(label_of(path, rules))} at the event": value_text(path, value, rules)
        for path, value in rules.here.items()
    }
    yield Pairs(tuple((label, text, "") for label, text in said.items() if text))
    if base is not None:
        known = f"{base.title}, edition {base.edition}" if base.edition else base.title
        yield Paragraph(
            f"These rules supplement “{known}”. They are printed here whole, and what is new or"
            " changed against it is marked."
        )
    elif rules.base is not None:
        yield Paragraph(
            f"These rules supplement “{rules.base}”. They are printed here whole; what is changed"
            " against it cannot be marked, since that file has mistakes of its own."
        )


def _valid(rules: Rules) -> str:
    if rules.valid is None:
        return "on any day"
    first, last = rules.valid
    return f"from {long_form(first)} to {long_form(last)}"


def _before_the_day(rules: Rules) -> Iterator[Block]:
    if rules.notes:
        yield Heading("The day")
        yield from _notes(rules.notes)
    bring = [("", text) for text in rules.brings]
    for section in rules.sections:
        bring += [(section.title, text) for text in section.brings]
    for rule in rules.rules:
        bring += [(rule.title, text) for text in rule.brings]
    if bring:
        yield Heading("What to bring")
        yield Bullets(tuple(dict.fromkeys(bring)))


def _changes(since: Comparison) -> Iterator[Block]:
    """The change log; what it warns of concerns the organizer, not riders."""
    log = change_log(since)
    yield Heading(log.title)
    for block in log.blocks:
        if isinstance(block, Heading):
            yield evolve(block, level=3)
        elif not (isinstance(block, Paragraph) and block.tone == "warning"):
            yield block


def _sections(rules: Rules, base: "Base | None") -> Iterator[Block]:
    notes: dict[str, list[str]] = {}
    for section in rules.sections:  # two may have one title, under different conditions
        notes.setdefault(section.title, []).extend(section.notes)
    for title, members in groupby(rules.rules, key=lambda rule: rule.section):
        yield Heading(title or "Rules")
        yield from _notes(notes.pop(title, ()))
        yield from (passage(rule, rules, base) for rule in members)
    for title, said in notes.items():  # whose rules are all withdrawn
        if said:
            yield Heading(title)
            yield from _notes(said)


def _notes(notes: Iterable[str]) -> Iterator[Block]:
    if points := tuple(("", note) for note in notes):
        yield Bullets(points)


def _withdrawn(rules: Rules, base: Rules | None) -> Iterator[Block]:
    if not rules.withdrawn:
        return
    titles = {rule.name: rule.title for rule in base.rules} if base is not None else {}
    yield Heading("Not asked here, though the base asks it")
    yield Bullets(
        tuple((titles.get(name, name), reason) for name, reason in rules.withdrawn.items())
    )
