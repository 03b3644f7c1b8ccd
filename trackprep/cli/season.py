"""`trackprep check --season`, and the report in a shape to keep: a page, a file."""

import os
import sys
from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import trackprep
from trackprep.cli.calls import CallError, day_of
from trackprep.cli.pages import tell, write
from trackprep.cli.terminal import PLAIN_WIDTH, is_rich, note, width
from trackprep.cli.writing import STANDARD_OUTPUT, json_text
from trackprep.dates import Span, long_form, span_of
from trackprep.reports.checks.page import report_page
from trackprep.reports.season.bars import ASCII, BLOCKS
from trackprep.reports.season.page import SeasonPage
from trackprep.rider.lookahead import MOST_DAYS

if TYPE_CHECKING:
    from trackprep.reports.season.report import SeasonReport
    from trackprep.ruleset import Ruleset

CODES = {"ready": 0, "not-ready": 1, "incomplete": 3}
WITH_PROBLEMS = 2
FORM = "`--season 2026-03-01..2026-10-31`, the first and the last day, or two months, or a year"


def season(call: Namespace, rulesets: "Sequence[Ruleset]") -> int:
    """Prints or writes the season; the exit code tells the worst verdict of its days."""
    if len(call.riders) > 1 or Path(call.riders[0]).is_dir():
        raise CallError("--season looks ahead for one rider", "name one file")
    span = season_of(call.season)
    report = trackprep.look_ahead(
        call.riders[0], *rulesets, first=span.first, last=span.last, on=_day(call, span)
    )
    if call.on is None and (call.form == "json" or _has_report(call, report)):
        day = long_form(report.reports[0].event)
        note(f"The report is for {day}, as no other day was asked for with --on.")
    _show(call, report)
    asked = report.reports if call.on is not None else ()
    if report.never_known or any(one.problems for one in asked):
        return WITH_PROBLEMS
    return CODES[report.worst]


def season_of(text: str) -> Span:
    """The days that `--season` names: `2026-03-01..2026-10-31`, `2026-03..2026-10`, `2026`.

    Raises:
        CallError: It names none, or more than ten years.
    """
    first, dots, last = text.partition("..")
    if not dots and len(text) > len("2026-03"):
        raise CallError(f"--season: `{text}` is no season", FORM)
    try:
        starts, ends = span_of(first.strip()), span_of((last if dots else first).strip())
    except ValueError as error:
        raise CallError(f"--season: {error}", FORM) from None
    if ends.last < starts.first:
        said = f"{long_form(ends.last)} lies before {long_form(starts.first)}"
        raise CallError(f"--season: {said}", "the first day first")
    if (ends.last - starts.first).days >= MOST_DAYS:
        raise CallError(f"--season: `{text}` is longer than ten years", "a shorter season")
    return Span(starts.first, ends.last)


def _day(call: Namespace, span: Span) -> date:
    """The day of the report beside the season: as asked, else today, else the season's first."""
    if call.on is not None:
        return day_of(call.on)
    today = date.today()
    return today if span.first <= today <= span.last else span.first


def _show(call: Namespace, report: "SeasonReport") -> None:
    if call.form == "json":
        write(call, json_text(report.to_dict()))
        return
    printed = call.output == STANDARD_OUTPUT
    columns = width() if call.form == "text" and printed else PLAIN_WIDTH
    signs = BLOCKS if _draws(call) else ASCII
    private = call.form == "text"
    season = SeasonPage(
        report.events, report.reports, columns=columns, signs=signs, private=private
    )
    if _has_report(call, report):
        tell(call, report_page(report.reports[0], season.blocks()))
    elif call.form == "text" and call.on is not None and printed:
        for one in report.reports:
            print(one.text(width=columns))
            print()
        tell(call, season.page())
    else:
        tell(call, season.page())


def _has_report(call: Namespace, report: "SeasonReport") -> bool:
    """Whether the page of a single report is what is written, with the season in it."""
    return call.form in ("html", "markdown") and len(report.reports) == 1


def _draws(call: Namespace) -> bool:
    """Whether a terminal shows the bars, and nobody asked for plain characters."""
    if call.form != "text" or call.output != STANDARD_OUTPUT or os.environ.get("NO_COLOR"):
        return False
    encoding = (sys.stdout.encoding or "").lower().replace("-", "")
    return is_rich() and encoding.startswith("utf")


def write_report(call: Namespace, report: "trackprep.Report") -> None:
    """A single report, as a page or in a file."""
    if call.form == "json":
        write(call, json_text(report.to_dict()))
    elif call.form == "text":
        write(call, report.text() + "\n")
    else:
        tell(call, report.page)
