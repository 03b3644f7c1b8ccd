"""What is written as a value, and the lines of a rider's declaration."""

from typing import TypeAlias

from attrs import field

from trackprep.frozen import frozen
from trackprep.source import Place, Source

NOWHERE = Place(Source("<made>", ""), 0, 0)


def unplaced() -> Place:
    """The `place` of a node: never part of equality, and nowhere for a node made by hand."""
    return field(default=NOWHERE, kw_only=True, eq=False, repr=False)


@frozen
class Number:
    """A number as written: `3`, `-2.5`, `3/32`, `1 1/4`."""

    text: str
    place: Place = unplaced()


@frozen
class Quantity:
    """A number and a unit, the unit in its usual spelling: `30 mm`."""

    number: str
    unit: str
    place: Place = unplaced()


@frozen
class Day:
    """A date as written: `2026-06-14`, in a declaration also `2026-06`."""

    text: str
    place: Place = unplaced()


@frozen
class Word:
    """A bare or quoted word: a choice, or the name of a limit, a list or a one-word fact."""

    text: str
    quoted: bool = field(default=False, eq=False)
    place: Place = unplaced()


@frozen
class Flag:
    """`yes` or `no` as a value."""

    value: bool
    place: Place = unplaced()


Constant: TypeAlias = Number | Quantity
Value: TypeAlias = Number | Quantity | Day | Word | Flag


@frozen
class Given:
    """`PATH is VALUE, …` as declared; no values is `none`, the empty list."""

    path: str
    values: tuple[Value, ...]
    place: Place = unplaced()
    path_place: Place = unplaced()


@frozen
class Unread:
    """A statement that could not be read: what it was to be, and the name it would have defined."""

    keyword: str
    name: str | None
    place: Place = unplaced()


@frozen
class RiderFile:
    """A `.rider` file: title, the day it was declared, and what is declared, in order."""

    title: str | None
    declared_on: Day | None
    entries: tuple[Given, ...]
    source: Source = field(default=NOWHERE.source, kw_only=True, eq=False, repr=False)
    title_place: Place = unplaced()
