"""What goes back before the machine is ridden on the road again, whatever the answers were."""

from collections.abc import Iterable, Iterator, Sequence

from attrs import define, field

from trackprep.explanations.mentions import facts_in
from trackprep.explanations.situation import Known, known_text
from trackprep.frozen import frozen
from trackprep.rider.work.events import Event, joined
from trackprep.rider.work.jobs import Draft, duration, said
from trackprep.rider.work.order import in_order
from trackprep.rider.worklist import Arrival, Duration, RoadReturn, Served, Step
from trackprep.rules.model import Asked, Rule, Work
from trackprep.rules.values import Amount

REGISTERED = "machine.registered"
"""The fact that tells a machine of the road."""


@frozen
class Point:
    """What a machine needs on the road: its facts, and the last look at it."""

    name: str
    facts: tuple[str, ...]
    look: str


# From memory: what road law asks of a motorcycle nearly everywhere.
POINTS = (
    Point("Lamps", ("lamp", "lens"), "Headlamp, dipped and main beam, and tail lamp light up."),
    Point("Brake light", ("lamp.brake",), "It lights up with the lever and with the pedal."),
    Point("Indicators", ("lens.indicators",), "All four flash, left and right."),
    Point("Horn", ("horn",), "It sounds."),
    Point("Mirrors", ("mirror",), "Both are on, bare and set."),
    Point("Plate", ("number-plate",), "It is on, firm, and can be read."),
    Point(
        "Tyre pressures", ("tyre.front.cold-pressure", "tyre.rear.cold-pressure"),
        "Both tyres, cold, are at the road pressures in the machine's manual.",
    ),
)  # fmt: skip
COOL = Step(
    (("Let engine, exhaust, brakes, lamps and tyres cool down first.", ()),),
    cautions=("Hot parts burn. A road pressure is set on cold tyres.",),
)


@define(eq=False)
class _Undo:
    """Something to put back; `texts` has every way of saying it, with the places of the events."""

    texts: dict[str, dict[int, None]] = field(factory=dict)
    takes: Amount | None = None
    later: bool = False
    point: int = -1
    sure: bool = False
    rules: list[tuple[int, Rule]] = field(factory=list)
    serves: list[Served] = field(factory=list)
    parts: dict[str, None] = field(factory=dict)
    tools: dict[str, None] = field(factory=dict)
    cautions: dict[str, None] = field(factory=dict)
    declared: dict[Known, None] = field(factory=dict)


def registered(events: Iterable[Event]) -> bool | None:
    """Whether the machine is registered for the road, as declared; None if it is not declared."""
    for event in events:
        value = event.situation.values.get(REGISTERED)
        if isinstance(value, bool):
            return value
    return None


def road_return(events: Sequence[Event], jobs: Sequence[Draft], arrival: Arrival) -> RoadReturn:
    """Every `undo` of every rule that applies or may apply, for a machine that may see a road.

    What the rule has done at home, since a paddock is no place for it, is for later; the rest
    comes before the machine is ridden away. If it is carried, all of it is for later.
    """
    on_the_road = registered(events)
    if on_the_road is False:
        return RoadReturn(False)
    undos = _ordered(_gathered(events))
    later = tuple(_step(undo, jobs) for undo in undos if undo.later)
    now = [undo for undo in undos if not undo.later]
    riding = (
        *(_step(undo, jobs) for undo in now if undo.point < 0),
        *_closing(now, jobs),
    )
    if arrival == "carried":
        return RoadReturn(on_the_road, (), (*later, *riding))
    return RoadReturn(on_the_road, (COOL, *riding), later)


def _closing(undos: Iterable[_Undo], jobs: Sequence[Draft]) -> Iterator[Step]:
    """Point by point: what goes back, and the last look."""
    undos = tuple(undos)
    for number, point in enumerate(POINTS):
        yield from (_step(undo, jobs) for undo in undos if undo.point == number)
        yield Step(((point.look, ()),), point.name)


