"""Collects the problems of a ruleset while it is compiled, each mistake once."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from trackprep.problems import Problem
from trackprep.source import Place

MOST_PROBLEMS = 200


class Reporter:
    """The problems so far; the same code at the same place is told once."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []
        self._seen: set[tuple[str, str | None, int | None, str | None]] = set()
        self._quiet = False

    def report(
        self,
        code: str,
        message: str,
        place: Place,
        *,
        expected: str | None = None,
        suggestion: str | None = None,
    ) -> None:
        """Notes a problem at a place."""
        self.add(Problem(code, message, place, expected=expected, suggestion=suggestion))

    def add(self, problem: Problem) -> None:
        """Notes a problem that is made already."""
        if self._quiet:
            return
        place = problem.place
        key = (
            problem.code,
            problem.file,
            place.start if place else None,
            None if place else problem.message,
        )
        if key not in self._seen and len(self._problems) < MOST_PROBLEMS:
            self._seen.add(key)
            self._problems.append(problem)

    @contextmanager
    def quiet(self) -> Iterator[None]:
        """What is tried in here, and may fail, is no problem."""
        before, self._quiet = self._quiet, True
        try:
            yield
        finally:
            self._quiet = before

    def __len__(self) -> int:
        return len(self._problems)

    def in_order(self) -> tuple[Problem, ...]:
        """The problems, file by file in the order they were first met, by place in each."""
        files: dict[str | None, int] = {}
        for problem in self._problems:
            files.setdefault(problem.file, len(files))
        return tuple(
            sorted(
                self._problems,
                key=lambda p: (files[p.file], p.place.start if p.place else -1),
            )
        )


def nearest(word: str, words: Iterable[str]) -> str | None:
    """The word most like `word`: by its spelling, or by a part that only one of them shares."""
    # Two milliseconds that a file without a mistake need not pay.
    from difflib import get_close_matches

    known = list(words)
    by_case = [other for other in known if other.lower() == word.lower()]
    if by_case:
        return by_case[0]
    if near := get_close_matches(word, known, n=1, cutoff=0.8):
        return near[0]
    parts = _parts(word)
    sharing = [other for other in known if parts & _parts(other)]
    return sharing[0] if len(sharing) == 1 else None


def _parts(word: str) -> set[str]:
    """The longer words that a name is made of."""
    return {part for part in word.lower().replace(".", "-").split("-") if len(part) > 3}
