"""Small pools of values that the drawn rules and declarations share, so that ties happen."""

import re
from datetime import date, timedelta

from almanac import add
from factors import UNITS, as_written, in_base

from trackprep.syntax import tree

EVENTS = tuple(
    date.fromisoformat(day)
    for day in (
        "2026-06-14",
        "2024-02-29",
        "2025-02-28",
        "2026-02-28",
        "2025-03-01",
        "2027-01-01",
    )
)

POOLS: dict[str, tuple[str, ...]] = {
    # every value lies in the range below; several are equal in other units
    "length": ("1.2 in", "30.48 mm", "3/32 in", "2.38125 mm", "0 mm", "2 mm"),
    "pressure": ("31 psi", "36 psi", "5 psi", "2.1 bar", "210 kPa"),
    "torque": ("22 N*m", "16 lbf*ft", "2200 N*m", "0 N*m"),
    "mass": ("2 kg", "2000 g", "16 oz", "1 lb"),
    "volume": ("125 cc", "125 mL", "0.5 L"),
    "duration": ("90 s", "1.5 min", "1 h", "60 min"),
    "months": ("18 months", "1 1/2 years", "5 years", "60 months"),
    "temperature": ("20 °C", "68 °F", "293.15 K", "80 °C", "-10 °C"),
    "level": ("95 dB", "92 dB", "98 dB", "0 dB"),
    "angle": ("27 °", "30 °", "0 °"),
    "number": ("50 %", "1/2", "1", "33 %", "0 %"),
    "count": ("0", "1", "2", "3", "10"),
    # of expressions only
    "area": ("4 mm^2", "1 in^2", "900 mm^2"),
    "force": ("11000 N", "10 lbf", "0 N"),
    "temperature difference": ("5 K", "0 K", "60 K"),
    "level difference": ("3 dB", "0 dB"),
}
RANGES = {
    "length": ("0 mm", "4 in"),
    "pressure": ("0 psi", "600 kPa"),
    "torque": ("0 N*m", "5000 N*m"),
    "mass": ("0 kg", "300 kg"),
    "volume": ("0 cc", "2 L"),
    "duration": ("0 s", "5 h"),
    "months": ("0 months", "80 years"),
    "temperature": ("-40 °F", "150 °C"),
    "level": ("-10 dB", "200 dB"),
    "angle": ("-90 °", "90 °"),
    "number": ("0 %", "300 %"),
    "count": ("0", "100"),
}
MEASURED_UNITS = {
    "length": ("mm", "in", "cm"),
    "pressure": ("psi", "kPa", "bar"),
    "torque": ("N*m", "lbf*ft"),
    "mass": ("kg", "lb"),
    "volume": ("cc", "L"),
    "duration": ("s", "min"),
    "months": ("months", "years"),
    "temperature": ("°C", "°F", "K"),
    "level": ("dB",),
    "angle": ("°",),
    "number": ("%",),
}
STEPS = {  # what is rounded to; ties happen
    "length": ("1 mm", "4 mm", "1/16 in"),
    "pressure": ("1 psi", "10 kPa"),
    "torque": ("1 N*m", "4 N*m"),
    "mass": ("1 kg", "4 kg"),
    "volume": ("50 cc", "1 L"),
    "duration": ("1 min", "20 s"),
    "months": ("1 years", "4 months"),
    "level": ("1 dB", "2 dB", "10 dB"),
    "angle": ("2 °", "20 °"),
    "number": ("1", "2", "1/4", "20 %"),
    "area": ("1 cm^2", "8 mm^2"),
    "level difference": ("1 dB", "2 dB"),
}
UNITS_OF_PARAMETERS = {  # one in K is a difference
    "temperature": ("°C", "°F"),
    "temperature difference": ("K",),
    "level difference": ("dB",),
    "area": ("mm^2", "cm^2"),
}
POINTS = {"temperature": "5 K", "level": "3 dB"}  # no sums of these; with a difference
AGES = {
    "day": ("5 years", "60 months", "1 years", "1 months"),
    "month": ("5 years", "60 months", "1 years", "1 months"),
    "year": ("5 years", "1 years"),
    "days": ("10 weeks", "70 days", "1 weeks"),
}
WORDS = {
    "one of": ("red", "green", "ECE 22.06", "more", "not-fitted"),
    "graded": ("J", "unmarked", "level 1", "H", "worn"),
    "several of": ("left-side", "right-side", "none", "DOT"),
}
QUOTED = frozenset({"more", "none"})


def word(text: str) -> tree.Word:
    """A choice word, quoted where it must be."""
    return tree.Word(text, quoted=text in QUOTED or not re.fullmatch(r"[a-z][a-z0-9-]*", text))


def value(text: str) -> tree.Number | tree.Quantity:
    """`2 mm`, `1 1/2 years`, `1/2`."""
    number, unit = re.fullmatch(r"(-?[0-9][0-9./ ]*?)(?: ([^0-9 ].*))?", text).groups()
    return tree.Quantity(number, unit) if unit else tree.Number(number)


def values(topic: str) -> tuple[tree.Number | tree.Quantity, ...]:
    return tuple(value(text) for text in POOLS[topic])


def days_around(event: date) -> tuple[date, ...]:
    """Days at, next to and around the anniversaries that the ages in the pools lead to."""
    steps = ((0, "days"), (-60, "months"), (-12, "months"), (-1, "months"), (-70, "days"))
    near = [add(event, count, unit) for count, unit in steps]
    around = [day + timedelta(days=n) for day in near for n in (0, -1, 1, 3)]
    fixed = ("2020-02-29", "2021-02-28", "2019-12-31")
    return (*around, *map(date.fromisoformat, fixed), date(event.year, 1, 1))


def in_other_units(quantity: tree.Quantity) -> list[tree.Quantity]:
    """The same quantity, exactly, in each other unit that can write it."""
    dimension = UNITS[quantity.unit][0]
    others = [unit for unit, (its, _, _) in UNITS.items() if its == dimension]
    found = (as_written(in_base(quantity), unit) for unit in others if unit != quantity.unit)
    return [other for other in found if other is not None]
