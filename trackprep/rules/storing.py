"""A compiled ruleset as plain data, and back: what a cache keeps.

Nothing executes when it is loaded; damaged data raises `ValueError`. Examples
are left out, since a check needs none. The form is nobody's interface: it is
read by the very version of the program that wrote it.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from fractions import Fraction
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
    model.Choice, model.Choosing, model.YesOrNo, model.Dated,
    model.Measured, model.FreeText, model.Origin, model.SourceOf, model.Fact, model.DerivedFact,
    model.LimitRow, model.Limit, model.WordList, model.Part, model.Work, model.Asked, model.Rule,
    model.Section, model.FileUsed, values.Amount,
)  # fmt: skip
_NUMBER_OF = {made: number for number, made in enumerate(_CLASSES)}
_FIELDS = {made: tuple(field.name for field in fields(made)) for made in _CLASSES}
_MAPPINGS = ("facts", "derived", "limits", "lists", "here")
_PLAIN = ("name", "title", "edition", "organizer", "venue", "contact", "base", "vocabulary")
_TREES = ("valid", "notes", "brings", "sections", "rules", "files")


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
        data[name] = {key: _plain(value) for key, value in mapping.items()}
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
        made |= {name: _Later(data[name]) for name in _MAPPINGS}
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


class _Later(Mapping[str, _T]):
    """A mapping whose values are made when they are asked for."""

    __slots__ = ("_data", "_found")

    def __init__(self, data: dict[str, Any]) -> None:
        self._data = data
        self._found: dict[str, _T] = {}

    def __getitem__(self, key: str) -> _T:
        found = self._found.get(key)
        if found is None:
            found = self._found[key] = _made(self._data[key])
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._data)

    def __len__(self) -> int:
        return len(self._data)

    def __contains__(self, key: object) -> bool:
        return key in self._data
