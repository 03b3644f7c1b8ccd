"""`trackprep neaten`: files in the one layout, rewritten in place."""

import re
import sys
from argparse import Namespace
from difflib import SequenceMatcher
from hashlib import sha256
from pathlib import Path

from trackprep.cli.calls import CallError, CallParser
from trackprep.cli.failures import of_system, print_failure
from trackprep.cli.writing import replace
from trackprep.problems import FileError, Problem
from trackprep.published import ENDING
from trackprep.rules.files import LARGEST_FILE, UnreadableFileError, read_text
from trackprep.source import Source
from trackprep.syntax.neaten import neatened

NEAT, WOULD_CHANGE, TROUBLE = 0, 1, 2
STANDARD_INPUT = "-"
ENDINGS = (ENDING, ".rider")
_DECLARATION = re.compile(
    r"(?:\s|#[^\n]*\n)*(?:declaration\b|declared\b|[\w.-]+\s+is\b)", re.IGNORECASE
)


def arguments(parser: CallParser) -> None:
    """FILE… [--check]."""
    parser.epilog = (
        "Lines end in LF and there is no byte order mark afterwards. Comments stay, and what the"
        " file says stays the same. With --check: 1 if a file would change. A file with mistakes"
        " is left alone, and the end is 2."
    )
    parser.add_argument(
        "files", metavar="FILE", nargs="+",
        help="files ending in .trackrules or .rider; - reads standard input, and prints it neat",
    )  # fmt: skip
    parser.add_argument("--check", action="store_true", help="only say what would change")


def run(call: Namespace) -> int:
    """Rewrites the files, each on its own; the exit code tells the worst."""
    codes = [_neatened(name, check=call.check) for name in dict.fromkeys(call.files)]
    return max(codes)


def _neatened(name: str, *, check: bool) -> int:
    try:
        return _piped(check=check) if name == STANDARD_INPUT else _rewritten(name, check=check)
    except FileError as error:
        problems = error.problems
    except CallError as error:
        problems = (error.problem,)
    except OSError as error:
        problems = (of_system(error),)
    print_failure(problems, as_json=False)
    return TROUBLE


def _rewritten(name: str, *, check: bool) -> int:
    if Path(name).is_dir():
        raise CallError(f"`{name}` is a folder", "name the files in it")
    if not name.endswith(ENDINGS):
        raise CallError(
            f"`{name}` is no file to neaten", f"a name ending in {' or '.join(ENDINGS)}"
        )
    try:
        text, digest = read_text(Path(name))
    except UnreadableFileError as error:
        raise FileError([Problem("unreadable-file", str(error), name=name)]) from None
    neat = neatened(Source(name, text))
    if sha256(neat.encode()).hexdigest() == digest:
        print(f"{name}: neat already")
        return NEAT
    if not check:
        replace(Path(name), neat)
    print(f"{name}: {'would change' if check else 'neatened'}, {_changes(text, neat)}")
    return WOULD_CHANGE if check else NEAT


def _piped(*, check: bool) -> int:
    """Standard input, neat, to standard output."""
    data = sys.stdin.buffer.read(LARGEST_FILE + 1)
    if len(data) > LARGEST_FILE:
        raise CallError(f"standard input has more than {LARGEST_FILE:,} bytes")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CallError(f"byte {error.start + 1} of standard input is not UTF-8 text") from None
    ending = ".rider" if _DECLARATION.match(text) else ENDING
    neat = neatened(Source(f"standard-input{ending}", text))
    if not check:
        print(neat, end="")
        return NEAT
    if neat.encode() == data:
        print("standard input: neat already")
        return NEAT
    print(f"standard input: would change, {_changes(text, neat)}")
    return WOULD_CHANGE


def _changes(before: str, after: str) -> str:
    """How many lines are other ones, from which on, and what else is."""
    matcher = SequenceMatcher(None, before.splitlines(), after.splitlines())
    changed = [block for block in matcher.get_opcodes() if block[0] != "equal"]
    said = []
    if changed:
        lines = sum(max(end - start, to - since) for _, start, end, since, to in changed)
        first = changed[0][1] + 1
        said.append(f"line {first}" if lines == 1 else f"{lines} lines from line {first} on")
    if "\r" in before:
        said.append("line ends to LF")
    return ", ".join(said) or "only at its very beginning or end"