def _gathered(events: Iterable[Event]) -> list[_Undo]:
    """The same words are one step; so are those of a rule that two events have from one base."""
    by_words: dict[str, _Undo] = {}
    by_origin: dict[tuple[str, str, str | None, int], _Undo] = {}
    for event in events:
        begun = dict(by_origin)
        for rule, asked, place, work in _applying(event):
            origin = (rule.base, rule.name, asked.part, place)
            undo = by_words.get(work.text) or begun.get(origin) or _Undo()
            by_words[work.text] = undo
            if rule.base:
                by_origin.setdefault(origin, undo)
            _take(undo, event, rule, asked, work)
    return list(dict.fromkeys(by_words.values()))


def _applying(event: Event) -> Iterator[tuple[Rule, Asked, int, Work]]:
    """What may have to be put back, with its place among what its rule says."""
    for rule, _ in event.answers("met", "not-met", "unsettled"):
        for asked in rule.asked:
            if event.situation.holds(asked.when) is False:
                continue
            for place, work in enumerate(asked.undos):
                if work.when is None or event.situation.holds(work.when) is not False:
                    yield rule, asked, place, work


def _take(undo: _Undo, event: Event, rule: Rule, asked: Asked, work: Work) -> None:
    situation = event.situation
    undo.texts.setdefault(work.text, {})[event.place] = None
    undo.rules.append((event.place, rule))
    undo.serves.append(event.served(rule, asked.part))
    needed = work.when is None or situation.holds(work.when) is True
    undo.sure = undo.sure or (needed and situation.holds(asked.when) is True)
    undo.later = undo.later or any(fix.where == "at home" for fix in asked.fixes)
    facts = facts_in(asked.demand)
    undo.point = max(undo.point, point_of(facts))
    if work.takes and (undo.takes is None or work.takes.value > undo.takes.value):
        undo.takes = work.takes
    undo.parts.update(dict.fromkeys(part.name for part in work.parts))
    undo.tools.update(dict.fromkeys(work.tools))
    undo.cautions.update(dict.fromkeys(work.cautions))
    if situation.holds(asked.demand) is True:  # else the work is still to be done
        told = (path for path in facts if not situation.fixed(path))
        undo.declared.update(dict.fromkeys(situation.known(told)))


def point_of(facts: Iterable[str]) -> int:
    """The first point that any of the facts is about; below zero for none."""
    facts = tuple(facts)
    for number, point in enumerate(POINTS):
        if any(path == one or path.startswith(f"{one}.") for path in facts for one in point.facts):
            return number
    return -1


def _ordered(undos: list[_Undo]) -> list[_Undo]:
    """What was done last goes back first: tape comes off before a lamp behind it is lit."""
    numbers: dict[tuple[int, str], list[int]] = {}
    for number, undo in enumerate(undos):
        for place, rule in undo.rules:
            numbers.setdefault((place, rule.name), []).append(number)
    before: dict[int, set[int]] = {}
    for number, undo in enumerate(undos):
        for place, rule in undo.rules:
            for first in (name for a in rule.asked for fix in a.fixes for name in fix.after):
                for earlier in numbers.get((place, first), ()):
                    before.setdefault(earlier, set()).add(number)
    return [undos[number] for number in in_order(len(undos), before)]


def _step(undo: _Undo, jobs: Sequence[Draft]) -> Step:
    rules = {(place, rule.name) for place, rule in undo.rules}
    undone = tuple(number for number, job in enumerate(jobs, 1) if not rules.isdisjoint(job.rules))
    return Step(
        said(undo.texts),
        POINTS[undo.point].name if undo.point >= 0 else "",
        joined(undo.serves),
        duration(undo.takes) if undo.takes else Duration(untimed=1),
        tuple(undo.parts),
        tuple(undo.tools),
        tuple(undo.cautions),
        known_text(tuple(undo.declared)),
        undone,
        not undo.sure,
    )
