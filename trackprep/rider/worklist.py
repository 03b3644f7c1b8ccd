"""What is on a work list: to find out, to do, to buy, to borrow, to pack, and to put back."""

from datetime import date
from fractions import Fraction
from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.rules.model import Level

Arrival: TypeAlias = Literal["ridden", "carried"]
"""How the machine comes to the event."""
Spot: TypeAlias = Literal["at home", "in the paddock"]


@frozen
class Occasion:
    """An event that the list is for: its ruleset's name, and what people call it."""

    name: str
    title: str


@frozen
class Served:
    """A rule that something on the list is for.

    Attributes:
        occasion: The place of its event among those of the list.
        parts: Of a rule that asks the same of several parts, those that it is about.
    """

    occasion: int
    rule: str
    title: str
    level: Level
    parts: tuple[str, ...] = ()


Texts: TypeAlias = tuple[tuple[str, tuple[int, ...]], ...]
"""What to do, in the words of each rule that says it otherwise, with the places of its events."""


@frozen
class Duration:
    """How long something takes: the minutes that are known, and how many parts have no time."""

    minutes: Fraction = Fraction(0)
    untimed: int = 0

    def __add__(self, other: "Duration") -> "Duration":
        return Duration(self.minutes + other.minutes, self.untimed + other.untimed)


@frozen
class Question:
    """A fact to find out.

    Attributes:
        asked: What the rules ask of it alone.
        declared: What was declared too coarsely; empty for what was not declared.
        finer: What to declare in its place.
        treat_as: The one answer that some rule would turn down, where there is just one: what
            to take the fact for if it cannot be found out.
        takes: How long finding out takes, with the tools at hand.
        cautions: What can hurt somebody who looks.
    """

    path: str
    label: str
    ask: str
    how: str = ""
    takes: Duration = Duration(untimed=1)
    asked: tuple[str, ...] = ()
    declared: str = ""
    finer: str = ""
    treat_as: str = ""
    cautions: tuple[str, ...] = ()


@frozen
class OpenPoint:
    """What unsettled rules wait for.

    Attributes:
        serves: The rules; all of them wait for the same.
        questions: What to find out; what an earlier point asks is not asked again.
        asked_above: The labels of what earlier points ask.
        untold: What cannot be worked out though all of it is declared.
        otherwise: The work to do if it cannot be found out.
    """

    serves: tuple[Served, ...]
    questions: tuple[Question, ...]
    asked_above: tuple[str, ...] = ()
    untold: tuple[str, ...] = ()
    otherwise: tuple[str, ...] = ()

    @property
    def level(self) -> Level:
        """Whether any of its rules is required."""
        return level_of(self.serves)


@frozen
class Job:
    """Work that meets rules, once for all that it serves.

    Attributes:
        why: What was declared, and what is asked.
        parts: The names of what to buy; how long to allow stands in the list to buy.
        after: The numbers of the jobs that come first.
    """

    number: int
    texts: Texts
    serves: tuple[Served, ...]
    spot: Spot
    takes: Duration
    why: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    after: tuple[int, ...] = ()

    @property
    def level(self) -> Level:
        """Whether any rule that it serves is required."""
        return level_of(self.serves)


@frozen
class ToBuy:
    """Something to buy.

    Attributes:
        by: The latest day to order it; None where no time to allow is given.
        allow: The time to allow for it, as the rule file has it.
        late: Whether that day is over.
        road: Whether it is for what is put back before the road.
    """

    name: str
    jobs: tuple[int, ...]
    by: date | None = None
    allow: str = ""
    late: bool = False
    road: bool = False


@frozen
class ToBorrow:
    """A tool, and what it is for; `road` as above."""

    name: str
    jobs: tuple[int, ...]
    road: bool = False


@frozen
class Packing:
    """What comes along: what the organizer says, and what the work at the event takes."""

    brings: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()


@frozen
class Step:
    """Something to do before the road.

    Attributes:
        point: The point of a road machine that it is about, such as `Mirrors`; may be empty.
        serves: The rules whose work it undoes; none of a last look.
        declared: What was declared of it, where that is as the rules ask.
        jobs: The jobs on this list that it undoes.
        only_if: Whether nobody knows yet if it is needed at all.
    """

    texts: Texts
    point: str = ""
    serves: tuple[Served, ...] = ()
    takes: Duration = Duration()
    parts: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    declared: str = ""
    jobs: tuple[int, ...] = ()
    only_if: bool = False


@frozen
class RoadReturn:
    """What is put back before the machine goes on the road again.

    Attributes:
        registered: Whether the machine is registered for the road; None if that is not declared.
        leaving: Before it leaves the paddock on its own wheels.
        later: Before its next ride on the road, or before frost.
    """

    registered: bool | None
    leaving: tuple[Step, ...] = ()
    later: tuple[Step, ...] = ()


@frozen
class Worklist:
    """Everything that is left to do for an event, or for several on one day.

    Attributes:
        points: What to find out, required before recommended.
        jobs: What to do, in the order of their numbers: required at home, required in the
            paddock, recommended at home, recommended in the paddock.
        inspector: What only the inspector decides.
    """

    occasions: tuple[Occasion, ...]
    day: date
    arrival: Arrival
    points: tuple[OpenPoint, ...]
    jobs: tuple[Job, ...]
    inspector: tuple[Served, ...]
    buy: tuple[ToBuy, ...]
    borrow: tuple[ToBorrow, ...]
    pack: Packing
    road: RoadReturn

    @property
    def questions(self) -> tuple[Question, ...]:
        """All that is to be found out, each fact once."""
        return tuple(question for point in self.points for question in point.questions)

    def jobs_at(self, spot: Spot, level: Level) -> tuple[Job, ...]:
        """The required or recommended jobs at a place, in a workable order."""
        return tuple(job for job in self.jobs if job.spot == spot and job.level == level)


def level_of(serves: tuple[Served, ...]) -> Level:
    """`required` if any of the rules is."""
    return "required" if any(one.level == "required" for one in serves) else "recommended"


def total(takes: "tuple[Duration, ...]") -> Duration:
    """The time of several jobs, or of several things to find out."""
    return sum(takes, Duration())
