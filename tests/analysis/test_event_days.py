"""Event days that are one question, against every day of a year and every date before them."""

from collections.abc import Callable
from datetime import date, timedelta
from functools import cache

import pytest
from almanac import add, completed_years, cut
from thorough import THOROUGH

from trackprep.analysis.events import questions
from trackprep.analysis.leaves import LeafOf
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.units import ONE

Naive = Callable[[date, date], bool]
"""Whether a test of a date holds for an event on a day."""
TYPES: dict[str, model.Type] = {
    "day": model.Dated("date"),
    "past": model.Dated("past date"),
    "week": model.Dated("week code"),
    "class": model.Choosing("one of", (model.Choice("road"), model.Choice("race"))),
    "count": model.Measured(ONE),
}
FACTS = {path: model.Fact(path, path, kind) for path, kind in TYPES.items()}
HOLDS: dict[str, Callable[[object, object], bool]] = {
    "at least": lambda a, b: a >= b,  # type: ignore[operator]
    "at most": lambda a, b: a <= b,  # type: ignore[operator]
    "more than": lambda a, b: a > b,  # type: ignore[operator]
    "less than": lambda a, b: a < b,  # type: ignore[operator]
}


@cache
def reached(made: date, months: int, days: int, grain: str) -> date:
    """When an age is reached."""
    return add(add(cut(made, grain), months, "months"), days, "days")


def age(
    path: str, comparison: c.Order, months: int = 0, days: int = 0, grain: str = "day"
) -> tuple[str, c.Test, Naive]:
    """`age of PATH is …`, with what it means."""
    test = c.AgeTest(
        c.DayOf(path), c.EventDay(), comparison, months or None, days or None, grain  # type: ignore[arg-type]
    )  # fmt: skip
    # The age stands to the limit as the event's day to the day that reaches it.
    return (
        path,
        test,
        lambda made, event: HOLDS[comparison](
            cut(event, grain), reached(made, months, days, grain)
        ),
    )


def fixed(path: str, comparison: c.Order, day: str) -> tuple[str, c.Test, Naive]:
    """`PATH is on or after DAY`, and so on."""
    limit = date.fromisoformat(day)
    test = c.DayTest(c.DayOf(path), comparison, c.FixedDay(limit))
    return path, test, lambda made, event: HOLDS[comparison](made, limit)


def to_event(path: str, comparison: c.Order, days: int = 0) -> tuple[str, c.Test, Naive]:
    """`PATH is on or after event.date + DAYS`, and so on."""
    test = c.DayTest(c.DayOf(path), comparison, c.Shifted(c.EventDay(), 0, days))
    return path, test, lambda made, event: HOLDS[comparison](made, event + timedelta(days=days))


def years(path: str, comparison: c.Order, count: int) -> tuple[str, c.Test, Naive]:
    """`completed years of PATH is …`."""
    its = c.CompletedYears(c.DayOf(path), c.EventDay())
    test = c.NumberTest(its, comparison, c.Constant(ONE.factor * count, ONE))
    return path, test, lambda made, event: HOLDS[comparison](completed_years(made, event), count)


def new_year(path: str, comparison: c.Order) -> tuple[str, c.Test, Naive]:
    """`PATH is on or after event.year-start`, and so on."""
    test = c.DayTest(c.DayOf(path), comparison, c.EventDay(True))
    return path, test, lambda made, event: HOLDS[comparison](made, event.replace(month=1, day=1))


CASES = {
    "two ages": [age("past", "at most", 12), age("past", "less than", 11)],
    "an age and a fixed day": [age("past", "at most", 12), fixed("past", "at least", "2023-03-30")],
    "leap day": [age("past", "at most", 12), fixed("past", "at least", "2023-02-28"),
                 fixed("past", "at least", "2023-03-01")],
    "month ends": [age("past", "at least", 1), age("past", "more than", 0, 30)],
    "months and days beside each other": [age("day", "at most", 6), age("day", "at most", 0, 182)],
    "to the month": [age("past", "at most", 12, grain="month"), age("past", "at most", 12)],
    "to the year": [age("past", "at least", 12, grain="year"), age("past", "at least", 0, 200)],
    "dates to come": [to_event("day", "at least", 5), fixed("day", "at most", "2024-03-03")],
    "a past date ends at the event": [fixed("past", "at least", "2024-05-01")],
    "a date does not": [fixed("day", "at least", "2024-05-01")],
    "completed years": [years("past", "at least", 1), fixed("past", "at most", "2023-02-28")],
    "years and an age": [years("past", "at least", 1), age("past", "at least", 12)],
    "the year's first day": [new_year("past", "at least"), age("past", "at most", 2)],
    "a week code": [age("week", "at most", 12)],
    "a week code and a day within a week": [age("week", "at most", 3),
                                            fixed("week", "at least", "2023-11-01")],
    "two ages of a week code": [age("week", "at most", 12), age("week", "less than", 11)],
    "an age of a week code to the month": [age("week", "at most", 6, grain="month"),
                                           age("week", "at most", 0, 190)],
    "two facts": [age("past", "at most", 12), fixed("past", "at least", "2023-08-02"),
                  age("day", "at most", 1), fixed("day", "at least", "2024-09-09")],
}  # fmt: skip


