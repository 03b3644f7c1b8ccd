"""Which work meets a rule: of several ways, the one that is meant for this declaration."""

from collections.abc import Iterator

from trackprep.backends.checks import Status
from trackprep.explanations.reasons import answering
from trackprep.explanations.situation import Situation
from trackprep.rules.model import Asked, Rule, Work


def chosen(rule: Rule, status: Status, situation: Situation) -> Iterator[tuple[Asked, Work]]:
    """For each part with this answer, the first way whose condition holds or may hold."""
    for asked in answering(rule, status, situation):
        for work in asked.fixes:
            if work.when is None or situation.holds(work.when) is not False:
                yield asked, work
                break
