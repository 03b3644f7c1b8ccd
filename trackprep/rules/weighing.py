"""How much a ruleset may ask of whoever works with it: the same bounds on every machine.

Derived facts and formulas share their parts, and patterns and parts multiply tests, so
that sixty short lines could mean more tests than there are atoms; whoever walks a
condition walks them all.
"""

from typing import Any

import attrs

from trackprep.rules.conditions import ChoiceLookup, NumberLookup
from trackprep.rules.reporting import Reporter
from trackprep.source import Place

HEAVIEST = 3_000
"""How many parts one condition may have, derived facts and formulas written out."""
DEEPEST_PARTS = 200
"""How many of them may stand one in another: whoever walks them goes so deep."""
MOST_TESTS = 100_000
"""How many tests all conditions of a ruleset may have together."""
MOST_TERMS = 100
"""How many terms a sum or a product may have."""


class Budget:
    """The tests that a ruleset may still have."""

    def __init__(self, reporter: Reporter) -> None:
        self.reporter = reporter
        self.left = MOST_TESTS

    def spend(self, place: Place) -> bool:
        """Whether there may be one more test; the first that may not be is reported."""
        self.left -= 1
        if self.left == -1:
            self.reporter.report(
                "too-large", f"the ruleset has more than {MOST_TESTS:,} tests", place,
                suggestion="write fewer rules, or rules of fewer parts",
            )  # fmt: skip
        return self.left >= 0

    def light(self, made: Any, place: Place) -> bool:
        """Whether a condition is not too large, which is reported if it is."""
        what = excess(made)
        if what is None:
            return True
        self.reporter.report(
            "too-large", f"this condition has {what}", place,
            suggestion="split it into several rules",
        )  # fmt: skip
        return False


def excess(made: Any) -> str | None:
    """What a condition or term has too much of, counted with repetition; None if nothing."""
    count, deepest = _size(made)
    if count > HEAVIEST:
        return f"more than {HEAVIEST:,} parts"
    if deepest > DEEPEST_PARTS:
        return f"more than {DEEPEST_PARTS} parts one in another"
    return None


def weight(made: Any) -> int:
    """How many parts it has, counted with repetition, and no further than one too many."""
    return _size(made)[0]


def _size(made: Any) -> tuple[int, int]:
    """How many parts it has, and how many of them stand one in another at most."""
    waiting, count, deepest = [(made, 0)], 0, 0
    while waiting:
        here, depth = waiting.pop()
        count += 1
        deepest = max(deepest, depth)
        if count > HEAVIEST:
            break
        if isinstance(here, tuple):
            waiting += [(part, depth) for part in here]
        else:
            waiting += [(part, depth + 1) for part in parts_of(here)]
    return count, deepest


def parts_of(node: Any) -> list[Any]:
    """What a condition or a term is made of; of a table that it names only what is looked up."""
    made = type(node)
    if made is ChoiceLookup:
        return []  # a table counts once, however long it is
    if made is NumberLookup:
        return [node.of]
    values = [getattr(node, name) for name in _names(made)]
    return [value for value in values if isinstance(value, tuple) or _names(type(value))]


_NAMES: dict[type, tuple[str, ...]] = {}


def _names(made: type) -> tuple[str, ...]:
    """The names of the fields of a class; none of what is no class of ours."""
    if made not in _NAMES:
        fields = attrs.fields(made) if attrs.has(made) else ()
        _NAMES[made] = tuple(field.name for field in fields)
    return _NAMES[made]
