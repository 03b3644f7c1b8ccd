"""Week codes of tyres, and the ages that follow from them."""

from datetime import date, timedelta

import pytest
from doors import club_says, met, refusal

from trackprep import measure
from trackprep.dates import Span, long_form, three_digit_weeks, week_code_on

DAY = timedelta(days=1)
RULE = "49 CFR 574.5(b)(3)"
COMPUTED = f"computed from {RULE}"


def span(first: str, last: str) -> Span:
    return Span(date.fromisoformat(first), date.fromisoformat(last))


# Week codes. Days and codes as such are tried in `test_dates.py`.


@pytest.mark.parametrize(
    ("code", "first", "last", "iso_first", "iso_last", "source"),
    [
        ("0101", "2001-01-07", "2001-01-13", "2001-01-01", "2001-01-07", f"{RULE}, from memory"),
        ("0109", "2009-01-04", "2009-01-10", "2008-12-29", "2009-01-04", COMPUTED),
        ("5217", "2017-12-24", "2017-12-30", "2017-12-25", "2017-12-31", COMPUTED),
        ("5317", "2017-12-31", "2018-01-06", None, None, COMPUTED),
        ("0119", "2019-01-06", "2019-01-12", "2018-12-31", "2019-01-06", COMPUTED),
        ("2319", "2019-06-09", "2019-06-15", "2019-06-03", "2019-06-09", COMPUTED),
        ("5219", "2019-12-29", "2020-01-04", "2019-12-23", "2019-12-29", COMPUTED),
        ("5220", "2020-12-27", "2021-01-02", "2020-12-21", "2020-12-27", COMPUTED),
        ("5221", "2021-12-26", "2022-01-01", "2021-12-27", "2022-01-02", COMPUTED),
        ("0122", "2022-01-02", "2022-01-08", "2022-01-03", "2022-01-09", COMPUTED),
        ("5222", "2022-12-25", "2022-12-31", "2022-12-26", "2023-01-01", COMPUTED),
        ("0123", "2023-01-01", "2023-01-07", "2023-01-02", "2023-01-08", COMPUTED),
        ("5323", "2023-12-31", "2024-01-06", None, None, COMPUTED),
        ("0124", "2024-01-07", "2024-01-13", "2024-01-01", "2024-01-07", COMPUTED),
        ("0125", "2025-01-05", "2025-01-11", "2024-12-30", "2025-01-05", COMPUTED),
        ("5225", "2025-12-28", "2026-01-03", "2025-12-22", "2025-12-28", COMPUTED),
        ("5300", "2000-12-31", "2001-01-06", None, None, COMPUTED),
    ],
)
def test_a_code_is_its_week_and_another_one_by_iso_8601(
    code: str, first: str, last: str, iso_first: str | None, iso_last: str | None, source: str
) -> None:
    said = measure("tyre-code", code, on=date(2026, 6, 14)).says
    assert said[0].endswith(f": {long_form(span(first, last))}."), source
    other = [sentence for sentence in said if "ISO 8601" in sentence]
    if iso_first is None or iso_last is None:
        assert other == []  # no such week by ISO 8601
    else:
        assert other[0].endswith(f" means {long_form(span(iso_first, iso_last))}.")


@pytest.mark.parametrize(
    ("code", "source"),
    [
        ("5320", f"{COMPUTED}: 2020 has 52 Sundays, though 53 weeks by ISO 8601"),
        ("5322", f"{COMPUTED}: 2022 has 52 Sundays"),
        ("0023", COMPUTED),
        ("5423", COMPUTED),
        ("0000", COMPUTED),
    ],
)
def test_a_tyre_of_no_week_cannot_be_declared(code: str, source: str) -> None:
    assert f"`{code}` is not a week code: " in refusal("tyre.front.built", code), source


@pytest.mark.parametrize(
    ("code", "weeks", "source"),
    [
        (
            "031",
            [("1971-01-17", "1971-01-23"), ("1981-01-18", "1981-01-24"),
             ("1991-01-20", "1991-01-26")],
            f"{COMPUTED}; a tyre maker's manual prints 1981 or 1991",
        ),
        (
            "324",
            [("1974-08-11", "1974-08-17"), ("1984-08-05", "1984-08-11"),
             ("1994-08-07", "1994-08-13")],
            COMPUTED,
        ),
        (
            "319",
            [("1979-08-05", "1979-08-11"), ("1989-07-30", "1989-08-05"),
             ("1999-08-01", "1999-08-07")],
            COMPUTED,
        ),
        (
            "529",
            [("1979-12-30", "1980-01-05"), ("1989-12-24", "1989-12-30"),
             ("1999-12-26", "2000-01-01")],
            f"{COMPUTED}: the last week crosses into 2000",
        ),
    ],
)  # fmt: skip
def test_three_digits_name_a_week_in_each_of_three_decades(
    code: str, weeks: list[tuple[str, str]], source: str
) -> None:
    """64 FR 36807: the decade is not told, so that the code cannot be declared."""
    expected = [span(*days) for days in weeks]
    assert list(three_digit_weeks(code)) == expected, source
    message = refusal("tyre.front.built", code)
    for week in expected:
        assert long_form(week) in message


