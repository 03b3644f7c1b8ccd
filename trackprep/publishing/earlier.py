"""Whether riders can tell a new edition from the one that earlier papers were made of."""

from trackprep.publishing.editions import Edition
from trackprep.publishing.sameness import judged
from trackprep.reports.comparison.editions import editions_between


def hard_to_tell(before: Edition, now: Edition) -> str:
    """What the organizer has to mend where the rules ask something else than before; else empty.

    Args:
        before: What a paper carries that was handed out.
        now: What is handed out in its place.
    """
    if before.ruleset != now.ruleset:
        return ""
    if judged(before, unaltered=None, mine=now).sameness not in ("other", "other base"):
        return ""
    editions = editions_between(before.edition, now.edition, changed=True)
    return editions.text if editions.warns else ""
