"""What differs between two rulesets: rule by rule and for the whole, each with a witness.

`compared(b, a)` says the mirror image of `compared(a, b)`.
"""

from collections.abc import Iterable, Iterator
from datetime import date

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
from trackprep.rules.model import Rule, Rules

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
    paired = pairs(one, other)
    whole = Whole(both, tuple(_alone(paired)))
    whole.look()
    return Comparison(
        one, other, period,
        tuple(difference(both, a, b, restates=whole.restated_by(a, b)) for a, b in paired),
        whole.lost, whole.gained, both.shared.clashes, whole.undecided,
    )  # fmt: skip


def _alone(
    paired: Iterable[tuple[Rule | None, Rule | None]],
) -> Iterator[tuple[int, Rule]]:
    """The rules that only one ruleset has, each with the number of that ruleset."""
    for one, other in paired:
        if one is None and other is not None:
            yield 1, other
        elif other is None and one is not None:
            yield 0, one
