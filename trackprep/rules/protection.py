"""What a supplement may not weaken: core rules, and the limits and lists that they use."""

from typing import Any

from trackprep.rules.clauses import kind_of
from trackprep.rules.loading import Loaded
from trackprep.rules.mentions import names_in
from trackprep.rules.reporting import Reporter
from trackprep.rules.statements import RuleStatement, Statements
from trackprep.rules.vocabularies import vocabulary
from trackprep.syntax import tree

_ON_CORE = frozenset({"reason", "fix", "undo", "inspect", "source", "caution", "accept"})


def allowed_on_core(statement: tree.Rule) -> bool:
    """Whether a change to a core rule leaves it at least as strict."""
    if statement.strength == "stricter":
        return True
    kinds = {kind_of(detail) for detail in statement.details}
    return statement.strength == "amend" and kinds <= _ON_CORE and not statement.parts


def drops_others(statement: tree.Rule, before: RuleStatement, reporter: Reporter) -> bool:
    """`stricter … when …` on a rule for everybody would drop it for all the others."""
    whens = [d for d in statement.details if isinstance(d, tree.When)]
    for_all = not any(isinstance(d, tree.When) for d in before.details)
    if statement.strength != "stricter" or not whens or not for_all:
        return False
    reporter.report(
        "drops-others",
        f"with this condition `{statement.name}` is no longer asked of anybody else",
        whens[0].place,
        expected="a stricter rule, asked at least of all whom the base asks",
        suggestion="leave the condition out, or write a rule of another name beside it",
    )
    return True


def core_names(whole: Statements, loaded: Loaded) -> frozenset[str]:
    """The limits and lists that a core rule uses, by whatever way."""
    assert loaded.base is not None
    derived = vocabulary(loaded.base).derived
    found: set[str] = set()
    waiting: list[Any] = [r.details for r in whole.rules.values() if r.core]
    waiting += [r.section.conditions for r in whole.rules.values() if r.core and r.section]
    waiting += [n.statement for n in whole.limits.values() if n.core]
    while waiting:
        for name in map(str.lower, names_in(waiting.pop())):
            if name in found:
                continue
            found.add(name)
            if name in derived:
                waiting.append(derived[name].statement.definition)
            if name in whole.limits:
                waiting.append(whole.limits[name].statement.value)
    return frozenset(found)
