"""Where one rider is ready, and the least to change to be ready at each event and at all."""

from collections.abc import Mapping, Sequence
from datetime import date

from trackprep.analysis.least_changes import Way, least_changes
from trackprep.frozen import frozen
from trackprep.rules.model import Rules
from trackprep.rules.values import Value


@frozen(eq=False)
class Readiness:
    """One declaration before several rulesets.

    Attributes:
        ways: For each ruleset the way to be ready by it.
        way_to_all: The way to be ready by all of them; None of a single one.
    """

    rulesets: tuple[Rules, ...]
    event: date
    ways: tuple[Way, ...]
    way_to_all: Way | None


def readiness(
    rulesets: Sequence[Rules], declared: Sequence[Mapping[str, Value]], event: date
) -> Readiness:
    """The ways of a declaration, given as each ruleset reads it."""
    ways = tuple(
        least_changes([rules], [values], event)
        for rules, values in zip(rulesets, declared, strict=True)
    )
    to_all = least_changes(rulesets, declared, event) if len(rulesets) > 1 else None
    return Readiness(tuple(rulesets), event, ways, to_all)
