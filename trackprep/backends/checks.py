"""The reference meaning: a declaration's answers, by a plain walk over the conditions.

Every other back end gives the same answers; where they could be read in two ways,
what stands here is meant.
"""

from collections.abc import Collection, Iterable, Iterator
from datetime import date
from typing import Literal, TypeAlias, assert_never

from trackprep.backends.readings import possible, prepared
from trackprep.backends.statuses import BY_WEIGHT, Status
from trackprep.backends.terms import Values, named
from trackprep.dates import Span
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    Case,
    ChoiceTest,
    Condition,
    DayTest,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    NumberTest,
    SetTest,
    Test,
)
from trackprep.rules.model import Asked, Rule, Rules
from trackprep.truth import Truth, at_least, conjunction, disjunction, negation

__all__ = ["Outcome", "Status", "Verdict", "holds", "outcomes", "prepared", "verdict"]

Verdict: TypeAlias = Literal["ready", "not-ready", "incomplete"]


@frozen
class Outcome:
    """What one rule answers.

    Attributes:
        part: Of a rule `for each of` parts, the first part with this answer.
        declare: Of an unsettled rule, the undeclared facts that it waits for.
        narrow: Of an unsettled rule, the facts declared too coarsely for it.
    """

    status: Status
    part: str | None = None
    declare: tuple[str, ...] = ()
    narrow: tuple[str, ...] = ()


# ---- conditions -------------------------------------------------------------


def holds(condition: Condition, values: Values, event: date) -> Truth:
    """Whether `condition` holds of the prepared `values`; None where that is not known."""
    match condition:
        case (
            ChoiceTest()
            | GradeTest()
            | SetTest()
            | FlagTest()
            | NumberTest()
            | DayTest()
            | AgeTest()
            | Between()
        ):
            return _alike(possible(condition, values, event))
        case Not(inner):
            return negation(holds(inner, values, event))
        case All(parts):
            return conjunction(holds(part, values, event) for part in parts)
        case AnyOf(parts):
            return disjunction(holds(part, values, event) for part in parts)
        case AtLeast(count, parts):
            return at_least(count, (holds(part, values, event) for part in parts))
        case Meaning(_, inner):
            return holds(inner, values, event)
        case ByRows(_, rows):
            in_play = _rows_in_play(rows, values, event)
            return _alike([holds(row.test, values, event) for row in in_play])
        case _:
            assert_never(condition)


def _alike(truths: Collection[Truth]) -> Truth:
    """What all of the truths are, or None if they differ."""
    first, *others = truths
    return first if all(other is first for other in others) else None


def _rows_in_play(rows: tuple[Case, ...], values: Values, event: date) -> Iterator[Case]:
    """The rows that may be the first that holds; the last row of a limit always holds."""
    for row in rows:
        applies = row.condition is None or holds(row.condition, values, event)
        if applies is not False:
            yield row
        if applies is True:
            return


def _unknown_tests(condition: Condition, values: Values, event: date) -> Iterator[Test | Between]:
    """The tests that leave `condition` unknown, in reading order; none if it is known."""
    if holds(condition, values, event) is not None:
        return
    match condition:
        case Not(inner) | Meaning(_, inner):
            yield from _unknown_tests(inner, values, event)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            for part in parts:
                yield from _unknown_tests(part, values, event)
        case ByRows(_, rows):
            in_play = tuple(_rows_in_play(rows, values, event))
            for row in in_play:
                if row.condition is not None:
                    yield from _unknown_tests(row.condition, values, event)
            for row in in_play:
                yield from _unknown_tests(row.test, values, event)
        case (
            ChoiceTest()
            | GradeTest()
            | SetTest()
            | FlagTest()
            | NumberTest()
            | DayTest()
            | AgeTest()
            | Between()
        ):
            yield condition
        case _:
            assert_never(condition)


# ---- rules ------------------------------------------------------------------


def outcomes(rules: Rules, values: Values, event: date) -> tuple[Outcome, ...]:
    """What every rule answers to the prepared `values`, in the order of `rules.rules`."""
    return tuple(_outcome(rule, values, event) for rule in rules.rules)


def _outcome(rule: Rule, values: Values, event: date) -> Outcome:
    statuses = [_status(asked, values, event) for asked in rule.asked]
    worst = max(statuses, key=BY_WEIGHT.index)
    having = [asked for asked, status in zip(rule.asked, statuses, strict=True) if status == worst]
    if worst != "unsettled":
        return Outcome(worst, having[0].part)
    tests = [
        test
        for asked in having
        for condition in (asked.when, asked.demand)
        for test in _unknown_tests(condition, values, event)
    ]
    return Outcome(worst, having[0].part, _undeclared(tests, values), _coarse(tests, values, event))


def _status(asked: Asked, values: Values, event: date) -> Status:
    applies = holds(asked.when, values, event)
    if applies is False:
        return "not-asked"
    met = holds(asked.demand, values, event)
    if met is True:
        return "met"
    return "not-met" if applies is True and met is False else "unsettled"


def _undeclared(tests: Iterable[Test | Between], values: Values) -> tuple[str, ...]:
    paths = (path for test in tests for path in named(test) if path not in values)
    return tuple(dict.fromkeys(paths))


def _coarse(tests: Iterable[Test | Between], values: Values, event: date) -> tuple[str, ...]:
    """The dates of whose days some make the tests true and others do not."""
    torn = (test for test in tests if len(possible(test, values, event)) > 1)
    declared = ((path, values.get(path)) for test in torn for path in named(test))
    coarse = (path for path, span in declared if isinstance(span, Span) and not span.exact)
    return tuple(dict.fromkeys(coarse))


def verdict(rules: Rules, outcomes: Iterable[Outcome]) -> Verdict:
    """The answer on the whole declaration, by the required rules alone.

    A rule that waits only for facts of the inspector's does not count against `ready`.
    """
    required = [
        outcome
        for rule, outcome in zip(rules.rules, outcomes, strict=True)
        if rule.level == "required"
    ]
    if any(outcome.status == "not-met" for outcome in required):
        return "not-ready"
    if any(
        outcome.status == "unsettled" and not _waits_for_inspector(rules, outcome)
        for outcome in required
    ):
        return "incomplete"
    return "ready"


def _waits_for_inspector(rules: Rules, outcome: Outcome) -> bool:
    return (
        bool(outcome.declare)
        and not outcome.narrow
        and all(rules.facts[path].for_the_inspector for path in outcome.declare)
    )
