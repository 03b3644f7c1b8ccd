"""Date spans, week codes and calendar ages, against the calendar and published rules."""

from datetime import date, timedelta
from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackprep.dates import (
    Boundary,
    Comparison,
    Grain,
    Span,
    add,
    add_months,
    age_boundary,
    age_holds,
    completed_years,
    completed_years_range,
    long_form,
    span_of,
    subtract,
    week_code,
    week_code_on,
    without_future,
)

DAY = timedelta(days=1)
COMPARISONS: tuple[Comparison, ...] = ("at most", "less than", "at least", "more than")
DAYS = st.dates(date(1900, 1, 1), date(2199, 12, 31))


def days(first: date, last: date) -> list[date]:
    """Every day from the first to the last."""
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]


def on(text: str) -> date:
    """The day of an ISO date."""
    return date.fromisoformat(text)


# Week codes. The rule: 49 CFR 574.5(b)(3), weeks from Sunday to Saturday, 01 the first
# full one; the same in Canada, SOR/2013-198 s.6(4)(c)(i). The rows are computed from it.


@pytest.mark.parametrize(
    ("code", "first", "last"),
    [
        ("0101", "2001-01-07", "2001-01-13"),  # 49 CFR 574.5, an edition's printed example
        ("0109", "2009-01-04", "2009-01-10"),  # computed from 49 CFR 574.5(b)(3), and so below
        ("5217", "2017-12-24", "2017-12-30"),
        ("5317", "2017-12-31", "2018-01-06"),
        ("0119", "2019-01-06", "2019-01-12"),
        ("2319", "2019-06-09", "2019-06-15"),
        ("5219", "2019-12-29", "2020-01-04"),
        ("5220", "2020-12-27", "2021-01-02"),
        ("5221", "2021-12-26", "2022-01-01"),
        ("0122", "2022-01-02", "2022-01-08"),
        ("5222", "2022-12-25", "2022-12-31"),
        ("0123", "2023-01-01", "2023-01-07"),
        ("5323", "2023-12-31", "2024-01-06"),
        ("0124", "2024-01-07", "2024-01-13"),
        ("0125", "2025-01-05", "2025-01-11"),
        ("5225", "2025-12-28", "2026-01-03"),
        ("5300", "2000-12-31", "2001-01-06"),
    ],
)
def test_a_week_code_is_its_week_by_the_federal_rule(code: str, first: str, last: str) -> None:
    """Sunday to Saturday, the first full week being 01."""
    assert week_code(code) == Span(on(first), on(last))


@pytest.mark.parametrize(
    ("code", "message"),
    [
        # 49 CFR 574.5(b)(3): 2020 and 2022 have 52 Sundays, 2023 has 53.
        ("5320", "`5320` is not a week code: 2020 has weeks 01 to 52; "),
        ("5322", "`5322` is not a week code: 2022 has weeks 01 to 52; "),
        ("5423", "`5423` is not a week code: 2023 has weeks 01 to 53; "),
        ("0023", "`0023` is not a week code: 2023 has weeks 01 to 53; "),
        ("0000", "`0000` is not a week code: 2000 has weeks 01 to 53; "),
        ("9999", "`9999` is not a week code: 2099 has weeks 01 to 52; "),
        # 64 FR 36807 (8 July 1999): three digits do not give the decade.
        ("319", "`319` has three digits, as on tyres made before 2000, "),
        ("23/19", "`23/19` is not a week code: write the last four digits after DOT"),
        ("٢٣١٩", "`٢٣١٩` is not a week code: write the last four digits after DOT"),
    ],
)
def test_a_code_of_no_week_is_refused_with_the_reason(code: str, message: str) -> None:
    """What was written, what is possible, what to write."""
    with pytest.raises(ValueError) as refused:
        week_code(code)
    assert str(refused.value).startswith(message)