EVERY = [date(2022, 10, 1) + timedelta(days=n) for n in range(870)]
"""From before the oldest day that a case below tells apart to after the latest."""


def vectors(kind: model.Type, tests: list[Naive], event: date) -> frozenset[tuple[object, ...]]:
    """The answers that all dates that matter give to the tests."""
    every = EVERY
    assert isinstance(kind, model.Dated)
    if kind.how == "date":
        return frozenset(tuple(test(day, event) for test in tests) for day in every)
    every = [day for day in every if day <= event]
    if kind.how == "past date":
        return frozenset(tuple(test(day, event) for test in tests) for day in every)
    weeks: dict[date, list[date]] = {}
    for day in every:
        weeks.setdefault(day - timedelta(days=(day.weekday() + 1) % 7), []).append(day)
    return frozenset(
        tuple(_alike({test(day, event) for day in days}) for test in tests)
        for days in list(weeks.values())[1:]
    )


def _alike(answers: set[bool]) -> bool | None:
    return next(iter(answers)) if len(answers) == 1 else None


@pytest.mark.parametrize("title", CASES)
def test_days_of_one_question_answer_alike(title: str) -> None:
    first, last = date(2024, 1, 1), date(2024, 12, 31)
    leaves = [LeafOf(test) for _, test, _ in CASES[title]]
    found = questions(FACTS, leaves, first, last)
    every = [first + timedelta(days=n) for n in range(366)]
    assert sorted(day for days in found.values() for day in days) == every
    paths = dict.fromkeys(path for path, _, _ in CASES[title])
    its = {path: [naive for of, _, naive in CASES[title] if of == path] for path in paths}

    def answers(event: date) -> object:
        return [vectors(TYPES[path], tests, event) for path, tests in its.items()]

    for representative, days in found.items():
        said = answers(representative)
        for day in days if THOROUGH else (*days[1::7], days[-1]):
            assert answers(day) == said, (representative, day)
    assert len(found) <= 366 / 3, "hardly any two days are one question"


# ---- what is not a date -------------------------------------------------------


def test_day_matters_not_where_no_test_names_it() -> None:
    leaf = LeafOf(c.ChoiceTest("class", frozenset({"road"})))
    days = questions(FACTS, [leaf], date(2026, 1, 1), date(2026, 12, 31))
    assert list(days) == [date(2026, 1, 1)]


def test_event_before_a_day_is_another_question() -> None:
    leaf = LeafOf(c.DayTest(c.EventDay(), "at least", c.FixedDay(date(2026, 6, 1))))
    days = questions(FACTS, [leaf], date(2026, 5, 1), date(2026, 7, 1))
    assert list(days) == [date(2026, 5, 1), date(2026, 6, 1)]


def test_years_to_the_event_beside_a_number() -> None:
    """The venue's own years since a day move the limit that a count is held to."""
    since = c.CompletedYears(c.FixedDay(date(2020, 6, 10)), c.EventDay())
    leaf = LeafOf(c.NumberTest(c.NumberOf("count"), "at most", since))
    days = questions(FACTS, [leaf], date(2026, 6, 1), date(2027, 6, 30))
    assert list(days) == [date(2026, 6, 1), date(2026, 6, 10), date(2027, 6, 10)]


@pytest.mark.parametrize("order", ["at most", "less than"])
@pytest.mark.parametrize("months", [0, 1])
def test_two_dates_and_a_fixed_one_are_asked_each_day(order: c.Order, months: int) -> None:
    leaves = [
        LeafOf(c.DayTest(c.DayOf("past"), order, c.Shifted(c.DayOf("day"), months, 1))),
        LeafOf(c.DayTest(c.DayOf("day"), "at least", c.FixedDay(date(2026, 6, 14)))),
    ]
    days = questions(FACTS, leaves, date(2026, 6, 1), date(2026, 6, 30))
    assert len(days) == 30
    alone = questions(FACTS, leaves[:1], date(2026, 6, 1), date(2026, 6, 30))
    assert len(alone) == (30 if months else 1)
