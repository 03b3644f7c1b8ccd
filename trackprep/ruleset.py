"""A ruleset that riders can be checked against, and declarations read for it."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, overload
from weakref import WeakKeyDictionary

from attrs import define, field

from trackprep.dates.spans import FIRST_YEAR, LAST_YEAR
from trackprep.declarations.declaration import Declaration
from trackprep.declarations.reading import read_file, read_rider
from trackprep.reports.checked import Checked
from trackprep.reports.report import Report
from trackprep.rules.model import Rules
from trackprep.source import Source

if TYPE_CHECKING:
    from trackprep.backends.generated import Compiled, Row, Statuses
    from trackprep.reports.club.report import ClubReport
    from trackprep.reports.comparison.report import ComparisonReport
    from trackprep.reports.season.report import SeasonReport
    from trackprep.reports.venues.report import ReadinessReport, VenuesReport
    from trackprep.rider.asking import Interview
    from trackprep.rider.joining import RiderFile

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
        _must_be_event_day(on)
        if declaration.rules is not self.rules:
            raise ValueError("this declaration was read for another ruleset: read it for this one")
        self._checks += 1
        if self._checks <= SLOW_CHECKS:
            return Report(Checked.made(self.rules, declaration, on))
        return Report(Checked(self.rules, declaration, on, self._statuses(declaration, on)))

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


def interview(*rulesets: Ruleset, on: date, text: str = "") -> "Interview":
    """The questions that still matter for events on a day, going on from `.rider` text.

    `.question`, then `.answered("2 mm")`: the interview that follows, with its `.text` so far.

    Raises:
        DeclarationError: The text has problems.
        TypeError: There is no ruleset, one of them is none, or `on` is no date.
        ValueError: No event can be on that day, or one is a vocabulary, which has no rules.
    """
    if not rulesets:
        raise TypeError("`interview` takes one ruleset or more")
    _must_have_rules(rulesets)
    _must_be_event_day(on)
    from trackprep.rider import asking  # a check asks nothing

    return asking.interview([each.rules for each in rulesets], on=on, text=text)


@overload
def compare(one: Ruleset, other: Ruleset, /, *, on: date | None = None) -> "ComparisonReport": ...
@overload
def compare(
    one: Ruleset, other: Ruleset, third: Ruleset, /, *more: Ruleset, on: date | None = None
) -> "VenuesReport": ...
def compare(*rulesets: Ruleset, on: date | None = None) -> "ComparisonReport | VenuesReport":
    """How two rulesets differ, rule by rule and as a whole; or what three and more ask.

    Args:
        rulesets: Of two, the one that is looked from and the one that is looked at:
            *stricter* means that the second lets through less.
        on: A single day of the event; else every day on which all are valid counts.

    Raises:
        TypeError: One of them is no `Ruleset`, there are fewer than two, or `on` is no date.
        ValueError: No event can be on that day, or one is a vocabulary, which has no rules.
    """
    if len(rulesets) < 2:
        raise TypeError("`compare` takes two rulesets or more, as `read_ruleset` gives them")
    _must_have_rules(rulesets)
    if on is not None:
        _must_be_event_day(on)
    # A check needs no solver.
    if len(rulesets) > 2:
        from trackprep.analysis.venues import venues
        from trackprep.reports.venues.report import VenuesReport

        return VenuesReport(venues([each.rules for each in rulesets], on=on))
    from trackprep.analysis.differences import compared
    from trackprep.reports.comparison.report import ComparisonReport

    one, other = rulesets
    return ComparisonReport(compared(one.rules, other.rules, on=on))


def readiness(path: str | Path, *rulesets: Ruleset, on: date) -> "ReadinessReport":
    """Where the rider of a file is ready, and the least to change to be ready at each and at all.

    Args:
        path: A `.rider`, `.toml` or `.json` file; facts that only some of the rulesets know
            count for these.

    Raises:
        DeclarationError: The file cannot be read, or has problems; all of them in `.problems`.
        TypeError: There is no ruleset, one of them is none, or `on` is no date.
        ValueError: No event can be on that day, or one is a vocabulary, which has no rules.
    """
    if not rulesets:
        raise TypeError("`readiness` takes a file and one ruleset or more")
    _must_have_rules(rulesets)
    _must_be_event_day(on)
    # A check needs no solver.
    from trackprep.analysis import readiness as analysis
    from trackprep.declarations.several import read_for_all
    from trackprep.reports.venues.report import ReadinessReport

    several = [each.rules for each in rulesets]
    declarations = read_for_all(Path(path), str(path), several)
    reports = [
        Report(Checked.made(rules, declaration, on))
        for rules, declaration in zip(several, declarations, strict=True)
    ]
    values = [declaration.values for declaration in declarations]
    return ReadinessReport(analysis.readiness(several, values, on), reports)


def look_ahead(
    path: str | Path, *rulesets: Ruleset, first: date, last: date, on: date | None = None
) -> "SeasonReport":
    """On which day of a season which rule starts to answer otherwise, with nothing changed.

    Args:
        path: A `.rider`, `.toml` or `.json` file; facts that only some of the rulesets know
            count for these.
        first: The first day of the season.
        last: The last, at most ten years later.
        on: The day that a report is for beside the season; else the day on which it was
            declared, if that lies in the season, or its first day.

    Raises:
        DeclarationError: The file cannot be read, or has problems; all of them in `.problems`.
        TypeError: There is no ruleset, one of them is none, or a day is no date.
        ValueError: No event can be on one of the days, they make no season, or a ruleset is a
            vocabulary, which has no rules.
    """
    if not rulesets:
        raise TypeError("`look_ahead` takes a file and one ruleset or more")
    _must_have_rules(rulesets)
    for day in (first, last, *(() if on is None else (on,))):
        _must_be_event_day(day)
    # A check for one day needs none of this.
    from trackprep.declarations.several import read_for_all
    from trackprep.reports.season.report import SeasonReport
    from trackprep.rider.lookahead import season_ahead

    several = [each.rules for each in rulesets]
    declarations = read_for_all(Path(path), str(path), several)
    events = tuple(
        season_ahead(rules, declaration.values, first, last)
        for rules, declaration in zip(several, declarations, strict=True)
    )
    if on is None:
        declared = declarations[0].declared_on
        on = declared if declared and first <= declared <= last else first
    reports = [
        Report(Checked.made(rules, declaration, on))
        for rules, declaration in zip(several, declarations, strict=True)
    ]
    return SeasonReport(events, reports)


def check_riders(
    paths: str | Path | Iterable[str | Path], *rulesets: Ruleset, on: date
) -> "ClubReport":
    """What the rules of one or more events answer to several riders.

    Args:
        paths: A folder, or files ending in `.rider`, `.toml` or `.json`. Several files make one
            rider where they have the same declaration title, or none and names that begin alike.
        on: The day of the event.

    Raises:
        TypeError: There is no ruleset, one of them is none, or `on` is no date.
        ValueError: No event can be on that day, or one is a vocabulary, which has no rules.
        OSError: A folder cannot be read. A file that cannot is a row with its problem.
    """
    # A single check needs none of this.
    from trackprep.rider.joining import files_in, read_one

    given = map(Path, [paths] if isinstance(paths, str | Path) else paths)
    files = [file for path in given for file in (files_in(path) if path.is_dir() else (path,))]
    rules = [ruleset.rules for ruleset in rulesets]
    return check_files((read_one(file, rules) for file in dict.fromkeys(files)), *rulesets, on=on)


def check_files(files: "Iterable[RiderFile]", *rulesets: Ruleset, on: date) -> "ClubReport":
    """The same of files that were read for the rulesets."""
    if not rulesets:
        raise TypeError("`check_riders` takes a folder or files, and one ruleset or more")
    _must_have_rules(rulesets)
    _must_be_event_day(on)
    from trackprep.reports.club.report import ClubReport
    from trackprep.rider.club import Club, Row, event_answer
    from trackprep.rider.joining import joined

    rows = []
    for rider in joined(files):
        names = tuple(str(file.path) for file in rider.files)
        checked = [
            ruleset.check(declaration, on=on)
            for ruleset, declaration in zip(rulesets, rider.declarations, strict=False)
        ]
        answers = (event_answer(one.rules, one.statuses, one.values, on) for one in checked)
        late = {problem.path: problem for one in checked for problem in one.problems}
        rows.append(Row(rider.title, names, tuple(answers), (*rider.problems, *late.values())))
    return ClubReport(Club(tuple(ruleset.rules for ruleset in rulesets), on, tuple(rows)))


def _must_have_rules(rulesets: Iterable[Ruleset]) -> None:
    for ruleset in rulesets:
        if not isinstance(ruleset, Ruleset):
            raise TypeError("what is compared are rulesets, as `read_ruleset` gives them")
        if ruleset.rules.vocabulary:
            raise ValueError(f"`{ruleset.name}` is a vocabulary: it has no rules to compare")


def _must_be_event_day(on: date) -> None:
    """Raises `TypeError` or `ValueError` where no event can be on that day."""
    if not isinstance(on, date) or isinstance(on, datetime):
        raise TypeError("`on` is the day of the event, a datetime.date")
    if not FIRST_YEAR <= on.year <= LAST_YEAR:
        raise ValueError(f"`on` must lie in the years from {FIRST_YEAR} to {LAST_YEAR}")
