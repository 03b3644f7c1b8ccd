"""Numbers and days in words: constants, facts, and what is worked out from them."""

from typing import assert_never

from trackprep.dates import long_form
from trackprep.explanations.wording import counted, inside, label_of, limit_label
from trackprep.rules.conditions import (
    Arithmetic,
    CompletedYears,
    Constant,
    DayOf,
    DayTerm,
    DerivedNumber,
    EventDay,
    FixedDay,
    NumberOf,
    Shifted,
    Term,
)
from trackprep.rules.model import Rules
from trackprep.units import show

_OPERATORS = {"+": "plus", "-": "minus", "*": "times", "/": "divided by"}


def constant_text(constant: Constant) -> str:
    """The number and its unit, without the limit it came from."""
    return show(constant.value, constant.unit, difference=constant.difference)


def from_limit(text: str, limit: str | None, rules: Rules) -> str:
    """The text, and the limit's name where it came from one."""
    return f"{text} (limit {limit_label(limit, rules)})" if limit else text


def term_text(term: Term, rules: Rules, *, inner: bool = False) -> str:
    """A number in words, in brackets where `inner` and it is worked out."""
    match term:
        case Constant(limit=limit):
            return from_limit(constant_text(term), limit, rules)
        case NumberOf(path) | DerivedNumber(path):
            return inside(label_of(path, rules))
        case CompletedYears(of, on):
            return f"number of whole years from {day_text(of, rules)} to {day_text(on, rules)}"
        case Arithmetic(operator, left, right):
            one, other = (term_text(side, rules, inner=True) for side in (left, right))
            text = f"{one} {_OPERATORS[operator]} {other}"
            return f"({text})" if inner else text
        case _:
            assert_never(term)


def day_text(day: DayTerm, rules: Rules) -> str:
    """A day in words."""
    match day:
        case DayOf(path):
            return inside(label_of(path, rules))
        case FixedDay(fixed, limit):
            return from_limit(long_form(fixed), limit, rules)
        case EventDay(year_start):
            return "1 January of the event's year" if year_start else "the day of the event"
        case Shifted(shifted, months, days):
            way = "before" if months < 0 or days < 0 else "after"
            return f"{duration_text(months, days)} {way} {day_text(shifted, rules)}"
        case _:
            assert_never(day)


def duration_text(months: int, days: int) -> str:
    """`5 years`, `18 months`, `3 weeks`, `10 days`, whatever the sign."""
    months, days = abs(months), abs(days)
    if not months and days and not days % 7:
        return counted(days // 7, "week")
    said = []
    if months:
        years, rest = divmod(months, 12)
        said.append(counted(months, "month") if rest else counted(years, "year"))
    if days or not months:
        said.append(counted(days, "day"))
    return " and ".join(said)
