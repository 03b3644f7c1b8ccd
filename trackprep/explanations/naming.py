"""The name of the limit that a test came from, and which of its rows was meant."""

from collections.abc import Sequence

from trackprep.explanations.clauses import bracketed
from trackprep.explanations.deciding import Deciding
from trackprep.explanations.wording import limit_label
from trackprep.rules.conditions import AnyOf, Case, Condition
from trackprep.rules.model import Rules


def named_limit(asked: str, limit: str | None, deciding: Deciding, rules: Rules) -> str:
    """What is asked, with its limit's name once, and the row that it was taken from."""
    if limit is None:
        return asked
    label = limit_label(limit, rules)
    asked = asked.replace(f" (limit {label})", "")
    if label in asked:
        return asked
    return f"{asked} (limit {label}{_row(deciding.rows.get(limit, ()), rules)})"


def _row(rows: Sequence[Case], rules: Rules) -> str:
    """`, if machine style is “Mini”`, or of the last row `, unless …`; nothing of no rows."""
    if not rows:
        return ""
    *before, chosen = rows
    if chosen.condition is not None:
        return f", if {bracketed(chosen.condition, rules)}"
    exceptions = tuple(way for row in before if row.condition for way in _ways(row.condition))
    return f", unless {bracketed(AnyOf(exceptions), rules)}" if exceptions else ""


def _ways(condition: Condition) -> tuple[Condition, ...]:
    return condition.parts if isinstance(condition, AnyOf) else (condition,)
