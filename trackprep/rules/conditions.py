"""What a condition means: tests over facts, joined by Kleene's connectives.

Names are resolved, supplements applied, units exact. The unions are closed:
whoever walks one ends with `assert_never`, so that a new kind of condition
makes the type checker name every place that lacks it.
"""

from datetime import date
from fractions import Fraction
from typing import Literal, TypeAlias

from attrs import field

from trackprep.dates import Comparison as AgeComparison
from trackprep.dates import Grain
from trackprep.frozen import frozen
from trackprep.units import Unit

Order: TypeAlias = AgeComparison
"""`at least`, `at most`, `more than`, `less than`."""
Comparison: TypeAlias = Literal[
    "at least", "at most", "more than", "less than", "equal", "not equal"
]

MIRRORED: dict[Comparison, Comparison] = {
    "at least": "at most",
    "at most": "at least",
    "more than": "less than",
    "less than": "more than",
    "equal": "equal",
    "not equal": "not equal",
}
"""What a comparison is with its two sides changed over."""

# ---- numbers ----------------------------------------------------------------


@frozen
class Constant:
    """A number from the rule file, in base units; `limit` names the limit it came from.

    `difference` tells a difference of temperatures or levels from a point.
    """

    value: Fraction
    unit: Unit
    limit: str | None = field(default=None, eq=False)
    difference: bool = field(default=False, eq=False)


@frozen
class NumberOf:
    """What is declared for a measured fact or a count."""

    path: str


@frozen
class Arithmetic:
    """`left + right` and so on; a division by zero has no value."""

    operator: Literal["+", "-", "*", "/"]
    left: "Term"
    right: "Term"


@frozen
class CompletedYears:
    """Whole calendar years from a date to another."""

    of: "DayTerm"
    on: "DayTerm"


@frozen
class DerivedNumber:
    """A derived fact, kept under its name so that an explanation can say it."""

    path: str
    definition: "Term"
    unit: Unit = field(eq=False)
    difference: bool = field(default=False, eq=False)


@frozen
class Called:
    """A function whose results are mostly irrational."""

    function: "Function"
    of: "Term"


@frozen
class Extreme:
    """The least or the greatest of several numbers."""

    which: Literal["minimum", "maximum"]
    of: tuple["Term", ...]


@frozen
class Rounded:
    """A number rounded to a multiple of `step`, which is above zero.

    To the nearest, ties away from zero; `down`, to the next one that is not above it.
    """

    of: "Term"
    step: Constant
    down: bool = False


@frozen
class ChoiceLookup:
    """What a table says of the declared choice; a choice without a row has no value."""

    table: str = field(eq=False)
    path: str
    rows: tuple[tuple[str, Fraction], ...]
    unit: Unit = field(eq=False)


@frozen
class NumberLookup:
    """What a table says of a whole number; one without a row has no value."""

    table: str = field(eq=False)
    of: "Term"
    rows: tuple[tuple[Fraction, Fraction], ...]
    unit: Unit = field(eq=False)


@frozen
class TermCase:
    """One row of a formula: its value where `condition` holds (None: otherwise)."""

    condition: "Condition | None"
    value: "Term"


@frozen
class ByCase:
    """A formula by rows: the first row that holds gives the value.

    Where it is unknown which row that is, every row that may be it counts.
    """

    rows: tuple[TermCase, ...]


@frozen
class FormulaNumber:
    """A formula with its arguments put in, kept under its name for explanations."""

    name: str = field(eq=False)
    arguments: tuple[tuple[str, "Term"], ...] = field(eq=False)
    definition: "Term"
    unit: Unit = field(eq=False)
    difference: bool = field(default=False, eq=False)


Function: TypeAlias = Literal["log10", "ten-to", "sqrt"]
Term: TypeAlias = (
    Constant | NumberOf | Arithmetic | CompletedYears | DerivedNumber | Called | Extreme | Rounded
    | ChoiceLookup | NumberLookup | ByCase | FormulaNumber
)  # fmt: skip

