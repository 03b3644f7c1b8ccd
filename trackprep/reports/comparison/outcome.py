"""Whether two rulesets differ, in one word."""

from typing import Literal, TypeAlias

from trackprep.analysis.comparisons import Comparison, RuleDifference

Outcome: TypeAlias = Literal["same", "differs", "undecided"]


def outcome_of(comparison: Comparison) -> Outcome:
    """Whether anything differs; `undecided` wherever something could not be told."""
    if comparison.undecided or any(rule.undecided for rule in comparison.rules):
        return "undecided"
    return "differs" if differs(comparison) else "same"


def differs(comparison: Comparison) -> bool:
    """Whether a difference was found; words, and rules that restate others, are none."""
    whole = comparison.lost or comparison.gained or comparison.clashes
    return bool(whole) or any(map(counts, comparison.rules))


def counts(difference: RuleDifference) -> bool:
    """Whether the rule is a difference in what is asked."""
    return difference.kind not in ("same", "reworded", "undecided") and not difference.restates
