"""The units of the form as data: exact factors, spellings, and which of them a rider is offered.

```
UNITS = { NAME: UNIT }
UNIT = { is, factor, offset, system, also, words, offered }
```
`is` is the dimension in words, `factor` and `offset` texts of rationals (left out where 1 and
0), `system` "metric" or "imperial" where the dimension has units of both, `also` the other
spellings that are read, `words` what people write that is no spelling, `offered` the units to
choose from for a fact that is measured in this one. Empty ones are left out.
"""

from collections.abc import Iterable
from typing import Any

from trackprep.units import SPELLINGS, Dimension, Unit
from trackprep.units.suggestions import other_words

_IMPERIAL = frozenset({
    "in", "32nds", "thou", "ft", "yd", "mi", "in^2", "in^3", "fl oz", "qt", "gal", "imp fl oz",
    "imp gal", "lb", "oz", "mph", "ft/s", "lbf", "psi", "inHg", "lbf*ft", "lbf*in", "lbf/in",
    "hp", "°F",
})  # fmt: skip

_OFFERED = (
    "mm | cm | in | 32nds",
    "cm^2 | mm^2 | in^2",
    "mL | L | fl oz | qt",
    "kg | lb",
    "s | min | h",
    "days | weeks",
    "months | years",
    "km/h | mph",
    "N | kgf | lbf",
    "bar | kPa | psi",
    "N*m | lbf*ft | lbf*in",
    "N/mm | kgf/mm | lbf/in",
    "kW | PS | hp",
    "°C | °F",
)
"""What gauges, scales and tools in paddocks show (from memory), the usual ones first."""

_OFFERED_FOR = {
    "m": "m | cm | ft | in",
    "km": "km | mi",
    "mi": "mi | km",
    "ft": "ft | in | m | cm",
    "L": "L | mL | qt | gal",
    "gal": "gal | qt | L",
    "qt": "qt | gal | L",
    "cc": "cc | in^3",
    "cm^3": "cm^3 | in^3",
    "in^3": "in^3 | cc",
    "g": "g | oz",
    "oz": "oz | g",
}
"""Where the fact's unit tells that the thing is too large or too small for the usual ones."""


def plain_units(wanted: Iterable[Unit]) -> dict[str, Any]:
    """Every unit of the dimensions that the wanted ones have, as JSON takes it.

    Only the wanted ones say what is offered. The plain number is none of them.
    """
    wanted = set(wanted)
    dimensions = {unit.dimension for unit in wanted}
    units = dict.fromkeys(unit for unit in SPELLINGS.values() if unit.dimension in dimensions)
    return {unit.name: _plain(unit, offered=unit in wanted) for unit in units}


def _plain(unit: Unit, *, offered: bool) -> dict[str, Any]:
    also = [spelling for spelling, its in SPELLINGS.items() if its == unit]
    row = {
        "is": unit.dimension.words,
        "factor": "" if unit.factor == 1 else str(unit.factor),
        "offset": str(unit.offset) if unit.offset else "",
        "system": _system(unit),
        "also": also[1:],
        "words": " ".join(other_words(unit.name)),
        "offered": _offered(unit) if offered else [],
    }
    return {key: value for key, value in row.items() if value}


def _system(unit: Unit) -> str:
    """Which system the unit is of; none where both use the same units."""
    if unit.name in _IMPERIAL:
        return "imperial"
    return "metric" if unit.dimension in _of_both() else ""


def _of_both() -> set[Dimension]:
    return {SPELLINGS[name].dimension for name in _IMPERIAL}


def _offered(unit: Unit) -> list[str]:
    """The units to choose from, the fact's own always among them."""
    rows = (row.split(" | ") for row in _OFFERED)
    if unit.name in _OFFERED_FOR:
        names = _OFFERED_FOR[unit.name].split(" | ")
    else:
        # Days are no choice for what takes seconds, though both are durations.
        alike = (row for row in rows if _alike(SPELLINGS[row[0]], unit))
        names = next(alike, [])
    return names if unit.name in names else [unit.name, *names]


def _alike(one: Unit, other: Unit) -> bool:
    return one.dimension == other.dimension and one.calendar == other.calendar
