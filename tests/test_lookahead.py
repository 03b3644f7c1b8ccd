"""A season ahead, held to asking about every single day of it, and to published days."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from naive import outcome as naive_outcome
from rewriting import LAW
from strategies import Case, cases
from test_agreement import rider_text
from thorough import THOROUGH

import trackprep
from trackprep.analysis.turning import BADNESS, Turning
from trackprep.backends import checks
from trackprep.rider.lookahead import EventAhead, season_ahead
from trackprep.rules.model import Rules
from trackprep.syntax.printer import print_rules

YEAR = 366  # days
DAY_BY_DAY = settings(LAW, max_examples=60 if THOROUGH else 15)
"""For laws that check every day of a year."""
BY_MODEL = settings(LAW, max_examples=300 if THOROUGH else 40)
"""For the law that asks the naive model, which is slow."""


def read(case: Case) -> tuple[trackprep.Ruleset, trackprep.Declaration]:
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="season")
    return ruleset, trackprep.parse_declaration(rider_text(case.declaration), ruleset)


def days_of(first: date, last: date) -> list[date]:
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]


# ---- laws ----------------------------------------------------------------------------


@DAY_BY_DAY
@given(cases(), st.integers(0, YEAR))
def test_a_season_says_what_a_check_on_each_of_its_days_says(case: Case, before: int) -> None:
    """Every rule, with what it waits for, and the verdict, on each day of a year."""
    ruleset, declaration = read(case)
    first = case.day - timedelta(days=before)
    ahead = season_ahead(ruleset.rules, declaration.values, first, first + timedelta(days=YEAR))
    verdicts = iter(ahead.stretches)
    stretch = next(verdicts)
    for day in days_of(ahead.first, ahead.last):
        values, _ = checks.prepared(ruleset.rules, declaration.values, day)
        expected = checks.outcomes(ruleset.rules, values, day)
        assert tuple(course.on(day) for course in ahead.courses) == expected, day
        if day > stretch.last:
            stretch = next(verdicts)
        assert (stretch.verdict, day >= stretch.first) == (
            checks.verdict(ruleset.rules, expected), True,
        )  # fmt: skip
    assert next(verdicts, None) is None


@BY_MODEL
@given(cases(), st.integers(-YEAR, YEAR))
def test_a_season_agrees_with_the_naive_model(case: Case, offset: int) -> None:
    ruleset, declaration = read(case)
    day = case.day + timedelta(days=offset)
    ahead = season_ahead(
        ruleset.rules, declaration.values,
        case.day - timedelta(days=YEAR), case.day + timedelta(days=YEAR),
    )  # fmt: skip
    declared = {its.path: its.values for its in case.declaration}
    expected = naive_outcome(case.rules, declared, day)
    answers = {course.rule.name: course.on(day).status for course in ahead.courses}
    assert answers == {name: answer.status for name, answer in expected.answers.items()}


@DAY_BY_DAY
@given(cases())
def test_until_is_the_first_day_on_which_an_answer_is_worse(case: Case) -> None:
    ruleset, declaration = read(case)
    turning = Turning(ruleset.rules, declaration.values)
    for rule in ruleset.rules.rules:
        until = turning.worse_from(rule, case.day)
        assert until is None or until > case.day
        now, found = None, None
        for day in days_of(case.day, case.day + timedelta(days=YEAR)):
            values, _ = checks.prepared(ruleset.rules, declaration.values, day)
            bad = BADNESS[checks.outcome(rule, values, day).status]
            now = bad if now is None else now
            if bad > now:
                found = day
                break
        if until is None or (until - case.day).days <= YEAR:
            assert until == found, rule.name
        else:
            assert found is None, rule.name


# ---- published days ------------------------------------------------------------------

RULES = """
ruleset season "Season"
{facts}
rule one "One"
  require {asked}
