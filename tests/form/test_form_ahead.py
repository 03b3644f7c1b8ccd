"""The look ahead of the page: on which day which rule turns, as Python's says it."""

import re
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta
from fractions import Fraction
from typing import Any, TypeAlias

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st
from models import declarations, events, rule, rules_of, rulesets
from strategies import Case, cases
from test_agreement import rider_text
from thorough import THOROUGH

import trackprep
from trackprep.backends.page import plain_day, plain_rules, plain_values
from trackprep.dates import span_of
from trackprep.published import rulesets_folder
from trackprep.rider.lookahead import EventAhead, season_ahead
from trackprep.rules import conditions as c
from trackprep.rules.model import Rules
from trackprep.syntax.printer import print_rules
from trackprep.units import ONE

Call: TypeAlias = Callable[..., Any]

FEW = settings(max_examples=200 if THOROUGH else 12, deadline=None)
SEASON = (date(2026, 1, 1), date(2026, 12, 31))
YEAR, QUARTER = timedelta(days=366), timedelta(days=92)

AHEAD = """(rules, declared, first, last) => {
  const sitting = (values) => ({ ruleset: new Ruleset(rules), values, day: first });
  const sittings = declared.map(sitting);
  return lookAhead(sittings, first, last);
}"""


def model(ahead: EventAhead, event: int) -> Iterator[dict[str, Any]]:
    """The changes that Python's look-ahead tells."""
    places = {course.rule.name: place for place, course in enumerate(ahead.courses)}
    for change in ahead.changes:
        yield {
            "event": event, "rule": places[change.rule.name], "from": plain_day(change.day),
            "status": change.after, "was": change.before, "worse": change.worse,
        }  # fmt: skip


def agree(call: Call, rules: Rules, declared: Iterable[Any], first: date, last: date) -> int:
    """How many changes both tell; they tell the same."""
    rules = named_apart(rules)
    declared = list(declared)
    found = call(
        AHEAD, plain_rules(rules), [plain_values(values) for values in declared],
        plain_day(first), plain_day(last),
    )  # fmt: skip
    seasons = [season_ahead(rules, values, first, last) for values in declared]
    changes = [change for place, ahead in enumerate(seasons) for change in model(ahead, place)]
    assert found == changes
    return len(changes)


def named_apart(rules: Rules) -> Rules:
    """The same with rules of different names; those made at random have one name."""
    several = (evolve(rule, name=f"{rule.name}-{place}") for place, rule in enumerate(rules.rules))
    return evolve(rules, rules=tuple(several))


VENUES = [
    path.stem
    for path in sorted(rulesets_folder().glob("*.trackrules"))
    if re.search(r"^ruleset ", path.read_text(encoding="utf-8"), re.MULTILINE)
]
RIDERS = sorted(rulesets_folder().glob("*.rider"))


@pytest.mark.parametrize("name", VENUES)
def test_the_season_of_every_demo_rider(call: Call, name: str) -> None:
    ruleset = trackprep.read_ruleset(name)
    declared: list[Any] = [{}]
    for path in RIDERS:
        try:
            declared.append(trackprep.read_declaration(path, ruleset).values)
        except trackprep.DeclarationError:
            continue
    assert len(declared) > 1
    assert agree(call, ruleset.rules, declared, *SEASON)


@FEW
@given(cases(), st.integers(-366, 366))
def test_typed_rule_files(call: Call, case: Case, before: int) -> None:
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="ahead")
    values = trackprep.parse_declaration(rider_text(case.declaration), ruleset).values
    first = case.day - timedelta(days=before)
    agree(call, ruleset.rules, [values], first, first + QUARTER)


@FEW
@given(rulesets(), declarations, events)
def test_rulesets_of_any_conditions(call: Call, rules: Rules, values: Any, event: date) -> None:
    agree(call, rules, [values], event - QUARTER, event + QUARTER)


# ---- tests that do not go one way ----------------------------------------------------

PAST, EVENT, NEW_YEAR = c.DayOf("day.past"), c.EventDay(), c.EventDay(year_start=True)
YEARS = c.CompletedYears(PAST, EVENT)
THEN = c.CompletedYears(PAST, c.FixedDay(date(2025, 6, 15)))


def number(term: c.Term, comparison: Any, limit: int) -> c.NumberTest:
    return c.NumberTest(term, comparison, c.Constant(Fraction(limit), ONE))


