"""What the work takes: what to buy and by when, what to borrow, and what comes along."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta

from attrs import define, field

from trackprep.dates import subtract
from trackprep.rider.work.events import Event
from trackprep.rider.work.jobs import Draft
from trackprep.rider.worklist import Packing, Step, ToBorrow, ToBuy
from trackprep.rules.values import Amount
from trackprep.units import show

_DAY = 24 * 60 * 60  # seconds


@define(eq=False)
class _Wanted:
    jobs: list[int] = field(factory=list)
    allow: Amount | None = None
    by: date | None = None
    road: bool = False


def to_buy(
    jobs: Sequence[Draft], steps: Iterable[Step], day: date, today: date
) -> tuple[ToBuy, ...]:
    """Each part once, the most urgent first, those without a time to allow last."""
    wanted: dict[str, _Wanted] = {}
    for number, job in enumerate(jobs, 1):
        for part in job.parts:
            one = wanted.setdefault(part.name, _Wanted())
            if number not in one.jobs:
                one.jobs.append(number)
            if part.allow is not None:
                by = order_by(day, part.allow)
                if one.by is None or by < one.by:
                    one.by, one.allow = by, part.allow
    for step in steps:
        for name in step.parts:
            wanted.setdefault(name, _Wanted()).road = True
    listed = [
        ToBuy(
            name, tuple(one.jobs), one.by,
            show(one.allow.value, one.allow.unit) if one.allow else "",
            one.by is not None and one.by < today, one.road,
        )
        for name, one in wanted.items()
    ]  # fmt: skip
    return tuple(sorted(listed, key=lambda one: (not one.jobs, one.by or date.max)))


def order_by(day: date, allow: Amount) -> date:
    """The latest day to order, so that the part is there the day before the event."""
    before = day - timedelta(days=1)
    if allow.unit.calendar == "months":
        return subtract(before, months=-(-allow.value.numerator // allow.value.denominator))
    seconds = allow.value
    return before - timedelta(days=-(-seconds.numerator // (seconds.denominator * _DAY)))


def to_borrow(jobs: Sequence[Draft], steps: Iterable[Step]) -> tuple[ToBorrow, ...]:
    """Each tool once."""
    wanted: dict[str, _Wanted] = {}
    for number, job in enumerate(jobs, 1):
        for name in job.tools:
            wanted.setdefault(name, _Wanted()).jobs.append(number)
    for step in steps:
        for name in step.tools:
            wanted.setdefault(name, _Wanted()).road = True
    return tuple(ToBorrow(name, tuple(one.jobs), one.road) for name, one in wanted.items())


def packing(events: Iterable[Event], jobs: Iterable[Draft], leaving: Iterable[Step]) -> Packing:
    """What the rules say to bring, and what the work there and before the way home takes."""
    there = [job for job in jobs if job.spot == "in the paddock"]
    steps = tuple(leaving)
    tools = (*(tool for job in there for tool in job.tools), *(t for s in steps for t in s.tools))
    parts = (
        *(part.name for job in there for part in job.parts), *(p for s in steps for p in s.parts)
    )  # fmt: skip
    return Packing(
        tuple(dict.fromkeys(said for event in events for said in _brings(event))),
        tuple(dict.fromkeys(tools)),
        tuple(dict.fromkeys(parts)),
    )


def _brings(event: Event) -> Iterator[str]:
    """Of the header, of the sections that apply, and of the rules that do."""
    rules = event.rules
    yield from rules.brings
    asked = {rule.name for rule, _ in event.answers("met", "not-met", "unsettled")}
    for section in rules.sections:
        if section.when is None or event.situation.holds(section.when) is not False:
            yield from section.brings
    for rule in rules.rules:
        if rule.name in asked:
            yield from rule.brings