@pytest.mark.parametrize(
    ("day", "code"),
    [
        ("2018-12-31", "5218"),  # computed from 49 CFR 574.5(b)(3), and so below; ISO 8601: 0119
        ("2019-01-05", "5218"),
        ("2019-01-06", "0119"),
        ("2023-01-01", "0123"),  # ISO 8601: 5222
        ("2024-01-06", "5323"),
        ("2021-01-02", "5220"),
        ("2021-01-03", "0121"),
        ("2022-01-01", "5221"),
        ("2023-12-31", "5323"),
        ("2000-01-01", "5299"),
        ("1997-08-03", "3197"),  # 49 CFR 574.5, an edition's example: 3 to 9 August 1997
        ("1997-08-09", "3197"),
        ("1998-01-04", "0198"),  # the same, 4 to 10 January 1998
        ("1998-01-10", "0198"),
    ],
)
def test_a_day_has_the_code_of_its_week(day: str, code: str) -> None:
    """The days before the first Sunday belong to the year before."""
    assert week_code_on(on(day)) == code


def test_every_day_of_85_years_has_the_calendar_librarys_week() -> None:
    """The oracle is strftime's %U; its week 00 is the last of the year before."""
    for day in days(date(1975, 1, 1), date(2059, 12, 31)):
        week, year = int(day.strftime("%U")), day.year
        if week == 0:
            year -= 1
            week = int(date(year, 12, 31).strftime("%U"))
        code = f"{week:02}{year % 100:02}"
        assert week_code_on(day) == code
        if year >= 2000:
            span = week_code(code)
            assert span.first <= day <= span.last


def test_years_of_53_weeks() -> None:
    """Derived: the years with 53 Sundays."""
    long_years = [2000, 2006, 2012, 2017, 2023, 2028, 2034, 2040]
    for year in range(2000, 2041):
        code = f"53{year % 100:02}"
        if year in long_years:
            assert week_code(code).first.year == year
        else:
            with pytest.raises(ValueError, match="52"):
                week_code(code)


# Dates as they are written


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [  # ISO 8601 calendar dates
        ("2023-04-17", "2023-04-17", "2023-04-17"),
        ("2023-04", "2023-04-01", "2023-04-30"),
        ("2024-02", "2024-02-01", "2024-02-29"),
        ("2023", "2023-01-01", "2023-12-31"),
        ("1900", "1900-01-01", "1900-12-31"),
        ("2199-12-31", "2199-12-31", "2199-12-31"),
    ],
)
def test_a_date_is_the_days_it_may_mean(text: str, first: str, last: str) -> None:
    """A month is some day of that month."""
    span = span_of(text)
    assert span == Span(on(first), on(last))
    assert span.exact == (first == last)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("2026-3-1", "`2026-3-1` is not how a date is written here: write `2026-03-01`"),
        ("2026-3", "`2026-3` is not how a date is written here: write `2026-03`"),
        (
            "03/04/2026",
            (
                "`03/04/2026` could be 3 April 2026 or 4 March 2026: "
                "write `2026-04-03` or `2026-03-04`"
            ),
        ),
        ("17.4.2023", "`17.4.2023` is not how a date is written here: write `2023-04-17`"),
        ("4/17/2023", "`4/17/2023` is not how a date is written here: write `2023-04-17`"),
        ("03/03/2026", "`03/03/2026` is not how a date is written here: write `2026-03-03`"),
        ("2023-02-29", "`2023-02-29` is not a date: February 2023 has days 1 to 28"),
        ("2024-02-00", "`2024-02-00` is not a date: February 2024 has days 1 to 29"),
        (
            "2023-17-04",
            (
                "`2023-17-04` is not a date: there is no month 17; "
                "write the year, the month, then the day"
            ),
        ),
        ("1899-12-31", "`1899-12-31` is not a date: the year must lie from 1900 to 2199"),
        ("2200", "`2200` is not a date: the year must lie from 1900 to 2199"),
        (
            "May 2023",
            (
                "`May 2023` is not a date: write it like `2026-06-14`, "
                "or `2026-06` or `2026` when no more is known"
            ),
        ),
        (
            "99/99/2023",
            (
                "`99/99/2023` is not a date: write it like `2026-06-14`, "
                "or `2026-06` or `2026` when no more is known"
            ),
        ),
    ],
)
def test_what_is_no_date_is_refused_with_what_to_write(text: str, message: str) -> None:
    """One clear sentence each, with both readings where there are two."""
    with pytest.raises(ValueError) as refused:
        span_of(text)
    assert str(refused.value) == message


