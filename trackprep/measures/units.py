"""Any quantity in every unit that is read here."""

from trackprep.measures.bench import Bench
from trackprep.measures.figures import every_unit
from trackprep.measures.inputs import Input, InputError, Text, quantity_in
from trackprep.measures.topic import Topic
from trackprep.rules.values import Amount
from trackprep.units import read_quantity, show


def conversions(bench: Bench, quantity: Amount) -> None:
    """The quantity in every unit of its dimension."""
    bench.given.append((quantity.unit.dimension.words.split(" ", 1)[1],
                        show(quantity.value, quantity.unit)))  # fmt: skip
    for unit in every_unit(quantity.unit)[1:]:
        bench.answer_in_its_unit(f"in {unit.name}", Amount(quantity.value, unit))
    bench.source("units", "NIST SP 811, appendix B; exact, by the definitions")


def _units(bench: Bench) -> None:
    text = bench.word("quantity")
    quantity = quantity_in(text)
    if quantity is None:
        try:
            read_quantity(text)
        except ValueError as why:
            raise InputError(f"QUANTITY: {why}") from None
        raise AssertionError(text)
    conversions(bench, quantity)


UNITS = Topic(
    "units",
    "A quantity in other units",
    "a quantity in every unit that is read here",
    _units,
    Input("quantity", "a number and its unit", '"33 psi"', Text(), "needed"),
    examples=("units 33psi", 'units "16 fl oz"', "units 3/8in"),
)
