"""What the parser makes of values, and of the lines of a rider's file."""

import re
from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

from trackprep.source import Place
from trackprep.syntax import values as tree
from trackprep.syntax.tokens import Token
from trackprep.units import unit

Builder: TypeAlias = Callable[[list[Any], Place], Any]

_ESCAPE = re.compile(r"\\(.)")


def string_text(token: Token) -> str:
    """What a string says, without its quotes and escapes."""
    inner = token.text[1:-1]
    return _ESCAPE.sub(r"\1", inner) if "\\" in inner else inner


def token_place(token: Token, place: Place) -> Place:
    """The place of one token."""
    return Place(place.source, token.start, token.end)


def word(kids: list[Any], place: Place) -> tree.Word:
    """A choice word, bare or quoted."""
    token: Token = kids[0]
    quoted = token.kind == "STRING"
    return tree.Word(string_text(token) if quoted else token.text, quoted, place=place)


def _number(kids: list[Any], place: Place) -> tree.Number:
    return tree.Number(_signed(kids, " ".join(kids[-1].text.split())), place=place)


def quantity(kids: list[Any], place: Place) -> tree.Quantity:
    """A quantity, with its sign."""
    number, its_unit = split_quantity(kids[-1].text)
    return tree.Quantity(_signed(kids, number), its_unit, place=place)


def _signed(kids: list[Any], text: str) -> str:
    return "-" + text if len(kids) > 1 else text


_NUMBER = re.compile(r"\d+[ ]+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?")


def split_quantity(text: str) -> tuple[str, str]:
    """The number of a quantity's text, and its unit in the usual spelling."""
    found = _NUMBER.match(text)
    assert found is not None
    return " ".join(found.group().split()), unit_name(text[found.end() :].strip())


def unit_name(spelling: str) -> str:
    """The usual spelling of a unit that the tokens let through."""
    known = unit(spelling)
    assert known is not None, spelling
    return known.name


class Text:
    """Joined strings, until the statement that they belong to takes them."""

    __slots__ = ("place", "text")

    def __init__(self, text: str, place: Place) -> None:
        self.text, self.place = text, place


class Made:
    """A piece of a statement under its production's name, until the statement takes it."""

    __slots__ = ("kids", "name", "place")

    def __init__(self, name: str, kids: list[Any], place: Place) -> None:
        self.name, self.kids, self.place = name, kids, place


def piece(name: str) -> Builder:
    """A builder that keeps a production's children under its name."""
    return lambda kids, place: Made(name, kids, place)


def pieces(kids: list[Any]) -> dict[str, Made]:
    """The kept pieces among some children, by name."""
    return {kid.name: kid for kid in kids if isinstance(kid, Made)}


def texts(kids: list[Any]) -> str | None:
    """The joined text among some children, if there is one."""
    return next((kid.text for kid in kids if isinstance(kid, Text)), None)


def joined(kids: list[Any], place: Place) -> Any:
    """Strings that stand one after another, as one text."""
    return Text(" ".join(string_text(token) for token in kids), place)


def day(kids: list[Any], place: Place) -> tree.Day:
    """A date."""
    return tree.Day(kids[0].text, place=place)


def given(kids: list[Any], place: Place) -> tree.Given:
    """`PATH is VALUE, …`."""
    path, *values = kids
    values = [value for value in values if not isinstance(value, Made)]
    return tree.Given(
        path.text.lower(), tuple(values), place=place, path_place=token_place(path, place)
    )


def _flag(value: bool) -> Builder:
    return lambda kids, place: tree.Flag(value, place=place)


class Title:
    """`declaration "…"`, until the file takes it."""

    __slots__ = ("place", "text")

    def __init__(self, text: str, place: Place) -> None:
        self.text, self.place = text, place


class DeclaredOn:
    """`declared on DATE`, until the file takes it."""

    __slots__ = ("day", "place")

    def __init__(self, day: tree.Day, place: Place) -> None:
        self.day, self.place = day, place


RIDER: Mapping[str, Builder] = {
    "rider": lambda kids, place: kids,
    "text": joined,
    "declaration": lambda kids, place: Title(kids[0].text, place),
    "declared_on": lambda kids, place: DeclaredOn(day(kids, token_place(kids[0], place)), place),
    "given": given,
    "no_words": piece("no_words"),
    "word": word,
    "number": _number,
    "quantity": quantity,
    "day": day,
    "yes": _flag(True),
    "no": _flag(False),
}