"""


def ahead_of(facts: str, asked: str, declared: str, first: str, last: str) -> EventAhead:
    ruleset = trackprep.parse_ruleset(RULES.format(facts=facts, asked=asked))
    declaration = trackprep.parse_declaration(declared, ruleset)
    return season_ahead(
        ruleset.rules, declaration.values, date.fromisoformat(first), date.fromisoformat(last)
    )


TYRE = 'fact tyre.built "Tyre built" week code'
MADE = 'fact helmet.made "Helmet made" past date'


@pytest.mark.parametrize(("facts", "asked", "declared", "turns"), [
    # 49 CFR 574.5(b)(3): 2319 is the week from Sunday 9 to Saturday 15 June 2019.
    (TYRE, "age of tyre.built is at most 5 years", "tyre.built is 2319",
     [("2024-01-01", "met"), ("2024-06-10", "unsettled"), ("2024-06-16", "not-met")]),
    # The same code, under a rule that counts by months: June to June.
    (TYRE, "age of tyre.built to the month is at most 5 years", "tyre.built is 2319",
     [("2024-01-01", "met"), ("2024-07-01", "not-met")]),
    # A helmet label says the month. "To the month" it is five years old all June 2026.
    (MADE, "age of helmet.made to the month is at most 5 years", "helmet.made is 2021-06",
     [("2024-01-01", "met"), ("2026-07-01", "not-met")]),
    # To the day, it is known only from 1 to 30 June whether it is five years old.
    (MADE, "age of helmet.made is at most 5 years", "helmet.made is 2021-06",
     [("2024-01-01", "met"), ("2026-06-02", "unsettled"), ("2026-07-01", "not-met")]),
    # 29 February and a year is 28 February, ISO 8601's calendar having no other day for it.
    (MADE, "age of helmet.made is at most 1 years", "helmet.made is 2024-02-29",
     [("2024-01-01", "unsettled"), ("2024-02-29", "met"), ("2025-03-01", "not-met")]),
    # Completed years: "aged 6 to 10" begins on the sixth and ends the day before the eleventh
    # birthday.
    ('fact rider.born "Born" past date', "completed years of rider.born is between 6 and 10",
     "rider.born is 2018-08-21",
     [("2024-01-01", "not-met"), ("2024-08-21", "met"), ("2029-08-21", "not-met")]),
    # A licence is good on the day that it names.
    ('fact licence.until "Valid until" date', "licence.until is on or after event.date",
     "licence.until is 2026-09-30", [("2024-01-01", "met"), ("2026-10-01", "not-met")]),
])  # fmt: skip
def test_answers_turn_on_the_published_days(
    facts: str, asked: str, declared: str, turns: list[tuple[str, str]]
) -> None:
    ahead = ahead_of(facts, asked, declared, "2024-01-01", "2031-12-31")
    (course,) = ahead.courses
    assert [(str(turn.day), turn.outcome.status) for turn in course.turns] == turns


@pytest.mark.parametrize("declared", ["helmet.made is 2021-02", "helmet.made is 2021"])
@pytest.mark.parametrize("asked", [
    "age of helmet.made is between 5 years and 61 months",
    "age of helmet.made is between 1800 days and 1801 days",
    "age of helmet.made to the year is between 5 years and 6 years",
    "completed years of helmet.made is between 5 and 5",
    "helmet.made + 61 months is event.date",  # no day comes out as 29 to 31 March
    "not (helmet.made is event.date - 5 years)",
    "age of helmet.made on event.year-start is at most age-of-gear",
])  # fmt: skip
def test_dates_that_are_named_twice_or_skip_days_turn_when_each_day_says(
    asked: str, declared: str
) -> None:
    facts = f'{MADE}\nlimit age-of-gear "Age of gear" is 5 years'
    ahead = ahead_of(facts, asked, declared, "2026-01-15", "2026-04-30")
    (course,) = ahead.courses
    values = trackprep.parse_declaration(declared, trackprep.Ruleset(ahead.rules)).values
    for day in days_of(ahead.first, ahead.last):
        known, _ = checks.prepared(ahead.rules, values, day)
        assert course.on(day) == checks.outcome(course.rule, known, day), day


def test_a_test_with_the_event_on_both_sides_turns_within_a_year_that_ends_as_it_began() -> None:
    """Forty days on from 1 January is 10 February."""
    ahead = ahead_of(
        MADE, "event.date - 40 days is on or before event.year-start", "helmet.made is 2021",
        "2026-01-15", "2027-01-15",
    )  # fmt: skip
    (course,) = ahead.courses
    assert [(str(turn.day), turn.outcome.status) for turn in course.turns] == [
        ("2026-01-15", "met"), ("2026-02-11", "not-met"), ("2027-01-01", "met"),
    ]  # fmt: skip


def test_a_change_says_what_was_and_whether_it_is_worse_or_comes_again() -> None:
    ahead = ahead_of(
        'fact seen "Seen" date',
        "seen is on or after event.date or seen is on or before event.year-start",
        "seen is 2026-06-14", "2026-01-01", "2027-12-31",
    )  # fmt: skip
    told = [(str(c.day), c.before, c.after, c.worse, c.again) for c in ahead.changes]
    assert told == [
        ("2026-06-15", "met", "not-met", True, False),
        ("2027-01-01", "not-met", "met", False, True),
    ]
    assert [stretch.verdict for stretch in ahead.stretches] == ["ready", "not-ready", "ready"]
    assert ahead.worst == "not-ready"


@pytest.mark.parametrize("last", ["2025-12-31", "2036-06-01"])
def test_a_season_that_is_none_is_refused(last: str) -> None:
    with pytest.raises(ValueError, match="season"):
        season_ahead(Rules("a", "A"), {}, date(2026, 1, 1), date.fromisoformat(last))
