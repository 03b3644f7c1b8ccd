"""What several rulesets ask, side by side, with the strictest marked by what it means.

A ruleset is the strictest in a row if what it asks there lets through only what each of
the others lets through; so conditions and lists are weighed like numbers.
"""

from collections.abc import Hashable, Iterable, Sequence
from typing import NamedTuple

from attrs import define, field

from trackprep.analysis.clauses import leaves
from trackprep.analysis.demands import Demand, demands, not_taken_apart
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.solving import YES, UndecidedError
from trackprep.analysis.space import Space
from trackprep.frozen import frozen
from trackprep.rules.model import Asked, Rule


@frozen(eq=False)
class Row:
    """What each ruleset asks of one thing.

    Attributes:
        about: What it is, in words; several where the same is asked of each.
        cells: For each ruleset what it asks: nothing, one thing, or more.
        likewise: Whether it is said of the first of several parts, and meant of each.
        strictest: The rulesets that ask most; none where that cannot be told.
        agree: Whether all of them ask the same.
        unsure: Whether they may agree without its being seen, for arithmetic of several facts.
    """

    about: tuple[str, ...]
    section: str
    cells: tuple[tuple[Demand, ...], ...]
    strictest: frozenset[int]
    agree: bool
    unsure: bool
    likewise: bool = False

    @property
    def recommended(self) -> bool:
        """Whether nobody requires it."""
        return all(demand.rule.level == "recommended" for cell in self.cells for demand in cell)

    @property
    def asked_by(self) -> tuple[int, ...]:
        """The rulesets that ask anything."""
        return tuple(number for number, cell in enumerate(self.cells) if cell)


def limits_table(sides: Sequence[Side], shared: SharedFacts) -> tuple[Row, ...]:
    """A row for everything that one of the rulesets asks, in the order of the first."""
    whole = not_taken_apart([side.rules for side in sides])
    asked = [list(demands(side.rules, whole)) for side in sides]
    # Taken apart, rules have tests of their own, which the space has to know.
    apart = [[_alone(demand, n) for n, demand in enumerate(some)] for some in asked]
    space = Space(sides, apart, shared)
    found: dict[Hashable, list[list[Demand]]] = {}
    for number, some in enumerate(asked):
        for demand in some:
            cells = found.setdefault(demand.key, [[] for _ in sides])
            if not any(_repeats(demand, other) for other in cells[number]):
                cells[number].append(demand)
    gathered = _gathered(_Gathering(cells) for cells in found.values())
    rows = [_row(space, each) for each in gathered]
    space.circuit.close()
    sections = list(dict.fromkeys(row.section for row in rows))
    return tuple(sorted(rows, key=lambda row: sections.index(row.section)))


def _alone(demand: Demand, number: int) -> Rule:
    """What is demanded as a rule of its own."""
    rule, asked = demand.rule, demand.asked
    part = Asked(asked.part, asked.when, demand.condition)
    return Rule(f"{rule.name} {number}", rule.title, rule.section, rule.level, (part,))


def _repeats(one: Demand, other: Demand) -> bool:
    return (one.text, one.when, one.rule.level) == (other.text, other.when, other.rule.level)


@define(eq=False)
class _Gathering:
    """Rows that ask the same of several things, the first with its demands."""

    cells: list[list[Demand]]
    about: list[str] = field(factory=list)
    members: list[list[list[Demand]]] = field(factory=list)

    @property
    def first(self) -> Demand:
        return next(demand for cell in self.cells for demand in cell)

    def takes(self, other: "_Gathering") -> bool:
        """Whether another row asks the same of something else, by the same rules."""
        return self.first.key != other.first.key and all(
            len(mine) == len(theirs)
            and all(
                one.rule.name == two.rule.name and one.like(two)
                for one, two in zip(mine, theirs, strict=True)
            )
            for mine, theirs in zip(self.cells, other.cells, strict=True)
        )


def _gathered(rows: Iterable[_Gathering]) -> list[_Gathering]:
    by_rules: dict[object, list[_Gathering]] = {}
    for row in rows:
        names = tuple(tuple(demand.rule.name for demand in cell) for cell in row.cells)
        alike = by_rules.setdefault(names, [])
        into = next((one for one in alike if one.takes(row)), None)
        if into is None:
            alike.append(row)
            into = row
        into.about.append(row.first.subject)
        into.members.append(row.cells)
    return [row for alike in by_rules.values() for row in alike]


def _row(space: Space, row: _Gathering) -> Row:
    strictest, agree = _weighed(space, row.members)
    about = tuple(dict.fromkeys(row.about))
    return Row(
        about, row.first.rule.section, tuple(map(tuple, row.cells)), strictest, agree,
        unsure=not agree and _is_worked_out(space, row),
        likewise=any(not _said_alike(row.cells, cells) for cells in row.members),
    )  # fmt: skip


def _said_alike(one: Sequence[Sequence[Demand]], other: Sequence[Sequence[Demand]]) -> bool:
    """Whether what is asked of two things is asked in the same words."""
    return all(
        _repeats(mine, theirs)
        for cell, twin in zip(one, other, strict=True)
        for mine, theirs in zip(cell, twin, strict=True)
    )


def _is_worked_out(space: Space, row: _Gathering) -> bool:
    """Whether what is asked hangs on arithmetic of several facts."""
    asked = (
        (number, part)
        for cells in row.members
        for number, cell in enumerate(cells)
        for demand in cell
        for part in (demand.asked.when, demand.condition)
    )
    return any(
        leaf in space.clauses.free
        for number, part in asked
        for leaf in leaves(part, space.sides[number].here)
    )


def _weighed(
    space: Space, members: Sequence[Sequence[Sequence[Demand]]]
) -> tuple[frozenset[int], bool]:
    """Which rulesets ask most, and whether all ask the same."""
    rulesets = range(len(space.sides))
    lets = [_Lets.of(space, number, [cells[number] for cells in members]) for number in rulesets]
    if len(set(lets)) == 1:
        return frozenset(), True
    complete = space.complete(
        path
        for cells in members
        for number, cell in enumerate(cells)
        for demand in cell
        for path in space.sides[number].open_facts(demand.rule)
    )
    try:
        most = frozenset(
            number for number, mine in enumerate(lets)
            if all(mine.implies(other, space, complete) for other in set(lets) - {mine})
        )  # fmt: skip
    except UndecidedError:
        return frozenset(), False
    if len(most) == len(lets):
        return frozenset(), True
    return most, False


class _Lets(NamedTuple):
    """What a ruleset lets through in a row: by what it requires, and with what it recommends."""

    required: int
    advised: int

    @classmethod
    def of(cls, space: Space, number: int, cells: Sequence[Sequence[Demand]]) -> "_Lets":
        """The literals of what it demands there."""
        said = [(demand, _lets(space, number, demand)) for cell in cells for demand in cell]
        required = (lets for demand, lets in said if demand.rule.level == "required")
        whole = space.circuit.all_of(lets for _, lets in said)
        return cls(space.circuit.all_of(required), whole)

    def implies(self, other: "_Lets", space: Space, complete: Sequence[int]) -> bool:
        """Whether the other lets through all that this one does.

        Arithmetic of several facts it may not see through.
        """
        return all(
            theirs == YES or not space.circuit.possible(*complete, mine, -theirs)
            for mine, theirs in zip(self, other, strict=True)
        )


def _lets(space: Space, number: int, demand: Demand) -> int:
    here = space.sides[number].here
    asked = space.clauses.says(demand.asked.when, here)
    held = space.clauses.says(demand.condition, here)
    return space.circuit.any_of((asked.false, held.true))
