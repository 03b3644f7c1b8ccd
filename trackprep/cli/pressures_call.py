"""How `trackprep pressures` is called: its steps, each with examples to copy at the bench."""

import re
from argparse import _SubParsersAction
from collections.abc import Sequence

from trackprep.cli.calls import CallParser
from trackprep.cli.writing import STANDARD_OUTPUT
from trackprep.measures.inputs import Input
from trackprep.pressures.tyres import (
    AIR,
    ALTITUDE,
    FIGURE,
    GIVEN_ALTITUDE,
    GIVEN_AT,
    HOT_AT,
    HOT_TARGET,
    LEAST,
    ROAD,
    SIDEWALL,
    WARM,
)

LOG = "pressures.log"
ENDINGS = {".html": "html", ".svg": "svg", ".md": "markdown", ".json": "json", ".txt": "text"}
OF_FIGURE = (GIVEN_AT, GIVEN_ALTITUDE, LEAST, SIDEWALL, ROAD, HOT_TARGET)

EXAMPLES = """\
At home, once: what the tyre's maker and the machine's manual say.
  trackprep pressures figure front 31psi --given-at 20C --least 26psi --sidewall 42psi --road 36psi
  trackprep pressures figure rear 2bar --given-at 20C --least 1.8bar --sidewall 2.9bar --road 2.5bar

In the paddock, cold, before the first ride: what to set.
  trackprep pressures now --air 9C --altitude 600m

At the bench, after every look at the gauge: what to do about it.
  trackprep pressures log front 30.2psi cold --air 9C
  trackprep pressures log front set 29.6psi cold --air 9C
  trackprep pressures log front 35.5psi hot --air 19C --tyre 62C

In between and at the end: the day as a table and a picture, and the road pressures.
  trackprep pressures show
  trackprep pressures show -o day.html

Without a log: trackprep pressures now front 31psi --given-at 20C --air 9C

The log is a file of text, pressures.log in the folder you are in; --log names another.
"""


STEPS = {
    "figure": (
        "TYRE [FIGURE] [--given-at VALUE] [--least VALUE] [--sidewall VALUE] [--road VALUE] …",
        "note what the tyre's maker and the machine's manual say of a tyre",
        "front 31psi --given-at 20C --least 26psi --sidewall 42psi --road 36psi",
        "front --hot-target 34psi",
    ),
    "now": (
        "[TYRE FIGURE] --air VALUE [--altitude VALUE] [--hot-at VALUE] …",
        "show what the figures equal now, when to check, and the working",
        "--air 9C --altitude 600m",
        "front 31psi --given-at 20C --air 9C",
    ),
    "log": (
        "TYRE [set] PRESSURE cold|hot [--air VALUE] [--tyre VALUE] …",
        "note a reading, and show what it asks for",
        "front 30.2psi cold --air 9C",
        "front set 29.3psi cold --air 9C",
        'rear 33psi hot --air 19C --tyre 62C --note "after session 2"',
    ),
    "show": (
        "[--on DATE] [-o NEW] [--as FORM] …",
        "show a day of the log as a table and a picture",
        "",
        "-o day.svg",
        "--on 2026-06-14 -o day.html",
    ),
}
"""Each step: how it is called, what it does, and calls as somebody would write them."""


def arguments(parser: CallParser) -> None:
    """[figure | now | log | show]; without one, the examples are shown."""
    parser.epilog = EXAMPLES
    steps = parser.add_subparsers(dest="verb", metavar="STEP", title="steps")
    _figure(_step(steps, "figure"))
    _now(_step(steps, "now"))
    _log(_step(steps, "log"))
    _show(_step(steps, "show"))


def _figure(one: CallParser) -> None:
    one.add_argument(
        "words", metavar="TYRE FIGURE", nargs="+",
        help=f"front or rear, and {FIGURE.says}: front {FIGURE.example}; the figure may be left"
        " out where it is noted already",
    )  # fmt: skip
    _options(one, OF_FIGURE)
    _log_option(one)


def _now(one: CallParser) -> None:
    one.add_argument(
        "words", metavar="TYRE FIGURE", nargs="*",
        help="one tyre with its figure, such as front 31psi; without it, those of the log",
    )  # fmt: skip
    _options(one, (AIR,), required=True)
    _options(one, (ALTITUDE, HOT_AT, *OF_FIGURE))
    _log_option(one)


def _log(one: CallParser) -> None:
    one.add_argument(
        "words", metavar="TYRE PRESSURE STATE", nargs="+",
        help="the tyre, what the gauge shows or what you set it to, and whether the tyre is cold"
        " or hot",
    )  # fmt: skip
    _options(one, (AIR, WARM, ALTITUDE))
    one.add_argument("--at", metavar="TIME", help="when, such as --at 08:10; else now")
    one.add_argument("--on", metavar="DATE", help="the day, such as --on 2026-06-14; else today")
    one.add_argument("--note", metavar="TEXT", default="", help="a few words to keep with it")
    _log_option(one)


def _show(one: CallParser) -> None:
    one.add_argument("--on", metavar="DATE", help="the day; else the last one with a reading")
    one.add_argument(
        "--as", dest="form", choices=tuple(ENDINGS.values()),
        help="how to write it; else by the ending of -o, or as text",
    )  # fmt: skip
    one.add_argument(
        "-o", "--output", metavar="NEW", default=STANDARD_OUTPUT,
        help="the file to write, such as day.svg or day.html; else it is printed",
    )  # fmt: skip
    one.add_argument("--overwrite", action="store_true", help="write over a file that is there")
    _log_option(one)


def _step(steps: "_SubParsersAction[CallParser]", name: str) -> CallParser:
    words, summary, *examples = STEPS[name]
    calls = "\n".join(f"  trackprep pressures {name} {example}".rstrip() for example in examples)
    one = steps.add_parser(
        name, usage=f"trackprep pressures {name} {words}", help=summary,
        description=f"{summary[0].upper()}{summary[1:]}.",
        epilog=f"Examples:\n{calls}",
    )  # fmt: skip
    # A temperature below zero, `-5C`, is a value and no option.
    one._negative_number_matcher = re.compile(r"-[0-9]")
    return one


def _options(parser: CallParser, inputs: Sequence[Input], *, required: bool = False) -> None:
    for asked in inputs:
        parser.add_argument(
            f"--{asked.name}", dest=asked.name, metavar="VALUE", required=required,
            help=f"{asked.says}; such as --{asked.name} {asked.example}",
        )  # fmt: skip


def _log_option(parser: CallParser) -> None:
    parser.add_argument("--log", metavar="LOG", help=f"the file of the log; else {LOG}")
