"""What is printed, and how wide: on a terminal to its width, elsewhere plain and always alike."""

import os
import sys
from typing import TextIO

PLAIN_WIDTH = 100
"""Columns where the output is not a terminal."""
NARROWEST = 30
"""Columns below which nothing is wrapped any further."""


def is_terminal(stream: TextIO) -> bool:
    """Whether a person looks at the stream."""
    return stream is not None and stream.isatty()


def is_rich() -> bool:
    """Whether standard output is a terminal that knows more than plain text.

    `NO_COLOR` is no part of this: Rich itself heeds it.
    """
    return is_terminal(sys.stdout) and os.environ.get("TERM") not in ("dumb", "unknown")


def width(stream: TextIO | None = None) -> int:
    """The columns to wrap to."""
    stream = stream or sys.stdout
    if not is_terminal(stream):
        return PLAIN_WIDTH
    columns = os.environ.get("COLUMNS", "")
    if columns.isdecimal() and int(columns):
        return max(NARROWEST, int(columns))
    try:
        return max(NARROWEST, os.get_terminal_size(stream.fileno()).columns or PLAIN_WIDTH)
    except OSError:
        return PLAIN_WIDTH


def wrapped(text: str, *, indent: str = "", hanging: str | None = None, columns: int) -> str:
    """The text in lines of at most so many columns; lines after the first begin with `hanging`."""
    # Two milliseconds that a command which wraps nothing need not pay.
    from textwrap import fill

    return fill(
        text,
        columns,
        initial_indent=indent,
        subsequent_indent=indent if hanging is None else hanging,
        break_long_words=False,
        break_on_hyphens=False,
    )


def say(text: str = "", *, indent: str = "", hanging: str | None = None) -> None:
    """Prints a paragraph on standard output."""
    print(wrapped(text, indent=indent, hanging=hanging, columns=width()) if text else "")


def note(text: str) -> None:
    """Prints a paragraph on standard error, where it does not mix with the output."""
    print(wrapped(text, columns=width(sys.stderr)), file=sys.stderr)


def note_command(*words: str) -> None:
    """Prints a call of ours on a line of its own, as a shell takes it: never wrapped."""
    from shlex import join  # needed by a call that goes well and writes a file

    print(f"  trackprep {join(words)}", file=sys.stderr)
