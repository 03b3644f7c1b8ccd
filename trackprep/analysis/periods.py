"""The event days that a claim or a comparison is about."""

from datetime import date, timedelta

from trackprep.dates import long_form
from trackprep.frozen import frozen
from trackprep.rules.model import Rules

WITHOUT_PERIOD = (date(2024, 1, 1), date(2027, 12, 31))
"""Where no ruleset says when it is valid: four years, so that every calendar date comes by."""

MOST_DAYS = 4_000
"""The most event days that are looked at: the first eleven years of them."""


@frozen
class Period:
    """The first and the last event day looked at, and why these."""

    first: date
    last: date
    why: str

    def __str__(self) -> str:
        if self.first == self.last:
            return f"on {long_form(self.first)}"
        return f"from {long_form(self.first)} to {long_form(self.last)}"


def period_of(*rulesets: Rules, on: date | None = None) -> Period:
    """The days on which all the rulesets are valid; where there are none, those of the latest."""
    if on is not None:
        return Period(on, on, "the day asked for")
    valid = [rules.valid for rules in rulesets if rules.valid is not None]
    if not valid:
        return Period(*WITHOUT_PERIOD, "no ruleset says when it is valid")
    first, last = max(first for first, _ in valid), min(last for _, last in valid)
    if first <= last:
        return _bounded(first, last, "the days on which all are valid")
    return _bounded(*max(valid), "no day has all of them valid: the days of the latest")


def _bounded(first: date, last: date, why: str) -> Period:
    """The period, or its first years where it is longer than can be looked at."""
    if (last - first).days < MOST_DAYS:
        return Period(first, last, why)
    return Period(first, first + timedelta(days=MOST_DAYS - 1), f"the first eleven years of {why}")
