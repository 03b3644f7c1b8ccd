"""`trackprep worklist`: what a rider has left to find out, to do, to get and to put back."""

from argparse import Namespace
from datetime import date
from pathlib import Path

import trackprep
from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.pages import add_shapes, tell, write
from trackprep.cli.rulesets import with_rules
from trackprep.cli.terminal import note
from trackprep.cli.writing import json_text
from trackprep.dates import long_form
from trackprep.declarations.several import read_for_all

CODES = {"ready": 0, "not-ready": 1, "incomplete": 3}
WITH_PROBLEMS = 2


def arguments(parser: CallParser) -> None:
    """RIDER --for RULESET … [--on DATE] [--ridden | --carried] [--as FORM] [-o FILE]."""
    parser.epilog = (
        "Ends as `check` does: with 0 if the rider is ready to present, 1 if not, 3 if the"
        " declaration is incomplete, 2 if a file or the call has a problem; of several events,"
        " with the worst."
    )
    parser.add_argument("rider", metavar="RIDER", help="a file ending in .rider, .toml or .json")
    parser.add_argument(
        "--for", dest="rulesets", metavar="RULESET", action="append", required=True,
        help="the rules: a file ending in .trackrules, or the name of a shipped ruleset; once for"
        " each event",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE", help="the day of the event, such as 2026-06-14; else today"
    )
    arrival = parser.add_mutually_exclusive_group()
    arrival.add_argument(
        "--ridden", dest="arrival", action="store_const", const="ridden",
        help="the machine comes on its own wheels, as is assumed where it is declared to be"
        " registered for the road",
    )  # fmt: skip
    arrival.add_argument(
        "--carried", dest="arrival", action="store_const", const="carried",
        help="the machine comes on a trailer or in a van",
    )  # fmt: skip
    add_shapes(parser)


def run(call: Namespace) -> int:
    """Prints or writes the list; the exit code tells the verdict."""
    today = date.today()
    day = today if call.on is None else day_of(call.on)
    rulesets = [with_rules(name, "rule to work for") for name in dict.fromkeys(call.rulesets)]
    declarations = read_for_all(Path(call.rider), call.rider, [one.rules for one in rulesets])
    reports = [
        ruleset.check(declaration, on=day)
        for ruleset, declaration in zip(rulesets, declarations, strict=True)
    ]
    if call.on is None:
        note(f"Made for today, {long_form(day)}, as no other day was asked for with --on.")
    try:
        report = trackprep.worklist(*reports, arrival=call.arrival, today=today)
    except ValueError as why:
        raise CallError(f"--{call.arrival}: {why}", "leave it out") from None
    if call.form == "json":
        write(call, json_text(report.to_dict()))
    else:
        tell(call, report.page)
    return WITH_PROBLEMS if any(one.problems for one in reports) else CODES[report.verdict]
