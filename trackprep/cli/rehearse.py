"""`trackprep rehearse`: the examples of rule files, and whether they come true."""

from argparse import Namespace
from collections.abc import Sequence

from trackprep.cli.calls import CallError, CallParser, add_ruleset
from trackprep.cli.failures import print_failure
from trackprep.cli.rulesets import named, own
from trackprep.cli.terminal import note, say
from trackprep.cli.writing import STANDARD_OUTPUT
from trackprep.explanations.telling import told
from trackprep.problems import FileError
from trackprep.published import ENDING
from trackprep.rehearsal import Rehearsed, Surprise, rehearse
from trackprep.rules.model import Rules

MOST_CAUSES = 8
ALL_TRUE, SOME_WRONG, NOT_RUN = 0, 1, 2
_SPOKEN = {"not-met": "not met", "not-asked": "not asked", "not-ready": "not ready"}


def arguments(parser: CallParser) -> None:
    """RULESET… [--coverage] [--suggest [-o NEW] [--overwrite]] [--all]."""
    parser.epilog = (
        "Ends with 0 if all examples come out as expected, 1 if one does not,"
        " 2 if a file has mistakes. What the examples leave untried does not count."
    )
    add_ruleset(parser, several=True)
    parser.add_argument(
        "--coverage", action="store_true",
        help="also show rule by rule which answers the examples expect, and at which limits none"
        " stands",
    )  # fmt: skip
    parser.add_argument(
        "--suggest", action="store_true",
        help="write the examples that are missing, ready to be pasted into the file",
    )  # fmt: skip
    parser.add_argument(
        "--all", dest="every", action="store_true",
        help="look at inherited rules too that the file leaves as they are",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="NEW",
        help=f"the file that --suggest writes to, ending in {ENDING}; without it they are printed",
    )  # fmt: skip
    parser.add_argument("--overwrite", action="store_true", help="write over a file that is there")


def run(call: Namespace) -> int:
    """Prints each example with what came of it; the exit code tells whether all came true."""
    _refuse_nonsense(call)
    return max(_rehearsed(name, call) for name in dict.fromkeys(call.rulesets))


def _refuse_nonsense(call: Namespace) -> None:
    if call.suggest and len(set(call.rulesets)) > 1:
        raise CallError("`--suggest` is for one rule file", "name one file at a time")
    if call.every and not (call.coverage or call.suggest):
        raise CallError("`--all` says nothing alone", "add `--coverage` or `--suggest`")
    if call.output is None:
        if call.overwrite:
            raise CallError("`--overwrite` says nothing alone", "add `-o NEW`")
        return
    if not call.suggest:
        raise CallError("`-o` is where suggestions go", "add `--suggest`")
    if call.output != STANDARD_OUTPUT and not call.output.endswith(ENDING):
        raise CallError(
            f"`{call.output}` does not end in {ENDING}, as a rule file has to",
            f"`-o {call.output}{ENDING}`",
        )


def _rehearsed(name: str, call: Namespace) -> int:
    try:
        if not (call.coverage or call.suggest):
            return _printed(name, named(name).rules)
        file = own(name)
    except FileError as error:
        print_failure(error.problems, as_json=False)
        return NOT_RUN
    except CallError as error:
        print_failure([error.problem], as_json=False)
        return NOT_RUN
    # Running examples needs no solver.
    from trackprep.cli.untried import print_coverage, print_suggestions, untried

    found = untried(file, every=call.every)
    if call.suggest and not call.coverage and call.output in (None, STANDARD_OUTPUT):
        # Nothing beside them, so that they can be led into a file.
        code = _noted(name, file.rules)
    else:
        code = _printed(name, file.rules)
    if call.coverage:
        print_coverage(name, found)
    if call.suggest:
        print_suggestions(name, found, call.output or STANDARD_OUTPUT, overwrite=call.overwrite)
    return code


def _noted(name: str, rules: Rules) -> int:
    """What came of the examples, in a word where all came true."""
    examples = rehearse(rules)
    if not any(rehearsed.surprises for rehearsed in examples):
        return ALL_TRUE
    note(f"{name}: {_counted(examples)} out as expected; `trackprep rehearse {name}` shows why")
    return SOME_WRONG


def _printed(name: str, rules: Rules) -> int:
    examples = rehearse(rules)
    if not examples:
        say(f"{name}: there are no examples in this file to run")
        return ALL_TRUE
    for rehearsed in examples:
        _print(rehearsed)
    say(f"{name}: {_counted(examples)} out as expected")
    return SOME_WRONG if any(rehearsed.surprises for rehearsed in examples) else ALL_TRUE


def _counted(examples: Sequence[Rehearsed]) -> str:
    right = sum(not rehearsed.surprises for rehearsed in examples)
    of = "1 example comes" if len(examples) == 1 else f"{len(examples)} examples come"
    return f"{right} of {of}"


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
