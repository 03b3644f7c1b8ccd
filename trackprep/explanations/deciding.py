"""Which tests decided that a condition does not hold, and of several ways the nearest."""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from attrs import evolve, field

from trackprep.explanations.nearness import distance, is_fixed
from trackprep.explanations.opposites import opposite, without_not
from trackprep.explanations.situation import Situation
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    Case,
    ChoiceTest,
    Condition,
    FlagTest,
    Meaning,
    Not,
)


@frozen
class Deciding:
    """A test that does not hold, and what it stands under.

    Attributes:
        test: A test, or `Not` of a set that includes all of some words.
        meanings: The derived facts whose meaning it is a part of, outermost first.
        rows: For each limit by rows that it was taken from, the row and those before it.
    """

    test: Condition
    meanings: tuple[str, ...] = ()
    rows: Mapping[str, tuple[Case, ...]] = field(factory=dict)


@frozen
class Decision:
    """Tests that would have to hold together.

    Attributes:
        others: How many other ways there would be.
        tally: Of `at least 2 of …`: how many hold, and how many are asked.
    """

    tests: tuple[Deciding, ...]
    others: int = 0
    tally: tuple[int, int] | None = None


def decisions(condition: Condition, situation: Situation) -> tuple[Decision, ...]:
    """What decided that the condition, which is false, does not hold."""
    match without_not(condition):
        case Between() as between:
            ends = (between.least, between.most)
            # A coarse date may be too early for one end or too late for the other.
            missed = [end for end in ends if situation.holds(end) is False] or list(ends)
            return tuple(one for end in missed for one in decisions(end, situation))
        case All(parts):
            false = [part for part in parts if situation.holds(part) is False]
            return tuple(one for part in false for one in decisions(part, situation))
        case AnyOf(parts):
            return (_nearest(parts, situation),) if parts else ()
        case AtLeast() as counted:
            return (_counted(counted, situation),)
        case ByRows(limit, rows):
            return _of_row(limit, rows, situation)
        case Meaning(path, inner):
            return _under(path, decisions(inner, situation))
        case Not(Meaning(path, inner)):
            return _under(path, decisions(opposite(inner), situation))
        case test:
            return (Decision((Deciding(test),)),)


def _under(path: str, inner: Sequence[Decision]) -> tuple[Decision, ...]:
    return tuple(
        evolve(
            one,
            tests=tuple(evolve(test, meanings=(path, *test.meanings)) for test in one.tests),
        )
        for one in inner
    )


def _of_row(limit: str, rows: Sequence[Case], situation: Situation) -> tuple[Decision, ...]:
    """Of the row that holds; where it is unknown which, of the first that may."""
    for place, row in enumerate(rows):
        if row.condition is None or situation.holds(row.condition) is not False:
            chosen = {limit: tuple(rows[: place + 1])}
            return tuple(
                evolve(
                    one,
                    tests=tuple(evolve(test, rows={**chosen, **test.rows}) for test in one.tests),
                )
                for one in decisions(row.test, situation)
            )
    return ()


# ---- the nearest of several ways ---------------------------------------------


def _nearest(parts: Sequence[Condition], situation: Situation) -> Decision:
    """The branch to name: the one its deciding fact chose, else the nearest."""
    chosen = _chosen_by_fact(parts, situation)
    if chosen is not None:
        one = _together(chosen, situation)
        if not _hopeless(one, situation):
            return evolve(one, others=one.others + len(parts) - 1)
    ranked = _ranked(parts, situation)
    return evolve(ranked[0], others=ranked[0].others + len(parts) - 1)


def _counted(counted: AtLeast, situation: Situation) -> Decision:
    """As many of the nearest parts as are still missing."""
    truths = [situation.holds(part) for part in counted.parts]
    holding, unknown = truths.count(True), truths.count(None)
    false = [part for part, truth in zip(counted.parts, truths, strict=True) if truth is False]
    ranked = _ranked(false, situation)
    wanted = max(1, counted.count - holding - unknown)
    tests = tuple(test for one in ranked[:wanted] for test in one.tests)
    return Decision(tests, len(ranked[wanted:]), (holding, counted.count))


def _together(part: Condition, situation: Situation) -> Decision:
    """All that would have to change for one branch."""
    found = decisions(part, situation)
    tests = tuple(test for one in found for test in one.tests)
    return Decision(tests, sum(one.others for one in found))


def _ranked(parts: Sequence[Condition], situation: Situation) -> list[Decision]:
    """The branches, the nearest first: what can be changed, with least to change."""

    def rank(branch: tuple[Condition, Decision]) -> tuple[bool, int, int, Fraction]:
        part, one = branch
        far = sum((distance(test.test, situation) for test in one.tests), Fraction(0))
        return _hopeless(one, situation), len(one.tests), -_holding(part, situation), far

    branches = [(part, _together(part, situation)) for part in parts]
    return [one for _, one in sorted(branches, key=rank)]


def _hopeless(one: Decision, situation: Situation) -> bool:
    return any(is_fixed(test.test, situation) for test in one.tests)


def _holding(part: Condition, situation: Situation) -> int:
    return sum(situation.holds(inner) is True for inner in _conjuncts(part))


def _chosen_by_fact(parts: Sequence[Condition], situation: Situation) -> Condition | None:
    """The only branch whose test of a choice holds, where every branch tests that choice."""
    tested = [
        {
            test.path: situation.holds(test)
            for test in _conjuncts(part)
            if isinstance(test, ChoiceTest | FlagTest)
        }
        for part in parts
    ]
    for path in tested[0]:
        truths = [of_part.get(path) for of_part in tested]
        if None not in truths and truths.count(True) == 1:
            return parts[truths.index(True)]
    return None


def _conjuncts(part: Condition) -> tuple[Condition, ...]:
    part = without_not(part)
    return part.parts if isinstance(part, All) else (part,)
