"""Answers to declarations already in memory, beside straight-line Python and peers."""

from collections.abc import Callable, Iterator
from typing import Any

from tests.benchmark.engines import (
    Engine,
    by_hand,
    closures_engine,
    generated_engine,
    walk_engine,
    words,
)
from tests.benchmark.ours import declared, rules_of
from tests.benchmark.peers import peers
from tests.benchmark.recipe import EVENT, Recipe, Values, declarations, recipe
from tests.benchmark.table import Line, seconds
from tests.benchmark.timing import Timed, side_by_side
from trackprep import Declaration, Ruleset
from trackprep.backends import generated

Goals = tuple[float, float]
"""The ratio to stay under, and the looser gate."""

SLOW_ANSWERS = 3_600
"""Slow engines give about so many answers a call; the yardstick is paired all the same."""


def answering(
    rules: int, facts: int, count: int, goals: Goals, lacking_goals: Goals
) -> Iterator[Line]:
    """Every engine on complete declarations, then on ones that lack a tenth.

    Args:
        goals, lacking_goals: For complete ones, and for the others.
    """
    made = recipe(rules, facts)
    complete, lacking = (declarations(made, count, missing) for missing in (0, 0.1))
    yardstick = by_hand(made)
    stick = _over(yardstick, complete)
    yield Line(f"{rules} rules, {facts} facts, {count:,} declarations: ns a rule")
    for values, unknowns in ((complete, False), (lacking, True)):
        yield Line("a tenth of the facts undeclared" if unknowns else "everything declared")
        for engine in _engines(made, unknowns):
            if isinstance(engine, str):
                yield Line(f"  {engine}", note="skipped")
                continue
            _verify(engine, made, values[: SLOW_ANSWERS // rules])
            fast = engine.name.endswith(("generated", "closures"))
            some = values if fast else values[: SLOW_ANSWERS // rules]
            timed = side_by_side(stick, _over(engine, some))
            ours = engine.name.endswith("generated")
            yield _line(
                engine.name,
                timed,
                rules,
                count,
                len(some),
                (lacking_goals if unknowns else goals) if ours else None,
            )
    timed = side_by_side(stick, stick)
    yield _line(f"{yardstick.name} (the yardstick)", timed, rules, count, count, None)


def _engines(made: Recipe, unknowns: bool) -> Iterator[Engine | str]:
    yield generated_engine(made)
    yield closures_engine(made)
    yield walk_engine(made)
    yield from peers(made, unknowns=unknowns)


def _verify(engine: Engine, made: Recipe, values: list[Values]) -> None:
    """An engine that answers otherwise than the reference is not worth timing."""
    reference = walk_engine(made)
    for one in values:
        expected = words(reference.answers(reference.ready(one)))
        assert words(engine.answers(engine.ready(one))) == expected, f"{engine.name} differs"


def _over(engine: Engine, values: list[Values]) -> Callable[[], None]:
    rows: list[Any] = [engine.ready(one) for one in values]
    answers = engine.answers

    def run() -> None:
        for row in rows:
            answers(row)

    return run


def _line(
    name: str,
    timed: Timed,
    rules: int,
    sticks: int,
    count: int,
    goals: Goals | None,
) -> Line:
    each = timed.contender / count / rules
    ratio = timed.ratio * sticks / count
    goal, gate = goals or (None, None)
    return Line(f"  {name}", f"{each * 1e9:,.0f} ns", ratio, goal, gate)


def reporting() -> Iterator[Line]:
    """A whole report object, and what a declaration costs before its first answer."""
    made = recipe(60, 40)
    rules = rules_of(made)
    values = declarations(made, 200, 0)
    stick = _over(by_hand(made), values)
    ruleset = Ruleset(rules)
    given = [Declaration("", None, declared(one), {}, rules) for one in values]
    program = generated.compiled(rules)

    def report() -> None:
        for declaration in given:
            ruleset.check(declaration, on=EVENT).answers  # noqa: B018

    def row() -> None:
        for declaration in given:
            program.row(declaration.values)

    yield Line("60 rules, one declaration, beside Python by hand")
    timed = side_by_side(stick, report)
    yield Line(
        "  a report with an answer object a rule", seconds(timed.contender / 200), timed.ratio, 5, 6
    )
    timed = side_by_side(stick, row)
    yield Line("  a declaration made ready, once", seconds(timed.contender / 200), timed.ratio)
