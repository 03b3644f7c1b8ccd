"""`trackprep check`: the report on a declaration, for an event."""

from argparse import Namespace
from datetime import date
from pathlib import Path

import trackprep
from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import is_rich, note, say, width
from trackprep.dates import long_form

CODES = {"ready": 0, "not-ready": 1, "incomplete": 3}
WITH_PROBLEMS = 2


def arguments(parser: CallParser) -> None:
    """RIDER --for RULESET [--on DATE] [--as text|json]."""
    parser.epilog = (
        "Ends with 0 if the rider is ready to present, 1 if not, 3 if the declaration"
        " is incomplete, 2 if a file or the call has a problem."
    )
    parser.add_argument("rider", metavar="RIDER", help="a file ending in .rider, .toml or .json")
    parser.add_argument(
        "--for", dest="ruleset", metavar="RULESET", required=True,
        help="the rules: a file ending in .trackrules, or the name of a shipped ruleset",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE", help="the day of the event, such as 2026-06-14; else today"
    )
    parser.add_argument(
        "--as", dest="form", choices=("text", "json"), default="text", help="how to print"
    )


def run(call: Namespace) -> int:
    """Prints the report; the exit code tells the verdict."""
    day = date.today() if call.on is None else day_of(call.on)
    rules = for_riders(call.ruleset)
    if rules.rules.vocabulary:
        raise CallError(
            f"`{call.ruleset}` is a vocabulary: it has facts, and no rule to check by",
            "the rules of your event, or a shipped ruleset such as `common-practice`",
        )
    declaration = trackprep.read_declaration(Path(call.rider), rules)
    report = rules.check(declaration, on=day)
    today = f"Checked for today, {long_form(day)}, as no other day was asked for with --on."
    if call.form == "json":
        import json  # not needed by people

        if call.on is None:
            note(today)
        print(json.dumps(report.to_dict(), indent=2, ensure_ascii=False))
    else:
        if call.on is None:
            say(today)
            say()
        _print(report)
    return WITH_PROBLEMS if report.problems else CODES[report.verdict]


def _print(report: "trackprep.Report") -> None:
    if is_rich():
        from trackprep.reports.text import print_rich  # Rich is slow to import

        print_rich(report, width=width())
    else:
        print(report.text(width=width()))
