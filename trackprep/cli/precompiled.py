"""Shipped rulesets in their compiled form, so that even the first check need not compile them.

Each lies in `rulesets/compiled/` and is used only while the shipped files have the bytes, and
the model has the form, that it was made of; in a checkout also only while no module is newer.
`python -m trackprep.cli.precompiled` writes them after a change to a shipped file or to what
compiles it, and a test holds the two together.
"""

import json
import os
from pathlib import Path

from trackprep.cli.kept import modules_changed, unchanged
from trackprep.published import rulesets_folder
from trackprep.rules.model import Rules
from trackprep.rules.storing import form, restored, stored

CLONING = 5 * 10**9
"""The nanoseconds by which a module may be newer: a checkout writes its files in any order."""


def precompiled(name: str) -> Rules | None:
    """The shipped ruleset of that name, if its compiled form is there and holds."""
    path = _path(name)
    try:
        if (modules_changed() or 0) > os.stat(path).st_mtime_ns + CLONING:
            return None
        head, _, text = path.read_text(encoding="utf-8").partition("\n")
        made_for, files = json.loads(head)
        folder = rulesets_folder()
        if made_for != form() or not unchanged((folder / file, known) for file, known in files):
            return None
        return restored(text)
    except (OSError, TypeError, ValueError):
        return None


def compiled_form(name: str) -> str:
    """What the compiled form of a shipped ruleset should be; the same on every machine."""
    from attrs import evolve

    from trackprep.reading import read_ruleset  # no check should import the compiler

    rules = read_ruleset(name).rules
    files = [(Path(file.path).name, file.digest) for file in rules.files]
    bare = evolve(rules, files=tuple(evolve(file, path="") for file in rules.files))
    return f"{json.dumps([form(), files])}\n{stored(bare)}\n"


def _path(name: str) -> Path:
    return rulesets_folder() / "compiled" / f"{name}.json"


if __name__ == "__main__":
    from trackprep.cli.rulesets import shipped_rulesets
    from trackprep.cli.writing import replace

    for shipped in shipped_rulesets():
        _path(shipped).parent.mkdir(exist_ok=True)
        replace(_path(shipped), compiled_form(shipped))
