"""`trackprep draft`: a rule file to start from."""

from argparse import Namespace
from datetime import date

from trackprep.cli.calls import CallError, CallParser
from trackprep.cli.rulesets import shipped_rulesets
from trackprep.cli.terminal import note, note_command
from trackprep.cli.writing import STANDARD_OUTPUT, write_new
from trackprep.drafting import draft, draft_like
from trackprep.published import ENDING


def arguments(parser: CallParser) -> None:
    """TITLE [--like SHIPPED] -o FILE [--overwrite]."""
    parser.add_argument("title", metavar="TITLE", help='what people call the day, such as "My day"')
    parser.add_argument(
        "--like", metavar="SHIPPED",
        help="start from the rules of a shipped ruleset, and say only what is different",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="NEW", required=True,
        help=f"the file to write, ending in {ENDING}; - prints it",
    )  # fmt: skip
    parser.add_argument("--overwrite", action="store_true", help="write over a file that is there")


def run(call: Namespace) -> int:
    """Writes the rule file; 0."""
    if call.output != STANDARD_OUTPUT and not call.output.endswith(ENDING):
        raise CallError(
            f"`{call.output}` does not end in {ENDING}, as a rule file has to",
            f"`-o {call.output}{ENDING}`",
        )
    if write_new(call.output, _text(call), overwrite=call.overwrite):
        note(f"{call.output} is written. Change it with any text editor, then:")
        note_command("proofread", call.output)
    return 0


def _text(call: Namespace) -> str:
    year = date.today().year
    try:
        if call.like is None:
            return draft(call.title, year=year)
        if call.like not in shipped_rulesets():
            raise CallError(
                f"no ruleset called `{call.like}` is shipped",
                f"one of {', '.join(shipped_rulesets())}",
            )
        return draft_like(call.like, call.title, year=year)
    except ValueError as error:
        raise CallError(str(error)) from None
