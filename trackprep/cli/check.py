"""`trackprep check`: the report on a declaration, for an event."""

from argparse import Namespace
from datetime import date
from pathlib import Path

import trackprep
from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.rulesets import with_rules
from trackprep.cli.terminal import is_rich, note, say, width
from trackprep.cli.writing import json_text
from trackprep.dates import long_form

CODES = {"ready": 0, "not-ready": 1, "incomplete": 3}
WITH_PROBLEMS = 2


def arguments(parser: CallParser) -> None:
    """RIDER… --for RULESET … [--on DATE] [--season FIRST..LAST] [--what-would-do] [--as FORM] …."""
    parser.epilog = (
        "Ends with 0 if the rider is ready to present, 1 if not, 3 if the declaration"
        " is incomplete, 2 if a file or the call has a problem; of several answers, and of all days"
        " of a season, with the worst: 2, then 1, then 3."
    )
    parser.add_argument(
        "riders", metavar="RIDER", nargs="+",
        help="a file ending in .rider, .toml or .json; several of them, or a folder, make a table"
        " of riders",
    )  # fmt: skip
    parser.add_argument(
        "--for", dest="rulesets", metavar="RULESET", action="append", required=True,
        help="the rules: a file ending in .trackrules, or the name of a shipped ruleset; once for"
        " each event",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE",
        help="the day of the event, such as 2026-06-14; else today, or the first day of a --season"
        " that today does not lie in",
    )  # fmt: skip
    parser.add_argument(
        "--season", metavar="FIRST..LAST",
        help="look ahead: on which day which rule starts to answer otherwise with nothing changed,"
        " such as 2026-03-01..2026-10-31",
    )  # fmt: skip
    parser.add_argument(
        "--what-would-do", action="store_true",
        help="for each rule not met show the least that meets it, and the least to be ready to"
        " present",
    )  # fmt: skip
    parser.add_argument(
        "--as", dest="form", choices=("text", "markdown", "html", "json"), default="text",
        help="how to write it; HTML is one file to open in a browser",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="NEW", default="-", help="the file to write; else it is printed"
    )
    parser.add_argument("--overwrite", action="store_true", help="write over a file that is there")


def run(call: Namespace) -> int:
    """Prints the report; the exit code tells the verdict."""
    day = date.today() if call.on is None else day_of(call.on)
    rulesets = [with_rules(name, "rule to check by") for name in dict.fromkeys(call.rulesets)]
    if call.what_would_do:
        _must_be_single(call, rulesets)
    if call.season is not None:
        from trackprep.cli.season import season  # not needed for a single report

        return season(call, rulesets)
    if len(call.riders) > 1 or len(rulesets) > 1 or Path(call.riders[0]).is_dir():
        from trackprep.cli.riders import table  # not needed for a single report

        return table(call, rulesets, day)
    (rider,), (rules,) = call.riders, rulesets
    declaration = trackprep.read_declaration(Path(rider), rules)
    report = rules.check(declaration, on=day)
    today = f"Checked for today, {long_form(day)}, as no other day was asked for with --on."
    if call.what_would_do:
        from trackprep.cli.would_do import show  # it needs a solver

        if call.on is None:
            note(today)
        show(call, report)
    elif call.form in ("html", "markdown") or call.output != "-":
        from trackprep.cli.season import write_report  # not needed by what is printed

        if call.on is None:
            note(today)
        write_report(call, report)
    elif call.form == "json":
        if call.on is None:
            note(today)
        print(json_text(report.to_dict()), end="")
    else:
        if call.on is None:
            say(today)
            say()
        print_report(report)
    return WITH_PROBLEMS if report.problems else CODES[report.verdict]


def _must_be_single(call: Namespace, rulesets: "list[trackprep.Ruleset]") -> None:
    """Raises `CallError` where there is not one rider for one event on one day."""
    if call.season is not None:
        raise CallError("--what-would-do is for one day, and --season for many", "one of them")
    if len(rulesets) > 1:
        names = " ".join(dict.fromkeys(call.rulesets))
        raise CallError(
            "--what-would-do is for one event",
            f"`trackprep compare {names} --rider {call.riders[0]}` for several",
        )
    if len(call.riders) > 1 or Path(call.riders[0]).is_dir():
        raise CallError("--what-would-do is for one rider", "name one file")


def print_report(report: "trackprep.Report") -> None:
    """Prints the report, in colour where that is a terminal."""
    if is_rich():
        from trackprep.reports.text import print_rich  # Rich is slow to import

        print_rich(report, width=width())
    else:
        print(report.text(width=width()))