def test_a_span_cannot_end_before_it_begins() -> None:
    """A span that exists is valid."""
    with pytest.raises(ValueError, match="cannot end"):
        Span(date(2023, 4, 2), date(2023, 4, 1))


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("2026-03-04", "2026-03-04", "4 March 2026"),
        ("2023-04-01", "2023-04-30", "April 2023"),
        ("2024-02-01", "2024-02-29", "February 2024"),
        ("2023-01-01", "2023-12-31", "2023"),
        ("2019-06-09", "2019-06-15", "9 to 15 June 2019"),
        ("2023-04-01", "2023-04-12", "1 to 12 April 2023"),
        ("2020-07-26", "2020-08-01", "26 July to 1 August 2020"),
        ("2023-01-01", "2023-04-30", "1 January to 30 April 2023"),
        ("2019-12-29", "2020-01-04", "29 December 2019 to 4 January 2020"),
    ],
)
def test_days_and_spans_are_printed_in_words(first: str, last: str, words: str) -> None:
    """Never a bare ISO date."""
    assert long_form(Span(on(first), on(last))) == words


def test_days_after_the_event_are_left_out() -> None:
    """What is past cannot lie after the event."""
    april = span_of("2023-04")
    assert without_future(april, date(2023, 5, 1)) == april
    assert without_future(april, date(2023, 4, 12)) == Span(date(2023, 4, 1), date(2023, 4, 12))
    assert without_future(april, date(2023, 4, 1)) == Span.of_day(date(2023, 4, 1))
    assert without_future(april, date(2023, 3, 31)) is None


# Calendar arithmetic


@pytest.mark.parametrize(
    ("day", "months", "result"),
    [  # the language: the day of the month is kept, or the month's last day taken
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2024-01-31", 1, "2024-02-29"),
        ("2023-01-31", 1, "2023-02-28"),
        ("2023-10-31", 13, "2024-11-30"),
        ("2023-04-17", 0, "2023-04-17"),
        ("2023-03-31", -1, "2023-02-28"),
        ("2023-01-15", -13, "2021-12-15"),
    ],
)
def test_adding_months_keeps_the_day_or_takes_the_last(day: str, months: int, result: str) -> None:
    """29 February and a year is 28 February."""
    assert add_months(on(day), months) == on(result)
    assert subtract(on(day), months=-months) == on(result)


def test_adding_does_months_first_then_days() -> None:
    """31 January, a month and a day is 1 March."""
    assert add(date(2023, 1, 31), months=1, days=1) == date(2023, 3, 1)
    assert subtract(date(2023, 3, 1), months=1, days=1) == date(2023, 1, 31)
    shifted = Span(date(2023, 1, 1), date(2023, 1, 31)).shifted(months=1)
    assert shifted == Span(date(2023, 2, 1), date(2023, 2, 28))


def test_adding_beyond_the_calendar_is_refused() -> None:
    """No date has a year above 9999 or below 1."""
    for months in (120_000, -120_000):
        with pytest.raises(OverflowError, match="out of range"):
            add_months(date(2023, 1, 1), months)


@pytest.mark.parametrize("months", [0, 1, 2, 11, 12, 13, 60, -1, -12])
def test_adding_months_never_turns_two_days_round(months: int) -> None:
    """Law: monotony, on which every age boundary stands."""
    results = [add_months(day, months) for day in days(date(2019, 1, 1), date(2025, 12, 31))]
    assert all(one <= other for one, other in pairwise(results))


# Ages


