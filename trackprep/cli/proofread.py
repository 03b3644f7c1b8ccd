"""`trackprep proofread`: every problem of rule files, and what is not sound in them."""

from argparse import Namespace
from collections.abc import Iterable
from datetime import date

from trackprep.cli.calls import CallError, CallParser, add_ruleset, day_of
from trackprep.cli.failures import problem_texts
from trackprep.cli.rulesets import own
from trackprep.cli.terminal import say, width
from trackprep.cli.writing import json_text
from trackprep.problems import RulesetError
from trackprep.reports.proofs import Proofread, accepted_lines, finding_lines, proofs_form

CLEAN, FINDINGS, UNREADABLE = 0, 1, 2


def arguments(parser: CallParser) -> None:
    """RULESET… [--remarks] [--accepted] [--on DATE] [--as text|json]."""
    parser.epilog = (
        "Ends with 0 if there is nothing to mend, 1 if there are problems or faults, 2 if a file"
        " cannot be read. Remarks, and what a file accepts with a reason, never count."
    )
    add_ruleset(parser, several=True)
    parser.add_argument(
        "--remarks", action="store_true",
        help="also show what a careful organizer would add: fixes, sources, examples",
    )  # fmt: skip
    parser.add_argument(
        "--accepted", action="store_true", help="also show what the files accept, and why"
    )
    parser.add_argument(
        "--on", metavar="DATE",
        help="prove it for events on this day alone; else for every day that a ruleset is valid",
    )  # fmt: skip
    parser.add_argument(
        "--as", dest="form", choices=("text", "json"), default="text",
        help="how to print; JSON has everything that is found",
    )  # fmt: skip


def run(call: Namespace) -> int:
    """Prints what is found file by file; the exit code tells the worst."""
    day = None if call.on is None else day_of(call.on)
    files = (_proofread(name, day) for name in dict.fromkeys(call.rulesets))
    if call.form == "json":
        all_files = list(files)
        print(json_text(proofs_form(all_files)), end="")
        return max(map(_code, all_files))
    worst = CLEAN
    for file in files:
        _print(file, remarks=call.remarks, accepted=call.accepted)
        worst = max(worst, _code(file))
    return worst


def _proofread(name: str, day: date | None) -> Proofread:
    # A file that cannot be read needs no solver.
    from trackprep.analysis.proofreading import proofread

    try:
        file = own(name)
    except CallError as error:
        return Proofread(name, (error.problem,))
    except RulesetError as error:
        return Proofread(name, error.problems)
    return Proofread(name, (), file.rules, proofread(file, on=day))


def _code(file: Proofread) -> int:
    if any(problem.code in ("unreadable-file", "unusable-call") for problem in file.problems):
        return UNREADABLE
    return FINDINGS if file.problems or file.proof.of("problem", "fault") else CLEAN


def _print(file: Proofread, *, remarks: bool, accepted: bool) -> None:
    if file.problems:
        print(problem_texts(file.problems, width()))
        if _code(file) != UNREADABLE:
            print(f"{file.file}: {_counted(len(file.problems), 'mistake')}")
        return
    assert file.rules is not None
    weights = ("problem", "fault", "remark") if remarks else ("problem", "fault")
    for finding in file.proof.of(*weights):
        _say(finding_lines(finding, file.rules.facts))
    if accepted:
        for each in file.proof.accepted:
            _say(accepted_lines(each))
    print(f"{file.file}: {_summary(file, weights)}")


def _say(lines: Iterable[tuple[int, str]]) -> None:
    for depth, line in lines:
        say(line, indent="  " * depth, hanging="  " * (depth + 2))


def _summary(file: Proofread, weights: Iterable[str]) -> str:
    counts = [
        _counted(number, weight) for weight in weights if (number := len(file.proof.of(weight)))
    ]
    accepted = len(file.proof.accepted)
    left = ", ".join(counts) or "no mistakes found"
    return f"{left}; {accepted} accepted, shown with --accepted" if accepted else left


def _counted(number: int, what: str) -> str:
    return f"1 {what}" if number == 1 else f"{number} {what}s"
