"""`trackprep compare`: how rulesets differ, each difference with a machine that shows it."""

from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import trackprep
from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.pages import add_shapes, tell, write
from trackprep.cli.rulesets import with_rules
from trackprep.cli.terminal import note
from trackprep.cli.writing import json_text
from trackprep.dates import long_form

if TYPE_CHECKING:
    from trackprep.reports.venues.report import ReadinessReport, VenuesReport
    from trackprep.ruleset import Ruleset

CODES = {"same": 0, "differs": 1, "undecided": 3}
VERDICTS = {"ready": 0, "not-ready": 1, "incomplete": 3}
WITH_PROBLEMS = 2


def arguments(parser: CallParser) -> None:
    """A B [C …] [--rider RIDER] [--changes] [--on DATE] [--whole] [--as FORM] [-o FILE]."""
    parser.epilog = (
        "Ends with 0 if the rules ask the same, 1 if they differ, 3 if something could not be"
        " told, 2 if a file or the call has a problem. Other words alone are no difference."
        " With --rider it ends as `check` does, by the worst of the events."
    )
    parser.add_argument(
        "rulesets", metavar="RULESET", nargs="+",
        help="two of them, the one to look from first, or more to set side by side: a file ending"
        " in .trackrules, or the name of a shipped ruleset",
    )  # fmt: skip
    parser.add_argument(
        "--rider", metavar="RIDER",
        help="show where the rider of this file is ready, and the least to change to be ready at"
        " each event and at all of them",
    )  # fmt: skip
    parser.add_argument(
        "--changes", action="store_true",
        help="the change log, to paste where riders read it; the earlier edition comes first",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE",
        help="compare for an event on this day alone; else for every day that all are valid, or for"
        " a rider today if it is one of them, and else the first of them",
    )  # fmt: skip
    parser.add_argument(
        "--whole", action="store_true",
        help="show long declarations to the last fact; HTML and JSON always have them",
    )  # fmt: skip
    add_shapes(parser)


def run(call: Namespace) -> int:
    """Prints or writes the comparison; the exit code tells whether anything differs."""
    rulesets = [with_rules(name, "rule to compare") for name in call.rulesets]
    if call.changes and (len(rulesets) > 2 or call.rider is not None):
        raise CallError(
            "--changes is for two editions of one ruleset",
            "`trackprep compare --changes EARLIER LATER`",
        )
    if call.rider is not None:
        return _rider(call, rulesets)
    if len(rulesets) < 2:
        raise CallError(
            "`compare` takes two rulesets or more, and here is one",
            "`trackprep compare common-practice tarn-hollow`",
        )
    if len(rulesets) > 2:
        return _several(call, rulesets)
    return _two(call, *rulesets)


def _two(call: Namespace, one: "Ruleset", other: "Ruleset") -> int:
    """Two rulesets, or two editions of one."""
    report = trackprep.compare(one, other, on=_day(call))
    if call.form == "json":
        write(call, json_text(report.to_dict()))
    else:
        tell(call, report.changes if call.changes else report.page, whole=call.whole)
    return CODES[report.outcome]


def _several(call: Namespace, rulesets: "Sequence[Ruleset]") -> int:
    """Three rulesets and more, side by side."""
    one, other, third, *more = rulesets
    report = trackprep.compare(one, other, third, *more, on=_day(call))
    _show(call, report)
    return CODES[report.outcome]


def _rider(call: Namespace, rulesets: "Sequence[Ruleset]") -> int:
    """One rider at one or more events."""
    day = _day(call)
    if day is None:
        day, why = _next_day(rulesets)
        note(f"Asked for {long_form(day)}, {why}, as no other day was asked for with --on.")
    report = trackprep.readiness(call.rider, *rulesets, on=day)
    _show(call, report)
    if any(one.problems for one in report.reports):
        return WITH_PROBLEMS
    return VERDICTS[report.verdict]


def _next_day(rulesets: "Sequence[Ruleset]") -> tuple[date, str]:
    """The day to look at where none is asked for."""
    from trackprep.analysis.periods import period_of

    today = date.today()
    rules = [ruleset.rules for ruleset in rulesets]
    if all(one.valid is None or one.valid[0] <= today <= one.valid[1] for one in rules):
        return today, "today"
    period = period_of(*rules)
    return period.first, f"the first day of these: {period.why}"


def _day(call: Namespace) -> date | None:
    return None if call.on is None else day_of(call.on)


def _show(call: Namespace, report: "VenuesReport | ReadinessReport") -> None:
    if call.form == "json":
        write(call, json_text(report.to_dict()))
    else:
        tell(call, report.page, whole=call.whole)
