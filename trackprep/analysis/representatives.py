"""Values that people would write, one or more from each region of a number's range.

A region is a threshold itself or a gap between two; a gap is stood for by the values one
sensible step from its ends: 1.9 mm below 2 mm, not 1.9999 mm.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from math import ceil, floor, log10

from trackprep.frozen import frozen
from trackprep.rules.model import Measured
from trackprep.units import from_base, to_base


@frozen
class Stretch:
    """The numbers from `low` to `high`, without an end that is `open`; None has no end there.

    `shown` are values of it that people would write, the best first.
    """

    low: Fraction | None
    high: Fraction | None
    low_open: bool
    high_open: bool
    shown: tuple[Fraction, ...]


MOST_REFINEMENTS = 8


def stretches(kind: Measured, thresholds: Iterable[Fraction]) -> Iterator[Stretch]:
    """The thresholds that lie in the range of a measured fact or a count, and the gaps between."""
    cuts = sorted({cut for cut in thresholds if _within(cut, kind)})
    below: Fraction | None = None
    for cut in cuts:
        yield from _gap(below, cut, kind)
        if not kind.whole or cut.denominator == 1:
            yield Stretch(cut, cut, False, False, (cut,))
        below = cut
    yield from _gap(below, None, kind)


def _within(number: Fraction, kind: Measured) -> bool:
    above_low = kind.low is None or number >= kind.low
    return above_low and (kind.high is None or number <= kind.high)


def _gap(below: Fraction | None, above: Fraction | None, kind: Measured) -> Iterator[Stretch]:
    """The region strictly between two thresholds, or from an end of the range on."""
    if kind.whole:
        yield from _whole_gap(below, above, kind)
        return
    open_low, open_high = below is not None, above is not None
    low = below if open_low else kind.low
    high = above if open_high else kind.high
    if (
        low is not None
        and high is not None
        and (low > high or (low == high and open_low | open_high))
    ):
        return
    shown = [
        value
        for value in (
            _step_from(above, -1, low, kind) if above is not None else None,
            _step_from(below, +1, high, kind) if below is not None else None,
        )
        if value is not None
    ]
    if not shown:
        shown = [_some(low, high, kind)]
    yield Stretch(low, high, below is not None, above is not None, tuple(dict.fromkeys(shown)))


def _whole_gap(below: Fraction | None, above: Fraction | None, kind: Measured) -> Iterator[Stretch]:
    least = floor(below) + 1 if below is not None else ceil(kind.low or 0)
    if above is not None:
        most: int | None = ceil(above) - 1
    else:
        most = None if kind.high is None else floor(kind.high)
    if most is not None and least > most:
        return
    if above is not None and most is not None:
        near = (most, least)
    elif below is None and most is not None:
        near = ((least + most) // 2, least)  # no threshold: as many as there usually are
    else:
        near = (least, least)
    shown = tuple(map(Fraction, dict.fromkeys(near)))
    high = None if most is None else Fraction(most)
    yield Stretch(Fraction(least), high, False, False, shown)


def _step_from(cut: Fraction, way: int, end: Fraction | None, kind: Measured) -> Fraction | None:
    """The nearest round value past a threshold that lies before the region's other end."""
    number = from_base(cut, kind.unit)
    step = _step(number, kind)
    for _ in range(MOST_REFINEMENTS):
        past = (ceil(number / step) - 1 if way < 0 else floor(number / step) + 1) * step
        value = to_base(past, kind.unit)
        inside = end is None or (value > end if way < 0 else value < end)
        if inside and _within(value, kind):
            return value
        step /= 10
    return (cut + end) / 2 if end is not None else None


def _step(number: Fraction, kind: Measured) -> Fraction:
    """A step that people measure by: about a hundredth of the range, a power of ten."""
    if kind.low is not None and kind.high is not None and kind.high > kind.low:
        size = (from_base(kind.high, kind.unit) - from_base(kind.low, kind.unit)) / 100
    else:
        size = abs(number) / 10 if number else Fraction(1)
    # Of whole numbers there is a logarithm however large they are, of tiny fractions none.
    return Fraction(10) ** floor(log10(size.numerator) - log10(size.denominator))


def measuring_step(number: Fraction, kind: Measured) -> Fraction:
    """A step that people measure a fact by, in base units, near a number."""
    step = _step(from_base(number, kind.unit), kind)
    return abs(to_base(step, kind.unit) - to_base(Fraction(0), kind.unit))


def _some(low: Fraction | None, high: Fraction | None, kind: Measured) -> Fraction:
    """Any value of a region that no threshold bounds."""
    if low is not None and high is not None:
        middle = from_base((low + high) / 2, kind.unit)
        rounded = to_base(Fraction(round(middle)), kind.unit)
        return rounded if low < rounded < high else (low + high) / 2
    return low if low is not None else high if high is not None else to_base(Fraction(0), kind.unit)


def spread(stretch: Stretch, kind: Measured) -> Iterator[Fraction]:
    """Numbers all over a region: what is shown of it, its ends, its middle."""
    yield from stretch.shown
    if stretch.low is not None and not stretch.low_open:
        yield stretch.low
    if stretch.high is not None and not stretch.high_open:
        yield stretch.high
    if stretch.low is not None and stretch.high is not None and not kind.whole:
        yield (stretch.low + stretch.high) / 2


def rounded_into(number: Fraction, kind: Measured) -> Iterator[Fraction]:
    """The number as people would round it, coarse to fine."""
    value = from_base(number, kind.unit)
    step = _step(value, kind) * 10
    for _ in range(MOST_REFINEMENTS):
        yield to_base(round(value / step) * step, kind.unit)
        step /= 10
