"""Findings of proofreading that a rule file accepts in place: `accept FINDING "reason"`.

Which findings there are belongs to the language, since files name them.
"""

from collections.abc import Iterable, Iterator
from typing import Any, Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.rules import model
from trackprep.rules.facts import origin
from trackprep.rules.reporting import Reporter, nearest
from trackprep.syntax import tree

Weight: TypeAlias = Literal["problem", "fault", "remark"]

WEIGHTS: dict[str, Weight] = {
    "not-stricter": "problem",
    "not-looser": "problem",
    "core-weakened": "problem",
    "same-as-base": "fault",
    "undecided": "fault",
    "never-asked": "fault",
    "never-met": "fault",
    "never-fails": "fault",
    "cannot-both-be-met": "fault",
    "implied": "fault",
    "unused-limit": "fault",
    "unused-list": "fault",
    "unused-fact": "fault",
    "unused-formula": "fault",
    "unused-table": "fault",
    "states-old-value": "fault",
    "example-tells-nothing": "fault",
    "accepts-nothing": "fault",
    "without-fix": "remark",
    "without-source": "remark",
    "without-example": "remark",
}
"""Every finding there is, and how much it weighs.

Problems are claims that are not true; faults are most likely mistakes; remarks are what a
careful organizer would add.
"""

_LASTING = frozenset({"accepts-nothing"})
"""What goes away only by mending it, though it is no problem."""


@frozen
class Acceptance:
    """That something found is meant so.

    Attributes:
        about: What it stands under, as `rule tread`.
        reason: Why it is meant so.
    """

    about: str
    finding: str
    reason: str
    origin: model.Origin


def may_be_accepted(finding: str) -> bool:
    """Whether a file may say that it is meant so."""
    return WEIGHTS.get(finding) in ("fault", "remark") and finding not in _LASTING


def named(statement: Any) -> str | None:
    """What findings about a statement are about: `rule tread`; None of one without findings."""
    match statement:
        case tree.Fact(path):
            return f"fact {path}"
        case tree.Derived(path):
            return f"derived {path}"
        case tree.Rule(name) | tree.Limit(name) | tree.List(name):
            return f"{type(statement).__name__.lower()} {name}"
        case tree.Formula(name) | tree.Table(name):
            return f"{type(statement).__name__.lower()} {name}"
        case tree.Example(title):
            return f'example "{title}"'
        case _:
            return None


def acceptances(statements: Iterable[tree.Statement]) -> tuple[Acceptance, ...]:
    """What the statements accept, in their order."""
    return tuple(
        Acceptance(about, clause.finding, clause.reason, origin(clause.place))
        for about, clause in _clauses(statements)
    )


def check_acceptances(statements: Iterable[tree.Statement], reporter: Reporter) -> None:
    """Reports what is no finding, or none that can be accepted."""
    acceptable = [name for name in WEIGHTS if may_be_accepted(name)]
    for _, clause in _clauses(statements):
        name = clause.finding
        if name not in WEIGHTS:
            near = nearest(name, acceptable)
            reporter.report(
                "unknown-finding", f"`{name}` is nothing that proofreading finds",
                clause.finding_place,
                expected="the name of a finding, as `trackprep proofread` shows it",
                suggestion=f"write `{near}`" if near else None,
            )  # fmt: skip
        elif name in _LASTING:
            reporter.report(
                "not-acceptable",
                f"`{name}` cannot be accepted: it is about an `accept` that does nothing",
                clause.finding_place, suggestion="take both lines out",
            )  # fmt: skip
        elif not may_be_accepted(name):
            reporter.report(
                "not-acceptable", f"`{name}` cannot be accepted: what a file claims must be so",
                clause.finding_place,
                suggestion="take this line out, and change what it is about until it is so",
            )  # fmt: skip


def _clauses(statements: Iterable[tree.Statement]) -> Iterator[tuple[str, tree.Accept]]:
    for statement in statements:
        about = named(statement)
        if about is not None:
            for clause in getattr(statement, "details", ()):
                if isinstance(clause, tree.Accept):
                    yield about, clause
