"""Conditions joined: what they are, where it is known what each single test is."""

from collections.abc import Callable, Collection, Iterable, Iterator
from typing import TypeAlias, TypeVar, assert_never

from trackprep.rules.conditions import (
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    Case,
    Condition,
    Meaning,
    Not,
    TermCase,
    Test,
)
from trackprep.truth import Truth, at_least, conjunction, disjunction, negation

Joined: TypeAlias = Meaning | ByRows | Not | All | AnyOf | AtLeast
Row = TypeVar("Row", Case, TermCase)


def truth_of(condition: Condition, answer: Callable[[Test | Between], Truth]) -> Truth:
    """Whether the condition holds, each of its tests being what `answer` says."""
    match condition:
        case Not(inner):
            return negation(truth_of(inner, answer))
        case All(parts):
            return conjunction(truth_of(part, answer) for part in parts)
        case AnyOf(parts):
            return disjunction(truth_of(part, answer) for part in parts)
        case AtLeast(count, parts):
            return at_least(count, (truth_of(part, answer) for part in parts))
        case Meaning(_, inner):
            return truth_of(inner, answer)
        case ByRows(_, rows):
            applying = in_play(rows, lambda condition: truth_of(condition, answer))
            return alike([truth_of(row.test, answer) for row in applying])
        case _:
            return answer(condition)


def alike(truths: Collection[Truth]) -> Truth:
    """What all of the truths are, or None if they differ."""
    first, *others = truths
    return first if all(other is first for other in others) else None


def in_play(rows: Iterable[Row], holds: Callable[[Condition], Truth]) -> Iterator[Row]:
    """The rows that may be the first that holds; the last row of all always holds."""
    for row in rows:
        applies = row.condition is None or holds(row.condition)
        if applies is not False:
            yield row
        if applies is True:
            return


def tests_of(condition: Condition) -> Iterator[Test | Between]:
    """The single tests of a condition, in reading order."""
    if isinstance(condition, Joined):
        for member in members(condition):
            yield from tests_of(member)
    else:
        yield condition


def members(condition: Joined) -> Iterator[Condition]:
    """The conditions that stand directly in a joined one."""
    match condition:
        case Not(inner) | Meaning(_, inner):
            yield inner
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            yield from parts
        case ByRows(_, rows):
            for row in rows:
                if row.condition is not None:
                    yield row.condition
                yield row.test
        case _:
            assert_never(condition)
