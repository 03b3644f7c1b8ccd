"""What differs between two rulesets: rule by rule and for the whole, each with a witness.

`compared(b, a)` says the mirror image of `compared(a, b)`.
"""

from datetime import date

from attrs import evolve

from trackprep.analysis.comparisons import (
    MIRRORED,
    Comparison,
    Kind,
    ReadyAtOne,
    RuleDifference,
    Shown,
)
from trackprep.analysis.pairing import pairs
from trackprep.analysis.periods import period_of
from trackprep.analysis.rule_pairs import difference
from trackprep.analysis.two_sides import TwoSides
from trackprep.analysis.wholes import Whole
from trackprep.rules.model import Rules

__all__ = [
    "MIRRORED",
    "Comparison",
    "Kind",
    "ReadyAtOne",
    "RuleDifference",
    "Shown",
    "compared",
    "pairs",
]


def compared(one: Rules, other: Rules, *, on: date | None = None) -> Comparison:
    """How `other` differs from `one`, for every event day of both, or on a single one."""
    period = period_of(one, other, on=on)
    both = TwoSides(one, other, period)
    found = [difference(both, *pair) for pair in pairs(one, other)]
    whole = Whole.of(both, found)
    whole.look()
    rules = (evolve(its, restates=whole.restated_by(its.one, its.other)) for its in found)
    return Comparison(
        one, other, period, tuple(rules), whole.lost, whole.gained, both.shared.clashes,
        whole.undecided,
    )  # fmt: skip
