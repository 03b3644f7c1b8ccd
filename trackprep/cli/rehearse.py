"""`trackprep rehearse`: the examples of rule files, and whether they come true."""

from argparse import Namespace

from trackprep.cli.calls import CallError, CallParser, add_ruleset
from trackprep.cli.failures import print_failure
from trackprep.cli.rulesets import named
from trackprep.cli.terminal import say
from trackprep.explanations.telling import told
from trackprep.problems import FileError
from trackprep.rehearsal import Rehearsed, Surprise, rehearse

MOST_CAUSES = 8
ALL_TRUE, SOME_WRONG, NOT_RUN = 0, 1, 2
_SPOKEN = {"not-met": "not met", "not-asked": "not asked", "not-ready": "not ready"}


def arguments(parser: CallParser) -> None:
    """RULESET…."""
    parser.epilog = (
        "Ends with 0 if all examples come out as expected, 1 if one does not,"
        " 2 if a file has mistakes."
    )
    add_ruleset(parser, several=True)


def run(call: Namespace) -> int:
    """Prints each example with what came of it; the exit code tells whether all came true."""
    return max(_rehearsed(name) for name in dict.fromkeys(call.rulesets))


def _rehearsed(name: str) -> int:
    try:
        examples = rehearse(named(name).rules)
    except FileError as error:
        print_failure(error.problems, as_json=False)
        return NOT_RUN
    except CallError as error:
        print_failure([error.problem], as_json=False)
        return NOT_RUN
    if not examples:
        say(f"{name}: there are no examples in this file to run")
        return ALL_TRUE
    for rehearsed in examples:
        _print(rehearsed)
    wrong = sum(bool(rehearsed.surprises) for rehearsed in examples)
    of = "1 example comes" if len(examples) == 1 else f"{len(examples)} examples come"
    say(f"{name}: {len(examples) - wrong} of {of} out as expected")
    return SOME_WRONG if wrong else ALL_TRUE


def _print(rehearsed: Rehearsed) -> None:
    example = rehearsed.example
    if not rehearsed.surprises:
        say(f"as expected   {example.title}", hanging=" " * 14)
        return
    origin = example.origin
    say(f"OTHERWISE     {example.title} ({origin.file}, line {origin.line})", hanging=" " * 14)
    for surprise in rehearsed.surprises:
        _print_surprise(surprise)


def _print_surprise(surprise: Surprise) -> None:
    expectation = surprise.expectation
    expected, came = (
        _SPOKEN.get(outcome, outcome) for outcome in (expectation.outcome, surprise.came)
    )
    what = f"`{expectation.rule}` to be {expected}" if expectation.rule else expected
    say(
        f"line {expectation.origin.line}: expected {what}; it is {came}",
        indent="    ",
        hanging="      ",
    )
    for cause in surprise.causes[:MOST_CAUSES]:
        if not expectation.rule:
            say(f"{cause.rule.name}: {cause.rule.title}", indent="      ", hanging="        ")
        for line in told(cause.explanation):
            say(line, indent="        ", hanging="          ")
    if len(surprise.causes) > MOST_CAUSES:
        say(f"and {len(surprise.causes) - MOST_CAUSES} more like it", indent="      ")
