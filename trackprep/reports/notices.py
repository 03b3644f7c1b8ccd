"""What a reader of a report should know besides its answers."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal, TypeAlias

from attrs import field

from trackprep.dates import long_form
from trackprep.explanations.wording import capitalized, counted
from trackprep.frozen import frozen
from trackprep.rules.conditions import All

if TYPE_CHECKING:
    from trackprep.reports.report import Report

Code: TypeAlias = Literal[
    "outside-validity", "declared-after-event", "check-again",
    "division-by-zero", "no-value", "too-close", "precedence",
]  # fmt: skip

CHECK_AGAIN = "check again"
"""The mark of an answer that hangs on something that wears."""
COME_FIRST = (
    "The organizer's inspector, the manual of your machine, local law and a qualified mechanic "
    "come before anything said here."
)
PRECEDENCE = (
    f"{COME_FIRST} This report says what the rules ask and what was "
    "declared; it does not say that a machine or its gear is safe."
)


@frozen
class Notice:
    """Something to know: a stable code, the text, and the facts whose values it tells of."""

    code: Code
    text: str
    paths: tuple[str, ...] = field(default=(), eq=False)


def notices(report: "Report") -> tuple[Notice, ...]:
    """All notices of the report; the last one always stands."""
    return (
        *_validity(report),
        *_wear(report),
        *_undefined(report),
        Notice("precedence", PRECEDENCE),
    )


def _validity(report: "Report") -> Iterator[Notice]:
    valid = report.rules.valid
    if valid is None or valid[0] <= report.event <= valid[1]:
        return
    first, last = map(long_form, valid)
    yield Notice(
        "outside-validity",
        f"These rules are for events from {first} to {last}; this one, on "
        f"{long_form(report.event)}, lies outside. It was checked by them all the same.",
    )


def _wear(report: "Report") -> Iterator[Notice]:
    """How old the declaration of what wears will be on the day."""
    declared = report.declaration.declared_on
    if declared is None or declared == report.event:
        return
    day = long_form(declared)
    if declared > report.event:
        text = f"The declaration is dated {day}, after the event on {long_form(report.event)}."
        yield Notice("declared-after-event", text)
        return
    if paths := dict.fromkeys(path for answer in report.answers for path in answer.check_again):
        age = counted((report.event - declared).days, "day")
        what = counted(len(paths), "declared point")
        wears = "wears or works" if len(paths) == 1 else "wear or work"
        yield Notice(
            "check-again",
            f"On the day of the event the declaration, of {day}, is {age} old. {what} {wears} "
            f"loose: look again, before you ride, where it says “{CHECK_AGAIN}”.",
        )


def _undefined(report: "Report") -> Iterator[Notice]:
    """What could not be worked out for an unsettled rule."""
    if "unsettled" not in report.statuses:
        return
    # A cold-start measure: a settled report has no use for this.
    from trackprep.explanations.uncertainty import undefined

    rules = (
        rule
        for rule, status in zip(report.rules.rules, report.statuses, strict=True)
        if status == "unsettled"
    )
    found = dict.fromkeys(
        one
        for rule in rules
        for asked in rule.asked
        for one in undefined(All((asked.when, asked.demand)), report.situation)
    )
    for one in found:
        assert one.kind != "kept-private", "only pages keep it so"
        said = f"{capitalized(one.subject)} could not be worked out: {one.why}."
        yield Notice(one.kind, str(one) if one.kind == "too-close" else said, one.paths)
