"""`trackprep blank`: an empty declaration with what a ruleset asks for."""

from argparse import Namespace

from trackprep.cli.calls import CallError, CallParser, add_ruleset
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import note, note_command
from trackprep.cli.writing import STANDARD_OUTPUT, write_new
from trackprep.drafting import blank

ENDING = ".rider"


def arguments(parser: CallParser) -> None:
    """RULESET [-o FILE] [--overwrite]."""
    add_ruleset(parser)
    parser.add_argument(
        "-o", "--output", metavar="NEW", default=STANDARD_OUTPUT,
        help="the file to write, ending in .rider; else it is printed",
    )  # fmt: skip
    parser.add_argument("--overwrite", action="store_true", help="write over a file that is there")


def run(call: Namespace) -> int:
    """Writes the declaration; 0."""
    if call.output != STANDARD_OUTPUT and not call.output.endswith(ENDING):
        raise CallError(
            f"`{call.output}` does not end in {ENDING}, as a declaration has to",
            f"`-o {call.output}{ENDING}`",
        )
    text = blank(for_riders(call.ruleset).rules, call.ruleset)
    if write_new(call.output, text, overwrite=call.overwrite):
        note(f"{call.output} is written. Fill it in with any text editor, then:")
        note_command("check", call.output, "--for", call.ruleset)
    return 0
