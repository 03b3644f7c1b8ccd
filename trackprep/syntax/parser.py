"""Rule text to tree: every statement that can be read, and one problem for each that cannot."""

from trackprep.source import Source
from trackprep.syntax import assembly
from trackprep.syntax.build_statements import RULES
from trackprep.syntax.driver import Parsed, Run, in_order
from trackprep.syntax.rider import parse_rider
from trackprep.syntax.statements import RuleFile

__all__ = ["Parsed", "parse_rider", "parse_rules"]


def parse_rules(source: Source) -> Parsed:
    """The `RuleFile` of a `.trackrules` text."""
    run = Run(source, "rules", RULES)
    statements, misplaced = assembly.assembled(run.clauses())
    tree = RuleFile(statements, tuple(run.unread), source=source)
    return Parsed(tree, in_order(run.problems, misplaced), run.stream.comments)