def naive_add(day: date, months: int) -> date:
    """The definition: that month's same day, or the nearest one before that exists."""
    month = day.month - 1 + months
    for number in range(day.day, 0, -1):
        try:
            return date(day.year + month // 12, month % 12 + 1, number)
        except ValueError:
            continue
    raise AssertionError("a month without days")


def naive_age(made: date, event: date, comparison: Comparison, months: int, grain: Grain) -> bool:
    """The definition: E <= D + N and its kin, both dates cut to their month or year before."""
    if grain != "day":
        made, event = made.replace(day=1), event.replace(day=1)
    if grain == "year":
        made, event = made.replace(month=1), event.replace(month=1)
    then = naive_add(made, months)
    match comparison:
        case "at most":
            return event <= then
        case "less than":
            return event < then
        case "at least":
            return event >= then
        case "more than":
            return event > then


@pytest.mark.parametrize(
    ("grain", "months", "around"),
    [
        *product(["day"], [0, 1, 2, 3, 6, 11, 12, 13, 24, 48, 60], [4]),
        *product(["month"], [0, 1, 6, 12, 60], [33]),
        *product(["year"], [0, 12, 48, 60], [367]),
    ],
)
def test_an_age_boundary_is_where_the_definition_turns(
    grain: Grain, months: int, around: int
) -> None:
    """For every event day of 2023 to early 2025, days made on both sides of the limit.

    Beyond `around` days the definition no longer turns, by monotony.
    """
    step = 1 if grain == "day" else 9
    for event in days(date(2023, 1, 1), date(2025, 3, 31))[::step]:
        middle = naive_add(event, -months)
        made_days = days(middle - around * DAY, middle + around * DAY)
        for comparison in COMPARISONS:
            boundary = age_boundary(event, comparison, months=months, grain=grain)
            for made in made_days:
                expected = naive_age(made, event, comparison, months, grain)
                assert boundary.holds(Span.of_day(made)) is expected, (made, event, comparison)


@given(DAYS, DAYS, st.integers(0, 2400), st.sampled_from(COMPARISONS))
def test_an_age_in_months_is_compared_as_defined(
    made: date, event: date, months: int, comparison: Comparison
) -> None:
    """Law: agreement with the definition, on any two days and any number of months."""
    for grain in ("day", "month"):
        boundary = age_boundary(event, comparison, months=months, grain=grain)
        assert boundary.holds(Span.of_day(made)) is naive_age(
            made, event, comparison, months, grain
        )


@given(DAYS, DAYS, st.integers(0, 40_000))
def test_an_age_in_days_is_compared_by_counting(made: date, event: date, limit: int) -> None:
    """Law: agreement with the number of days between."""
    age = (event - made).days
    expected = (age <= limit, age < limit, age >= limit, age > limit)
    for comparison, holds in zip(COMPARISONS, expected, strict=True):
        assert age_boundary(event, comparison, days=limit).holds(Span.of_day(made)) is holds


def test_a_limit_older_than_the_calendar_lets_every_date_through() -> None:
    """Nothing is 5,000 years old."""
    event, made = date(2026, 6, 14), span_of("1900")
    assert age_boundary(event, "at most", months=60_000) == Boundary(date.min, since=True)
    assert age_boundary(event, "more than", months=60_000).holds(made) is False
    assert age_boundary(event, "at most", days=2_000_000).holds(made) is True


def test_limits_that_do_not_fit_their_grain_are_refused() -> None:
    """`to the month` takes months or years, `to the year` years."""
    event = date(2026, 6, 14)
    with pytest.raises(ValueError, match="by the day"):
        age_boundary(event, "at most", days=3, grain="month")
    with pytest.raises(ValueError, match="no months"):
        age_boundary(event, "at most", days=3, months=1)
    with pytest.raises(ValueError, match="whole years"):
        age_boundary(event, "at most", months=18, grain="year")


@pytest.mark.parametrize(
    ("event", "holds"),
    [
        # Computed from 49 CFR 574.5: 2319 is 9 to 15 June 2019, its 5th anniversary so in 2024.
        ("2024-06-08", True),
        ("2024-06-09", True),
        ("2024-06-10", None),
        ("2024-06-12", None),
        ("2024-06-15", None),
        ("2024-06-16", False),
    ],
)
def test_a_tyre_of_week_23_is_five_years_old_within_a_week(event: str, holds: bool | None) -> None:
    """True for every day of the week, for none, or for some."""
    assert age_boundary(on(event), "at most", months=60).holds(week_code("2319")) is holds


@pytest.mark.parametrize(
    ("made", "event", "grain", "holds"),
    [
        # AHRMA Handbook 2013, 3.3.14: manufactured within the past 60 months.
        ("2021-06-30", "2026-06-30", "day", True),
        ("2021-06-29", "2026-06-30", "day", False),
        ("2021-06", "2026-06-01", "day", True),
        ("2021-06", "2026-06-30", "day", None),  # the label gives a month: 1 June or 30 June
        ("2021-06", "2026-07-01", "day", False),
        # EMRA rule book, 4.1: within 5 years to the month of the manufacture date.
        ("2021-06", "2026-06-30", "month", True),
        ("2021-06-01", "2026-06-30", "month", True),
        ("2021-06", "2026-07-01", "month", False),
        # AHRMA 2016, 3.3.14: more than 10 years from the date of manufacture is refused.
        ("2016-06-14", "2026-06-14", "day", True),
    ],
)
def test_helmet_ages_of_rule_books(made: str, event: str, grain: Grain, holds: bool | None) -> None:
    """Sixty months by the day, and five years to the month, are different rules."""
    months = 120 if made.startswith("2016") else 60
    assert age_boundary(on(event), "at most", months=months, grain=grain).holds(span_of(made)) is (
        holds
    )


@given(
    st.tuples(st.dates(date(2018, 1, 1), date(2021, 12, 31)), st.integers(0, 40)),
    st.tuples(st.dates(date(2021, 1, 1), date(2024, 12, 31)), st.integers(0, 40)),
    st.sampled_from([0, 1, 12, 36]),
    st.sampled_from(COMPARISONS),
)
def test_an_age_between_two_spans_holds_for_every_pair_or_none(
    made: tuple[date, int], at: tuple[date, int], months: int, comparison: Comparison
) -> None:
    """Law: agreement with all pairs of days."""
    made_span = Span(made[0], made[0] + made[1] * DAY)
    at_span = Span(at[0], at[0] + at[1] * DAY)
    pairs = product(days(made_span.first, made_span.last), days(at_span.first, at_span.last))
    answers = {naive_age(one, other, comparison, months, "day") for one, other in pairs}
    expected = answers.pop() if len(answers) == 1 else None
    assert age_holds(made_span, at_span, comparison, months=months) is expected


@pytest.mark.parametrize(
    ("born", "event", "years"),
    [
        ("2016-06-15", "2026-06-14", 9),
        ("2016-06-14", "2026-06-14", 10),
        ("2004-02-29", "2025-02-27", 20),
        ("2004-02-29", "2025-02-28", 21),
        ("2004-02-29", "2024-02-28", 19),
        ("2004-02-29", "2024-02-29", 20),
        ("2026-06-14", "2026-06-14", 0),
    ],
)
def test_completed_years_turn_on_the_birthday(born: str, event: str, years: int) -> None:
    """Aged 9 until the day before the tenth birthday."""
    assert completed_years(on(born), on(event)) == years


@given(DAYS, DAYS)
def test_completed_years_are_the_most_that_fit(born: date, event: date) -> None:
    """Law: N years have passed exactly if the age is at least N years."""
    years = completed_years(born, event)
    assert naive_add(born, 12 * years) <= event < naive_add(born, 12 * (years + 1))


def test_completed_years_of_a_span_are_a_range() -> None:
    """Born some day of a year, one may be either of two ages."""
    assert completed_years_range(span_of("2016"), span_of("2026-06-14")) == (9, 10)
    assert completed_years_range(span_of("2016-03"), span_of("2026-06-14")) == (10, 10)
    assert completed_years_range(span_of("2016-06"), span_of("2026-06")) == (9, 10)
