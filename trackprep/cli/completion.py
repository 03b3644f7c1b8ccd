"""What the Tab key offers: commands, options, files of the right kind, shipped rulesets."""

import argparse
from collections.abc import Iterable

from argcomplete import autocomplete
from argcomplete.completers import FilesCompleter
from argcomplete.shell_integration import shellcode

from trackprep.cli.measure import FIRST
from trackprep.cli.rulesets import shipped_rulesets

_RULE_FILES = ("trackrules",)
_RIDER_FILES = ("rider", "toml", "json")


def script(shell: str) -> str:
    """What the shell has to read once, so that its Tab key asks us."""
    return shellcode(["trackprep"], shell=shell)


def complete(parser: argparse.ArgumentParser) -> None:
    """Answers the shell and ends the process, where the shell has asked."""
    for action in _actions(parser):
        offered = _offered(action)
        if offered is not None:
            action.completer = offered  # type: ignore[attr-defined]
    autocomplete(parser)


def _actions(parser: argparse.ArgumentParser) -> Iterable[argparse.Action]:
    for action in parser._actions:  # argparse has no public way to walk them
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                yield from _actions(inner)


def _offered(action: argparse.Action) -> object | None:
    match action.metavar:
        case "RULESET":
            return _rulesets
        case "SHIPPED":
            return _shipped
        case "LOG":
            return FilesCompleter(("log",))
        case "RIDER":
            return FilesCompleter(_RIDER_FILES)
        case "FILE":
            return FilesCompleter((*_RULE_FILES, "rider"))
        case "DATE" | "TIME" | "TITLE" | "TEXT" | "WORD" | "VALUE":
            return _nothing
        case _ if action.dest == FIRST:
            return _nothing
        case _:
            return None


def _nothing(prefix: str, **_: object) -> list[str]:
    """No value can be offered; argcomplete's own way to say so takes the option's name away too."""
    return []


def _shipped(prefix: str, **_: object) -> list[str]:
    return [name for name in shipped_rulesets() if name.startswith(prefix)]


def _rulesets(prefix: str, **rest: object) -> Iterable[str]:
    files = FilesCompleter(_RULE_FILES)(prefix, **rest)
    return [*_shipped(prefix), *files]
