"""A season in words."""

from collections.abc import Iterable

from trackprep.backends.statuses import Status
from trackprep.dates import Span, long_form
from trackprep.frozen import frozen
from trackprep.reports.checks.page import ANSWERS, VERDICTS
from trackprep.rider.lookahead import Change, EventAhead


@frozen
class Piece:
    """A stretch of a season in one state, as a row of a picture shows it.

    Attributes:
        state: `met` stands for ready, `not-met` for not ready, `unsettled` for incomplete.
    """

    span: Span
    state: Status


@frozen
class Row:
    """One row of the picture: an event, or a rule that turns in the season."""

    label: str
    pieces: tuple[Piece, ...]
    event: bool


_STATES: dict[str, Status] = {"ready": "met", "not-ready": "not-met", "incomplete": "unsettled"}


def rows_of(events: Iterable[EventAhead]) -> list[Row]:
    """Each event, with the rules under it whose answer turns."""
    rows: list[Row] = []
    for ahead in events:
        verdicts = (
            Piece(Span(one.first, one.last), _STATES[one.verdict]) for one in ahead.stretches
        )
        rows.append(Row(ahead.rules.title, tuple(verdicts), True))
        turning = {change.rule.name for change in ahead.changes}
        for course in ahead.courses:
            if course.rule.name in turning:
                pieces = tuple(Piece(span, status) for span, status in course.statuses(ahead.last))
                rows.append(Row(course.rule.title, pieces, False))
    return rows


def verdicts_told(ahead: EventAhead) -> str:
    """`ready to present from 1 March to 7 June 2026, not ready from …`."""
    return ", ".join(
        f"{VERDICTS[one.verdict][0]} {when(Span(one.first, one.last))}" for one in ahead.stretches
    )


def when(span: Span) -> str:
    """`from 1 to 7 June 2026`, `in June 2026`, `on 1 June 2026`."""
    said = long_form(span)
    return f"on {said}" if span.exact else f"in {said}" if " to " not in said else f"from {said}"


def starts(change: Change) -> str:
    """What starts with a change: `not met`, `met again`, `asked, and unsettled`."""
    if change.after == "not-asked":
        return "no longer asked"
    said = ANSWERS[change.after][0]
    if change.before == "not-asked":
        return f"asked, and {said}"
    return f"{said} again" if change.again else said
