"""What a supplement may not weaken: core rules, and the limits and lists that they use."""

from typing import Any

from trackprep.rules.clauses import kind_of
from trackprep.rules.loading import Loaded
from trackprep.rules.mentions import names_in
from trackprep.rules.statements import Statements
from trackprep.rules.vocabularies import vocabulary
from trackprep.syntax import tree

_ON_CORE = frozenset({"reason", "fix", "undo", "inspect", "source", "caution", "accept"})


def allowed_on_core(statement: tree.Rule) -> bool:
    """Whether a change to a core rule leaves it at least as strict."""
    if statement.strength == "stricter":
        return True
    kinds = {kind_of(detail) for detail in statement.details}
    return statement.strength == "amend" and kinds <= _ON_CORE and not statement.parts


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
