"""`trackprep handout`: the papers of an event, to put on the web and to print."""

import os
from argparse import Namespace
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from attrs import evolve

import trackprep
from trackprep.analysis.comparisons import Comparison
from trackprep.cli.calls import CallError, CallParser, add_ruleset, day_of
from trackprep.cli.riders import rider_files
from trackprep.cli.rulesets import for_riders, own, refuse_vocabulary
from trackprep.cli.terminal import note
from trackprep.cli.writing import write_new
from trackprep.dates import long_form
from trackprep.publishing.earlier import hard_to_tell
from trackprep.publishing.editions import Edition
from trackprep.publishing.marks import carried
from trackprep.publishing.papers import Event, Paper, declaring, papers
from trackprep.publishing.presented import Presented
from trackprep.reports.checks.discreet import discreet_problem
from trackprep.reports.club.page import told
from trackprep.reports.comparison.editions import editions_of
from trackprep.rider.joining import Joined, joined, read_one
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.own_file import OwnFile
from trackprep.ruleset import Ruleset

WITH_PROBLEMS = 2


def arguments(parser: CallParser) -> None:
    """RULESET… -o DIR [--since OLD]… [--riders PATH…] [--on DATE] [--overwrite]."""
    parser.epilog = (
        "Ends with 0 if all is written, 2 if the call has a problem and nothing is written, or if a"
        " rider's file has one: then all is written, and that rider's page says what is wrong."
    )
    add_ruleset(parser, several=True)
    parser.add_argument(
        "-o", "--output", metavar="DIR", required=True,
        help="the folder to write into; it is made if it is not there",
    )  # fmt: skip
    parser.add_argument(
        "--since", metavar="OLD", action="append", default=[],
        help="an earlier edition: the sheet says what changed since; with several rulesets, once"
        " for each, of the same name",
    )  # fmt: skip
    parser.add_argument(
        "--riders", metavar="RIDER", nargs="+", action="extend", default=[],
        help="declarations, or folders of them: the inspector gets one page a rider, in files of"
        " their own",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE", help="the day of the event, such as 2026-06-14; for riders else"
        " today"
    )  # fmt: skip
    parser.add_argument("--overwrite", action="store_true", help="write over files that are there")


def run(call: Namespace) -> int:
    """Writes the papers, all or none of them; the exit code tells of problems in riders' files."""
    files = [_with_rules(name) for name in call.rulesets]
    names = [each.rules.name for each in files]
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise CallError(f"two of the rulesets are called `{twice}`", "hand out one at a time")
    earlier = _earlier(call.since, names)
    events = [_event(each, earlier) for each in files]
    if call.on is not None:
        events = [evolve(event, day=day_of(call.on)) for event in events]
    if call.riders:
        events = _with_riders(events, call)
    made = [*(paper for event in events for paper in papers(event)), declaring(events)]
    folder = Path(call.output)
    taken = _taken(folder, made, overwrite=call.overwrite)
    _tell_hard_to_tell(events, [folder / name for name in taken])
    _write(folder, made, overwrite=call.overwrite)
    return WITH_PROBLEMS if _tell_problems(events) else 0


def _with_rules(name: str) -> OwnFile:
    found = own(name)
    refuse_vocabulary(name, found.rules, "rules to hand out")
    return found


def _earlier(given: Sequence[str], names: Sequence[str]) -> dict[str, Ruleset]:
    """The earlier editions by the names of the rulesets handed out."""
    editions = [for_riders(name) for name in given]
    if len(names) == len(editions) == 1:
        return {names[0]: editions[0]}
    found: dict[str, Ruleset] = {}
    for name, ruleset in zip(given, editions, strict=True):
        if ruleset.name not in names or ruleset.name in found:
            raise CallError(
                f"--since: `{name}` is no earlier edition of just one of the rulesets handed out",
                f"one file a ruleset, called {' or '.join(names)} as it is",
            )
        found[ruleset.name] = ruleset
    return found


