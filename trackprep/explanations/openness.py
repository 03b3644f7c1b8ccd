"""Why an answer is not settled: what is undeclared, and what is declared too coarsely."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from trackprep.backends.terms import day_span, named
from trackprep.dates import Span, age_boundary, long_form
from trackprep.dates.spans import MONTHS
from trackprep.explanations.clauses import as_phrase
from trackprep.explanations.findings import Coarse, Missing
from trackprep.explanations.mentions import tests_in
from trackprep.explanations.opposites import without_not
from trackprep.explanations.phrases import fact_first
from trackprep.explanations.situation import Situation
from trackprep.explanations.wording import inside, is_week_code, label_of
from trackprep.rules.conditions import (
    AgeTest,
    All,
    ByRows,
    Condition,
    DayOf,
    DayTest,
    Test,
)
from trackprep.rules.model import Asked


def missing(path: str, asked: Iterable[Asked], situation: Situation) -> Missing:
    """The undeclared fact, and what the rule asks of it alone."""
    rules = situation.rules
    label = label_of(path, rules)
    said = []
    for one in asked:
        for part in _demands(one.demand, situation):
            phrase = as_phrase(part, rules)
            if phrase and phrase.subject in (inside(label), f"“{label}”"):
                said.append(phrase.asked)
    fact = rules.facts.get(path)
    return Missing(path, label, tuple(dict.fromkeys(said)), bool(fact and fact.for_the_inspector))


def _demands(demand: Condition, situation: Situation) -> Iterator[Condition]:
    """What must hold in any case; of a limit by rows only the row, where that is known."""
    match without_not(demand):
        case All(parts):
            for part in parts:
                yield from _demands(part, situation)
        case ByRows(_, rows) as by_rows:
            applies = (
                (row, row.condition is None or situation.holds(row.condition)) for row in rows
            )
            first = next(((row, truth) for row, truth in applies if truth is not False), None)
            if first and first[1] is True:
                yield from _demands(first[0].test, situation)
            else:
                yield by_rows
        case single:
            yield single


# ---- too coarse -------------------------------------------------------------


def coarse(path: str, asked: Iterable[Asked], situation: Situation) -> Coarse:
    """The date that is not declared finely enough, and what to declare instead."""
    rules = situation.rules
    tests = [test for one in asked for test in tests_in(All((one.when, one.demand)))]
    turning = {test: tuple(_hinges(test, path, situation)) for test in tests}
    days = sorted({day for hinges in turning.values() for day in hinges})
    hangs_on = (other for test, hinges in turning.items() if hinges for other in named(test))
    span = situation.declared.get(path, situation.values[path])
    assert isinstance(span, Span)
    finer = "" if is_week_code(path, rules) else _finer(span, days)
    return Coarse(
        path, label_of(path, rules), situation.written(path), tuple(map(long_form, days)), finer,
        tuple(dict.fromkeys(hangs_on)),
    )  # fmt: skip


def _hinges(test: Test, path: str, situation: Situation) -> Iterator[date]:
    """The days of the fact's span on which the test's answer changes."""
    span = situation.values[path]
    if not isinstance(span, Span) or path not in named(test):
        return
    match test:
        case AgeTest(DayOf(), on, comparison, months, days, grain):
            then = day_span(on, situation.values, situation.event)
            if then is None or not then.exact:
                return
            hinge = age_boundary(
                then.first, comparison, months=months or 0, days=days or 0, grain=grain
            ).day
        case DayTest():
            test = fact_first(test)
            bound = day_span(test.right, situation.values, situation.event)
            if test.left != DayOf(path) or bound is None or not bound.exact:
                return
            after = test.comparison in ("more than", "at most")
            hinge = bound.first + timedelta(days=after)
        case _:
            return
    if span.first < hinge <= span.last:
        yield hinge


def _finer(span: Span, hinges: list[date]) -> str:
    if (span.first.year, span.first.month) == (span.last.year, span.last.month):
        return "the day"
    inside_months = [day for day in hinges if day.day > 1]
    if hinges and not inside_months:
        return "the month"
    if not hinges:
        return "the month, or better the day"
    months = " or ".join(dict.fromkeys(MONTHS[day.month - 1] for day in inside_months))
    return f"the month, and the day too if it is {months}"
