"""Whether a paper or a rule file is the edition that somebody has."""

from typing import Literal, TypeAlias, assert_never

from trackprep.frozen import frozen
from trackprep.publishing.editions import Edition

Sameness: TypeAlias = Literal[
    "same bytes", "same meaning", "other", "other base", "altered", "cannot tell"
]


@frozen
class Judged:
    """How something stands to the edition that somebody has, and what is to be said of it."""

    sameness: Sameness
    text: str


def judged(found: Edition, *, unaltered: bool | None, mine: Edition) -> Judged:
    """How an edition stands to mine; `unaltered` is None of a rule file, which has no seal."""
    sameness = "altered" if unaltered is False else _sameness(found, mine)
    return Judged(sameness, _text(sameness, found, mine, paper=unaltered is not None))


def _sameness(found: Edition, mine: Edition) -> Sameness:
    """By the digests alone; those of other semantics cannot be compared."""
    if _kind(found.meaning) != _kind(mine.meaning) or _kind(found.bytes) != _kind(mine.bytes):
        return "cannot tell"
    if found.meaning == mine.meaning:
        return "same bytes" if found.bytes == mine.bytes else "same meaning"
    return "other base" if found.bytes == mine.bytes else "other"


def _kind(digest: str) -> str:
    return digest.partition(":")[0]


def _text(sameness: Sameness, found: Edition, mine: Edition, *, paper: bool) -> str:
    match sameness:
        case "same bytes":
            made = "made of the very file that you have, and not altered since" if paper else (
                "the same bytes and the same meaning"
            )  # fmt: skip
            return f"the same edition: {made}."
        case "same meaning":
            return (
                "the same meaning: the rules ask the same, to the last limit, but the rule files"
                f" are not the same bytes.{_names(found, mine)} Titles, reasons, cautions and other"
                " words may differ."
            )
        case "other base":
            return (
                "the rules ask something else: the rule file is the same bytes, but a file that it"
                " takes in has changed."
            )
        case "other":
            if called(found) != called(mine):
                return f"another edition: the rules ask something else.{_names(found, mine)}"
            both = f"though both say edition {mine.edition}" if mine.edition else (
                "and neither says its edition"
            )  # fmt: skip
            return f"the rules ask something else, {both}."
        case "altered":
            return (
                "altered: it is not as it was made, so what it says is not to be relied on. Ask the"
                " organizer for it anew."
            )
        case "cannot tell":
            return (
                "cannot be told: its digests are of another kind"
                f" ({_kind(found.meaning)}, here {_kind(mine.meaning)}). Make it anew from its rule"
                " file with this version of trackprep."
            )
        case _:
            assert_never(sameness)


def _names(found: Edition, mine: Edition) -> str:
    """What the two are called, where that differs."""
    one, other = called(found), called(mine)
    return "" if one == other else f" It says {one}, yours {other}."


def called(edition: Edition) -> str:
    """`field-day, edition 3`."""
    if not edition.edition:
        return f"{edition.ruleset}, no edition"
    return f"{edition.ruleset}, edition {edition.edition}"
