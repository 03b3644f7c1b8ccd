"""Reads rulesets: a file, a shipped name or a text to a `Ruleset`, or to all its problems."""

from pathlib import Path

from trackprep.digests import digest_of
from trackprep.problems import Problem, RulesetError
from trackprep.published import ENDING, shipped_names, shipped_path
from trackprep.rules.compiling import Compiled, compiled
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.loading import load, load_shipped
from trackprep.rules.reporting import Reporter, nearest
from trackprep.ruleset import Ruleset
from trackprep.source import Source


def read_ruleset(path: str | Path) -> Ruleset:
    """The ruleset in a `.trackrules` file, or a shipped one by its name.

    Raises:
        RulesetError: The file cannot be read, or has problems; all of them in `.problems`.
    """
    return _ruleset(compiled_file(path))


def parse_ruleset(text: str, *, name: str = "<text>", folder: str | Path | None = None) -> Ruleset:
    """The ruleset in a text; it may name files in `folder`, else only shipped ones.

    Raises:
        RulesetError: With all problems of the text.
    """
    return _ruleset(compiled_text(text, name, Path(folder) if folder is not None else None))


def compiled_file(path: str | Path) -> Compiled:
    """What comes of a rule file, its problems as values; a shipped one by its name."""
    name = str(path)
    if isinstance(path, str) and not name.endswith(ENDING):
        return _compiled_shipped(name)
    file = Path(path)
    try:
        text, digest = read_text(file)
    except UnreadableFileError as why:
        return Compiled(None, (Problem("unreadable-file", str(why), name=name),))
    reporter = Reporter()
    loaded = load(Source(name, text), digest, file.parent, reporter, file)
    return compiled(loaded, reporter, file.parent)


def _compiled_shipped(name: str) -> Compiled:
    path = shipped_path(name)
    if path is None:
        near = nearest(name, shipped_names())
        problem = Problem(
            "unknown-file", f"no ruleset called `{name}` is shipped", name=name,
            expected=f"a file ending in `{ENDING}`, or a shipped name",
            suggestion=f"write `{near}`" if near else f"write `{name}{ENDING}` for a file",
        )  # fmt: skip
        return Compiled(None, (problem,))
    reporter = Reporter()
    return compiled(load_shipped(name, reporter), reporter, path.parent)


def compiled_text(text: str, name: str = "<text>", folder: Path | None = None) -> Compiled:
    """What comes of a rule text, its problems as values."""
    reporter = Reporter()
    digest = digest_of(text.encode("utf-8", "surrogatepass"))
    loaded = load(Source(name, text), digest, folder, reporter)
    return compiled(loaded, reporter, folder)


def _ruleset(made: Compiled) -> Ruleset:
    if made.rules is None:
        raise RulesetError(made.problems)
    return Ruleset(made.rules)
