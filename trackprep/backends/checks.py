"""The reference meaning: a declaration's answers, by a plain walk over the conditions.

Every other back end gives the same answers; where they could be read in two ways,
what stands here is meant.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal, TypeAlias, assert_never

from trackprep.backends.connectives import alike, in_play, truth_of
from trackprep.backends.days import Values
from trackprep.backends.readings import possible, prepared
from trackprep.backends.statuses import BY_WEIGHT, Status
from trackprep.backends.terms import named
from trackprep.dates import Span
from trackprep.frozen import frozen
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
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
from trackprep.truth import Truth

__all__ = [
    "Outcome", "Status", "Verdict", "holds", "outcome", "outcomes", "prepared", "verdict",
    "waits_for_inspector",
]  # fmt: skip

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
    return truth_of(condition, lambda test: alike(possible(test, values, event)))


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
            applying = tuple(in_play(rows, lambda when: holds(when, values, event)))
            for row in applying:
                if row.condition is not None:
                    yield from _unknown_tests(row.condition, values, event)
            for row in applying:
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
    return tuple(outcome(rule, values, event) for rule in rules.rules)


def outcome(rule: Rule, values: Values, event: date) -> Outcome:
    """What one rule answers to the prepared `values`."""
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
        outcome.status == "unsettled" and not waits_for_inspector(rules, outcome)
        for outcome in required
    ):
        return "incomplete"
    return "ready"


def waits_for_inspector(rules: Rules, outcome: Outcome) -> bool:
    """Whether an unsettled rule waits for facts of the inspector's alone."""
    return (
        bool(outcome.declare)
        and not outcome.narrow
        and all(rules.facts[path].for_the_inspector for path in outcome.declare)
    )
