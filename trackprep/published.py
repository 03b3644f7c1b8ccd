"""Where the shipped files lie: inside the package in a wheel, beside it in a checkout."""

import os
from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


@cache
def _folder(name: str) -> Path:
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


def grammar_folder() -> Path:
    """The folder of the grammar, its reference and the JSON schemas."""
    return _folder("grammar")


def rulesets_folder() -> Path:
    """The folder of the shipped rule files, vocabularies and demo riders."""
    return _folder("rulesets")


ENDING = ".trackrules"


@cache
def shipped_names() -> tuple[str, ...]:
    """The names of the files that ship, vocabularies included."""
    return tuple(sorted(path.stem for path in rulesets_folder().glob(f"*{ENDING}")))


def shipped_path(name: str) -> Path | None:
    """Where the shipped file of that name lies, or None if none does."""
    return rulesets_folder() / f"{name}{ENDING}" if name in shipped_names() else None


@cache
def modules_changed() -> int | None:
    """When the modules of a checkout last changed, in ns; None in a wheel, where none does."""
    if rulesets_folder().parent == _PACKAGE:
        return None
    places = ("", "rules", "syntax", "units", "dates")
    return max(
        entry.stat().st_mtime_ns
        for place in places
        for entry in os.scandir(_PACKAGE / place)
        if entry.name.endswith(".py")
    )
