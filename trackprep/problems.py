"""What is wrong in a text, where, and what to do about it."""

from collections.abc import Iterable
from typing import Any

from attrs import field

from trackprep.frozen import frozen
from trackprep.source import Place

WIDEST_LINE = 160


@frozen
class Problem:
    """One mistake in a file, a declaration or a call.

    Attributes:
        code: A stable name of the kind of mistake, such as `unknown-fact`.
        message: One sentence: what was found, and what is wrong with it.
        place: Where it stands, for text; None for a mapping or a whole file.
        path: The fact or key it is about, where there is no place in a text.
        expected: What would have been right there.
        suggestion: One thing to do, or the nearest good spelling.
        name: The file's name where there is no place in it.
    """

    code: str
    message: str
    place: Place | None = field(default=None, repr=False)
    path: str | None = None
    expected: str | None = None
    suggestion: str | None = None
    name: str | None = None

    @property
    def file(self) -> str | None:
        """The name of the file, as it was given."""
        return self.place.source.name if self.place else self.name

    @property
    def line(self) -> int | None:
        """The line, from 1."""
        return self.place.line if self.place else None

    @property
    def column(self) -> int | None:
        """The column in characters, from 1."""
        return self.place.column if self.place else None

    def __str__(self) -> str:
        where = str(self.place) if self.place else self.file
        if self.path and not self.place:
            where = f"{where}: {self.path}" if where else self.path
        lines = [f"{where}: {self.message}" if where else self.message]
        if self.place:
            lines.extend(_marked(self.place))
        if self.expected:
            lines.append(f"  expected: {self.expected}")
        if self.suggestion:
            lines.append(f"  try: {self.suggestion}")
        return "\n".join(lines)

    def to_dict(self) -> dict[str, Any]:
        """The problem for a program: every key always there, None where nothing is known."""
        return {
            "code": self.code,
            "message": self.message,
            "file": self.file,
            "line": self.line,
            "column": self.column,
            "path": self.path,
            "expected": self.expected,
            "suggestion": self.suggestion,
        }


def _marked(place: Place) -> list[str]:
    """The line of `place`, and under it a mark below what is meant."""
    written = place.source.line_text(place.line).replace("\t", " ")
    first = place.column - 1
    length = max(1, min(place.end - place.start, len(written) - first))
    if first > WIDEST_LINE // 2:
        cut = first - WIDEST_LINE // 4
        written, first = "…" + written[cut:], first - cut + 1
    if len(written) > WIDEST_LINE:
        written = written[: WIDEST_LINE - 1] + "…"
        length = max(1, min(length, len(written) - first))
    number = f"{place.line:>5}"
    return [f"{number} | {written}", f"{'':>5} | {' ' * first}{'^' * length}"]


class FileError(Exception):
    """A file that could not be used; `problems` has every mistake found in it."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class RulesetError(FileError):
    """A rule file with problems."""


class DeclarationError(FileError):
    """A rider's declaration with problems."""
