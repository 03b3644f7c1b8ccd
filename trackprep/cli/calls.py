"""How a command is called: its arguments, and what is wrong with them."""

import argparse
from typing import NoReturn

from trackprep.problems import Problem


class CallError(Exception):
    """A call that cannot be carried out."""

    def __init__(self, message: str, suggestion: str | None = None) -> None:
        self.problem = Problem("unusable-call", message, suggestion=suggestion)
        super().__init__(str(self.problem))


class CallParser(argparse.ArgumentParser):
    """A parser whose errors are ours to print."""

    def error(self, message: str) -> NoReturn:
        """Raises `CallError`."""
        raise CallError(message, f"`{self.prog} --help` shows how to call it")


def add_ruleset(parser: argparse.ArgumentParser, *, several: bool = False) -> None:
    """The argument that names the ruleset, or more than one of them."""
    parser.add_argument(
        "rulesets" if several else "ruleset",
        metavar="RULESET",
        nargs="+" if several else None,
        help="a file ending in .trackrules, or the name of a ruleset that ships with trackprep",
    )