def _event(file: OwnFile, earlier: dict[str, Ruleset]) -> Event:
    before = earlier.get(file.rules.name)
    if before is None:
        return Event(file.rules, file.base)
    since = trackprep.compare(before, Ruleset(file.rules)).comparison
    if text := _unraised(since):
        note(f"Warning: {text}")
    return Event(file.rules, file.base, since)


def _unraised(since: Comparison) -> str:
    """What is to be mended about the edition, since the one that the call names; else empty."""
    editions = editions_of(since)
    return editions.text if editions is not None and editions.warns else ""


# ---- riders -----------------------------------------------------------------


def _with_riders(events: Sequence[Event], call: Namespace) -> list[Event]:
    """The events with their riders, for the day that the call names, else for today."""
    day = events[0].day
    if day is None:
        day = date.today()
        note(f"For riders as of today, {long_form(day)}, as no other day was asked for with --on.")
    paths = rider_files(call.riders)
    rules = [event.rules for event in events]
    riders = joined(read_one(path, rules) for path in paths)
    return [
        evolve(event, day=day, riders=tuple(_presented(event, number, riders, day)))
        for number, event in enumerate(events)
    ]


def _presented(
    event: Event, number: int, riders: Sequence[Joined], day: date
) -> Iterator[Presented]:
    """The riders with what the rules of the event, the one of that number, answer."""
    ruleset = Ruleset(event.rules)
    for rider in riders:
        if rider.problems:
            yield Presented(rider.title, None, rider.problems)
        else:
            yield Presented(rider.title, ruleset.check(rider.declarations[number], on=day))


def _tell_problems(events: Sequence[Event]) -> bool:
    """Tells what is wrong in riders' files, each once; whether anything is."""
    rulesets = [event.rules for event in events]
    found = [
        f"{rider.title}: {said}"
        for event in events
        for rider in event.riders
        for said in (
            *(told(problem, rulesets) for problem in rider.problems),
            *(discreet_problem(late, event.rules) for late in rider.late),
        )
    ]
    for text in dict.fromkeys(found):
        note(text)
    return bool(found)


# ---- files ------------------------------------------------------------------


def _taken(folder: Path, made: Sequence[Paper], *, overwrite: bool) -> list[str]:
    """The names that are not free; none may be taken without `overwrite`."""
    if folder.exists() and not folder.is_dir():
        raise CallError(f"`{folder}` is a file", "name a folder after -o")
    taken = [paper.name for paper in made if os.path.lexists(folder / paper.name)]
    if taken and not overwrite:
        raise _there_already(folder, taken)
    return taken


def _there_already(folder: Path, taken: Sequence[str]) -> CallError:
    one = f"`{folder / taken[0]}`"
    what, them = (f"{one} is", "it") if len(taken) == 1 else (
        f"{len(taken)} of these papers are", "them"
    )  # fmt: skip
    such_as = "" if len(taken) == 1 else f", such as {one}"
    return CallError(
        f"{what} there already{such_as}, and nothing is written",
        f"choose another folder, or add `--overwrite`: it replaces {them}, and leaves all else in"
        f" `{folder}`",
    )


def _tell_hard_to_tell(events: Sequence[Event], lying: Sequence[Path]) -> None:
    """Warns where riders cannot tell the new papers from those that lie there.

    Where that was told of the edition that the call names, once is enough.
    """
    now = {
        event.rules.name: event.edition
        for event in events
        if event.since is None or not _unraised(event.since)
    }
    found: dict[tuple[str, str], Path] = {}
    for path in lying:
        for before in _carried(path):
            if before.ruleset in now and (text := hard_to_tell(before, now[before.ruleset])):
                found.setdefault((before.ruleset, text), path)
    for (_, text), path in found.items():
        note(f"Warning: {text} The earlier one is what `{path}` was made of.")


def _carried(path: Path) -> tuple[Edition, ...]:
    """What a paper says that it was made of; nothing of what is no paper of ours."""
    try:
        found = carried(read_text(path)[0])
    except UnreadableFileError:
        return ()
    return found.editions if found is not None else ()


def _write(folder: Path, made: Sequence[Paper], *, overwrite: bool) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for paper in made:
        write_new(str(folder / paper.name), paper.text, overwrite=overwrite)
        note(f"{folder / paper.name} is written.")
