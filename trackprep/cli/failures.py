"""Problems as people and programs read them."""

import re
import sys
from collections.abc import Iterable, Sequence

from trackprep.cli.terminal import width, wrapped
from trackprep.cli.writing import json_text
from trackprep.problems import Problem

_OF_THE_FILE = re.compile(r" *[0-9]* \| ")


def print_failure(problems: Sequence[Problem], *, as_json: bool) -> None:
    """Prints why there is no result: on standard error, or as JSON in place of the result."""
    if as_json:
        from trackprep.reports.json_form import problems_form

        print(json_text(problems_form(problems)), end="")
        return
    columns = width(sys.stderr)
    print(problem_texts(problems, columns), file=sys.stderr)


def of_system(error: OSError) -> Problem:
    """What the operating system says is wrong with a file."""
    reason = (error.strerror or str(error)).lower()
    return Problem("unusable-file", f"it cannot be used: {reason}", name=str(error.filename))


def problem_texts(problems: Iterable[Problem], columns: int) -> str:
    """The problems one below the other, each with its place, its line and what to do."""
    return "\n".join(_text(problem, columns) for problem in problems)


def _text(problem: Problem, columns: int) -> str:
    said = str(problem)
    if problem.file is None and problem.path is None:
        said = f"trackprep: {said}"
    return "\n".join(
        line
        if _OF_THE_FILE.match(line)
        else wrapped(
            line.strip(), indent="" if number == 0 else "  ", hanging="    ", columns=columns
        )
        for number, line in enumerate(said.splitlines())
    )
