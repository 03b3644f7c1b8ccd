"""What a rule file means: facts, limits, lists and rules, checked and resolved.

This is all that the back ends and the analysis see; nothing here says how it
was written, but for the places that a report or a comparison names.
"""

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Literal, TypeAlias

from attrs import field

from trackprep.frozen import frozen
from trackprep.rules.conditions import Condition, Term
from trackprep.rules.values import Amount, Value
from trackprep.units import Unit, show

Level: TypeAlias = Literal["required", "recommended"]
MarkWord: TypeAlias = Literal["for the inspector", "unchangeable", "private", "check again"]

# ---- facts ------------------------------------------------------------------


@frozen
class Choice:
    """A choice word, its label, and the other words people use for it."""

    word: str
    label: str = ""
    also: tuple[str, ...] = ()

    @property
    def spoken(self) -> str:
        """What people read: the label, or the word with spaces for hyphens."""
        if self.label:
            return self.label
        return self.word.replace("-", " ") if self.word.islower() else self.word


@frozen
class Choosing:
    """`one of`, or `graded` where the order of the choices counts, or `several of`."""

    how: Literal["one of", "graded", "several of"]
    choices: tuple[Choice, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """The choice words, in order."""
        return tuple(choice.word for choice in self.choices)

    def spoken(self, word: str) -> str:
        """What people read for a choice word."""
        return next((c.spoken for c in self.choices if c.word == word), word)


@frozen
class YesOrNo:
    """A yes or no."""


@frozen
class Dated:
    """A date; a `past` one, and a week code, does not lie after the event."""

    how: Literal["date", "past date", "week code"]

    @property
    def past(self) -> bool:
        """Whether it cannot lie after the event."""
        return self.how != "date"


@frozen
class Measured:
    """A quantity, or a count where `unit` is the plain number and `whole`; ends in base units."""

    unit: Unit
    low: Fraction | None = None
    high: Fraction | None = None
    whole: bool = False

    @property
    def range_in_words(self) -> str:
        """`from 0 mm to 12 mm`, in the fact's unit."""
        ends = []
        if self.low is not None:
            ends.append(f"from {show(self.low, self.unit)}")
        if self.high is not None:
            ends.append(f"to {show(self.high, self.unit)}")
        return " ".join(ends) or "of any size"


@frozen
class FreeText:
    """Words that no test looks at."""


Type: TypeAlias = Choosing | YesOrNo | Dated | Measured | FreeText


@frozen
class Origin:
    """Where something stands: for reports, proofs and comparisons."""

    file: str = ""
    line: int = 0
    column: int = 0


@frozen
class SourceOf:
    """Where a value comes from: a document and section, or a set phrase."""

    kind: Literal["text", "common practice", "house rule", "from memory"]
    text: str = ""

    def __str__(self) -> str:
        return self.text if self.kind == "text" else self.kind


@frozen
class Fact:
    """What a rider, or the inspector, can be asked to declare.

    Attributes:
        takes: How long it takes a person with the tools at hand to find out; None if not told.
    """

    path: str
    label: str
    type: Type
    ask: str = ""
    how: str = ""
    takes: Amount | None = None
    caution: str = ""
    also: tuple[str, ...] = ()
    marks: frozenset[MarkWord] = frozenset()
    section: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)

    @property
    def for_the_inspector(self) -> bool:
        """Whether riders are not asked."""
        return "for the inspector" in self.marks

    @property
    def private(self) -> bool:
        """Whether lists and tables keep its value to themselves."""
        return "private" in self.marks


@frozen
class DerivedFact:
    """A fact worked out from others; never declared.

    `definition` is a condition for `means`, a term for `as EXPRESSION`, and for
    `as age of` the path of the dated fact with its grain.
    """

    path: str
    label: str
    definition: Condition | Term | tuple[str, str]
    unit: Unit | None = None
    difference: bool = False
    section: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class Parameter:
    """What a formula is worked out from; `difference` where it is no point on a scale."""

    name: str
    unit: Unit
    difference: bool = False


