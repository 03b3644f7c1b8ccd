"""A ruleset that riders can be checked against, and declarations read for it."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any
from weakref import WeakKeyDictionary

from attrs import define, field

from trackprep.dates.spans import FIRST_YEAR, LAST_YEAR
from trackprep.declarations.declaration import Declaration
from trackprep.declarations.reading import read_file, read_rider
from trackprep.reports.report import Report
from trackprep.rules.model import Rules
from trackprep.source import Source

if TYPE_CHECKING:
    from trackprep.backends.generated import Compiled, Row, Statuses

SLOW_CHECKS = 8
"""After so many checks, generating the fast back end has paid for itself."""


@define(eq=False)
class Ruleset:
    """A ruleset that was read without a problem."""

    rules: Rules
    _checks: int = field(default=0, init=False, repr=False)
    _compiled: "Compiled | None" = field(default=None, init=False, repr=False)
    _rows: "WeakKeyDictionary[Declaration, Row]" = field(
        factory=WeakKeyDictionary, init=False, repr=False
    )

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
            ValueError: The declaration was read for another ruleset, or no event can be then.
        """
        if not isinstance(on, date) or isinstance(on, datetime):
            raise TypeError("`on` is the day of the event, a datetime.date")
        if not FIRST_YEAR <= on.year <= LAST_YEAR:
            raise ValueError(f"`on` must lie in the years from {FIRST_YEAR} to {LAST_YEAR}")
        if declaration.rules is not self.rules:
            raise ValueError("this declaration was read for another ruleset: read it for this one")
        self._checks += 1
        if self._checks <= SLOW_CHECKS:
            return Report.made(self.rules, declaration, on)
        return Report(self.rules, declaration, on, self._statuses(declaration, on))

    def _statuses(self, declaration: Declaration, on: date) -> "Statuses":
        """The answers by the fast back end; a declaration's row is made once."""
        if self._compiled is None:
            # Not for a single check: generating costs more than the check itself.
            from trackprep.backends.generated import compiled

            self._compiled = compiled(self.rules)
        row = self._rows.get(declaration)
        if row is None:
            row = self._rows[declaration] = self._compiled.row(declaration.values)
        return self._compiled.statuses(row, on)


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
    # Not needed by the command line, which checks files.
    from trackprep.declarations.mappings import read_mapping

    return read_mapping(text_or_mapping, ruleset.rules)
