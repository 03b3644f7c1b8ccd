"""Dates as far as they are known: spans of days, tyre week codes, calendar ages."""

from trackprep.dates.ages import (
    Boundary,
    Comparison,
    Grain,
    age_boundary,
    age_holds,
    completed_years,
    completed_years_range,
)
from trackprep.dates.arithmetic import add, add_months, subtract
from trackprep.dates.spans import Span, long_form, span_of, without_future
from trackprep.dates.weeks import three_digit_weeks, week_code, week_code_on

__all__ = [
    "Boundary",
    "Comparison",
    "Grain",
    "Span",
    "add",
    "add_months",
    "age_boundary",
    "age_holds",
    "completed_years",
    "completed_years_range",
    "long_form",
    "span_of",
    "subtract",
    "three_digit_weeks",
    "week_code",
    "week_code_on",
    "without_future",
]