# ---- days -------------------------------------------------------------------


@frozen
class DayOf:
    """What is declared for a date or a week code."""

    path: str


@frozen
class FixedDay:
    """A day from the rule file."""

    day: date
    limit: str | None = field(default=None, eq=False)


@frozen
class EventDay:
    """The day of the event, or 1 January of its year."""

    year_start: bool = False


@frozen
class Shifted:
    """A day and a duration, which may be negative."""

    day: "DayTerm"
    months: int = 0
    days: int = 0


DayTerm: TypeAlias = DayOf | FixedDay | EventDay | Shifted

# ---- tests ------------------------------------------------------------------


@frozen
class ChoiceTest:
    """The declared choice is (`negated`: is not) one of `words`."""

    path: str
    words: frozenset[str]
    negated: bool = False
    shown: tuple[str, ...] = field(default=(), eq=False)
    name: str | None = field(default=None, eq=False)
    """The list or limit the words came from."""


@frozen
class GradeTest:
    """The declared grade stands so to `word`, or to what `other` is declared to be."""

    path: str
    comparison: Order
    word: str | None = None
    other: str | None = None
    grades: tuple[str, ...] = field(default=(), eq=False)
    limit: str | None = field(default=None, eq=False)


@frozen
class SetTest:
    """The declared set includes any, all or none of `words`."""

    path: str
    how: Literal["any", "all", "none"]
    words: frozenset[str]
    shown: tuple[str, ...] = field(default=(), eq=False)
    name: str | None = field(default=None, eq=False)


@frozen
class FlagTest:
    """The fact is declared `yes` (or `no`)."""

    path: str
    value: bool = True


@frozen
class NumberTest:
    """Two numbers of one dimension compared, exactly."""

    left: Term
    comparison: Comparison
    right: Term


@frozen
class DayTest:
    """Two days compared: `at least` is on or after."""

    left: DayTerm
    comparison: Comparison
    right: DayTerm


@frozen
class AgeTest:
    """A calendar age compared with a number of months, or of days."""

    of: DayTerm
    on: DayTerm
    comparison: Order
    months: int | None
    days: int | None
    grain: Grain = "day"
    shown: str = field(default="", eq=False)
    limit: str | None = field(default=None, eq=False)
    derived: str | None = field(default=None, eq=False)


@frozen
class Between:
    """The two ends of a range, asked of one subject as one test."""

    least: "Test"
    most: "Test"

    @property
    def ends(self) -> "All":
        """Both ends as two tests, which say the same where every day and number is known."""
        return All((self.least, self.most), "between")


@frozen
class Meaning:
    """What a derived fact `means`, kept under its name."""

    path: str
    condition: "Condition"


@frozen
class Case:
    """One row of a limit: what holds where `condition` does (None: otherwise)."""

    condition: "Condition | None"
    test: "Condition"


@frozen
class ByRows:
    """A test that names a limit by rows: the first row that holds decides.

    Where it is unknown which row that is, the answer is known only if all the
    rows that may be it give the same.
    """

    limit: str = field(eq=False)
    rows: tuple[Case, ...] = ()


# ---- connectives ------------------------------------------------------------


@frozen
class Not:
    """`not CONDITION`."""

    inner: "Condition"


@frozen
class All:
    """Every part holds; `form` tells how it was said."""

    parts: tuple["Condition", ...]
    form: Literal["and", "each", "between"] = field(default="and", eq=False)


@frozen
class AnyOf:
    """Some part holds."""

    parts: tuple["Condition", ...]
    form: Literal["or", "some"] = field(default="or", eq=False)


@frozen
class AtLeast:
    """At least `count` of the parts hold."""

    count: int
    parts: tuple["Condition", ...]


Test: TypeAlias = ChoiceTest | GradeTest | SetTest | FlagTest | NumberTest | DayTest | AgeTest
Condition: TypeAlias = Test | Between | Meaning | ByRows | Not | All | AnyOf | AtLeast

ALWAYS = All(())
