"""The work that meets what is not met: each job once, where it is done, in a workable order."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import define, field

from trackprep.explanations.reasons import explain
from trackprep.explanations.telling import told
from trackprep.rider.work.events import Event, joined
from trackprep.rider.work.order import in_order
from trackprep.rider.worklist import Arrival, Duration, Job, Served, Spot
from trackprep.rules.model import Level, Part, Rule, Work
from trackprep.rules.values import Amount

_SECONDS = 60  # in a minute
_LISTS: tuple[tuple[Level, Spot], ...] = (
    ("required", "at home"), ("required", "in the paddock"),
    ("recommended", "at home"), ("recommended", "in the paddock"),
)  # fmt: skip


@define(eq=False)
class Draft:
    """A job in the making.

    Attributes:
        texts: Every way of saying it, with the places of the events that say it so.
        rules: The place of the event and the name of each rule that it serves.
        parts: What to buy, with the time to allow.
    """

    spot: Spot
    texts: dict[str, dict[int, None]] = field(factory=dict)
    takes: Amount | None = None
    serves: list[Served] = field(factory=list)
    rules: dict[tuple[int, str], None] = field(factory=dict)
    works: list[tuple[int, Work]] = field(factory=list)
    why: dict[str, None] = field(factory=dict)
    parts: list[Part] = field(factory=list)
    tools: dict[str, None] = field(factory=dict)
    cautions: dict[str, None] = field(factory=dict)
    before: set[int] = field(factory=set)

    @property
    def level(self) -> Level:
        """Whether any of its rules is required."""
        required = any(one.level == "required" for one in self.serves)
        return "required" if required else "recommended"


def drafts(events: Sequence[Event], arrival: Arrival) -> list[Draft]:
    """The jobs in the order in which they are numbered, `before` counting within it."""
    made = _gathered(events, arrival)
    _put_before(made, events)
    _move_to_the_paddock(made)
    order = in_order(len(made), {number: job.before for number, job in enumerate(made)})
    order.sort(key=lambda number: _LISTS.index((made[number].level, made[number].spot)))
    numbers = {old: new for new, old in enumerate(order)}
    for job in made:
        job.before = {numbers[old] for old in job.before}
    return [made[old] for old in order]


def finished(made: Sequence[Draft]) -> tuple[Job, ...]:
    """The jobs as they stand on the list, numbered from 1."""
    return tuple(
        Job(
            number, said(job.texts), joined(job.serves), job.spot, duration(job.takes),
            tuple(job.why), tuple(dict.fromkeys(part.name for part in job.parts)), tuple(job.tools),
            tuple(job.cautions), tuple(first + 1 for first in sorted(job.before)),
        )
        for number, job in enumerate(made, 1)
    )  # fmt: skip


def said(texts: Mapping[str, Iterable[int]]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Every way of saying it, with the places of the events."""
    return tuple((text, tuple(places)) for text, places in texts.items())


def duration(takes: Amount | None) -> Duration:
    """How long something takes."""
    if takes is None:
        return Duration(untimed=1)
    return Duration(Fraction(takes.value, _SECONDS))


# ---- gathering ----


def _gathered(events: Iterable[Event], arrival: Arrival) -> list[Draft]:
    """The same words are one job; so are those of a rule that two events have from one base."""
    by_words: dict[str, Draft] = {}
    by_origin: dict[tuple[str, str, str | None], Draft] = {}
    for event in events:
        begun = dict(by_origin)
        for rule, its in event.answers("not-met"):
            why = told(explain(rule, its, event.situation))
            for part, work in _works(event, rule):
                spot = _spot(rule, work, arrival)
                origin = (rule.base, rule.name, part)
                job = by_words.get(work.text) or begun.get(origin) or Draft(spot)
                by_words[work.text] = job
                if rule.base:
                    by_origin.setdefault(origin, job)
                job.why.update(dict.fromkeys(why))
                _join(job, event, rule, part, work, spot)
    return list(dict.fromkeys(by_words.values()))


def _works(event: Event, rule: Rule) -> Iterator[tuple[str | None, Work]]:
    """The work for each part that is not met; a rule that says none is still to be met."""
    ways = event.chosen(rule, "not-met")
    for asked, work in ways:
        yield asked.part, work
    if not ways:
        yield None, Work(f"Meet the rule “{rule.title}”.")


def _join(job: Draft, event: Event, rule: Rule, part: str | None, work: Work, spot: Spot) -> None:
    """What one rule says of the work; of several times the longest counts."""
    job.texts.setdefault(work.text, {})[event.place] = None
    job.serves.append(event.served(rule, part))
    job.rules[event.place, rule.name] = None
    job.works.append((event.place, work))
    job.cautions.update(dict.fromkeys((*rule.cautions, *work.cautions)))
    if spot == "in the paddock":
        job.spot = spot
    if work.takes and (job.takes is None or _longer(work.takes, job.takes)):
        job.takes = work.takes
    job.parts += work.parts
    job.tools.update(dict.fromkeys(work.tools))


def _longer(one: Amount, other: Amount) -> bool:
    return duration(one).minutes > duration(other).minutes


def _spot(rule: Rule, work: Work, arrival: Arrival) -> Spot:
    """Where the work is done; what the road home needs back waits for the paddock if ridden."""
    if work.where:
        return work.where
    undone = any(asked.undos for asked in rule.asked)
    return "in the paddock" if undone and arrival == "ridden" else "at home"


# ---- the order ----


def _put_before(made: Sequence[Draft], events: Sequence[Event]) -> None:
    doing: dict[tuple[int, str], list[int]] = {}
    for number, job in enumerate(made):
        for rule in job.rules:
            doing.setdefault(rule, []).append(number)
    named = [{rule.name: rule for rule in event.rules.rules} for event in events]
    for number, job in enumerate(made):
        for place, work in job.works:
            job.before.update(_firsts(place, work.after, doing, named[place]))
        job.before.discard(number)


def _firsts(
    place: int, after: Iterable[str], doing: dict[tuple[int, str], list[int]],
    named: dict[str, Rule],
) -> Iterator[int]:  # fmt: skip
    """The jobs of the rules that come first; where one has none, those that it would follow."""
    seen: set[str] = set()
    waiting = [*after]
    while waiting:
        name = waiting.pop()
        if name in seen or name not in named:
            continue
        seen.add(name)
        if (place, name) in doing:
            yield from doing[place, name]
        else:
            waiting += (first for a in named[name].asked for fix in a.fixes for first in fix.after)


def _move_to_the_paddock(made: Sequence[Draft]) -> None:
    """What follows work in the paddock is done there too, but for what is only recommended."""
    moved = True
    while moved:
        moved = False
        for job in made:
            firsts = (made[first] for first in job.before)
            if job.spot == "at home" and any(
                first.spot == "in the paddock" and first.level in ("required", job.level)
                for first in firsts
            ):
                job.spot, moved = "in the paddock", True
