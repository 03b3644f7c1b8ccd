"""What is written as an expression or a condition."""

from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.source import Place
from trackprep.syntax.values import Constant, Day, Value, Word, unplaced

# ---- expressions ----------------------------------------------------------


@frozen
class Reference:
    """A dotted path; also `it`, and `it.…`, within a rule `for each of`."""

    path: str
    place: Place = unplaced()


@frozen
class Sum:
    """`first + a - b …`; `rest` holds each sign with its term."""

    first: "Expression"
    rest: tuple[tuple[Literal["+", "-"], "Expression"], ...]
    place: Place = unplaced()


@frozen
class Product:
    """`first * a / b …`; `rest` holds each sign with its factor."""

    first: "Expression"
    rest: tuple[tuple[Literal["*", "/"], "Expression"], ...]
    place: Place = unplaced()


@frozen
class Group:
    """`[EXPRESSION]`."""

    inner: "Expression"
    place: Place = unplaced()


@frozen
class Age:
    """`age of FACT [on DAY] [to the month|year]`."""

    of: Reference
    on: "Day | Reference | None" = None
    grain: Literal["day", "month", "year"] = "day"
    place: Place = unplaced()


@frozen
class CompletedYears:
    """`completed years of FACT [on DAY]`."""

    of: Reference
    on: "Day | Reference | None" = None
    place: Place = unplaced()


@frozen
class Call:
    """`NAME(EXPRESSION, …)`: a formula, a table, or a function of the language."""

    name: str
    arguments: tuple["Expression", ...]
    place: Place = unplaced()
    name_place: Place = unplaced()


@frozen
class Rounded:
    """`EXPRESSION rounded [down] to STEP`, of a single value, path, group or call."""

    inner: "Expression"
    step: Constant
    down: bool = False
    place: Place = unplaced()


Expression: TypeAlias = (
    Value | Reference | Sum | Product | Group | Age | CompletedYears | Call | Rounded
)

# ---- predicates and conditions --------------------------------------------

Comparison: TypeAlias = Literal["at least", "at most", "more than", "less than"]


@frozen
class Is:
    """`is V`, or `is not V` where `negated`."""

    value: Expression
    negated: bool = False
    place: Place = unplaced()


@frozen
class IsOneOf:
    """`is one of a, b`, or `is none of a, b` where `negated`."""

    words: tuple[Word, ...]
    negated: bool = False
    place: Place = unplaced()


@frozen
class Compare:
    """`is at least E`, `is at most E`, `is more than E`, `is less than E`."""

    comparison: Comparison
    bound: Expression
    place: Place = unplaced()


@frozen
class Between:
    """`is between LOW and HIGH`, both ends included."""

    low: Expression
    high: Expression
    place: Place = unplaced()


@frozen
class OnOr:
    """`is on or after D`, `is on or before D`."""

    side: Literal["after", "before"]
    bound: Expression
    place: Place = unplaced()


@frozen
class Includes:
    """`includes any of`, `includes all of`, `includes none of`."""

    how: Literal["any", "all", "none"]
    words: tuple[Word, ...]
    place: Place = unplaced()


Predicate: TypeAlias = Is | IsOneOf | Compare | Between | OnOr | Includes


@frozen
class Test:
    """`SUBJECT PREDICATE`."""

    subject: Expression
    predicate: Predicate
    place: Place = unplaced()


@frozen
class Bare:
    """A path alone, true where it is declared `yes` or what it `means` holds."""

    subject: Expression
    place: Place = unplaced()


@frozen
class Pattern:
    """`path.*`: every declared fact below a path."""

    path: str
    place: Place = unplaced()


@frozen
class Counted:
    """`each of|some of|none of|at least N of P, Q, R.* PREDICATE`; `least` is N as written."""

    quantifier: Literal["each", "some", "none", "at least"]
    least: str
    items: tuple[Reference | Pattern, ...]
    predicate: Predicate
    place: Place = unplaced()


@frozen
class Not:
    """`not CONDITION`."""

    inner: "Condition"
    place: Place = unplaced()


@frozen
class All:
    """`A and B and …`."""

    parts: tuple["Condition", ...]
    place: Place = unplaced()


@frozen
class AnyOf:
    """`A or B or …`."""

    parts: tuple["Condition", ...]
    place: Place = unplaced()


Condition: TypeAlias = Test | Bare | Counted | Not | All | AnyOf
