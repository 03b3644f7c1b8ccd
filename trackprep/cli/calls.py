"""How a command is called: its arguments, and what is wrong with them."""

import argparse
import re
from datetime import date
from typing import Any, NoReturn

from trackprep.cli.terminal import PLAIN_WIDTH, width, wrapped
from trackprep.problems import Problem


class CallError(Exception):
    """A call that cannot be carried out."""

    def __init__(self, message: str, suggestion: str | None = None) -> None:
        self.problem = Problem("unusable-call", message, suggestion=suggestion)
        super().__init__(str(self.problem))


class CallHelp(argparse.RawDescriptionHelpFormatter):
    """Help to the terminal's width, and to the one width everywhere else."""

    def __init__(self, prog: str, **more: Any) -> None:
        # Left to itself, argparse imports `shutil` for the width, even where it prints nothing.
        super().__init__(prog, **{"width": min(width(), PLAIN_WIDTH) - 2, **more})

    def _fill_text(self, text: str, width: int, indent: str) -> str:
        """Paragraphs wrapped; a text with line breaks stays as it is."""
        if "\n" in text:
            return super()._fill_text(text, width, indent)
        return wrapped(text, indent=indent, columns=width)


class CallParser(argparse.ArgumentParser):
    """A parser whose errors are ours to print."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**{"formatter_class": CallHelp, "allow_abbrev": False, **settings})

    def error(self, message: str) -> NoReturn:
        """Raises `CallError`."""
        # argparse lists the choices between quotes of its own.
        if found := re.fullmatch(
            r"argument (.+): invalid choice: '(.*)' \(choose from (.*)\)", message
        ):
            shown = found[3].replace("'", "`")
            message = f"{found[1]}: there is no `{found[2]}`; there are {shown}"
        raise CallError(message, f"`{self.prog} --help` shows how to call it")


def add_ruleset(parser: argparse.ArgumentParser, *, several: bool = False) -> None:
    """The argument that names the ruleset, or more than one of them."""
    parser.add_argument(
        "rulesets" if several else "ruleset",
        metavar="RULESET",
        nargs="+" if several else None,
        help="a file ending in .trackrules, or the name of a ruleset that ships with trackprep",
    )


def day_of(text: str) -> date:
    """The day that `--on` names.

    Raises:
        CallError: It is none.
    """
    # Not needed by a call without it.
    from trackprep.dates import span_of

    try:
        span = span_of(text)
    except ValueError as error:
        raise CallError(f"--on: {error}") from None
    if not span.exact:
        raise CallError(f"--on: `{text}` is not one day", f"write the day too: {text}-01"[:60])
    return span.first
