"""The statements of a rule file."""

from typing import Literal, TypeAlias

from attrs import field

from trackprep.frozen import frozen
from trackprep.source import Place, Source
from trackprep.syntax.conditions import Condition, Expression, Reference
from trackprep.syntax.details import (
    Accept,
    Also,
    Demand,
    How,
    Mark,
    Prose,
    SourceOf,
    When,
    Work,
)
from trackprep.syntax.values import (
    NOWHERE,
    Constant,
    Day,
    Given,
    Number,
    Unread,
    Value,
    Word,
    unplaced,
)


def _damaged() -> bool:
    """Whether a detail could not be read; its problem is reported already."""
    return field(default=False, kw_only=True, eq=False, repr=False)


# ---- statements -----------------------------------------------------------


@frozen
class Heading:
    """`ruleset NAME "Title"` or `vocabulary NAME "Title"`."""

    keyword: Literal["ruleset", "vocabulary"]
    name: str
    title: str
    place: Place = unplaced()


@frozen
class Valid:
    """`valid from DATE to DATE`."""

    first: Day
    last: Day
    place: Place = unplaced()


@frozen
class Uses:
    """`use "…"` or `supplements "…"`."""

    keyword: Literal["use", "supplements"]
    file: str
    place: Place = unplaced()


@frozen
class Choice:
    """A choice word with its label and the other words people use for it."""

    word: Word
    label: str | None = None
    also: Also | None = None
    place: Place = unplaced()


@frozen
class Choices:
    """`one of a, b`, `several of a, b` or `graded a < b`."""

    keyword: Literal["one of", "several of", "graded"]
    choices: tuple[Choice, ...]
    place: Place = unplaced()


@frozen
class Plain:
    """A type that one phrase names."""

    keyword: Literal["yes or no", "date", "past date", "week code", "text"]
    place: Place = unplaced()


@frozen
class Range:
    """`from LOW to HIGH`."""

    low: Constant
    high: Constant
    place: Place = unplaced()


@frozen
class Measured:
    """`count` (then `unit` is None) or `measured in UNIT`, with the plausible range."""

    unit: str | None
    range: Range | None = None
    place: Place = unplaced()


@frozen
class OfKind:
    """The name of a kind, as a type."""

    name: str
    place: Place = unplaced()


Type: TypeAlias = Choices | Plain | Measured | OfKind


@frozen
class Kind:
    """`kind NAME TYPE`."""

    name: str
    type: Type
    place: Place = unplaced()


FactDetail: TypeAlias = Prose | How | SourceOf | Also | Mark | Accept


@frozen
class Fact:
    """`fact PATH "Label" TYPE` with its details in the order written."""

    path: str
    label: str
    type: Type
    also: Also | None = None
    marks: tuple[Mark, ...] = ()
    details: tuple[FactDetail, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    path_place: Place = unplaced()


@frozen
class Derived:
    """`derived PATH "Label" [in UNIT] as EXPRESSION`, or `… means CONDITION`."""

    path: str
    label: str | None
    unit: str | None
    definition: Expression | Condition
    is_condition: bool
    details: tuple[FactDetail, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    path_place: Place = unplaced()


@frozen
class Parameter:
    """`NAME [in UNIT]` of a formula; without a unit a plain number."""

    name: str
    unit: str | None = None
    place: Place = unplaced()


@frozen
class FormulaRow:
    """`as EXPRESSION`, and when it holds; None is `otherwise`, or always."""

    value: Expression
    condition: Condition | None = None
    otherwise: bool = False
    place: Place = unplaced()


@frozen
class Formula:
    """`formula NAME(PARAMETER in UNIT, …) ["Label"] [in UNIT]` with its `as` rows."""

    name: str
    parameters: tuple[Parameter, ...]
    label: str | None
    unit: str | None
    rows: tuple[FormulaRow, ...]
    details: tuple[Prose | How | SourceOf | Accept, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()


@frozen
class TableRow:
    """`row CHOICE is VALUE`; None is `none`, where there is no value."""

    choice: Word | Number
    value: Constant | None
    place: Place = unplaced()


@frozen
class Table:
    """`table NAME ["Label"] from KIND [to UNIT]` with its rows among the details."""

    name: str
    label: str | None
    kind: str
    unit: str | None
    details: tuple[TableRow | Prose | How | SourceOf | Accept, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()

    @property
    def rows(self) -> tuple[TableRow, ...]:
        """Its rows, in order."""
        return tuple(detail for detail in self.details if isinstance(detail, TableRow))


@frozen
class Row:
    """A value of a limit, and when it holds; None is `otherwise`."""

    value: Value
    condition: Condition | None
    place: Place = unplaced()


Strength: TypeAlias = Literal["", "core", "amend", "stricter", "looser"]


@frozen
class Limit:
    """`[core|amend|stricter|looser] limit NAME ["Label"] [is …]`.

    `value` is one value, rows, or None where an amendment leaves it alone.
    """

    name: str
    label: str | None
    value: Value | tuple[Row, ...] | None
    strength: Strength = ""
    details: tuple[Prose | SourceOf | Accept, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()


@frozen
class List:
    """`[core|amend|stricter|looser] list NAME ["Label"] [is a, b | is none]`."""

    name: str
    label: str | None
    words: tuple[Word, ...] | None
    strength: Strength = ""
    details: tuple[Prose | SourceOf | Accept, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()


@frozen
class Here:
    """`here PATH is VALUE`."""

    given: Given
    place: Place = unplaced()


@frozen
class Section:
    """`section "Title" [when CONDITION …]`; heads what follows."""

    title: str
    conditions: tuple[When, ...] = ()
    details: tuple[Prose, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()


RuleDetail: TypeAlias = When | Demand | Prose | SourceOf | Work | Accept


@frozen
class Rule:
    """`[core|amend|stricter|looser] rule NAME ["Title"] [for each of P, Q]` with its details."""

    name: str
    title: str | None
    parts: tuple[Reference, ...] = ()
    strength: Strength = ""
    details: tuple[RuleDetail, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()


@frozen
class Withdraw:
    """`withdraw rule NAME reason "…"`."""

    name: str
    details: tuple[Prose, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()
    name_place: Place = unplaced()


Outcome: TypeAlias = Literal[
    "met", "not-met", "unsettled", "not-asked", "ready", "not-ready", "incomplete"
]


@frozen
class Expect:
    """`expect RULE is …`, or `expect ready|not ready|incomplete` where `rule` is None."""

    outcome: Outcome
    rule: Word | None = None
    place: Place = unplaced()


@frozen
class Example:
    """`example "Title" [from "…"] [on DATE]` with its `declare` and `expect` lines."""

    title: str
    file: str | None = None
    on: Day | None = None
    details: tuple[Given | Expect | Accept, ...] = ()
    damaged: bool = _damaged()
    place: Place = unplaced()


Statement: TypeAlias = (
    Heading | Prose | Valid | Uses | Kind | Fact | Derived | Formula | Table | Limit | List | Here
    | Section | Rule | Withdraw | Example
)  # fmt: skip


@frozen
class RuleFile:
    """A `.trackrules` file: its statements in the order written."""

    statements: tuple[Statement, ...]
    unread: tuple[Unread, ...] = field(default=(), eq=False)
    source: Source = field(default=NOWHERE.source, kw_only=True, eq=False, repr=False)