@pytest.mark.parametrize("test", [
    # The event on both sides: true from June on, each year anew.
    c.DayTest(EVENT, "at least", c.Shifted(NEW_YEAR, 5, 0)),
    c.DayTest(EVENT, "equal", c.FixedDay(date(2026, 6, 14))),
    c.DayTest(EVENT, "not equal", c.Shifted(PAST, 60, 0)),
    number(c.CompletedYears(NEW_YEAR, EVENT), "equal", 0),
    # A month named twice: what holds of each of its days may change with every day.
    number(c.Arithmetic("-", YEARS, THEN), "equal", 1),
    number(c.Arithmetic("*", YEARS, YEARS), "not equal", 20),
    number(c.Arithmetic("-", YEARS, c.CompletedYears(PAST, c.Shifted(EVENT, 0, -1))), "equal", 0),
    number(c.Arithmetic("-", YEARS, c.CompletedYears(PAST, c.Shifted(EVENT, 0, -40))), "equal", 1),
    c.Between(number(YEARS, "at least", 5), number(YEARS, "at most", 5)),
    c.Between(
        c.AgeTest(PAST, EVENT, "at least", 60, None), c.AgeTest(PAST, EVENT, "at most", 60, None),
    ),
    c.Between(
        c.AgeTest(PAST, EVENT, "at least", 58, None), c.AgeTest(PAST, EVENT, "at most", 60, None),
    ),
    c.Between(
        c.AgeTest(PAST, EVENT, "at least", None, 1800), c.AgeTest(PAST, EVENT, "at most", 61, None),
    ),
    c.Between(number(YEARS, "more than", 4), number(THEN, "less than", 5)),
])  # fmt: skip
def test_what_turns_back_or_names_a_date_twice(call: Call, test: c.Test) -> None:
    rules = rules_of(rule((c.ALWAYS, test)))
    declared = [{"day.past": span_of(text)} for text in ("2021-06", "2021-06-14")]
    agree(call, rules, declared, date(2025, 12, 20), date(2026, 8, 1))


# ---- published days, as in tests/test_lookahead.py ----------------------------------

TYRE = 'fact tyre.built "Tyre built" week code'
MADE = 'fact helmet.made "Helmet made" past date'


@pytest.mark.parametrize(("facts", "asked", "declared", "first", "turns"), [
    # 49 CFR 574.5(b)(3): 2319 is the week from Sunday 9 to Saturday 15 June 2019.
    (TYRE, "age of tyre.built is at most 5 years", "tyre.built is 2319", "2024-01-01",
     [("2024-06-10", "met", "unsettled"), ("2024-06-16", "unsettled", "not-met")]),
    # A month on a label, counted to the month: five years old all June 2026.
    (MADE, "age of helmet.made to the month is at most 5 years", "helmet.made is 2021-06",
     "2026-01-01", [("2026-07-01", "met", "not-met")]),
    # ISO 8601's calendar has no 29 February 2025: the year is full on 28 February.
    (MADE, "age of helmet.made is at most 1 years", "helmet.made is 2024-02-29", "2024-03-01",
     [("2025-03-01", "met", "not-met")]),
])  # fmt: skip
def test_published_days(
    call: Call, facts: str, asked: str, declared: str, first: str,
    turns: list[tuple[str, str, str]],
) -> None:  # fmt: skip
    text = f'ruleset season "Season"\n{facts}\nrule one "One"\n  require {asked}\n'
    ruleset = trackprep.parse_ruleset(text)
    values = trackprep.parse_declaration(declared, ruleset).values
    start = date.fromisoformat(first)
    found = call(
        AHEAD, plain_rules(ruleset.rules), [plain_values(values)],
        plain_day(start), plain_day(start + 2 * YEAR),
    )  # fmt: skip
    told = [(date.fromordinal(its["from"]).isoformat(), its["was"], its["status"]) for its in found]
    assert told == turns


def test_a_day_of_a_past_date_to_come_leaves_the_rule_open_until_it_is_there(call: Call) -> None:
    """Who writes a year that has begun knows more of it each day; what is to come is unknown."""
    asked = "helmet.made is on or after 2026-03-10"
    text = f'ruleset season "Season"\n{MADE}\nrule one "One"\n  require {asked}\n'
    ruleset = trackprep.parse_ruleset(text)
    values = trackprep.parse_declaration("helmet.made is 2026-03", ruleset).values
    assert agree(call, ruleset.rules, [values], date(2026, 2, 1), date(2026, 12, 31)) >= 1


@pytest.mark.parametrize("asked", [
    "completed years of part.made is between 6 and 10",
    "age of part.made is between 5 years and 10 years",
])  # fmt: skip
def test_a_range_of_years_is_looked_for_at_few_days(call: Call, asked: str) -> None:
    """Ranges name the date twice, and yet no day has to be asked on its own."""
    text = f'ruleset s "S"\nfact part.made "Made" past date\nrule r "R"\n  require {asked}\n'
    ruleset = trackprep.parse_ruleset(text)
    values = trackprep.parse_declaration("part.made is 2020", ruleset).values
    assert days_asked(call, ruleset.rules, values) < 60
    agree(call, ruleset.rules, [values], date(2026, 1, 1), date(2026, 12, 31))


def test_a_change_of_every_rule_is_looked_for_at_few_days(call: Call) -> None:
    """A day is only asked where something may turn: years ahead take no reading a day."""
    text = f'ruleset season "Season"\n{MADE}\n'
    for years in range(1, 40):
        text += f'rule r{years} "R"\n  require age of helmet.made is at most {years} years\n'
    ruleset = trackprep.parse_ruleset(text)
    values = trackprep.parse_declaration("helmet.made is 2021-06-14", ruleset).values
    assert days_asked(call, ruleset.rules, values) < 40


def days_asked(call: Call, rules: Rules, values: Any) -> int:
    """On how many days of two years the look ahead asks anything."""
    return call(
        """(rules, values, first, last) => {
          const sitting = { ruleset: new Ruleset(rules), values, day: first };
          lookAhead([sitting], first, last);
          return turningOf(sitting).readings.size;
        }""",
        plain_rules(rules), plain_values(values),
        plain_day(date(2026, 1, 1)), plain_day(date(2027, 12, 31)),
    )  # fmt: skip
