"""Several riders, or several events, in one call of `trackprep check`: a table."""

import sys
from argparse import Namespace
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from trackprep.cli.calls import CallError
from trackprep.cli.pages import marked_up
from trackprep.cli.terminal import is_terminal, note, say, width
from trackprep.cli.writing import STANDARD_OUTPUT, json_text, write_new
from trackprep.dates import long_form
from trackprep.rider.club import Worst
from trackprep.rider.joining import ENDINGS, RiderFile, files_in, read_one
from trackprep.ruleset import check_files

if TYPE_CHECKING:
    from trackprep.reports.club.report import ClubReport
    from trackprep.ruleset import Ruleset

CODES: dict[Worst, int] = {"problem": 2, "not-ready": 1, "incomplete": 3, "ready": 0}
LONG = 25
"""Files from which on somebody who waits wants to see how far it is."""


def table(call: Namespace, rulesets: "Sequence[Ruleset]", day: date) -> int:
    """Prints the riders of files and folders, an answer for each event; the worst as exit code."""
    paths = rider_files(call.riders)
    rules = [ruleset.rules for ruleset in rulesets]
    files = (read_one(path, rules) for path in paths)
    report = check_files(_watched(files, len(paths)), *rulesets, on=day)
    today = f"Checked for today, {long_form(day)}, as no other day was asked for with --on."
    to_a_person = call.form == "text" and _output(call) == STANDARD_OUTPUT
    if call.on is None and to_a_person:
        say(today)
        say()
    elif call.on is None:
        note(today)
    _print(report, call)
    return CODES[report.club.worst]


def rider_files(names: Iterable[str]) -> list[Path]:
    """The files that are named, and those in folders that are, each once."""
    files: list[Path] = []
    for name in names:
        path = Path(name)
        if not path.is_dir():
            files.append(path)
            continue
        found = files_in(path)
        if not found:
            raise CallError(
                f"`{name}` has no declaration in it", f"files that end in {', '.join(ENDINGS)}"
            )
        files += found
    return list(dict.fromkeys(files))


def _watched(files: Iterable[RiderFile], total: int) -> Iterable[RiderFile]:
    """The same files, with a bar on standard error while somebody waits there."""
    if total < LONG or not is_terminal(sys.stderr):
        return files
    # Rich is slow to import, and needed on a terminal only.
    from rich.console import Console
    from rich.progress import track

    return track(
        files, "Reading declarations", total=total, console=Console(stderr=True), transient=True
    )


def _output(call: Namespace) -> str:
    return str(getattr(call, "output", None) or STANDARD_OUTPUT)


def _print(report: "ClubReport", call: Namespace) -> None:
    output = _output(call)
    columns = width() if output == STANDARD_OUTPUT else 100
    if write_new(output, _shaped(report, call.form, columns),
                 overwrite=getattr(call, "overwrite", False)):  # fmt: skip
        note(f"{output} is written.")


def _shaped(report: "ClubReport", form: str, columns: int) -> str:
    match form:
        case "json":
            return json_text(report.to_dict())
        case "html" | "markdown":
            return marked_up(report.page, form)
        case _:
            return report.text(columns)