@frozen
class Formula:
    """A named computation, which rules call.

    Attributes:
        definition: The computation, each parameter in it a `NumberOf` its name.
    """

    name: str
    label: str
    parameters: tuple[Parameter, ...]
    definition: Term
    unit: Unit
    difference: bool = False
    how: str = ""
    cautions: tuple[str, ...] = ()
    reason: str = ""
    section: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class Table:
    """What a standard prints as a table: a quantity for each choice, or for some counts.

    Attributes:
        choices: The choices it is about; None where it is about counts.
        rows: Choices or counts with their values in base units; one without a row has none.
    """

    name: str
    label: str
    choices: Choosing | None
    rows: tuple[tuple[str | Fraction, Fraction], ...]
    unit: Unit
    how: str = ""
    cautions: tuple[str, ...] = ()
    reason: str = ""
    section: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)


# ---- limits and lists -------------------------------------------------------


@frozen
class LimitRow:
    """A value of a limit and when it holds; None is otherwise, or always."""

    value: "Amount | date | str"
    condition: Condition | None = None


@frozen
class Limit:
    """A named value that venues tune."""

    name: str
    label: str
    rows: tuple[LimitRow, ...]
    core: bool = False
    reason: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class WordList:
    """A named list of choice words that venues tune."""

    name: str
    label: str
    words: tuple[str, ...]
    core: bool = False
    reason: str = ""
    source: SourceOf | None = None
    origin: Origin = field(default=Origin(), eq=False)


# ---- rules ------------------------------------------------------------------


@frozen
class Part:
    """A part to buy, and how long to allow for getting it."""

    name: str
    allow: Amount | None = None


@frozen
class Work:
    """What meets a rule (`fix`), or what to put back before the road (`undo`)."""

    text: str
    takes: Amount | None = None
    parts: tuple[Part, ...] = ()
    tools: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    where: Literal["at home", "in the paddock"] | None = None
    cautions: tuple[str, ...] = ()
    when: Condition | None = None


@frozen
class Asked:
    """What a rule asks of one part, or of all where `part` is None."""

    part: str | None
    when: Condition
    demand: Condition
    fixes: tuple[Work, ...] = ()
    undos: tuple[Work, ...] = ()


@frozen
class Rule:
    """One rule: when it applies, what it demands, and what people should know about it.

    Attributes:
        asked: One entry; for a rule `for each of` parts, one for each part.
        base: The ruleset that the rule first stood in.
        change: How the last supplement that changed it said so.
    """

    name: str
    title: str
    section: str
    level: Level
    asked: tuple[Asked, ...]
    core: bool = False
    reason: str = ""
    inspect: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()
    source: SourceOf | None = None
    base: str = ""
    change: Literal["", "amend", "stricter", "looser"] = ""
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class Section:
    """A heading, the condition over its rules, and the prose under it."""

    title: str
    when: Condition | None = None
    notes: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()


@frozen
class Expectation:
    """What an example expects: of a rule, or of the whole where `rule` is None."""

    outcome: str
    rule: str | None = None
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class Example:
    """A rule file's own test."""

    title: str
    on: date
    values: Mapping[str, Value]
    expectations: tuple[Expectation, ...]
    file: str | None = None
    origin: Origin = field(default=Origin(), eq=False)


@frozen
class FileUsed:
    """A file that a ruleset was made of, with the digest of its bytes, and where it lies."""

    name: str
    digest: str
    shipped: bool = False
    path: str = field(default="", eq=False)


@frozen(eq=False)
class Rules:
    """A ruleset as it is meant, its bases and vocabularies taken in.

    Attributes:
        rules: In report order: by section, required before recommended.
        here: What the event itself settles.
        files: Every file that had a part in it, the named one first.
    """

    name: str
    title: str
    edition: str = ""
    organizer: str = ""
    venue: str = ""
    contact: str = ""
    valid: tuple[date, date] | None = None
    notes: tuple[str, ...] = ()
    brings: tuple[str, ...] = ()
    facts: Mapping[str, Fact] = field(factory=dict)
    derived: Mapping[str, DerivedFact] = field(factory=dict)
    formulas: Mapping[str, Formula] = field(factory=dict)
    tables: Mapping[str, Table] = field(factory=dict)
    limits: Mapping[str, Limit] = field(factory=dict)
    lists: Mapping[str, WordList] = field(factory=dict)
    here: Mapping[str, Value] = field(factory=dict)
    sections: tuple[Section, ...] = ()
    rules: tuple[Rule, ...] = ()
    withdrawn: Mapping[str, str] = field(factory=dict)
    examples: tuple[Example, ...] = ()
    base: str | None = None
    vocabulary: bool = False
    files: tuple[FileUsed, ...] = ()
