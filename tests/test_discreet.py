"""What a page that is handed on tells of private facts: what follows, and nothing else."""

import re
from collections.abc import Mapping
from datetime import date

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

import trackprep
from trackprep.explanations import mentions
from trackprep.reports.checks.page import report_page
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown
from trackprep.reports.report import Report
from trackprep.reports.season.page import SeasonPage
from trackprep.reports.season.report import SeasonReport
from trackprep.reports.would_do.page import would_do_blocks
from trackprep.rider.lookahead import season_ahead
from trackprep.ruleset import Ruleset

EVENT = date(2026, 6, 14)
SEASON = (date(2026, 3, 1), date(2027, 8, 31))

FACTS = """\
ruleset secrets "Secrets"
fact size "Size" measured in mm from 0 mm to 900 mm private
fact open-size "Open size" measured in mm from 0 mm to 900 mm
fact wide "Wide" measured in mm from 0 mm to 900 mm
fact born "Born" past date private
fact ends "Ends" date private
fact rank "Rank" graded low < middle < high private
kind colours one of red "Red", blue "Blue", grey "Grey", green "Green"
fact colour "Colour" colours private
fact made "Made" past date
limit least is 10 mm when size is at least 50 mm, 30 mm otherwise
derived share "Share" as 100 mm / [size - 60 mm]
table weights "Weights" from colours
  row red is 1
  row blue is 2
  row grey is none
  row green is none
derived weight "Weight" as weights(colour)
"""
RULES = """\
rule size-least "Size enough" require size is at least 40 mm
rule same "Same" require open-size is at least size
rule chained "Chained" require wide is at least open-size
rule by-row "By row" require open-size is at least least
rule either "Either" require open-size is at least 50 mm or size is at least 40 mm
rule counted "Counted" require at least 2 of size, open-size, wide is at least 45 mm
rule old "Old" require completed years of born is at least 18
rule ended "Ended" require ends is on or after event.date
rule later "Later" require made is on or after born
rule age "Age" require age of made is at most 5 years
rule shared "Shared" require share is at least 1
rule weighed "Weighed" require weight is at least 2
rule graded "Graded" require rank is at least middle
  fix "Wait." when rank is low
  fix "Ask."
"""


@pytest.fixture(scope="module")
def secrets() -> Ruleset:
    return trackprep.parse_ruleset(FACTS + RULES)


def checked(ruleset: Ruleset, values: Mapping[str, str]) -> Report:
    lines = [f"{path} is {value}" for path, value in sorted(values.items())]
    text = "\n".join(['declaration "D"', *lines])
    return ruleset.check(trackprep.parse_declaration(text, ruleset), on=EVENT)


# ---- the law ----

_SIZES = st.sampled_from([5, 20, 39, 40, 44, 45, 49, 50, 59, 60, 61, 90, 159, 160, 300, 880]).map(
    lambda size: f"{size} mm"
)
_DAYS = st.dates(date(1990, 1, 1), date(2026, 6, 14)).map(str)
_OPEN = st.fixed_dictionaries({
    "open-size": _SIZES,
    "wide": _SIZES,
    "made": st.one_of(_DAYS, st.integers(2007, 2026).map(str)),
})  # fmt: skip
_BORN = st.one_of(_DAYS, st.dates(date(2007, 6, 1), date(2009, 6, 30)).map(str))
_SECRETS = st.fixed_dictionaries({
    "size": _SIZES,
    "born": _BORN,
    "ends": st.dates(date(2026, 4, 1), date(2027, 9, 30)).map(str),
    "rank": st.sampled_from(["low", "middle", "high"]),
    "colour": st.sampled_from(["red", "blue", "grey", "green"]),
})  # fmt: skip


_PLAIN = {"size": "100 mm", "born": "1990-01-01", "ends": "2026-12-31", "rank": "high",
          "colour": "red"}  # fmt: skip


@example({"open-size": "300 mm", "wide": "5 mm", "made": "2015"},
         _PLAIN | {"size": "5 mm", "born": "2015-03-04", "ends": "2026-07-01", "colour": "grey"},
         {"size": "39 mm", "born": "2015-08-09", "ends": "2026-08-01", "rank": "high",
          "colour": "green"})  # fmt: skip
@example({"open-size": "39 mm", "wide": "5 mm", "made": "2024-01-01"},
         _PLAIN | {"size": "5 mm"}, _PLAIN | {"size": "38 mm"})  # fmt: skip
@settings(max_examples=600 if THOROUGH else 20, deadline=None)
@given(_OPEN, _SECRETS, _SECRETS)
def test_other_secrets_of_which_the_same_follows_have_the_same_pages(
    secrets: Ruleset, shown: dict[str, str], one: dict[str, str], other: dict[str, str]
) -> None:
    """What follows is what each test of the rules answers on the day of the event."""
    found: dict[object, tuple[Mapping[str, str], str]] = {}
    for mixed in (one, *({**one, path: other[path]} for path in one), other):
        report = checked(secrets, {**shown, **mixed})
        first, page = found.setdefault(followed(report), (mixed, pages(report)))
        assert pages(report) == page, (first, mixed)


def followed(report: Report) -> object:
    """The answers, and what every test answers."""
    conditions = (
        condition
        for rule in report.rules.rules for asked in rule.asked
        for condition in (asked.when, asked.demand, *(fix.when for fix in asked.fixes if fix.when))
    )  # fmt: skip
    truths = (report.situation.holds(test) for one in conditions for test in mentions.tests_in(one))
    return report.outcomes, tuple(truths)


def pages(report: Report) -> str:
    """The page with its season, in both shapes, and how both show themselves in a notebook."""
    ahead = season_ahead(report.rules, report.declaration.values, *SEASON)
    page = report_page(report, SeasonPage([ahead], [report]).blocks())
    season = SeasonReport((ahead,), (report,))
    notebook = report._repr_html_() + season._repr_html_()
    return "\n".join([page_markdown(page, whole=True), page_html(page), notebook])


# ---- what would do ----


@pytest.mark.parametrize(
    ("values", "label"),
    [
        ({"open-size": "5 mm", "wide": "880 mm"}, "Open size"),
        # It has to be as much as what has to be as much as what is private.
        ({"open-size": "700 mm", "wide": "5 mm"}, "Wide"),
    ],
)
def test_what_would_do_is_not_told_where_it_is_worked_out_from_a_private_value(
    values: Mapping[str, str], label: str
) -> None:
    rules = FACTS.replace("0 mm to 900 mm private", "0 mm to 900 mm unchangeable private")
    same, chained = RULES.splitlines()[1:3]
    ruleset = trackprep.parse_ruleset(f"{rules}{same}\n{chained}\n")
    said = {
        page_html(report_page(report, would_do=would_do_blocks(found.would_do, report)))
        for size in ("523 mm", "527 mm")
        for report in [checked(ruleset, {"size": size, **values})]
        for found in [report.what_would_do()]
    }
    assert len(said) == 1
    (page,) = said
    assert re.search(rf"{label}:</strong> what would do hangs on what is kept private", page)
