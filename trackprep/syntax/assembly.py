"""Clauses to statements: puts the details of a rule, fact or example under their head."""

from typing import Any

from attrs import evolve

from trackprep.problems import Problem
from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.forms import TAKES
from trackprep.syntax.words import ROW, STATEMENTS

_SETTINGS = frozenset({"edition", "organizer", "venue", "contact"})
_NOTES = frozenset({"note", "bring"})

# Which detail may stand under which head; the words say where it belongs.
_FACT_WORDS = frozenset({"ask", "caution"})
_RULE_WORDS = frozenset({"reason", "inspect", "caution", "note", "bring"})
_FORMULA_WORDS = frozenset({"reason", "caution"})


def assembled(clauses: list[Any]) -> tuple[tuple[tree.Statement, ...], list[Problem]]:
    """The statements that the clauses make, and a problem for each clause out of place."""
    work = _Assembly()
    for clause in clauses:
        work.add(clause)
    work.close()
    return tuple(work.statements), work.problems


class _Assembly:
    """The statements so far, and the head that the next details belong to."""

    def __init__(self) -> None:
        self.statements: list[tree.Statement] = []
        self.problems: list[Problem] = []
        self.head: Any = None
        self.details: list[Any] = []
        self.damaged = False
        self.swallow = False  # details of a head that could not be read say nothing

    def add(self, clause: Any) -> None:
        if isinstance(clause, tuple):  # `declare A is x  B is y`
            for given in clause:
                self.add(given)
        elif isinstance(clause, tree.Unread):
            self.unread(clause)
        elif _is_detail(clause):
            self.detail(clause)
        else:
            self.close()
            if isinstance(clause, _HEADS):
                self.head = clause
            else:
                self.statements.append(clause)

    def unread(self, clause: tree.Unread) -> None:
        unknown = clause.keyword not in STATEMENTS and clause.keyword != ROW
        if clause.keyword in _HEAD_WORDS or (unknown and _means_head(clause.keyword)):
            self.close()
            self.swallow = True
        elif self.head is not None:
            self.damaged = True
        self.swallow |= unknown

    def detail(self, clause: Any) -> None:
        if self.head is not None and _belongs(clause, self.head):
            self.details.append(clause)
            worked_out = not isinstance(self.head, tree.Fact)
            if isinstance(clause, tree.How) and clause.takes and worked_out:
                self.problems.append(_out_of_place(clause.takes, self.head))
        elif isinstance(clause, tree.Prose) and clause.keyword in _SETTINGS | _NOTES:
            self.close()
            self.statements.append(clause)
        elif not self.swallow:
            self.problems.append(_out_of_place(clause, self.head))

    def close(self) -> None:
        """Ends the head in work."""
        if self.head is not None:
            changes: dict[str, Any] = {"details": tuple(self.details)}
            if self.details:
                last = self.details[-1].place
                place = self.head.place
                changes["place"] = Place(place.source, place.start, last.end)
            if self.damaged:
                changes["damaged"] = True
            self.statements.append(evolve(self.head, **changes))
        self.head, self.details, self.damaged, self.swallow = None, [], False, False


_HEADS = (
    tree.Fact, tree.Derived, tree.Formula, tree.Table, tree.Limit, tree.List, tree.Section,
    tree.Rule, tree.Withdraw, tree.Example,
)  # fmt: skip
_HEAD_WORDS = frozenset(head.__name__.lower() for head in _HEADS)


def _means_head(word: str) -> bool:
    """Whether somebody who starts a statement with a word means a head: `function f(…)`."""
    from trackprep.syntax.mistakes import meant_statement  # a text without mistakes needs none

    return meant_statement(word) in _HEAD_WORDS


def _is_detail(clause: Any) -> bool:
    return isinstance(
        clause,
        tree.Prose | tree.How | tree.SourceOf | tree.Also | tree.Mark | tree.When | tree.Demand
        | tree.Work | tree.Given | tree.Expect | tree.TableRow | tree.Accept,
    )  # fmt: skip


def _belongs(clause: Any, head: Any) -> bool:
    """Whether a detail may stand under a head."""
    match clause:
        case tree.Prose(keyword):
            return keyword in _WORDS_OF.get(type(head), frozenset())
        case tree.How():
            return isinstance(head, tree.Fact | tree.Derived | tree.Formula | tree.Table)
        case tree.SourceOf():
            return not isinstance(head, tree.Section | tree.Withdraw | tree.Example | None)
        case tree.Also() | tree.Mark():
            return isinstance(head, tree.Fact | tree.Derived)
        case tree.When() | tree.Demand() | tree.Work():
            return isinstance(head, tree.Rule)
        case tree.TableRow():
            return isinstance(head, tree.Table)
        case tree.Accept():
            return not isinstance(head, tree.Section | tree.Withdraw | None)
        case _:
            return isinstance(head, tree.Example)


_WORDS_OF: dict[type, frozenset[str]] = {
    tree.Fact: _FACT_WORDS,
    tree.Derived: _FACT_WORDS,
    tree.Formula: _FORMULA_WORDS,
    tree.Table: _FORMULA_WORDS,
    tree.Limit: frozenset({"reason"}),
    tree.List: frozenset({"reason"}),
    tree.Section: _NOTES,
    tree.Rule: _RULE_WORDS,
    tree.Withdraw: frozenset({"reason"}),
}


def _out_of_place(clause: Any, head: Any) -> Problem:
    word = _word(clause)
    where = f"under `{_word(head)}`" if head is not None else "here"
    return Problem(
        "out-of-place",
        f"`{word}` does not stand {where}",
        clause.place,
        expected=TAKES if word == "takes" else f"`{word}` {_HOME.get(word, 'under a rule')}",
        suggestion=_MOVE.get(word, "move it below the `rule` that it is about"),
    )


_HOME = {
    "accept": "under the statement that a finding of `proofread` is about",
    "ask": "under a fact",
    "how": "under a fact",
    "also": "under a fact, or behind a choice",
    "declare": "under an example",
    "expect": "under an example",
    "caution": "under a rule or a fact",
    "source": "under a rule, a fact, a limit, a list, a formula or a table",
    "row": "under a table",
}
_MOVE = {
    "accept": "move it below the `rule`, `limit`, `list`, `fact` or `example` that it is about",
    "ask": "move it below the `fact` that it is about",
    "how": "move it below the `fact` that it is about",
    "also": "move it below the `fact` that it is about",
    "declare": 'begin the example: `example "What it shows"`',
    "expect": 'begin the example: `example "What it shows"`',
    "row": "move it below the `table` that it belongs to",
    "takes": "take it out: what is worked out is nothing that anybody has to look for",
}


def _word(node: Any) -> str:
    match node:
        case tree.Prose() | tree.Demand() | tree.Work() | tree.Heading() | tree.Uses():
            return node.keyword
        case tree.When():
            return "unless" if node.negated else "when"
        case tree.Mark():
            return node.word
        case tree.SourceOf():
            return "source"
        case tree.Given():
            return "declare"
        case tree.TableRow():
            return "row"
        case _:
            return type(node).__name__.lower()
