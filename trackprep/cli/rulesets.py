"""Rulesets by the names people give on the command line."""

from pathlib import Path
from typing import TYPE_CHECKING

import trackprep
from trackprep.cli.calls import CallError
from trackprep.problems import RulesetError

if TYPE_CHECKING:
    from trackprep.ruleset import Ruleset


def named(name: str) -> "Ruleset":
    """The ruleset of a file ending in `.trackrules`, or the shipped one of that name.

    Raises:
        RulesetError: The file has problems, or cannot be read.
        CallError: Nothing of that name is shipped.
    """
    try:
        return trackprep.read_ruleset(name)
    except RulesetError as error:
        if [problem.code for problem in error.problems] != ["unknown-file"]:
            raise
        if error.problems[0].place is not None:
            raise
    raise CallError(f"no ruleset called `{name}` is shipped", _what_instead(name))


def shipped_rulesets() -> tuple[str, ...]:
    """The shipped names that are rulesets, not vocabularies."""
    from trackprep.rules.loading import shipped_names  # slow to import

    return tuple(name for name in shipped_names() if _is_ruleset(name))


def _is_ruleset(name: str) -> bool:
    from trackprep.rules.loading import shipped_path

    path = shipped_path(name)
    assert path is not None
    lines = path.read_text(encoding="utf-8").splitlines()
    return any(line.startswith("ruleset ") for line in lines)


def _what_instead(name: str) -> str:
    """What to write in place of a name that is none; only a mistake pays for these imports."""
    from trackprep.rules.loading import ENDING, shipped_names
    from trackprep.rules.reporting import nearest

    if Path(name).is_dir():
        return f"`{name}` is a folder: name a file in it that ends in {ENDING}"
    if Path(name).exists():
        return f"a rule file's name ends in {ENDING}: rename `{name}`"
    if Path(name + ENDING).exists():
        return f"`{name}{ENDING}` for the file in this folder"
    near = nearest(name, shipped_names())
    first = f"`{near}`; " if near else ""
    listed = ", ".join(shipped_rulesets())
    return f"{first}shipped are {listed}; a file of your own ends in {ENDING}"
