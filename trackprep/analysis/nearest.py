"""Of the values that would do, those next to what is declared: 92 dB for 95 dB, not 60 dB."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import Literal, TypeAlias

from trackprep.analysis.domains import Domain
from trackprep.analysis.representatives import measuring_step
from trackprep.analysis.space import Space
from trackprep.dates import Span
from trackprep.rules.model import Dated, Fact, Measured
from trackprep.rules.values import Amount, Value
from trackprep.units import to_base

Does: TypeAlias = Callable[[Mapping[str, Value], str], bool]
"""Whether the ordinary check lets values through still, of which one fact was changed."""
Further: TypeAlias = Literal[
    "", "among others", "or more", "or less", "or later", "or earlier"
]  # fmt: skip


def nearest(
    space: Space,
    values: Mapping[str, Value],
    old: Mapping[str, Value],
    moved: Sequence[str],
    does: Does,
) -> dict[str, Value]:
    """The values, each that was moved brought as near to the old one as still does.

    A number that was not declared is brought to the threshold.
    """
    best = dict(values)
    for path in moved:
        declared, now = old.get(path), best[path]
        domain = space.clauses.fact(path).domain
        candidates: Iterable[Value]
        if isinstance(now, frozenset):
            had = declared if isinstance(declared, frozenset) else frozenset[str]()
            candidates = _with_more_of(had, now)
        elif domain is None:
            continue
        elif declared is None:
            candidates = _at_thresholds(domain)
        else:
            candidates = _by_distance(domain, now, declared)
        for value in candidates:
            if value != declared and does({**best, path: value}, path):
                best[path] = value
                break
        if domain is not None and path in _worked_out(space):
            best[path] = _closer(domain, best, path, declared, does)
    return best


def _worked_out(space: Space) -> frozenset[str]:
    """The facts in tests of several whose thresholds hang on each other."""
    return frozenset(path for leaf in space.clauses.free for path in leaf.open)


def _closer(
    domain: Domain, best: Mapping[str, Value], path: str, declared: Value | None, does: Does
) -> Value:
    """A number halved again and again towards the declared one, by steps that people measure."""
    kind, now = domain.fact.type, best[path]
    if not isinstance(kind, Measured) or not isinstance(now, Amount):
        return now
    if not isinstance(declared, Amount):
        return now
    step = to_base(Fraction(1), kind.unit) if kind.whole else measuring_step(now.value, kind)
    near, far = declared.value, now.value
    while abs(far - near) > step:
        middle = round((near + far) / 2 / step) * step
        if middle in (near, far):
            break
        if does({**best, path: Amount(middle, kind.unit)}, path):
            far = middle
        else:
            near = middle
    return Amount(far, kind.unit)


def _with_more_of(had: frozenset[str], now: frozenset[str]) -> Iterator[frozenset[str]]:
    """The set with as much as can be of what was there before."""
    yield now | had
    for word in sorted(had - now):
        yield now | (had - {word})
    yield from (now | {word} for word in sorted(had - now))


def _at_thresholds(domain: Domain) -> Iterator[Value]:
    """The ends of regions that are thresholds, the best regions first."""
    kind = domain.fact.type
    if isinstance(kind, Measured):
        for end in _ends(domain):
            if end not in (kind.low, kind.high):
                yield Amount(end, kind.unit)


def _by_distance(domain: Domain, now: Value, declared: Value) -> list[Value]:
    """All that people would write and that lies nearer to the old value, the nearest first."""
    place, far = _number(declared), _number(now)
    if place is None or far is None:
        return []
    kind = domain.fact.type
    found: list[Value] = [value for region in domain.regions for value in region.values]
    if isinstance(kind, Measured):
        found += [Amount(end, kind.unit) for end in _ends(domain)]
    elif isinstance(kind, Dated) and kind.how != "week code":
        found += [Span.of_day(date.fromordinal(int(end))) for end in _ends(domain)]
    distances = {value: abs(number - place) for value in found if (number := _number(value))}
    nearer = [value for value, distance in distances.items() if distance < abs(far - place)]
    return sorted(nearer, key=distances.__getitem__)


def _ends(domain: Domain) -> Iterator[Fraction]:
    for region in domain.regions:
        for stretch in region.stretches:
            for end, is_open in (
                (stretch.low, stretch.low_open), (stretch.high, stretch.high_open)
            ):  # fmt: skip
                if end is not None and not is_open:
                    yield end


def _number(value: Value) -> Fraction | None:
    match value:
        case Amount(number):
            return number
        case Span(first):
            return Fraction(first.toordinal())
        case _:
            return None


def further(value: Value, fact: Fact, does: Callable[[Value], bool]) -> Further:
    """Whether more does as well, or less: one step at least, and to the end of what can be.

    Where only some of it does, or both ways do, others do; nothing where no step does.
    """
    kind = fact.type
    match value:
        case Amount(number, unit) if isinstance(kind, Measured):
            step = measuring_step(number, kind)
            more, less = (
                _within(number + way, kind) and does(Amount(number + way, unit))
                for way in (step, -step)
            )
            for end, steps in ((kind.high, more), (kind.low, less)):
                if steps and end is not None and not does(Amount(end, unit)):
                    return "among others"
            return _said(more, less, "or more", "or less")
        case Span(first, last):
            step_of_days = timedelta(days=(last - first).days + 1)
            later, earlier = (
                does(Span(first + way, last + way)) for way in (step_of_days, -step_of_days)
            )
            return _said(later, earlier, "or later", "or earlier")
        case _:
            return ""


def _said(one: bool, other: bool, if_one: Further, if_other: Further) -> Further:
    if one and other:
        return "among others"
    return if_one if one else if_other if other else ""


def _within(number: Fraction, kind: Measured) -> bool:
    above = kind.low is None or number >= kind.low
    return above and (kind.high is None or number <= kind.high)
