"""A compiled ruleset as plain data, and back: what a cache keeps.

Nothing executes when it is loaded; damaged data raises `ValueError`. Examples
are left out, since a check needs none. The form is nobody's interface: it is
read by the very version of the program that wrote it.
"""

import json
from collections.abc import Callable, Iterator, Mapping, MutableMapping
from datetime import date
from fractions import Fraction
from functools import cache
from typing import Any, TypeVar

from attrs import fields

from trackprep.dates import Span
from trackprep.digests import digest_of
from trackprep.rules import conditions, model, values
from trackprep.units import Unit, unit
from trackprep.units.table import ONE

_CLASSES: tuple[type, ...] = (
    conditions.Constant, conditions.NumberOf, conditions.Arithmetic, conditions.CompletedYears,
    conditions.DerivedNumber, conditions.DayOf, conditions.FixedDay, conditions.EventDay,
    conditions.Shifted, conditions.ChoiceTest, conditions.GradeTest, conditions.SetTest,
    conditions.FlagTest, conditions.NumberTest, conditions.DayTest, conditions.AgeTest,
    conditions.Meaning, conditions.Case, conditions.ByRows, conditions.Not, conditions.All,
    conditions.AnyOf, conditions.AtLeast, conditions.Between,
    conditions.Called, conditions.Extreme, conditions.Rounded, conditions.ChoiceLookup,
    conditions.NumberLookup, conditions.TermCase, conditions.ByCase, conditions.FormulaNumber,
    model.Choice, model.Choosing, model.YesOrNo, model.Dated,
    model.Measured, model.FreeText, model.Origin, model.SourceOf, model.Fact, model.DerivedFact,
    model.LimitRow, model.Limit, model.WordList, model.Part, model.Work, model.Asked, model.Rule,
    model.Section, model.FileUsed, values.Amount, model.Parameter, model.Formula, model.Table,
)  # fmt: skip
_NUMBER_OF = {made: number for number, made in enumerate(_CLASSES)}
_FIELDS = {made: tuple(field.name for field in fields(made)) for made in _CLASSES}
_MAPPINGS = ("facts", "derived", "formulas", "tables", "limits", "lists", "here")
_PLAIN = ("name", "title", "edition", "organizer", "venue", "contact", "base", "vocabulary")
_TREES = ("valid", "notes", "brings", "sections", "rules", "files")


@cache
def form() -> str:
    """The digest of what the stored form hangs on: the classes, and the fields of each."""
    said = [(made.__name__, names) for made, names in _FIELDS.items()]
    return digest_of(repr((said, _MAPPINGS, _PLAIN, _TREES)).encode())


def stored(rules: model.Rules) -> str:
    """The ruleset as text."""
    data: dict[str, Any] = {name: getattr(rules, name) for name in _PLAIN}
    data |= {name: _plain(getattr(rules, name)) for name in _TREES}
    for name in _MAPPINGS:
        mapping: Mapping[str, Any] = getattr(rules, name)
        data[name] = plain_values(mapping)
    data["withdrawn"] = dict(rules.withdrawn)
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def restored(text: str) -> model.Rules:
    """The ruleset that was stored.

    Raises:
        ValueError: The text is damaged.
    """
    try:
        data = json.loads(text)
        made: dict[str, Any] = {name: data[name] for name in (*_PLAIN, "withdrawn")}
        made |= {name: _made(data[name]) for name in _TREES}
        made |= {name: Later(data[name]) for name in _MAPPINGS}
        return model.Rules(**made)
    except (AttributeError, IndexError, KeyError, TypeError) as error:
        raise ValueError("a stored ruleset is damaged") from error


# Every list starts with what it is: a class by its number, or one of these letters.


def _plain(value: Any) -> Any:
    """A value as lists, texts and numbers."""
    made = type(value)
    if made in _NUMBER_OF:
        return [_NUMBER_OF[made], *[_plain(getattr(value, name)) for name in _FIELDS[made]]]
    match value:
        case None | bool() | str():
            return value
        case int():
            return value
        case tuple():
            return ["T", *map(_plain, value)]
        case frozenset():
            return ["S", *sorted(value)]
        case Fraction():
            return ["F", str(value.numerator), str(value.denominator)]
        case date():
            return ["D", value.toordinal()]
        case Span():
            return ["P", value.first.toordinal(), value.last.toordinal()]
        case Unit():
            return ["U", value.name]
        case _:
            raise AssertionError(made)


def _made(data: Any) -> Any:
    """The value that was made plain."""
    if type(data) is not list:
        return data
    tag = data[0]
    if type(tag) is int:
        return _CLASSES[tag](*[_made(part) if type(part) is list else part for part in data[1:]])
    return _LETTERS[tag](data)


def _unit(data: list[Any]) -> Unit:
    found = unit(data[1]) if data[1] else ONE
    if found is None:
        raise KeyError(data[1])
    return found


_LETTERS: dict[str, Callable[[list[Any]], Any]] = {
    "T": lambda data: tuple([_made(part) if type(part) is list else part for part in data[1:]]),
    "S": lambda data: frozenset(data[1:]),
    "F": lambda data: Fraction(int(data[1]), int(data[2])),
    "D": lambda data: date.fromordinal(data[1]),
    "P": lambda data: Span(date.fromordinal(data[1]), date.fromordinal(data[2])),
    "U": _unit,
}

_T = TypeVar("_T")


class Later(MutableMapping[str, _T]):
    """A mapping of what is stored, each value made when it is first asked for."""

    __slots__ = ("_data",)

    def __init__(self, data: dict[str, Any] | None = None) -> None:
        self._data: dict[str, Any] = {} if data is None else data
        """Made values, and plain ones: those are lists, as no made value is."""

    def __getitem__(self, key: str) -> _T:
        value: Any = self._data[key]
        if type(value) is list:
            value = self._data[key] = _made(value)
        found: _T = value
        return found

    def __setitem__(self, key: str, value: _T) -> None:
        self._data[key] = value

    def __delitem__(self, key: str) -> None:
        del self._data[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._data)

    def __len__(self) -> int:
        return len(self._data)

    def __contains__(self, key: object) -> bool:
        return key in self._data

    def take_in(self, other: Mapping[str, _T], *, replacing: bool = True) -> None:
        """Adds what another mapping holds, and makes nothing of it yet."""
        new = other._data if isinstance(other, Later) else other
        if not replacing:
            new = {key: value for key, value in new.items() if key not in self._data}
        self._data |= new

    def only(self, key: str) -> "Later[_T]":
        """The entry of one key, alone."""
        return Later({key: self._data[key]})

    def plain(self) -> dict[str, Any]:
        """All values made plain."""
        return {
            key: value if type(value) is list else _plain(value)
            for key, value in self._data.items()
        }


def plain_values(mapping: Mapping[str, Any]) -> dict[str, Any]:
    """The values of a mapping made plain."""
    if isinstance(mapping, Later):
        return mapping.plain()
    return {key: _plain(value) for key, value in mapping.items()}
