"""Shipped files in their compiled form, which lie in `rulesets/compiled/`.

Each is used only while the shipped files have the bytes, and the model has the form, that it
was made of; in a checkout also only while no module is newer. A vocabulary's holds what
stands in its own file, each thing made when it is first looked up. What derived facts,
formulas and tables mean can hang on the rules that name them, so that the place of each
statement is there too: it is read and compiled when a rule names it.
"""

import json
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, TypeAlias

from trackprep.frozen import frozen
from trackprep.published import modules_changed, rulesets_folder
from trackprep.rules import model
from trackprep.rules.storing import Later, form

CLONING = 5 * 10**9
"""The nanoseconds by which a module may be newer: a checkout writes its files in any order."""

Files: TypeAlias = tuple[tuple[str, str], ...]
"""The names of shipped files, each with the digest of its bytes."""
Stretch: TypeAlias = tuple[str, str, int, int, str]
"""A statement: its keyword and name, its start and end in the file, and its section."""


def precompiled_path(name: str) -> Path:
    """Where the compiled form of the shipped file of that name lies, if it has one."""
    return rulesets_folder() / "compiled" / f"{name}.json"


def precompiled_text(name: str) -> tuple[Files, str] | None:
    """The compiled form of a shipped file, and the files that it was made of.

    None where there is none for this program; whether the files are as they were is not
    looked at.
    """
    path = precompiled_path(name)
    try:
        if (modules_changed() or 0) > os.stat(path).st_mtime_ns + CLONING:
            return None
        head, _, text = path.read_text(encoding="utf-8").partition("\n")
        made_for, files = json.loads(head)
        if made_for != form():
            return None
        return tuple((file, digest) for file, digest in files), text
    except (OSError, TypeError, ValueError):
        return None


def files_of(files: Iterable[model.FileUsed]) -> Files:
    """The files by the names under which they ship."""
    return tuple((Path(file.path).name, file.digest) for file in files)


def headed(made_of: Files, text: str) -> str:
    """A compiled form under the head that says what it was made of and for."""
    return f"{json.dumps([form(), made_of])}\n{text}\n"


@frozen(eq=False)
class HangsOn:
    """What the meaning of a shipped derived fact hangs on, through all that it names.

    Attributes:
        facts: Facts and derived facts.
        words: Other words, which another file might make the names of something.
        calls: Formulas and tables.
    """

    facts: frozenset[str]
    words: frozenset[str]
    calls: frozenset[str]


@frozen(eq=False)
class StoredVocabulary:
    """What stands in a shipped vocabulary's own file.

    Attributes:
        made_of: The file and all it uses.
        uses: The names of the vocabularies that it uses.
        statements: All but its kinds and facts.
        derived, formulas, tables: What they mean where no other file has any of their names.
        hangs_on: Of derived facts; one that is not here is always compiled.
    """

    made_of: Files
    uses: tuple[str, ...]
    statements: tuple[Stretch, ...]
    kinds: Later[model.Type]
    facts: Later[model.Fact]
    derived: Later[model.DerivedFact]
    formulas: Later[model.Formula]
    tables: Later[model.Table]
    hangs_on: Mapping[str, HangsOn]

    def plain(self) -> dict[str, Any]:
        """All but what it was made of, as lists, texts and numbers."""
        hangs_on = {
            path: [sorted(names) for names in (on.facts, on.words, on.calls)]
            for path, on in self.hangs_on.items()
        }
        meant = {name: getattr(self, name).plain() for name in _MEANT}
        return {"uses": self.uses, "statements": self.statements, **meant, "hangs_on": hangs_on}


_MEANT = ("kinds", "facts", "derived", "formulas", "tables")


def stored_vocabulary(name: str) -> StoredVocabulary | None:
    """The compiled form of a shipped vocabulary, if it has one."""
    found = precompiled_text(name)
    if found is None:
        return None
    try:
        data = json.loads(found[1])
        return StoredVocabulary(
            made_of=found[0],
            uses=tuple(data["uses"]),
            statements=tuple(tuple(statement) for statement in data["statements"]),
            hangs_on={
                path: HangsOn(*map(frozenset, names)) for path, names in data["hangs_on"].items()
            },
            **{name: Later(data[name]) for name in _MEANT},
        )
    except (AttributeError, KeyError, TypeError, ValueError):
        return None
