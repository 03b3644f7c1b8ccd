"""The regions of one fact: values between two places where some test may change its answer."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from fractions import Fraction
from typing import assert_never

from trackprep.analysis.days import FIRST_DAY, LAST_DAY
from trackprep.analysis.representatives import Stretch, stretches
from trackprep.dates import Span, without_future
from trackprep.frozen import frozen
from trackprep.rules.model import Choosing, Dated, Fact, FreeText, Measured, YesOrNo
from trackprep.rules.values import Amount, Value

FIRST_SUNDAY = date(2000, 1, 2).toordinal()
"""Week codes are of 20YY; this is when week 01 of 2000 begins."""


@frozen
class Region:
    """Values of a fact that no test tells apart, the one to show first."""

    values: tuple[Value, ...]
    stretches: tuple[Stretch, ...] = ()
    """Of numbers, and of days by their ordinals: all that lies in the region."""


def regions(fact: Fact, cuts: Iterable[Fraction], event: date) -> Iterator[Region]:
    """What a fact can be declared to be, between the places where some test may change."""
    match fact.type:
        case Choosing(how="several of") | FreeText():
            return
        case Choosing() | YesOrNo():
            yield from (Region((choice,)) for choice in choices(fact))
        case Measured() as kind:
            for stretch in stretches(kind, cuts):
                shown = tuple(Amount(number, kind.unit) for number in stretch.shown)
                yield Region(shown, (stretch,))
        case Dated():
            yield from date_regions(fact, sorted(map(int, cuts)), event)
        case _:
            assert_never(fact.type)


def joined(regions: Sequence[Region]) -> Region:
    """Several regions as one; a threshold in it is shown first."""
    alone = [region for region in regions if all(s.low == s.high for s in region.stretches)]
    values = dict.fromkeys(value for region in (*alone, *regions) for value in region.values)
    stretches = (stretch for region in regions for stretch in region.stretches)
    return Region(tuple(values), tuple(stretches))


def choices(fact: Fact) -> tuple[Value, ...]:
    """What a fact of few values can be declared to be; nothing of another."""
    match fact.type:
        case Choosing() as kind:
            return kind.words
        case YesOrNo():
            return (True, False)
        case _:
            return ()


def date_regions(fact: Fact, cuts: list[int], event: date) -> Iterator[Region]:
    """The days or weeks of a dated fact between its boundaries, which are given in order."""
    assert isinstance(fact.type, Dated)
    yield from (_weeks if fact.type.how == "week code" else _days)(cuts, fact.type, event)


def _days(cuts: list[int], kind: Dated, event: date) -> Iterator[Region]:
    """Each stretch of days between two boundaries, by the days next to them."""
    end = min(LAST_DAY, event.toordinal()) if kind.past else LAST_DAY
    inside = [cut for cut in cuts if FIRST_DAY < cut <= end]
    starts, ends = [FIRST_DAY, *inside], [*(cut - 1 for cut in inside), end]
    for number, (first, last) in enumerate(zip(starts, ends, strict=True)):
        near = (last, first) if number < len(inside) else (first, last)
        shown = near[:1] if number == 0 and inside else tuple(dict.fromkeys(near))
        numbers = tuple(map(Fraction, shown))
        stretch = Stretch(Fraction(first), Fraction(last), False, False, numbers)
        yield Region(tuple(Span.of_day(date.fromordinal(day)) for day in shown), (stretch,))


def _weeks(cuts: list[int], _kind: Dated, event: date) -> Iterator[Region]:
    """The weeks at and next to each boundary; every other week is like one of them."""
    for sunday in sundays(cuts, event.toordinal()):
        first = date.fromordinal(sunday)
        week = without_future(Span(first, first + timedelta(days=6)), event)
        if week is not None:
            yield Region((week,))


def sundays(cuts: Iterable[int], end: int) -> list[int]:
    """The first days of weeks that stand for all up to an end, the latest first."""
    found = {FIRST_SUNDAY, end - _weekday(end)}
    for cut in cuts:
        sunday = cut - _weekday(cut)
        found |= {sunday - 7, sunday, sunday + 7}
    return sorted((day for day in found if FIRST_SUNDAY <= day <= end), reverse=True)


def _weekday(day: int) -> int:
    """Days since Sunday."""
    return day % 7
