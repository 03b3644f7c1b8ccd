"""Dates and week codes in the browser: read and printed as Python does."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.backends.page import plain_day
from trackprep.dates import Span, add_months, long_form, week_code_on
from trackprep.problems import Problem
from trackprep.rider.asking_answers import reply
from trackprep.rules.model import Dated, Fact

WEEKS = "49 CFR 574.5(b)(3)"
ISO = "ISO 8601-1:2019, 5.2"
DAY = date(2026, 6, 14)
FEW = settings(max_examples=100 if THOROUGH else 12)
KINDS = ("date", "past date", "week code")

READ = """(asked, day) =>
  asked.map(([text, kind]) => readDate(text, { path: "a.fact", kind }, day))"""


def read(call: Any, asked: Sequence[tuple[str, str]], event: date = DAY) -> list[Any]:
    found = call(READ, asked, plain_day(event))
    assert isinstance(found, list)
    return found


def by_python(text: str, kind: Any, event: date) -> dict[str, Any] | Problem:
    said = reply([Fact("a.fact", "A fact", Dated(kind))], text, event)
    if isinstance(said, Problem):
        return said
    assert isinstance(said.value, Span)
    return {"plain": plain_span(said.value), "written": said.written}


def plain_span(span: Span) -> list[int]:
    return [plain_day(span.first), plain_day(span.last)]


def assert_alike(call: Any, asked: Sequence[tuple[str, str]], event: date = DAY) -> int:
    """How many of the texts are dates, after the two agree on each."""
    count = 0
    for (text, kind), found in zip(asked, read(call, asked, event), strict=True):
        wanted = by_python(text, kind, event)
        if isinstance(wanted, Problem):
            assert list(found) == ["problem"], (text, kind, found, wanted.message)
            assert found["problem"].endswith("."), found
        else:
            count += 1
            assert found == wanted, (text, kind)
            again = by_python(found["written"], kind, event)
            assert isinstance(again, dict)
            assert again["plain"] == wanted["plain"]
    return count


YEARS = ("2023", "2026", "2027", "1899", "1900", "2199", "2200", "23", "99", "3", "023")
MONTHS = ("04", "4", "apr", "April", "Sept", "SEP.", "septem", "may", "13", "0", "12", "foo")
DAYS = ("", "17", "3", "31", "3rd", "1st of", "17,", "0", "29")
GAPS = (" ", "/", "-", ".", ". ", "–", "")


def test_every_form_is_read_as_python_reads_it(call: Any) -> None:
    texts = [gap.join(part for part in parts if part) for gap in GAPS
             for year, month, day in product(YEARS, MONTHS, DAYS)
             for parts in ((day, month, year), (year, month, day))]  # fmt: skip
    texts += [f"{month} {day}{comma} {year}" for month, day, year in product(MONTHS, DAYS, YEARS)
              for comma in ("", ",")]  # fmt: skip
    assert len(texts) > 8_000
    assert assert_alike(call, [(text, "past date") for text in texts]) > 400


def test_what_stands_around_a_date_is_as_in_python(call: Any) -> None:
    dates = ("2023-04-17", "2023", "Apr 2023", "2319", "DOT 2319", "dot2319", "DOT")
    around = ("{}", "  {} ", "{} # on it", "{}#", '"{}"', "“{}”", '„{}"', "{}\u00a0",
              "-{}", "{},", "{}.", "{} mm", "{} 2", "{} is 3", '"{}', "\u2009{}")  # fmt: skip
    asked = [(form.format(text), kind) for form in around for text in dates for kind in KINDS]
    assert assert_alike(call, asked) > 50


def test_every_week_code_of_four_digits_is_as_in_python(call: Any) -> None:
    weeks = ("00", "01", "02", "23", "51", "52", "53", "54", "99")
    asked = [(f"{week}{year:02}", "week code") for week in weeks for year in range(100)]
    asked += [(f"{number:03}", "week code") for number in range(0, 1000, 7)]
    assert assert_alike(call, asked, date(2199, 1, 1)) > 500


EVENTS = st.dates(date(2000, 1, 1), date(2100, 12, 31))
TYPED = st.one_of(
    st.tuples(
        st.sampled_from(DAYS), st.sampled_from(GAPS), st.sampled_from(MONTHS),
        st.sampled_from(GAPS), st.one_of(st.sampled_from(YEARS), st.integers(1890, 2210).map(str)),
    ).map("".join),
    st.dates(date(1890, 1, 1), date(2210, 12, 31)).map(str),
    st.dates(date(1890, 1, 1), date(2210, 12, 31)).map(long_form),
    st.integers(0, 9999).map(lambda number: f"{number:04}"),
    st.text("0123456789/.-, #\"'“’\\aprmyDOTst–", max_size=12),
    st.text(st.characters(exclude_characters="\r\n\ufeff", codec="utf-8"), max_size=8),
)  # fmt: skip


@FEW
@given(
    asked=st.lists(st.tuples(TYPED, st.sampled_from(KINDS)), min_size=40, max_size=120),
    event=EVENTS,
)
def test_whatever_is_typed_means_the_same_in_both(
    call: Any, asked: list[tuple[str, str]], event: date
) -> None:
    assert_alike(call, asked, event)


# ---- published --------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "kind", "first", "last", "source"),
    [
        ("0109", "week code", "2009-01-04", "2009-01-10", WEEKS),
        ("5217", "week code", "2017-12-24", "2017-12-30", WEEKS),
        ("5317", "week code", "2017-12-31", "2018-01-06", WEEKS),
        ("DOT 2319", "week code", "2019-06-09", "2019-06-15", WEEKS),
        ("5300", "week code", "2000-12-31", "2001-01-06", WEEKS),
        ("1985-04-12", "date", "1985-04-12", "1985-04-12", f"{ISO}.2.1"),
        ("1985-04", "date", "1985-04-01", "1985-04-30", f"{ISO}.2.2"),
        ("1985", "date", "1985-01-01", "1985-12-31", f"{ISO}.2.2"),
        ("29 February 2000", "date", "2000-02-29", "2000-02-29", "the Gregorian leap year rule"),
        ("17 April 2023", "date", "2023-04-17", "2023-04-17", "common practice"),
        ("April 17th, 2023", "date", "2023-04-17", "2023-04-17", "common practice"),
        ("17/04/2023", "date", "2023-04-17", "2023-04-17", "common practice"),
        ("04/2023", "date", "2023-04-01", "2023-04-30", "common practice"),
        ("Feb 1900", "date", "1900-02-01", "1900-02-28", "the Gregorian leap year rule"),
    ],
)
def test_a_date_is_its_days(
    call: Any, typed: str, kind: str, first: str, last: str, source: str
) -> None:
    wanted = [plain_day(date.fromisoformat(end)) for end in (first, last)]
    assert read(call, [(typed, kind)])[0]["plain"] == wanted, source


# ---- what a rider is told ---------------------------------------------------

LATE = "lies after the event on 14 June 2026: write a date up to that day."


@pytest.mark.parametrize(
    ("typed", "kind", "problem"),
    [
        ("04/23", "date", "Write the year of `04/23` in full: `April 2023` or `23 April` and its "
                          "year."),
        ("17/04/23", "date", "Write the year of `17/04/23` in full: `17 April 2023` or "
                             "`23 April 2017`."),
        ("7/49", "date", "Write the year of `7/49` in full: `July 2049`."),
        ("7/50", "date", "Write the year of `7/50` in full: `July 1950`."),
        ("03/04/2023", "date", "`03/04/2023` could be two dates: write `3 April 2023` or "
                               "`4 March 2023`."),
        ("31 April 2023", "date", "`2023-04-31` is not a date: April 2023 has days 1 to 30."),
        ("2023-13", "date", "`2023-13` is not a date: there is no month 13."),
        ("1066", "date", "`1066` is not a date: the year must lie from 1900 to 2199."),
        ("new", "date", "`new` is not a date: write a date, as `17 April 2023`, or `Apr 2023` or "
                        "`2023` if no more is known."),
        ("", "date", "Write a date, as `17 April 2023`, or `Apr 2023` or `2023` if no more is "
                     "known."),
        ("15 June 2026", "past date", f"15 June 2026 {LATE}"),
        ("July 2026", "past date", f"July 2026 {LATE}"),
        ("2526", "week code", f"21 to 27 June 2026 {LATE}"),
        ("5424", "week code", "`5424` is not a week code: 2024 has weeks 01 to 52. The first two "
                              "digits are the week, the last two the year."),
        ("239", "week code", "`239` has three digits, as on tyres made before 2000, and does not "
                             "say which decade: it may be 10 to 16 June 1979, 4 to 10 June 1989 or "
                             "6 to 12 June 1999. A week code here has four digits."),
        ("270", "week code", "`270` has three digits, as on tyres made before 2000, and does not "
                             "say which decade: it may be 6 to 12 July 1980 or 8 to 14 July 1990. "
                             "A week code here has four digits."),
        ("XYZ", "week code", "`XYZ` is not a week code: write the last four digits after DOT on "
                             "the sidewall, such as `2319`."),
    ],
)  # fmt: skip
def test_a_problem_says_what_to_write(call: Any, typed: str, kind: str, problem: str) -> None:
    assert read(call, [(typed, kind)]) == [{"problem": problem}]


def test_a_past_date_may_be_the_events_day_or_begin_before_it(call: Any) -> None:
    asked = [("14 June 2026", "past date"), ("2026", "past date"), ("2027", "date")]
    found = read(call, asked)
    assert [one["written"] for one in found] == ["2026-06-14", "2026", "2027"]


# ---- printing ---------------------------------------------------------------

ANY_DAY = st.dates(date(1000, 1, 1), date(9990, 12, 31))
SPANS = st.one_of(
    st.tuples(ANY_DAY, st.integers(0, 800)).map(
        lambda pair: Span(pair[0], pair[0] + timedelta(days=pair[1]))
    ),
    ANY_DAY.map(lambda day: Span(day.replace(day=1), day)),
    ANY_DAY.map(lambda day: Span(day.replace(month=1, day=1), day.replace(month=12, day=31))),
    ANY_DAY.map(lambda day: Span(day.replace(day=1), last_of_month(day))),
    st.tuples(ANY_DAY, st.integers(0, 24)).map(
        lambda pair: Span(pair[0].replace(day=1), last_of_month(add_months(*pair)))
    ),
    ANY_DAY.map(Span.of_day),
)


def last_of_month(day: date) -> date:
    return (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)


@FEW
@given(spans=st.lists(SPANS, min_size=20, max_size=100))
def test_days_and_spans_are_printed_as_python_prints_them(call: Any, spans: list[Span]) -> None:
    script = (
        """spans => spans.map((span) => [longForm(span), longForm(span[0]), isoDay(span[0])])"""
    )
    found = call(script, [plain_span(span) for span in spans])
    assert found == [[long_form(one), long_form(one.first), str(one.first)] for one in spans]


def test_a_day_of_a_field_is_its_number_and_back(call: Any) -> None:
    script = "texts => texts.map(dayOf)"
    texts = ["2026-06-14", "1900-01-01", "2199-12-31", "2026-06", "2026-02-30", "", "14 June 2026"]
    days = [plain_day(date.fromisoformat(text)) for text in texts[:3]]
    assert call(script, texts) == [*days, None, None, None, None]
    assert call("days => days.map(isoDay)", days) == texts[:3]


@FEW
@given(days=st.lists(st.dates(date(2001, 1, 7), date(2099, 12, 26)), min_size=20, max_size=60))
def test_the_week_of_a_days_code_has_the_day(call: Any, days: list[date]) -> None:
    found = read(call, [(week_code_on(day), "week code") for day in days], date(2150, 1, 1))
    for day, one in zip(days, found, strict=True):
        first, last = one["plain"]
        assert first <= plain_day(day) <= last
