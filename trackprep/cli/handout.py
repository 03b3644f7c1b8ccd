"""`trackprep handout`: the papers of an event, to put on the web and to print."""

import os
from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

import trackprep
from trackprep.cli.calls import CallError, CallParser, add_ruleset
from trackprep.cli.rulesets import for_riders, own, refuse_vocabulary
from trackprep.cli.terminal import note
from trackprep.cli.writing import write_new
from trackprep.publishing.papers import Event, Paper, papers
from trackprep.reports.comparison.editions import editions_of
from trackprep.rules.own_file import OwnFile
from trackprep.ruleset import Ruleset


def arguments(parser: CallParser) -> None:
    """RULESET… -o DIR [--since OLD]… [--overwrite]."""
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
    parser.add_argument("--overwrite", action="store_true", help="write over files that are there")


def run(call: Namespace) -> int:
    """Writes the papers, all or none of them; 0."""
    files = [_with_rules(name) for name in call.rulesets]
    names = [each.rules.name for each in files]
    if twice := next((name for name in names if names.count(name) > 1), None):
        raise CallError(f"two of the rulesets are called `{twice}`", "hand out one at a time")
    earlier = _earlier(call.since, names)
    made = [paper for each in files for paper in papers(_event(each, earlier))]
    _write(Path(call.output), made, overwrite=call.overwrite)
    return 0


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
    editions = editions_of(since)
    if editions is not None and editions.warns:
        note(f"Warning: {editions.text}")
    return Event(file.rules, file.base, since)


def _write(folder: Path, made: Sequence[Paper], *, overwrite: bool) -> None:
    """Writes the papers, after a look whether every name is free."""
    if folder.exists() and not folder.is_dir():
        raise CallError(f"`{folder}` is a file", "name a folder after -o")
    taken = [paper.name for paper in made if os.path.lexists(folder / paper.name)]
    if taken and not overwrite:
        raise CallError(
            f"`{folder / taken[0]}` is there already, and nothing is written",
            "choose another folder, or add `--overwrite` to lose what is in it",
        )
    folder.mkdir(parents=True, exist_ok=True)
    for paper in made:
        write_new(str(folder / paper.name), paper.text, overwrite=overwrite)
        note(f"{folder / paper.name} is written.")
