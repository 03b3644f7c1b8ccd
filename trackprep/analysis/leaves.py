"""The single tests that conditions are made of, as one ruleset asks them."""

from collections.abc import Iterator, Mapping
from datetime import date
from functools import lru_cache
from typing import TypeAlias

from attrs import Factory, field

from trackprep.analysis.thresholds import NotExactError
from trackprep.backends.readings import possible
from trackprep.backends.terms import Values, named
from trackprep.explanations.mentions import terms_in, tests_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByCase,
    ByRows,
    Condition,
    DayTest,
    Meaning,
    Not,
    NumberTest,
    Test,
)
from trackprep.rules.values import Value
from trackprep.truth import Truth

Leaf: TypeAlias = Test | Between
Settled: TypeAlias = Mapping[str, Value | None]
"""What the event itself settles; None is that the fact stays undeclared."""


@frozen(eq=False)
class LeafOf:
    """A test as one ruleset asks it, with what that ruleset's event settles itself.

    Attributes:
        here: What the event settles of the facts that the test names.
        open: Those that a declaration decides, each once.
    """

    test: Leaf
    here: tuple[tuple[str, Value | None], ...] = ()
    open: tuple[str, ...] = field(
        init=False, default=Factory(lambda leaf: tuple(_open(leaf)), takes_self=True)
    )
    _hash: int = field(
        init=False,
        repr=False,
        default=Factory(lambda leaf: hash((leaf.test, leaf.here)), takes_self=True),
    )

    @property
    def by_rows(self) -> bool:
        """Whether it may have an answer where some of its facts are undeclared."""
        tests = (test for test in tests_in(self.test) if isinstance(test, NumberTest))
        terms = (
            term for test in tests for side in (test.left, test.right) for term in terms_in(side)
        )
        return any(isinstance(term, ByCase) for term in terms)

    def __eq__(self, other: object) -> bool:
        """Whether the same is asked; told often, so that the hash is kept."""
        if not isinstance(other, LeafOf):
            return NotImplemented
        return self is other or (
            self._hash == other._hash and self.test == other.test and self.here == other.here
        )

    def __hash__(self) -> int:
        return self._hash

    @property
    def settled(self) -> Values:
        """What the event settles, by path."""
        return {path: value for path, value in self.here if value is not None}


def _open(leaf: LeafOf) -> dict[str, None]:
    settled = dict(leaf.here)
    return dict.fromkeys(path for path in named(leaf.test) if path not in settled)


def answer(leaf: LeafOf, values: Values, event: date) -> Truth:
    """What a test answers to values; a past date is cut at the event."""
    known = {**values, **leaf.settled} if leaf.here else values
    truths = possible(leaf.test, known, event)
    return next(iter(truths)) if len(truths) == 1 else None


def leaf_of(test: Leaf, here: Settled) -> LeafOf:
    """A test as a ruleset asks it that settles `here`."""
    mentioned = sorted({path for path in named(test) if path in here}) if here else ()
    if not mentioned:
        return _bare(test)
    return LeafOf(test, tuple((path, here[path]) for path in mentioned))


@lru_cache(maxsize=20_000)
def _bare(test: Leaf) -> LeafOf:
    """A test that the event settles nothing of; asked for again and again."""
    return LeafOf(test)


def leaves(condition: Condition, here: Settled) -> Iterator[LeafOf]:
    """Every test of a condition."""
    match condition:
        case Not(inner) | Meaning(_, inner):
            yield from leaves(inner, here)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            for part in parts:
                yield from leaves(part, here)
        case ByRows(_, rows):
            for row in rows:
                if row.condition is not None:
                    yield from leaves(row.condition, here)
                yield from leaves(row.test, here)
        case _:
            yield leaf_of(condition, here)


def number_tests(test: Leaf) -> Iterator[NumberTest]:
    """The tests of numbers that a test is made of.

    Raises:
        NotExactError: It is one of dates.
    """
    match test:
        case Between(least, most):
            yield from number_tests(least)
            yield from number_tests(most)
        case NumberTest():
            yield test
        case AgeTest() | DayTest():
            raise NotExactError
        case _:
            return
