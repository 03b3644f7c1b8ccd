"""Pressures worked out by the formulas of the vocabulary, and said as a gauge shows them."""

from collections.abc import Iterator
from fractions import Fraction

from trackprep.measures.bench import Bench
from trackprep.measures.figures import both_ways, by_instrument
from trackprep.measures.measurement import WHO_WINS
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Paragraph
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, show

_METRIC, _INCH = ("°C", "bar", "m"), ("°F", "psi", "ft")


def became(
    bench: Bench,
    pressure: Amount,
    then: Amount,
    now: Amount,
    there: Amount | None = None,
    here: Amount | None = None,
) -> Amount:
    """What a gauge shows of the same air in a tyre at another temperature, and perhaps altitude.

    Of two altitudes one may be left out: the tyre was not moved then.

    Raises:
        InputError: There is no such pressure.
    """
    there, here = there or here, here or there
    if there is None or here is None:
        found = bench.work("pressure-at-sea", set=pressure, set_at=then, now=now)
    else:
        outside_then = bench.work("outside-pressure", altitude=there)
        outside_now = bench.work("outside-pressure", altitude=here)
        found = bench.work(
            "pressure-now", set=pressure, set_at=then, outside_then=outside_then, now=now,
            outside_now=outside_now,
        )  # fmt: skip
    return Amount(found.value, pressure.unit)


def by_thumb(bench: Bench, pressure: Amount, then: Amount, now: Amount) -> Amount:
    """The same by the rule of thumb."""
    found = bench.work("pressure-by-thumb", set=pressure, set_at=then, now=now)
    return Amount(found.value, pressure.unit)


def said(quantity: Amount) -> str:
    """As a gauge shows it, in both families: `29.6 psi (about 2.04 bar, 204 kPa)`.

    What was typed, or is to be set, stays as it is in its own unit.
    """
    rounded = both_ways(quantity, rounded=True)
    if not quantity.text:
        return rounded
    exact = show(quantity.value, quantity.unit)
    _, bracket, others = rounded.partition(" (")
    about = "about " if rounded.startswith("about ") and not exact.startswith("about ") else ""
    return f"{exact}{bracket}{about}{others}"


def in_families(quantity: Amount) -> tuple[str, str]:
    """The quantity in the metric and in the other family, as an instrument shows it."""
    return _one_way(quantity, _METRIC), _one_way(quantity, _INCH)


def _one_way(quantity: Amount, names: tuple[str, ...]) -> str:
    unit = next(SPELLINGS[name] for name in names
                if SPELLINGS[name].dimension == quantity.unit.dimension)  # fmt: skip
    if quantity.unit == unit and quantity.text:
        return show(quantity.value, unit)
    return show(by_instrument(quantity.value, unit), unit)


def to_set(goal: Amount, least: Amount | None) -> Amount:
    """The goal as a gauge can show it, but never below the least that is allowed."""
    mark = by_instrument(goal.value, goal.unit)
    if least is not None and mark < least.value:
        mark = least.value
    return Amount(mark, goal.unit, show(mark, goal.unit))


def difference(one: Amount, other: Amount) -> Amount:
    """How far they are apart, in the unit of the first."""
    return Amount(abs(one.value - other.value), one.unit)


def stepped(air: Amount, times: int) -> Amount:
    """A temperature so many steps of a thermometer's scale above another."""
    step = Fraction(5) if air.unit.name != "°F" else Fraction(50, 9)
    return Amount(air.value + times * step, air.unit)


def working_blocks(bench: Bench) -> Iterator[Block]:
    """The working line by line, and where its formulas come from."""
    if not bench.steps:
        return
    yield Heading("Working")
    for step in bench.steps:
        put_in = "" if step.shown.startswith(step.numbers) else step.numbers
        parts = dict.fromkeys((step.symbols, put_in, step.shown))
        yield Paragraph(" = ".join(part for part in parts if part), step.label)
    yield Heading("Sources")
    yield Bullets(tuple(bench.sources))


def caution_blocks(*texts: str) -> Iterator[Block]:
    """What can hurt somebody, each once."""
    yield from (Paragraph(text, "CAUTION", "warning") for text in dict.fromkeys(texts))


WINS = Paragraph(WHO_WINS)
