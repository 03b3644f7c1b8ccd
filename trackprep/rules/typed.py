"""What an expression turns out to be: its term, and what may be done with it."""

from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.conditions import Condition, DayTerm, Term
from trackprep.units import Dimension, Unit

Nature: TypeAlias = Literal["plain", "point", "difference", "either"]
"""Of temperatures and levels: a point, a difference, or (a literal in K or dB) either."""


@frozen
class Number:
    """A number or quantity; `fact` is the fact that it is, where it is one alone."""

    term: Term
    dimension: Dimension
    unit: Unit
    nature: Nature = "plain"
    constant: bool = False
    fact: model.Fact | None = None


@frozen
class Day:
    """A day."""

    term: DayTerm
    constant: bool = False
    fact: model.Fact | None = None


@frozen
class Age:
    """A calendar age."""

    of: DayTerm
    on: DayTerm
    grain: Literal["day", "month", "year"]
    path: str
    derived: str | None = None


@frozen
class Chosen:
    """The declared choice of a fact."""

    fact: model.Fact
    type: model.Choosing


@frozen
class Several:
    """The declared choices of a fact."""

    fact: model.Fact
    type: model.Choosing


@frozen
class Flag:
    """A yes or no: `condition` holds where it is yes."""

    path: str
    condition: Condition


@frozen
class Text:
    """Words that no test looks at."""

    path: str


@frozen
class Word:
    """A choice word from the file; `limit` names the limit it came from."""

    word: str
    limit: str | None = None


@frozen
class YesOrNo:
    """The value `yes` or `no`."""

    value: bool


Typed: TypeAlias = Number | Day | Age | Chosen | Several | Flag | Text | Word | YesOrNo


def in_words(typed: Typed) -> str:
    """What it is, for a message: `a length`, `a date`, `one of several choices`."""
    match typed:
        case Number(dimension=dimension, nature=nature):
            words = dimension.words
            return f"a difference, {words}" if nature == "difference" else words
        case Day():
            return "a date"
        case Age():
            return "an age"
        case Chosen():
            return "one of its choices"
        case Several():
            return "a list of choices"
        case Flag() | YesOrNo():
            return "a yes or no"
        case Text():
            return "free text"
        case Word():
            return "a choice word"


def natured(number: Number) -> str:
    """What it is on its scale: `a point on the scale of a temperature`, or a difference."""
    scale = number.dimension.words
    return f"a point on the scale of {scale}" if number.nature == "point" else in_words(number)
