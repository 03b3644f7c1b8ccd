"""A quantity's text to its exact value in base units, beside Fraction and Pint."""

from collections.abc import Iterator
from fractions import Fraction

from tests.benchmark.table import Line, seconds
from tests.benchmark.timing import side_by_side
from trackprep.units import read_quantity, to_base

TEXTS = ("30.48 mm", "1.2 in", "31 psi", "2.25 bar", "22 N*m", "18 kg", "1250 cm^3", "130 mph")


def quantities() -> Iterator[Line]:
    """Eight quantities of the trade."""
    numbers = [text.partition(" ")[0] for text in TEXTS]

    def fractions() -> None:
        for number in numbers:
            Fraction(number)

    def ours() -> None:
        for text in TEXTS:
            to_base(*read_quantity(text))

    yield Line("a quantity's text → its exact value in base units")
    timed = side_by_side(fractions, ours)
    each = timed.contender / len(TEXTS)
    yield Line(
        "  Fraction of the number alone (the yardstick)", seconds(timed.yardstick / len(TEXTS))
    )
    yield Line(
        "  trackprep; the goal is 7 µs",
        seconds(each),
        each / 7e-6,
        1,
        10 / 7,
    )
    try:
        from pint import UnitRegistry
    except ImportError:
        yield Line("  Pint", note="skipped: not installed")
        return
    registry: UnitRegistry[Fraction] = UnitRegistry(non_int_type=Fraction)

    def pint() -> None:
        for text in TEXTS:
            registry.Quantity(text).to_base_units()

    for text in TEXTS:
        assert registry.Quantity(text).to_base_units().magnitude == to_base(*read_quantity(text))
    timed = side_by_side(pint, ours)
    yield Line(
        "  trackprep beside Pint with exact numbers", seconds(each), timed.ratio, 1 / 25, 1 / 20
    )
