"""What hangs on a statement: prose, sources, marks, conditions and work to do."""

from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.source import Place
from trackprep.syntax.conditions import Condition
from trackprep.syntax.values import Quantity, Word, unplaced

# ---- prose and other details ----------------------------------------------

ProseKeyword: TypeAlias = Literal[
    "edition", "organizer", "venue", "contact",
    "ask", "reason", "inspect", "caution", "note", "bring",
]  # fmt: skip
SourceKind: TypeAlias = Literal["text", "common practice", "house rule", "from memory"]
MarkWord: TypeAlias = Literal["for the inspector", "unchangeable", "private", "check again"]


@frozen
class Prose:
    """A keyword and what it says: `reason "…"`, `ask "…"`, `edition "2026.2"`."""

    keyword: ProseKeyword
    text: str
    place: Place = unplaced()


@frozen
class Takes:
    """`takes DURATION`."""

    duration: Quantity
    place: Place = unplaced()


@frozen
class How:
    """`how "…"`, and how long it takes where that is told."""

    text: str
    takes: Takes | None = None
    place: Place = unplaced()


@frozen
class SourceOf:
    """`source "…"`, or one of the set phrases; `text` is empty for those."""

    kind: SourceKind
    text: str = ""
    place: Place = unplaced()


@frozen
class Also:
    """`also "…", "…"`: other words people use."""

    words: tuple[str, ...]
    place: Place = unplaced()


@frozen
class Mark:
    """A mark on a fact."""

    word: MarkWord
    place: Place = unplaced()


@frozen
class Accept:
    """`accept FINDING "…"`: what proofreading finds here is meant so, and why."""

    finding: str
    reason: str
    place: Place = unplaced()
    finding_place: Place = unplaced()


@frozen
class When:
    """`when CONDITION`, or `unless CONDITION` where `negated`."""

    condition: Condition
    negated: bool = False
    place: Place = unplaced()


@frozen
class Demand:
    """`require CONDITION`, or `recommend CONDITION`."""

    keyword: Literal["require", "recommend"]
    condition: Condition
    place: Place = unplaced()


@frozen
class Part:
    """A part to buy, and how long to allow for getting it."""

    name: str
    allow: Quantity | None = None
    place: Place = unplaced()


@frozen
class Parts:
    """`parts "…" [allow DURATION], …`."""

    parts: tuple[Part, ...]
    place: Place = unplaced()


@frozen
class Tools:
    """`tools "…", …`."""

    names: tuple[str, ...]
    place: Place = unplaced()


@frozen
class After:
    """`after RULE, …`: the work that comes first."""

    rules: tuple[Word, ...]
    place: Place = unplaced()


@frozen
class Where:
    """`at home` or `in the paddock`."""

    where: Literal["at home", "in the paddock"]
    place: Place = unplaced()


WorkDetail: TypeAlias = Takes | Parts | Tools | After | Where | When | Prose


@frozen
class Work:
    """`fix "…"` or `undo "…"`, with what hangs on it in the order written."""

    keyword: Literal["fix", "undo"]
    text: str
    details: tuple[WorkDetail, ...] = ()
    place: Place = unplaced()
