"""`trackprep rehearse`: the examples of rule files, and whether they come true."""

from argparse import Namespace

from trackprep.cli.calls import CallParser, add_ruleset
from trackprep.cli.rulesets import named
from trackprep.cli.terminal import say
from trackprep.explanations.telling import told
from trackprep.rehearsal import Rehearsed, Surprise, rehearse

MOST_CAUSES = 8
ALL_TRUE, SOME_WRONG = 0, 1
_SPOKEN = {"not-met": "not met", "not-asked": "not asked", "not-ready": "not ready"}


def arguments(parser: CallParser) -> None:
    """RULESET…."""
    parser.epilog = "Ends with 0 if all examples come out as expected, 1 if one does not."
    add_ruleset(parser, several=True)


def run(call: Namespace) -> int:
    """Prints each example with what came of it; the exit code tells whether all came true."""
    rulesets = {name: named(name) for name in call.rulesets}
    wrong = [_rehearsed(name, rehearse(ruleset.rules)) for name, ruleset in rulesets.items()]
    return SOME_WRONG if any(wrong) else ALL_TRUE


def _rehearsed(name: str, examples: tuple[Rehearsed, ...]) -> int:
    """Prints the examples of a ruleset; how many came out otherwise."""
    if not examples:
        say(f"{name}: there are no examples in this file to run")
        return 0
    for rehearsed in examples:
        _print(rehearsed)
    wrong = sum(bool(rehearsed.surprises) for rehearsed in examples)
    of = "1 example comes" if len(examples) == 1 else f"{len(examples)} examples come"
    say(f"{name}: {len(examples) - wrong} of {of} out as expected")
    return wrong


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
