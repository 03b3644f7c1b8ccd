"""TOML and JSON text to mappings."""

import json
import re
import tomllib
from decimal import Decimal
from typing import Any

from trackprep.problems import DeclarationError, Problem

# The standard library's reader takes a long while over these.
_LONG_KEY = re.compile(r"(?:[\w-]+[ \t]*\.[ \t]*){50}")


def from_toml(text: str, name: str) -> Any:
    """What a TOML text says; `DeclarationError` where it is none."""
    if _LONG_KEY.search(text):
        raise DeclarationError([_unparsed("TOML", "a key has too many parts", name)])
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as why:
        raise DeclarationError([_unparsed("TOML", str(why), name)]) from None


def from_json(text: str, name: str) -> Any:
    """What a JSON text says; `DeclarationError` where it is none, or gives a key twice."""
    try:
        return json.loads(
            text, parse_float=Decimal, parse_constant=_no_constant, object_pairs_hook=_once
        )
    except RepeatedKeyError as why:
        problem = Problem(
            "declared-twice", f"the key `{str(why)[:40]}` is given twice", path=str(why), name=name,
            suggestion="keep one of the two",
        )  # fmt: skip
        raise DeclarationError([problem]) from None
    except (ValueError, RecursionError) as why:
        raise DeclarationError([_unparsed("JSON", str(why), name)]) from None


class RepeatedKeyError(Exception):
    """A key that stands in one JSON object twice."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for key, value in pairs:
        if key in made:
            raise RepeatedKeyError(key)
        made[key] = value
    return made


def _no_constant(text: str) -> Any:
    raise ValueError(f"`{text}` is no number")


def _unparsed(what: str, why: str, name: str) -> Problem:
    why = why if why and len(why) < 200 else "it is nested too deeply, or damaged"
    return Problem("not-" + what.lower(), f"this is no {what}: {why}", name=name)
