"""Compiled rulesets kept between calls, so that a check need not compile them again.

Each lies in the user's cache folder under the digest of where its file lies and
of the program; it is used only while every file that went into it has the bytes
it had. Safe to delete at any time; what is damaged is ignored, and what cannot
be written is not kept.
"""

import json
import os
from collections.abc import Iterable
from pathlib import Path

import trackprep
from trackprep.cli.writing import replace
from trackprep.digests import digest_of
from trackprep.published import modules_changed
from trackprep.rules.model import FileUsed, Rules
from trackprep.rules.storing import restored, stored

MOST_KEPT = 64


def kept(path: Path) -> Rules | None:
    """The ruleset of the file as it was kept, if nothing that it was made of has changed."""
    try:
        files, _, text = _entry(path).read_text(encoding="utf-8").partition("\n")
        return restored(text) if unchanged(json.loads(files)) else None
    except (OSError, RuntimeError, TypeError, ValueError):  # RuntimeError: there is no home
        return None


def unchanged(files: Iterable[tuple[str | Path, str]]) -> bool:
    """Whether each of the files has the bytes whose digest stands beside it.

    Raises:
        OSError: One cannot be read.
    """
    for name, digest in files:
        with open(name, "rb") as file:
            if digest_of(file.read()) != digest:
                return False
    return True


def keep(path: Path, rules: Rules) -> None:
    """Keeps a ruleset that was compiled from a file."""
    if not all(file.path for file in rules.files):
        return
    text = json.dumps(_named(rules.files)) + "\n" + stored(rules)
    try:
        entry = _entry(path)
        entry.parent.mkdir(parents=True, exist_ok=True)
        _make_room(entry.parent)
        replace(entry, text)
    except (OSError, RuntimeError):
        return


def _named(files: tuple[FileUsed, ...]) -> list[tuple[str, str]]:
    return [(file.path, file.digest) for file in files]


def _make_room(folder: Path) -> None:
    """Removes the oldest entries where there are many."""
    entries = sorted(folder.glob("*.kept"), key=lambda entry: entry.stat().st_mtime)
    for entry in entries[: max(0, len(entries) - MOST_KEPT + 1)]:
        entry.unlink(missing_ok=True)


def _entry(path: Path) -> Path:
    """Where the ruleset of a file is kept."""
    made = digest_of(f"{_program()}\0{path.resolve()}".encode())
    return _folder() / f"{made[:32]}.kept"


def _folder() -> Path:
    """The user's cache folder, by the XDG Base Directory Specification or the system's custom."""
    if os.environ.get("XDG_CACHE_HOME"):
        return Path(os.environ["XDG_CACHE_HOME"]) / "trackprep"
    if os.name == "nt" and os.environ.get("LOCALAPPDATA"):
        return Path(os.environ["LOCALAPPDATA"]) / "trackprep" / "cache"
    return Path.home() / ".cache" / "trackprep"


def _program() -> str:
    """The program's version; in a checkout also when its modules last changed."""
    changed = modules_changed()
    return f"{trackprep.__version__} {changed}" if changed else trackprep.__version__
