"""The front door: read a ruleset, read a declaration for it, check.

    text ──syntax.parse──▶ tree ──rules.compile──▶ Ruleset ──check(declaration, on=…)──▶ Report
"""

import hashlib
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from attrs import frozen

from trackprep.backends import checks
from trackprep.declarations.declaration import Declaration
from trackprep.declarations.reading import read_file, read_mapping, read_rider
from trackprep.problems import Problem, RulesetError
from trackprep.reports.report import Report
from trackprep.rules.compiling import Compiled, compiled
from trackprep.rules.loading import (
    ENDING,
    UnreadableFile,
    load,
    load_shipped,
    read_text,
    shipped_names,
    shipped_path,
)
from trackprep.rules.model import Rules
from trackprep.rules.reporting import Reporter, nearest
from trackprep.source import Source


@frozen(eq=False)
class Ruleset:
    """A ruleset that was read without a problem."""

    rules: Rules

    @property
    def name(self) -> str:
        """Its name."""
        return self.rules.name

    @property
    def title(self) -> str:
        """Its title."""
        return self.rules.title

    @property
    def edition(self) -> str:
        """Its edition, or nothing."""
        return self.rules.edition

    def check(self, declaration: Declaration, *, on: date) -> Report:
        """What the rules answer to a declaration for an event on a day.

        Raises:
            TypeError: `on` is no date.
            ValueError: The declaration was read for another ruleset.
        """
        if not isinstance(on, date) or isinstance(on, datetime):
            raise TypeError("`on` is the day of the event, a datetime.date")
        if declaration.rules is not self.rules:
            raise ValueError("this declaration was read for another ruleset: read it for this one")
        values, future = checks.prepared(self.rules, declaration.values, on)
        outcomes = checks.outcomes(self.rules, values, on)
        return Report.made(self.rules, declaration, on, values, future, outcomes)


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


def read_declaration(path: str | Path, ruleset: Ruleset) -> Declaration:
    """The declaration in a `.rider`, `.toml` or `.json` file, read for a ruleset.

    Raises:
        DeclarationError: The file cannot be read, or has problems; all of them in `.problems`.
    """
    return read_file(Path(path), str(path), ruleset.rules)


def parse_declaration(text_or_mapping: str | Mapping[str, Any], ruleset: Ruleset) -> Declaration:
    """The declaration in `.rider` text or in a mapping, read for a ruleset.

    Raises:
        DeclarationError: With all problems.
    """
    if isinstance(text_or_mapping, str):
        return read_rider(Source("<text>", text_or_mapping), ruleset.rules)
    return read_mapping(text_or_mapping, ruleset.rules)


def compiled_file(path: str | Path) -> Compiled:
    """What comes of a rule file, its problems as values; a shipped one by its name."""
    name = str(path)
    if isinstance(path, str) and not name.endswith(ENDING):
        return _compiled_shipped(name)
    file = Path(path)
    try:
        text, digest = read_text(file)
    except UnreadableFile as why:
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
    digest = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
    loaded = load(Source(name, text), digest, folder, reporter)
    return compiled(loaded, reporter, folder)


def _ruleset(made: Compiled) -> Ruleset:
    if made.rules is None:
        raise RulesetError(made.problems)
    return Ruleset(made.rules)
