"""Slips that people are known to make, each with its own message and the right line.

A message is added here only for a mistake that somebody has been seen to make;
all others get what the grammar expected.
"""

import re

from trackprep.dates import span_of
from trackprep.problems import Problem
from trackprep.source import Place
from trackprep.units import nearest_unit, read_number

_SLASHED_DATE = re.compile(r"\d{1,4}[/.]\d{1,2}[/.]\d{2,4}")
_SIGNS = {
    ">=": "is at least",
    "=>": "is at least",
    "≥": "is at least",
    "<=": "is at most",
    "=<": "is at most",
    "≤": "is at most",
    ">": "is more than",
    "==": "is",
    "=": "is",
    "!=": "is not",
    "≠": "is not",
    "<>": "is not",
    "&&": "and",
    "&": "and",
    "||": "or",
    "|": "or",
    "!": "not",
}


def bad_characters(place: Place, defines: bool = False) -> Problem:
    """The problem of characters that begin no token; `defines` where an `as` may stand."""
    text = place.text
    if text[0] in '"“”„':
        return Problem(
            "string-not-closed",
            "this string has no closing quote on its line",
            place,
            expected='a string, "…" on one line',
            suggestion='close it with `"`; a long text may be several strings, one after another',
        )
    if defines and text in ("=", ":=", ":"):
        return Problem(
            "sign-for-words", f"`{text}` is no sign of this language", place,
            suggestion="write `as`",
        )  # fmt: skip
    if text in _SIGNS:
        return Problem(
            "sign-for-words", f"`{text}` is no sign of this language", place,
            suggestion=f"write `{_SIGNS[text]}`",
        )  # fmt: skip
    if text[0].isdigit() or (text[0] == "." and text[1:2].isdigit()):
        return bad_number(place)
    if "_" in text and re.fullmatch(r"[\w.-]+", text):
        return Problem(
            "bad-name", f"`{_short(text)}` is not written like a name", place,
            expected="lower-case words and digits joined by hyphens",
            suggestion=f"write `{_short(text.replace('_', '-').lower())}`",
        )  # fmt: skip
    shown = _short(text) if text.isprintable() else ascii(_short(text))[1:-1]
    return Problem(
        "bad-characters", f"`{shown}` means nothing here", place,
        suggestion="take it out, or put words of your own in quotes",
    )  # fmt: skip


def bad_number(place: Place) -> Problem:
    """The problem of something that starts like a number and is none."""
    text = place.text
    if _SLASHED_DATE.fullmatch(text):
        try:
            span_of(text)
        except ValueError as why:
            message, _, advice = str(why).partition(": ")
        return Problem(
            "ambiguous-date", message, place, expected="a date as year, month, day",
            suggestion=advice or "write it like `2026-04-03`",
        )  # fmt: skip
    try:
        read_number(text)
    except ValueError as why:
        return Problem(
            "bad-number", str(why), place,
            expected="a number like `3`, `3.5`, `3/32` or `1 1/4`",
        )  # fmt: skip
    return Problem(
        "bad-number", f"`{_short(text)}` is not a number", place,
        expected="a number like `3`, `3.5`, `3/32` or `1 1/4`",
    )  # fmt: skip


def unknown_unit(place: Place, number: str, word: str, glued: bool) -> Problem:
    """The problem of a number with a word behind it that is no unit."""
    if word in "\"”'":
        unit = "ft" if word == "'" else "in"
        return Problem(
            "unknown-unit", f"`{word}` is not read as a unit", place,
            suggestion=f"write `{number} {unit}`",
        )  # fmt: skip
    if glued and re.match(r"[eE]\d", word):
        return Problem(
            "bad-number", f"`{_short(number + word)}` has an exponent", place,
            expected="a number like `3`, `3.5` or `3/32`",
            suggestion="write the number with all its digits",
        )  # fmt: skip
    near = nearest_unit(word)
    return Problem(
        "unknown-unit", f"`{_short(word)}` is not a unit that is read here", place,
        expected="a number and a unit, such as `30 mm`, `31 psi` or `5 years`",
        suggestion=f"write `{number} {near}`" if near else None,
    )  # fmt: skip


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:39] + "…"
