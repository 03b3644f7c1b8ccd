"""Quantities as people read them: in the unit that was written, and in the other families'."""

from fractions import Fraction

from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, Unit, from_base, show, to_base
from trackprep.units.dimensions import NUMBER

_FAMILIES: tuple[tuple[str, ...], ...] = (
    ("mm", "in"),
    ("m", "ft"),
    ("km", "mi"),
    ("mm^2", "in^2"),
    ("cc", "in^3"),
    ("mL", "fl oz"),
    ("L", "qt"),
    ("kg", "lb"),
    ("km/h", "mph"),
    ("m/s", "ft/s"),
    ("N", "lbf"),
    ("bar", "psi", "kPa"),
    ("N*m", "lbf*ft"),
    ("N/mm", "lbf/in"),
    ("kW", "hp"),
    ("°C", "°F"),
)
"""What is shown beside each other; the metric unit first."""

_FINEST: dict[str, int] = {
    "rpm": 0, "km/h": 0, "mph": 0, "kPa": 0, "N": 0, "lbf": 0, "cc": 0, "mL": 0,
    "psi": 1, "dB": 1, "°C": 1, "°F": 1, "N*m": 1, "lbf*ft": 1, "kgf*m": 2, "lbf*in": 0,
    "m/s": 1, "ft/s": 1, "fl oz": 1, "in^3": 1, "qt": 2, "L": 2, "bar": 2, "mm": 2, "%": 2,
    "in": 3, "kg": 1, "lb": 1, "m": 1, "ft": 0,
}  # fmt: skip
"""The decimals that an instrument of the paddock or a person goes by; no verdict rests on them."""


def both_ways(amount: Amount, *, rounded: bool = False) -> str:
    """`31 psi (about 2.137 bar, 213.7 kPa)`: what was worked out may be rounded for reading."""
    said = [_text(amount.value, unit, rounded=rounded) for unit in beside(amount.unit)]
    first, *others = said
    if not others:
        return first
    return f"{first} ({_one_about(others, first)})"


def beside(unit: Unit) -> tuple[Unit, ...]:
    """The unit, and those of the other families that are read beside it."""
    if unit.name in ("K", "MPa"):  # above absolute zero, and stress: neither is read off a gauge
        return (unit,)
    family = next((names for names in _FAMILIES if unit.name in names), None)
    if family is None:
        near = (names for names in _FAMILIES if SPELLINGS[names[0]].dimension == unit.dimension)
        family = next(near, ())
    return (unit, *(SPELLINGS[name] for name in family if name != unit.name))


def every_unit(unit: Unit) -> tuple[Unit, ...]:
    """Every unit of the same dimension, the unit itself first."""
    alike = (one for one in SPELLINGS.values() if one.dimension == unit.dimension)
    return (unit, *(one for one in dict.fromkeys(alike) if one != unit))


def _text(value: Fraction, unit: Unit, *, rounded: bool) -> str:
    if not rounded or unit.name not in _FINEST or (unit.dimension == NUMBER and not unit.name):
        return show(value, unit)
    number = from_base(value, unit)
    steps = number * 10 ** _FINEST[unit.name]
    nearest = Fraction(round(steps), 10 ** _FINEST[unit.name])
    if nearest == 0 != number:  # so little that its digits matter
        return show(value, unit)
    text = show(to_base(nearest, unit), unit)
    return text if nearest == number else f"about {text}"


def _one_about(texts: list[str], before: str) -> str:
    """The texts with one `about` for all, where the text before has none."""
    exact = [text for text in texts if not text.startswith("about ")]
    rest = [text.removeprefix("about ") for text in texts if text.startswith("about ")]
    if rest and not before.startswith("about "):
        rest[0] = f"about {rest[0]}"
    return ", ".join([*exact, *rest])


def decimals_of(unit: Unit) -> int | None:
    """The decimals that an instrument of the paddock goes by; None where none is known."""
    return _FINEST.get(unit.name)


def by_instrument(value: Fraction, unit: Unit) -> Fraction:
    """The value, in base units, to the nearest that an instrument of the paddock shows."""
    if unit.name not in _FINEST:
        return value
    steps = round(from_base(value, unit) * 10 ** _FINEST[unit.name])
    return to_base(Fraction(steps, 10 ** _FINEST[unit.name]), unit)
