"""Rule text to tree: every statement that can be read, and one problem for each that cannot."""

from trackprep.source import Place, Source
from trackprep.syntax import assembly
from trackprep.syntax.build_statements import RULES
from trackprep.syntax.driver import Parsed, Run, in_order
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.statements import RuleFile, Statement
from trackprep.syntax.tokens import tokenize

__all__ = ["Parsed", "parse_rider", "parse_rules", "parse_statement"]


def parse_rules(source: Source) -> Parsed:
    """The `RuleFile` of a `.trackrules` text."""
    run = Run(source, "rules", RULES)
    statements, misplaced = assembly.assembled(run.clauses())
    tree = RuleFile(statements, tuple(run.unread), source=source)
    return Parsed(tree, in_order(run.problems, misplaced), run.stream.comments)


def parse_statement(place: Place) -> Statement:
    """The statement at a place where one is known to stand whole and without a mistake."""
    stream = tokenize(place.source, place.start, place.end)
    (statement,), _ = assembly.assembled(Run(place.source, "rules", RULES, stream).clauses())
    return statement
