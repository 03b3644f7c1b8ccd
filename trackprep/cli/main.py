"""From the arguments of a call to its exit code; whatever goes wrong ends in one clear message."""

import atexit
import gc
import os
import sys
from argparse import Namespace
from collections.abc import Iterable, Sequence
from importlib import import_module
from io import TextIOWrapper
from typing import Protocol, cast

import trackprep
from trackprep.cli.calls import CallError, CallParser
from trackprep.problems import FileError, Problem

SUMMARIES = {
    "draft": "write a rule file to start from",
    "facts": "show what riders are asked, or find a fact by a word",
    "proofread": "show every mistake in rule files, and prove what they claim",
    "rehearse": "run the examples in rule files",
    "read-back": "say each rule as a plain sentence",
    "neaten": "put files into the one layout, in place",
    "compare": "show how rulesets differ, and where a rider is ready",
    "handout": "write the papers of an event, to put on the web and to print",
    "same-edition": "tell whether a sheet or a rule file is the edition that you have",
    "ask": "ask a rider what the rules of an event still have to know",
    "blank": "write an empty declaration with what a ruleset asks",
    "check": "report whether a declaration meets the rules of an event",
    "worklist": "list what a rider has left to find out, to do, to get and to put back",
    "measure": "work out one of the trade's numbers, with the working",
    "pressures": "set tyres for the track, keep the day's readings, and set them back",
}
"""Those of organizers first, then those of riders; each group in the order of its work."""
SHELLS = ("bash", "zsh", "fish")

TROUBLE = 2
INTERRUPTED = 130
NOBODY_READS = 141
"""As of a program that SIGPIPE ends."""

_EPILOG = """\
`trackprep COMMAND --help` shows how to call a command.

To let the Tab key complete commands, options, files and shipped rulesets:
  bash   put  eval "$(trackprep --completion bash)"      into ~/.bashrc
  zsh    put  eval "$(trackprep --completion zsh)"       into ~/.zshrc, after compinit
  fish   put  trackprep --completion fish | source       into ~/.config/fish/config.fish

What trackprep says rests on what was declared. The organizer's inspector, the
machine's manual, local law and a qualified mechanic come first.
"""


class Command(Protocol):
    """What the module of a command has."""

    def arguments(self, parser: CallParser) -> None:
        """Tells the parser what the command takes."""

    def run(self, call: Namespace) -> int:
        """Does it; the exit code."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Carries out a call, the process's own unless another is given; its exit code."""
    if arguments is None:
        arguments = sys.argv[1:]
        _leave_no_garbage()
    _speak_utf8()
    try:
        return _answered(arguments)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        _forget_output()
        return NOBODY_READS
    except OSError as error:
        _forget_output()
        problem = Problem("output", f"the output cannot be written: {error.strerror or error}")
    # Nobody at a keyboard is served by a traceback, whatever we did wrong.
    except Exception as error:
        if os.environ.get("TRACKPREP_TRACEBACK"):
            raise
        problem = Problem(
            "fault",
            f"this is a mistake in trackprep itself ({type(error).__name__}: {error})",
            suggestion="please report it with the files; TRACKPREP_TRACEBACK=1 shows where it is",
        )
    _fail([problem], as_json=False)
    return TROUBLE


def _leave_no_garbage() -> None:
    """Spares a short-lived process the search for cycles, which finds none worth it.

    At a start it walks all that was imported again and again, and at the end, unless it
    is frozen, everything once more: together a sixth of a check.
    """
    gc.set_threshold(500_000)  # objects; a whole check makes fewer
    atexit.register(gc.freeze)


def _answered(arguments: Sequence[str]) -> int:
    """The exit code of a call, and what stands in the way of it as a message."""
    try:
        code = _carried_out(arguments)
        _flush()
        return code
    except SystemExit as done:  # argparse after `--help`
        _flush()
        return TROUBLE if done.code else 0
    except FileError as error:
        problems: Sequence[Problem] = error.problems
    except CallError as error:
        problems = [error.problem]
    except OSError as error:
        if error.filename is None:
            raise
        from trackprep.cli.failures import of_system

        problems = [of_system(error)]
    _fail(problems, as_json=_wants_json(arguments))
    _flush()
    return TROUBLE


def _carried_out(arguments: Sequence[str]) -> int:
    if "_ARGCOMPLETE" in os.environ:
        from trackprep.cli.completion import complete  # only for the Tab key

        complete(parser(*SUMMARIES))
    name = next((word for word in arguments if not word.startswith("-")), None)
    named = (name,) if name in SUMMARIES else ()
    # A call that begins with its command never shows the others, so they are not made.
    begins = bool(named) and name == arguments[0]
    top = parser(*named, among=named if begins else SUMMARIES)
    if name and name not in SUMMARIES and name == arguments[0]:
        raise CallError(f"there is no command `{name}`", _nearest_command(name))
    call = top.parse_args(arguments)
    if call.version:
        print(f"trackprep {trackprep.__version__}")
        return 0
    if call.completion:
        from trackprep.cli.completion import script

        print(script(call.completion))
        return 0
    if call.command is None:
        top.print_help(sys.stderr)
        return TROUBLE
    return _command(call.command).run(call)


def parser(*names: str, among: Iterable[str] = SUMMARIES) -> CallParser:
    """The parser of a call to one `among` commands, with what each of the named ones takes."""
    top = CallParser(
        prog="trackprep",
        description="Tech inspection of motorcycle track days: "
        "write the rules, check what riders declare.",
        epilog=_EPILOG,
    )
    top.add_argument("--version", action="store_true", help="show the version and end")
    top.add_argument("--completion", choices=SHELLS, help="print what the Tab key needs; see below")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for name in among:
        summary = SUMMARIES[name]
        one = commands.add_parser(name, help=summary, description=f"{summary.capitalize()}.")
        if name in names:
            _command(name).arguments(one)
    return top


def _command(name: str) -> Command:
    """A command's module, imported only when it is called."""
    return cast(Command, import_module(f"trackprep.cli.{name.replace('-', '_')}"))


def _nearest_command(name: str) -> str:
    from trackprep.rules.reporting import nearest

    near = nearest(name, tuple(SUMMARIES))
    return f"`trackprep {near}`" if near else f"one of {', '.join(SUMMARIES)}"


def _fail(problems: Sequence[Problem], *, as_json: bool) -> None:
    from trackprep.cli.failures import print_failure  # not needed by a call that goes well

    print_failure(problems, as_json=as_json)


def _wants_json(arguments: Sequence[str]) -> bool:
    """Whether a program reads the output, told even where the call is wrong otherwise."""
    said = " ".join(arguments)
    return "--as json" in said or "--as=json" in said


def _speak_utf8() -> None:
    """Files that our output is sent to are read back as UTF-8, and no name is unprintable."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            encoding = None if stream.isatty() else "utf-8"
            stream.reconfigure(encoding=encoding, errors="backslashreplace")


def _flush() -> None:
    if sys.stdout is not None:
        sys.stdout.flush()


def _forget_output() -> None:
    """Lets Python end without trying again to write what nobody can take."""
    if sys.stdout is not None:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
