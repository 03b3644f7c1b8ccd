"""Why a comparison of days or an age does not hold, since when, and by how long."""

from datetime import timedelta

from trackprep.backends.terms import named
from trackprep.dates import Boundary, long_form, week_code_on
from trackprep.explanations.deciding import Deciding
from trackprep.explanations.findings import Reason
from trackprep.explanations.naming import named_limit
from trackprep.explanations.phrases import phrase_of
from trackprep.explanations.situation import Situation
from trackprep.explanations.terms import day_text
from trackprep.explanations.timing import AgeGap, DayGap, age_gap, day_gap, stretch
from trackprep.explanations.wording import capitalized, counted, is_week_code
from trackprep.rules.conditions import AgeTest, Comparison, DayOf, DayTerm, DayTest, FixedDay

_WORDS: dict[Comparison, str] = {
    "at least": "on or after {}",
    "at most": "on or before {}",
    "more than": "after {}",
    "less than": "before {}",
    "equal": "{}",
    "not equal": "any day but {}",
}


def failed_age(test: AgeTest, deciding: Deciding, situation: Situation) -> Reason:
    """The date, the age that is asked, and since when it is too old."""
    rules = situation.rules
    gap = age_gap(test, situation)
    said = phrase_of(test, rules)
    return Reason(
        subject=capitalized(said.subject),
        value=_written(test.of, situation),
        asked=named_limit(said.asked, test.limit, deciding, rules),
        off=_age_off(gap, situation) if gap else "",
        nearest=_other_day(test.of, gap.boundary, situation) if gap else "",
        obvious=False,
        nearest_tells=any(named(test.on)),
    )


def failed_day(test: DayTest, deciding: Deciding, situation: Situation) -> Reason:
    """The day, the day that it is compared with, and how far they lie apart."""
    rules = situation.rules
    gap = day_gap(test, situation)
    assert gap is not None, "a test that failed has two days"
    test = gap.test
    asked = _WORDS[test.comparison].format(_bound(test.right, gap, situation))
    in_words = _WORDS[test.comparison].format(day_text(test.right, rules))
    limit = test.right.limit if isinstance(test.right, FixedDay) else None
    days = abs(gap.days)
    off = f"{counted(days, 'day')} too {'late' if gap.days > 0 else 'early'}"
    return Reason(
        subject=capitalized(day_text(test.left, rules)),
        value=_written(test.left, situation),
        asked=named_limit(asked, limit, deciding, rules),
        off=off if days else "it is that day",
        nearest=_WORDS[test.comparison].format(long_form(gap.bound)),
        asked_in_words=in_words if any(named(test.right)) else "",
    )


def _written(day: DayTerm, situation: Situation) -> str:
    paths = tuple(named(day))
    if not paths:
        return long_form(situation.event)
    return situation.written(paths[0])


def _bound(day: DayTerm, gap: DayGap, situation: Situation) -> str:
    said = day_text(day, situation.rules)
    if isinstance(day, FixedDay):
        return said
    return f"{said} ({long_form(gap.bound)})"


def _age_off(gap: AgeGap, situation: Situation) -> str:
    if gap.old:
        return f"too old since {long_form(gap.turn)}, by {stretch(gap.days, situation.event)}"
    until = stretch(gap.days, gap.turn)
    return f"too recent by {until}: old enough from {long_form(gap.turn)} on"


def _other_day(day: DayTerm, boundary: Boundary, situation: Situation) -> str:
    """The days that would do; of a week code also the codes."""
    if not isinstance(day, DayOf):
        return ""
    last = boundary.day - timedelta(days=1)
    said = (
        f"{long_form(boundary.day)} or later" if boundary.since else f"{long_form(last)} or earlier"
    )
    if not is_week_code(day.path, situation.rules):
        return said
    return f"{_code(boundary)} ({said})"


def _code(boundary: Boundary) -> str:
    """The first whole week that lies after the boundary, or the last before it."""
    past_sunday = boundary.day.isoweekday() % 7
    if boundary.since:
        sunday = boundary.day + timedelta(days=-past_sunday % 7)
        return f"week code {week_code_on(sunday)} or later"
    sunday = boundary.day - timedelta(days=past_sunday + 7)
    return f"week code {week_code_on(sunday)} or earlier"
