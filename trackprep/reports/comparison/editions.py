"""Whether the edition of a ruleset was raised with its changes."""

import re
from collections.abc import Iterator
from typing import Literal, TypeAlias

from trackprep.analysis.comparisons import Comparison
from trackprep.frozen import frozen
from trackprep.reports.comparison.outcome import differs, outcome_of
from trackprep.reports.pages.blocks import Paragraph, Tone

Judgement: TypeAlias = Literal[
    "raised", "unchanged", "not-raised", "lowered", "raised-without-change", "missing",
    "without-order", "undecided",
]  # fmt: skip
WARNINGS: frozenset[Judgement] = frozenset({"not-raised", "lowered", "missing"})


@frozen
class Editions:
    """Two editions of one ruleset, and what is to be said of them."""

    judgement: Judgement
    text: str

    @property
    def warns(self) -> bool:
        """Whether the organizer has something to mend."""
        return self.judgement in WARNINGS


def editions_of(comparison: Comparison) -> Editions | None:
    """What is to be said of the editions; None where the two are different rulesets."""
    one, other = comparison.one, comparison.other
    if one.name != other.name:
        return None
    changed = differs(comparison)
    if not changed and outcome_of(comparison) == "undecided":
        return Editions("undecided", _text("undecided", one.edition, other.edition))
    return editions_between(one.edition, other.edition, changed=changed)


def editions_between(before: str, after: str, *, changed: bool) -> Editions:
    """What is to be said of two editions, where it is known whether what is asked changed."""
    judgement = _judged(before, after, changed=changed)
    return Editions(judgement, _text(judgement, before, after))


def edition_blocks(comparison: Comparison) -> Iterator[Paragraph]:
    """The same for a page."""
    if editions := editions_of(comparison):
        tone: Tone | None = "warning" if editions.warns else None
        yield Paragraph(editions.text, "Warning" if editions.warns else "Edition", tone)


def _judged(before: str, after: str, *, changed: bool) -> Judgement:
    if not (before and after):
        return "missing"
    if before == after:
        return "not-raised" if changed else "unchanged"
    first, second = _numbers(before), _numbers(after)
    if first == second or not (first and second):
        return "without-order"
    if second < first:
        return "lowered"
    return "raised" if changed else "raised-without-change"


def _numbers(edition: str) -> tuple[int, ...]:
    return tuple(map(int, re.findall(r"[0-9]+", edition)))


def _text(judgement: Judgement, before: str, after: str) -> str:
    match judgement:
        case "raised":
            return f"The edition was raised with the changes, from {before} to {after}."
        case "unchanged":
            return f"Nothing that is asked changed, and the edition is still {after}."
        case "not-raised":
            return f"What is asked changed, but both say edition {after}: raise the later one."
        case "lowered":
            return f"The edition goes down, from {before} to {after}: are the files in order?"
        case "raised-without-change":
            return (
                f"The edition was raised from {before} to {after},"
                " though nothing that is asked changed."
            )
        case "missing":
            said = f"only one says its edition ({before or after})" if before or after else (
                "neither says its edition"
            )  # fmt: skip
            return f"Riders cannot tell the two apart: {said}."
        case "without-order":
            return f"Which edition is the later one, {before} or {after}, cannot be told."
        case "undecided":
            return "Whether the edition has to be raised cannot be told."
