"""A declaration's text, edited one answer at a time: all else in it stays as it was written."""

import re
from collections.abc import Collection
from functools import lru_cache

from trackprep.source import Source
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.values import Given, RiderFile

_NOT_KNOWN = re.compile(r"(?im)^[ \t]*#[ \t]*not known:[ \t]*([a-z0-9.-]+)[ \t]*\r?(?:\n|\Z)")


def not_known(text: str) -> tuple[str, ...]:
    """The facts that a text says are not known, in the comments `# not known: PATH`."""
    return tuple(dict.fromkeys(found[1].lower() for found in _NOT_KNOWN.finditer(text)))


def with_answer(text: str, path: str, written: str, near: Collection[str]) -> str:
    """The text with `PATH is WRITTEN` in it.

    In place of what it declared; else of the line `#PATH is` of a blank declaration; else of
    the comment that it is not known; else behind the last fact of the same part; else at the end.

    Args:
        written: The value, and a comment behind it if there is one.
        near: The facts of the same part.
    """
    if (given := _given(text, path)) is not None:
        return without_note(_replaced(text, given, written), path)
    line = f"{path} is {written}"
    if blank := _blank_line(text, path):
        start, end = blank.span(1)
        return without_note(text[:start] + line + text[end:], path)
    for found in _NOT_KNOWN.finditer(text):
        if found[1].lower() == path:
            kept = text[: found.start()] + line + _line_end(text) + text[found.end() :]
            return without_note(kept, path)
    return _with_line(text, line, near)


def with_note(text: str, path: str, near: Collection[str]) -> str:
    """The text with the comment that a fact is not known."""
    if path in not_known(text):
        return text
    line = f"# not known: {path}"
    if blank := _blank_line(text, path):
        start = blank.start()
        return text[:start] + line + _line_end(text) + text[start:]
    return _with_line(text, line, near)


def without_note(text: str, path: str) -> str:
    """The text without the comment that a fact is not known."""
    return _NOT_KNOWN.sub(lambda found: "" if found[1].lower() == path else found[0], text)


def declared_text(text: str, path: str) -> str:
    """The value of a fact as the text spells it; nothing where it is not declared."""
    given = _given(text, path)
    if given is None:
        return ""
    if not given.values:
        return "none"
    return text[given.values[0].place.start : given.values[-1].place.end]


# ---- places ----------------------------------------------------------------------


@lru_cache(maxsize=4)
def _entries(text: str) -> tuple[Given, ...]:
    """What the text declares; looked up several times for each answer."""
    tree: RiderFile = parse_rider(Source("<text>", text)).tree
    return tree.entries


def _given(text: str, path: str) -> Given | None:
    return next((given for given in _entries(text) if given.path == path), None)


def _blank_line(text: str, path: str) -> re.Match[str] | None:
    """The line of `blank` that asks for the fact, still without an answer."""
    return re.search(rf"(?im)^([ \t]*#[ \t]*{re.escape(path)}[ \t]+is)[ \t]*\r?$", text)


def _replaced(text: str, given: Given, written: str) -> str:
    """The value in place of the one that is declared."""
    place = given.place
    rest = text[place.end :]
    if "#" in written and re.match(r"[ \t]*[^\s#]", rest):
        rest = _line_end(text) + rest.lstrip(" \t")  # a comment must not swallow what follows
    return f"{text[: place.start]}{given.path_place.text} is {written}{rest}"


def _with_line(text: str, line: str, near: Collection[str]) -> str:
    """The text with a line of its own more."""
    new_line = _line_end(text)
    ends = [given.place.end for given in _entries(text) if given.path in near]
    ends += [found.start() for found in _NOT_KNOWN.finditer(text) if found[1].lower() in near]
    if ends:
        at = text.find("\n", max(ends))
        if at >= 0:
            return text[: at + 1] + line + new_line + text[at + 1 :]
    body = text if not text or text.endswith("\n") else text + new_line
    gap = "" if not body or ends or body.endswith(("\n\n", "\r\n\r\n")) else new_line
    return body + gap + line + new_line


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"
