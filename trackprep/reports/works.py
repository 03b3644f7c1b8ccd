"""The work that meets a rule, in words: how long, where, with what, and after what."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal

from trackprep.rules.model import Part, Work
from trackprep.units import show

if TYPE_CHECKING:
    from trackprep.reports.answer import Answer


def place_of(work: Work, answer: "Answer") -> Literal["at home", "in the paddock"]:
    """Where the work is done: in the paddock if it is undone for the road, else at home."""
    return work.where or ("in the paddock" if answer.undone_later else "at home")


def work_lines(work: Work, answer: "Answer", titles: dict[str, str]) -> Iterator[tuple[str, str]]:
    """The work and what it needs, each with its heading; `titles` are those of the rules."""
    where = place_of(work, answer)
    takes = f"{show(work.takes.value, work.takes.unit)}, " if work.takes else ""
    yield "Fix", f"{work.text} ({takes}{where})"
    if work.parts:
        yield "Parts", ", ".join(map(_part, work.parts))
    if work.tools:
        yield "Tools", ", ".join(work.tools)
    if work.after:
        yield "First", "; ".join(titles.get(name, name) for name in work.after)


def _part(part: Part) -> str:
    if part.allow is None:
        return part.name
    return f"{part.name} (allow {show(part.allow.value, part.allow.unit)})"
