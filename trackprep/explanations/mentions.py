"""What a condition mentions, in reading order."""

from collections.abc import Iterator
from typing import assert_never

from trackprep.backends.terms import named
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    Arithmetic,
    AtLeast,
    Between,
    ByRows,
    ChoiceTest,
    Condition,
    DayTest,
    DerivedNumber,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    NumberTest,
    SetTest,
    Term,
    Test,
)


def tests_in(condition: Condition) -> Iterator[Test]:
    """Every test that the condition is made of."""
    for inner in _inside(condition):
        if not isinstance(inner, Between | Meaning | ByRows | Not | All | AnyOf | AtLeast):
            yield inner


def facts_in(condition: Condition) -> tuple[str, ...]:
    """The facts that the condition asks for, each once; derived ones by what they ask."""
    return tuple(dict.fromkeys(path for test in tests_in(condition) for path in named(test)))


def derived_in(condition: Condition) -> tuple[str, ...]:
    """The derived facts that the condition names, and those they are made of, each once."""
    return tuple(dict.fromkeys(path for inner in _inside(condition) for path in _derived(inner)))


def facts_of(term: Term) -> tuple[str, ...]:
    """The facts that a number is worked out from, each once."""
    return tuple(dict.fromkeys(named(term)))


def terms_in(term: Term) -> Iterator[Term]:
    """The term, and every one that it is worked out from."""
    yield term
    match term:
        case DerivedNumber(_, definition):
            yield from terms_in(definition)
        case Arithmetic(_, left, right):
            yield from terms_in(left)
            yield from terms_in(right)
        case _:
            return


def _inside(condition: Condition) -> Iterator[Condition]:
    """The condition, and every one inside it."""
    yield condition
    match condition:
        case Meaning(_, inner) | Not(inner):
            yield from _inside(inner)
        case Between(least, most):
            yield from (least, most)
        case ByRows(_, rows):
            for row in rows:
                if row.condition is not None:
                    yield from _inside(row.condition)
                yield from _inside(row.test)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            for part in parts:
                yield from _inside(part)
        case (
            ChoiceTest()
            | GradeTest()
            | SetTest()
            | FlagTest()
            | NumberTest()
            | DayTest()
            | AgeTest()
        ):
            return
        case _:
            assert_never(condition)


def _derived(condition: Condition) -> Iterator[str]:
    """The derived facts that the condition names itself."""
    match condition:
        case Meaning(path):
            yield path
        case AgeTest(derived=str(path)):
            yield path
        case NumberTest(left, _, right):
            for side in (left, right):
                yield from (t.path for t in terms_in(side) if isinstance(t, DerivedNumber))
        case _:
            return
