"""Rider text to tree; a module of its own, so that a check need not import the whole language."""

from typing import Any

from trackprep.problems import Problem
from trackprep.source import Place, Source
from trackprep.syntax.build_values import RIDER, DeclaredOn, Title
from trackprep.syntax.driver import Parsed, Run, in_order
from trackprep.syntax.values import NOWHERE, Given, RiderFile


def parse_rider(source: Source) -> Parsed:
    """The `RiderFile` of a `.rider` text."""
    run = Run(source, "rider", RIDER)
    tree, misplaced = _rider_file(run.clauses(), source)
    return Parsed(tree, in_order(run.problems, misplaced), run.stream.comments)


def _rider_file(entries: list[Any], source: Source) -> tuple[RiderFile, list[Problem]]:
    """The rider's file that the entries make, and a problem for a second title or day."""
    title: Title | None = None
    declared: DeclaredOn | None = None
    given: list[Given] = []
    problems: list[Problem] = []
    for entry in entries:
        match entry:
            case Title():
                if title is not None:
                    problems.append(_twice("declaration", entry.place))
                title = title or entry
            case DeclaredOn():
                if declared is not None:
                    problems.append(_twice("declared on", entry.place))
                declared = declared or entry
            case Given():
                given.append(entry)
    return RiderFile(
        title.text if title else None,
        declared.day if declared else None,
        tuple(given),
        source=source,
        title_place=title.place if title else NOWHERE,
    ), problems


def _twice(keyword: str, place: Place) -> Problem:
    return Problem(
        "said-twice", f"`{keyword}` stands here a second time", place,
        suggestion="keep one of the two",
    )  # fmt: skip
