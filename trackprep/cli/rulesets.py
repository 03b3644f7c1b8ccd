"""Rulesets by the names people give on the command line."""

from pathlib import Path
from typing import TYPE_CHECKING

from trackprep.cli.calls import CallError
from trackprep.cli.kept import keep, kept
from trackprep.cli.precompiled import precompiled
from trackprep.published import ENDING, shipped_names, shipped_path
from trackprep.ruleset import Ruleset

if TYPE_CHECKING:
    from trackprep.rules.model import Rules
    from trackprep.rules.own_file import OwnFile

PAPERS = (".html", ".htm", ".md", ".markdown")
"""What papers end in, and rule files never."""


def named(name: str) -> Ruleset:
    """The ruleset of a file ending in `.trackrules`, or the shipped one of that name.

    Raises:
        RulesetError: The file has problems, or cannot be read.
        CallError: Nothing of that name is shipped.
    """
    return _compiled(name, _path(name))


def for_riders(name: str) -> Ruleset:
    """The same; in its compiled form, shipped or kept, if its files have not changed since.

    The examples of the file, which no rider needs, are not there then.

    Raises:
        RulesetError: The file has problems, or cannot be read.
        CallError: Nothing of that name is shipped.
    """
    path = _path(name)
    if not name.endswith(ENDING) and (shipped := precompiled(name)) is not None:
        return Ruleset(shipped)
    if (rules := kept(path)) is not None:
        return Ruleset(rules)
    return _compiled(name, path)


def with_rules(name: str, use: str) -> Ruleset:
    """The ruleset as riders need it, which is no vocabulary; `use` is what its rules are for.

    Raises:
        RulesetError: The file has problems, or cannot be read.
        CallError: Nothing of that name is shipped, or it has no rules.
    """
    ruleset = for_riders(name)
    refuse_vocabulary(name, ruleset.rules, use)
    return ruleset


def refuse_vocabulary(name: str, rules: "Rules", use: str) -> None:
    """Raises `CallError` for a file of facts alone."""
    if rules.vocabulary:
        raise CallError(
            f"`{name}` is a vocabulary: it has facts, and no {use}",
            "the rules of your event, or a shipped ruleset such as `common-practice`",
        )


def own(name: str) -> "OwnFile":
    """What stands in the file itself, and the ruleset that it makes.

    Raises:
        RulesetError: The file has problems, or cannot be read.
        CallError: Nothing of that name is shipped.
    """
    # Nothing of this is needed for what is kept.
    from trackprep.problems import RulesetError
    from trackprep.reading import compiled_file
    from trackprep.rules.own_file import own_file

    path = _path(name)
    made = compiled_file(name)
    if made.rules is None or made.loaded is None:
        raise RulesetError(made.problems)
    keep(path, made.rules)
    return own_file(made.loaded, made.rules)


def _path(name: str) -> Path:
    path = Path(name) if name.endswith(ENDING) else shipped_path(name)
    if path is None and Path(name).suffix.lower() in PAPERS and Path(name).exists():
        raise CallError(
            f"`{name}` is a paper for people to read, and no rule file",
            "give the rule file that it was made of",
        )
    if path is None:
        raise CallError(f"no ruleset called `{name}` is shipped", _what_instead(name))
    return path


def _compiled(name: str, path: Path) -> Ruleset:
    # The compiler is slow to import, and not needed for what is kept.
    from trackprep.reading import read_ruleset

    made = read_ruleset(name)
    keep(path, made.rules)
    return made


def shipped_rulesets() -> tuple[str, ...]:
    """The shipped names that are rulesets, not vocabularies."""
    return tuple(name for name in shipped_names() if _is_ruleset(name))


def _is_ruleset(name: str) -> bool:
    path = shipped_path(name)
    assert path is not None
    lines = path.read_text(encoding="utf-8").splitlines()
    return any(line.startswith("ruleset ") for line in lines)


def _what_instead(name: str) -> str:
    """What to write in place of a name that is none; only a mistake pays for the import."""
    from trackprep.rules.reporting import nearest

    if name.endswith((".rider", ".toml", ".json")):
        return f"`trackprep check {name} --for RULESET` for a declaration"
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
