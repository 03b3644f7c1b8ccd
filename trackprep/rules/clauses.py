"""The clauses of rules and limits: which kind one is, and what an amendment replaces."""

from typing import Any

from trackprep.rules.reporting import Reporter
from trackprep.syntax import tree


def kind_of(detail: Any) -> str:
    """The kind of a clause: an amendment replaces all clauses of the kinds it gives."""
    match detail:
        case tree.When():
            return "when"
        case tree.Demand():
            return "demand"
        case tree.Accept():
            return "accept"
        case tree.Prose() | tree.Work():
            return str(detail.keyword)
        case _:
            return "source"


def replaced(
    before: tuple[Any, ...], changes: tuple[Any, ...], *, value: bool = False
) -> tuple[Any, ...]:
    """The clauses before a change, with those that it gives in place of all of their kinds.

    A source goes with what it is the source of: a new value, or a new demand, without one
    has none.

    Args:
        value: Whether the change gives a new value.
    """
    given = {kind_of(detail) for detail in changes}
    if value or "demand" in given:
        given.add("source")
    return tuple(d for d in before if kind_of(d) not in given) + changes


def once_each(rule: tree.Rule, reporter: Reporter) -> None:
    """Reports a clause that may not stand twice in a rule."""
    seen: set[str] = set()
    for detail in rule.details:
        kind = kind_of(detail)
        if kind in seen and kind in ("reason", "inspect", "source"):
            reporter.report(
                "said-twice", f"`{kind}` stands in this rule a second time", detail.place,
                suggestion="make one of the two, several strings one after another if it is long",
            )  # fmt: skip
        seen.add(kind)
