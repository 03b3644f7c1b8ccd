"""The head of a ruleset: its name and title, its edition, the days for which it is valid."""

from datetime import date

from trackprep.dates import span_of
from trackprep.rules.loading import Loaded
from trackprep.rules.reporting import Reporter
from trackprep.source import Place
from trackprep.syntax import tree


def heading(loaded: Loaded, reporter: Reporter) -> tree.Heading:
    """What the file says that it is; an empty heading after a problem."""
    found = [s for s in loaded.file.statements if isinstance(s, tree.Heading)]
    unread = any(u.keyword in ("ruleset", "vocabulary") for u in loaded.file.unread)
    if not found:
        if not unread:
            reporter.report(
                "heading-missing", "this file does not say what it is",
                Place(loaded.source, 0, 0),
                expected='`ruleset NAME "Title"`, or `vocabulary NAME "Title"` for facts alone',
                suggestion='begin it with `ruleset my-day "My day"`',
            )  # fmt: skip
        return tree.Heading("ruleset", "", "")
    for again in found[1:]:
        reporter.report(
            "said-twice", f"`{again.keyword}` stands here a second time", again.place,
            suggestion="keep one heading; a second ruleset belongs in a file of its own",
        )  # fmt: skip
    if found[0].keyword == "vocabulary":
        _only_facts(loaded, reporter)
    return found[0]


def _only_facts(loaded: Loaded, reporter: Reporter) -> None:
    """Reports what has no place in a vocabulary."""
    for statement in loaded.file.statements:
        if isinstance(
            statement,
            tree.Rule | tree.Limit | tree.List | tree.Withdraw | tree.Example | tree.Here,
        ):
            reporter.report(
                "not-in-vocabulary", "a vocabulary holds no rules, limits or examples",
                statement.place,
                expected="`fact`, `kind`, `derived`, `formula` and `table` statements"
                " under sections",
                suggestion="move this to a ruleset, or begin the file with `ruleset`",
            )  # fmt: skip


def own_edition(loaded: Loaded) -> str:
    """The edition of the file itself: its base's is not its own."""
    own = (s for s in loaded.file.statements if isinstance(s, tree.Prose))
    return next((s.text for s in own if s.keyword == "edition"), "")


def days_valid(statement: tree.Valid | None, reporter: Reporter) -> tuple[date, date] | None:
    """The first and the last day; None without a statement, or after a problem."""
    if statement is None:
        return None
    ends = []
    for day in (statement.first, statement.last):
        try:
            span = span_of(day.text)
        except ValueError as why:
            reporter.report("bad-date", str(why), day.place, expected="a date like `2026-06-14`")
            return None
        ends.append(span)
    if ends[0].first > ends[1].last:
        reporter.report(
            "reversed-range", "the ruleset ends before it begins", statement.place,
            suggestion="put the earlier date first",
        )  # fmt: skip
        return None
    return ends[0].first, ends[1].last