def test_three_digits_and_a_decade_are_the_week_of_four_digits() -> None:
    """Each candidate of a code is the week of that number in its year, by 49 CFR 574.5."""
    for number in range(1000):
        for week in three_digit_weeks(f"{number:03}"):
            codes = {week_code_on(week.first), week_code_on(week.last)}
            assert codes == {f"{number // 10:02}{week.first.year % 100:02}"}


@pytest.mark.parametrize(
    ("day", "code", "iso", "source"),
    [
        ("2018-12-31", "5218", "0119", COMPUTED),
        ("2019-01-05", "5218", "0119", COMPUTED),
        ("2019-01-06", "0119", "0119", COMPUTED),
        ("2023-01-01", "0123", "5222", COMPUTED),
        ("2024-01-06", "5323", "0124", COMPUTED),
        ("2021-01-02", "5220", "5320", COMPUTED),
        ("2021-01-03", "0121", "5320", COMPUTED),
        ("2022-01-01", "5221", "5221", COMPUTED),
        ("2023-12-31", "5323", "5223", COMPUTED),
        ("2000-01-01", "5299", "5299", COMPUTED),
    ],
)
def test_a_day_has_one_code_by_574_5_and_one_by_iso_8601(
    day: str, code: str, iso: str, source: str
) -> None:
    on = date.fromisoformat(day)
    assert (week_code_on(on), iso_code(on)) == (code, iso), source


def iso_code(day: date) -> str:
    """The standard library's week, in the form of a tyre's code."""
    year, week, _ = day.isocalendar()
    return f"{week:02}{year % 100:02}"


def test_the_two_counts_differ_on_6330_days_of_31_years() -> None:
    """Computed from 49 CFR 574.5(b)(3) and ISO 8601, for 2000 to 2030."""
    days = [date(2000, 1, 1) + number * DAY for number in range(11323)]
    assert days[-1] == date(2030, 12, 31)
    assert sum(week_code_on(day) != iso_code(day) for day in days) == 6330


def test_a_week_begins_six_days_after_the_iso_week_of_its_number_or_one_before() -> None:
    """Six after where 1 January is a Monday to Thursday, else one before (computed)."""
    for year in range(2000, 2060):
        start = date(year, 1, 7) - date(year, 1, 7).isoweekday() % 7 * DAY
        for number in range(52):
            assert week_code_on(start) == f"{number + 1:02}{year % 100:02}"
            iso = date.fromisocalendar(year, number + 1, 1)
            assert (start - iso).days == (6 if date(year, 1, 1).isoweekday() <= 4 else -1)
            start += 7 * DAY


# Ages


@pytest.mark.parametrize(
    ("event", "answer", "source"),
    [
        ("2024-06-08", "met", f"{COMPUTED}: the fifth anniversary is 9 to 15 June 2024"),
        ("2024-06-12", "unsettled", f"{COMPUTED}: it hangs on the day of the week"),
        ("2024-06-16", "not-met", COMPUTED),
    ],
)
def test_a_tyre_of_week_23_of_2019_turns_five_within_a_week(
    event: str, answer: str, source: str
) -> None:
    on = date.fromisoformat(event)
    declared = {"tyre.front.built": "2319"}
    assert met("age of tyre.front.built is at most 5 years", declared, on) == answer, source


@pytest.mark.parametrize(
    ("built", "answer", "source"),
    [
        ("2420", "met", "NHTSA consumer advice on tyre ageing: six years regardless of use"),
        ("2320", "not-met", "NHTSA consumer advice on tyre ageing: six years regardless of use"),
        ("2416", "not-met", "NHTSA consumer advice: ten years at the very most"),
    ],
)
def test_a_tyre_is_replaced_when_six_years_old(built: str, answer: str, source: str) -> None:
    declared = {"tyre.front.built": built, "tyre.rear.built": "0126"}
    assert club_says("common-practice", "tyre-age", declared) == answer, source
