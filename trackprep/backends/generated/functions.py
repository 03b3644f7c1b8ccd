"""Rules as Python functions, so many rules to a function that building grows evenly."""

import ast
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from itertools import chain
from typing import TypeAlias

from attrs import evolve, field, frozen

from trackprep.backends.days import Values
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
    table,
    text,
    unpacking,
)
from trackprep.backends.generated.lowering import Settled, boundary_day
from trackprep.backends.generated.predicates import BoundaryTest, Predicates
from trackprep.backends.generated.slots import Code, Constants, SettledSlot, Slot, answer
from trackprep.backends.statuses import BY_WEIGHT, Status
from trackprep.rules.conditions import Condition
from trackprep.rules.model import Asked, Rule, Rules

RULES_TO_A_FUNCTION = 300
MOST_EVENTS = 64
"""The functions of so many event days are kept."""

Statuses: TypeAlias = tuple[Status, ...]
Function: TypeAlias = Callable[["Row"], Statuses]

# Our own text; the boundary days become its parameters, the rules its inner function.
_FRAME = """
def bind():
    def statuses(row):
        pass
    return statuses
"""


@frozen(eq=False)
class Row:
    """A declaration as generated functions read it.

    Attributes:
        program: The functions that it was made for.
        latest: The last day that any past date may be, as an ordinal.
        parts: The codes that each function reads.
    """

    values: Values
    program: "Program"
    latest: int
    parts: tuple[tuple[Code, ...], ...]


@frozen(eq=False)
class Chunk:
    """The function of some of the rules.

    Attributes:
        place: Which of a row's parts it reads.
        bind: Gives the function, for the ordinals of the boundary days.
        reads: Where in all codes of a declaration those lie that it reads.
        daily: Tests whose answers follow those codes, known on the event's day only.
    """

    place: int
    bind: Callable[..., Function]
    boundaries: tuple[BoundaryTest, ...]
    reads: tuple[int, ...]
    daily: tuple[Settled, ...]

    def part(self, codes: Sequence[Code]) -> tuple[Code, ...]:
        """What it reads of all codes."""
        return tuple([codes[place] for place in self.reads])

    def on(self, event: date) -> Function:
        """The function for an event's day."""
        function = self.bind(*(boundary_day(test, event) for test in self.boundaries))
        if not self.daily:
            return function

        def settling_first(row: Row) -> Statuses:
            settled = tuple(answer(test, row.values, event) for test in self.daily)
            parts = list(row.parts)
            parts[self.place] += settled
            return function(evolve(row, parts=tuple(parts)))

        return settling_first


@frozen(eq=False)
class Program:
    """The functions of all rules."""

    chunks: tuple[Chunk, ...]
    bound: dict[date, tuple[int, Function]] = field(factory=dict, init=False)
    """For event days met before: the day's ordinal, and the function for it."""

    @property
    def daily(self) -> tuple[Settled, ...]:
        """The tests whose answers are known on the event's day only."""
        return tuple(chain.from_iterable(chunk.daily for chunk in self.chunks))

    def bind(self, event: date) -> tuple[int, Function]:
        """The event's ordinal and the function that answers all rules on it."""
        if len(self.bound) >= MOST_EVENTS:
            self.bound.clear()
        functions = [chunk.on(event) for chunk in self.chunks]
        self.bound[event] = event.toordinal(), _joined(functions)
        return self.bound[event]


def _joined(functions: Sequence[Function]) -> Function:
    if len(functions) == 1:
        return functions[0]
    return lambda row: tuple(chain.from_iterable([function(row) for function in functions]))


def program(
    rules: Rules, constants: Constants, places: dict[Slot, int], *, unknowns: bool
) -> Program:
    """Generate the functions of a ruleset.

    Args:
        places: Where in all codes of a declaration each slot lies; new ones are added.
        unknowns: Whether tests may be unknown; if not, the functions are shorter.
    """
    firsts = range(0, len(rules.rules), RULES_TO_A_FUNCTION)
    chunks: list[Chunk] = []
    for place, first in enumerate(firsts):
        some_rules = rules.rules[first : first + RULES_TO_A_FUNCTION]
        predicates = Predicates(rules, constants, conditions_of(some_rules))
        answers = [_answer(predicates, rule.asked, unknowns) for rule in some_rules]
        chunks.append(_chunk(place, predicates, answers, places))
    return Program(tuple(chunks))


def conditions_of(rules: Iterable[Rule]) -> Iterator[Condition]:
    """Every condition that an answer hangs on."""
    for rule in rules:
        for asked in rule.asked:
            yield asked.when
            yield asked.demand


def _chunk(
    place: int, predicates: Predicates, answers: list[ast.expr], places: dict[Slot, int]
) -> Chunk:
    daily: dict[Slot, Settled] = {
        slot: slot.settled
        for slot in predicates.slots
        if isinstance(slot, SettledSlot) and slot.settled.daily
    }
    read = [slot for slot in predicates.slots if slot not in daily]
    codes = item(attribute(name("row"), "parts"), number(place))
    body = [
        unpacking([predicates.slots[slot] for slot in (*read, *daily)], codes),
        *predicates.statements,
        returned(row_of(answers)),
    ]
    return Chunk(
        place,
        _built([boundary.id for boundary in predicates.boundaries.values()], body),
        tuple(predicates.boundaries),
        tuple(places.setdefault(slot, len(places)) for slot in read),
        tuple(daily.values()),
    )


def _answer(predicates: Predicates, asked: tuple[Asked, ...], unknowns: bool) -> ast.expr:
    """The status of a rule: of several parts, the weightiest."""
    answer = _status if unknowns else _known_status
    if len(asked) == 1:
        return answer(predicates, asked[0], text)
    weights = [
        predicates.named(answer(predicates, one, lambda status: number(BY_WEIGHT.index(status))))
        for one in asked
    ]
    heaviest: ast.expr = weights[0]
    for weight in weights[1:]:
        so_far = predicates.named(heaviest)
        heaviest = choose(compared(so_far, MORE, weight), so_far, weight)
    return item(table(BY_WEIGHT), heaviest)


def _known_status(
    predicates: Predicates, asked: Asked, said: Callable[[Status], ast.expr]
) -> ast.expr:
    answered = choose(predicates.true(asked.demand), said("met"), said("not-met"))
    return choose(predicates.true(asked.when), answered, said("not-asked"))


def _status(predicates: Predicates, asked: Asked, said: Callable[[Status], ast.expr]) -> ast.expr:
    not_met = every([predicates.false(asked.demand), predicates.true(asked.when)])
    answered = choose(not_met, said("not-met"), said("unsettled"))
    answered = choose(predicates.true(asked.demand), said("met"), answered)
    return choose(predicates.false(asked.when), said("not-asked"), answered)


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
