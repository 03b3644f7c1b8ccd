"""How much a ruleset may ask of whoever works with it: the same bounds on every machine.

Derived facts share their parts, and patterns and parts multiply tests, so that
sixty short lines could mean more tests than there are atoms; whoever walks a
condition walks them all.
"""

from typing import Any

import attrs

from trackprep.rules.reporting import Reporter
from trackprep.source import Place

HEAVIEST = 3_000
"""How many parts one condition may have, derived facts written out."""
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
        if not too_heavy(made):
            return True
        self.reporter.report(
            "too-large", f"this condition has more than {HEAVIEST:,} parts", place,
            suggestion="split it into several rules",
        )  # fmt: skip
        return False


def too_heavy(made: Any) -> bool:
    """Whether a condition or term has more than `HEAVIEST` parts, counted with repetition."""
    waiting, count = [made], 0
    while waiting:
        here = waiting.pop()
        count += 1
        if count > HEAVIEST:
            return True
        if isinstance(here, tuple):
            waiting.extend(here)
        elif attrs.has(type(here)):
            waiting.extend(
                value
                for field in attrs.fields(type(here))
                if isinstance(value := getattr(here, field.name), tuple) or attrs.has(type(value))
            )
    return False
