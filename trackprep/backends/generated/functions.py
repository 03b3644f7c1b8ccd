"""Rules as Python functions, so many rules to a function that building grows evenly."""

import ast
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from itertools import chain
from typing import TypeAlias

from attrs import frozen

from trackprep.backends.generated.expressions import (
    MORE,
    attribute,
    choose,
    compared,
    every,
    item,
    name,
    number,
    parameter,
    returned,
    row_of,
    unpacking,
)
from trackprep.backends.generated.lowering import Settled, boundary_day
from trackprep.backends.generated.predicates import BoundaryTest, Predicates, constants_of
from trackprep.backends.generated.slots import Code, Constants, SettledSlot, Slot, answer
from trackprep.backends.readings import Values
from trackprep.rules.conditions import Condition
from trackprep.rules.model import Asked, Rule, Rules

NOT_ASKED, MET, UNSETTLED, NOT_MET = range(4)
"""The worse answer of two parts is the greater."""
STATUSES = ("not-asked", "met", "unsettled", "not-met")

import os

RULES_TO_A_FUNCTION = int(os.environ.get("N", "150"))

Codes: TypeAlias = tuple[int, ...]
Function: TypeAlias = Callable[["Row"], Codes]

# Our own text; the boundary days become its parameters, the rules its inner function.
_FRAME = """
def bind():
    def statuses(row):
        pass
    return statuses
"""


@frozen(eq=False)
class Row:
    """A declaration as the generated functions read it: good for the ruleset it was made by.

    Attributes:
        latest: The last day that any past date may be, as an ordinal.
        parts: The codes that each function reads.
    """

    values: Values
    latest: int
    parts: tuple[tuple[Code, ...], ...]


@frozen(eq=False)
class Chunk:
    """The function of some of the rules.

    Attributes:
        bind: Gives the function, for the ordinals of the boundary days.
        reads: Where in the whole row the codes lie that the function reads.
        daily: Tests whose answers follow those codes, known on the event's day only.
    """

    place: int
    bind: Callable[..., Function]
    boundaries: tuple[BoundaryTest, ...]
    reads: tuple[int, ...]
    daily: tuple[Settled, ...]

    def pick(self, codes: Sequence[Code]) -> tuple[Code, ...]:
        """What the function reads of the whole row."""
        return tuple([codes[place] for place in self.reads])

    def on(self, event: date) -> Function:
        """The function for an event's day."""
        function = self.bind(*(boundary_day(test, event) for test in self.boundaries))
        if not self.daily:
            return function

        def settling_first(row: Row) -> Codes:
            settled = tuple(answer(test, row.values, event) for test in self.daily)
            parts = list(row.parts)
            parts[self.place] += settled
            return function(Row(row.values, row.latest, tuple(parts)))

        return settling_first


def joined(functions: Sequence[Function]) -> Function:
    """One function that gives what all of them do."""
    if len(functions) == 1:
        return functions[0]
    return lambda row: tuple(chain.from_iterable([function(row) for function in functions]))


def chunks_of(rules: Rules) -> tuple[tuple[Chunk, ...], tuple[Slot, ...], Constants]:
    """The functions of all rules, the slots of the whole row, and the constants of its places."""
    constants = constants_of(_conditions(rules.rules))
    row: dict[Slot, int] = {}
    firsts = range(0, len(rules.rules), RULES_TO_A_FUNCTION)
    chunks = tuple(
        _chunk(rules, place, first, constants, row) for place, first in enumerate(firsts)
    )
    return chunks, tuple(row), constants


def _conditions(rules: Iterable[Rule]) -> Iterator[Condition]:
    for rule in rules:
        for asked in rule.asked:
            yield asked.when
            yield asked.demand


def _chunk(
    rules: Rules, place: int, first: int, constants: Constants, row: dict[Slot, int]
) -> Chunk:
    some_rules = rules.rules[first : first + RULES_TO_A_FUNCTION]
    predicates = Predicates(rules, constants, _conditions(some_rules))
    answers = [_worst(predicates, rule.asked) for rule in some_rules]
    daily: dict[Slot, Settled] = {
        slot: slot.settled
        for slot in predicates.slots
        if isinstance(slot, SettledSlot) and slot.settled.daily
    }
    ready = [slot for slot in predicates.slots if slot not in daily]
    locals_read = [predicates.slots[slot] for slot in (*ready, *daily)]
    codes = item(attribute(name("row"), "parts"), number(place))
    body = [unpacking(locals_read, codes), *predicates.statements, returned(row_of(answers))]
    return Chunk(
        place,
        _built([boundary.id for boundary in predicates.boundaries.values()], body),
        tuple(predicates.boundaries),
        tuple(row.setdefault(slot, len(row)) for slot in ready),
        tuple(daily.values()),
    )


def _worst(predicates: Predicates, asked: tuple[Asked, ...]) -> ast.expr:
    """The status of a rule: of several parts, the worst."""
    worst, *others = (_status(predicates, one) for one in asked)
    for other in others:
        one, another = predicates.named(worst), predicates.named(other)
        worst = choose(compared(one, MORE, another), one, another)
    return worst


def _status(predicates: Predicates, asked: Asked) -> ast.expr:
    not_met = every([predicates.false(asked.demand), predicates.true(asked.when)])
    answered = choose(not_met, number(NOT_MET), number(UNSETTLED))
    answered = choose(predicates.true(asked.demand), number(MET), answered)
    return choose(predicates.false(asked.when), number(NOT_ASKED), answered)


def _built(parameters: list[str], body: list[ast.stmt]) -> Callable[..., Function]:
    """Compile the inner function's body, within the frame."""
    module = ast.parse(_FRAME)
    (bind,) = module.body
    assert isinstance(bind, ast.FunctionDef)
    inner = bind.body[0]
    assert isinstance(inner, ast.FunctionDef)
    bind.args.args = [parameter(text) for text in parameters]
    inner.body = body
    scope: dict[str, Callable[..., Function]] = {}
    exec(compile(module, "<rules>", "exec"), {"__builtins__": {}}, scope)
    return scope["bind"]
