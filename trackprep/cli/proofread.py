"""`trackprep proofread`: every problem of rule files."""

from argparse import Namespace

import trackprep
from trackprep.cli.calls import CallError, CallParser, add_ruleset
from trackprep.cli.failures import problem_texts
from trackprep.cli.rulesets import named
from trackprep.cli.terminal import width
from trackprep.problems import Problem

CLEAN, FINDINGS, UNREADABLE = 0, 1, 2


def arguments(parser: CallParser) -> None:
    """RULESET…."""
    parser.epilog = (
        "Ends with 0 if there is no mistake, 1 if there are, 2 if a file cannot be read."
    )
    add_ruleset(parser, several=True)


def run(call: Namespace) -> int:
    """Prints the problems file by file; the exit code tells the worst."""
    return max(_proofread(name) for name in dict.fromkeys(call.rulesets))


def _proofread(name: str) -> int:
    try:
        named(name)
    except CallError as error:
        print(problem_texts([error.problem], width()))
        return UNREADABLE
    except trackprep.RulesetError as error:
        problems = error.problems
        print(problem_texts(problems, width()))
        if any(problem.code == "unreadable-file" for problem in problems):
            return UNREADABLE
        print(f"{name}: {_counted(problems)}")
        return FINDINGS
    print(f"{name}: no mistakes found")
    return CLEAN


def _counted(problems: tuple[Problem, ...]) -> str:
    return "1 mistake" if len(problems) == 1 else f"{len(problems)} mistakes"
