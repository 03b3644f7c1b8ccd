"""By how little a declaration keeps a limit: the margins within which somebody measures again.

From memory: no rule book sets them. A tenth of a limit is some wear, or a rough measurement.
"""

from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction

from trackprep.backends.connectives import in_play
from trackprep.backends.terms import named
from trackprep.explanations.measures import Measure, measured
from trackprep.explanations.mentions import facts_in, terms_in
from trackprep.explanations.opposites import opposite, without_not
from trackprep.explanations.situation import Situation
from trackprep.reports.checks.discreet import is_private
from trackprep.rules.conditions import (
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    CompletedYears,
    Condition,
    Meaning,
    Not,
    NumberOf,
    NumberTest,
)
from trackprep.rules.model import Measured, Rule, Rules
from trackprep.units import show
from trackprep.units.dimensions import LEVEL, TEMPERATURE

TENTH = Fraction(1, 10)
LEVELS = Fraction(3)
"""dB, where the limit is a level: a tenth of it would be more than half of the loudness."""
TEMPERATURES = Fraction(5)
"""K, where the limit is a point on a scale, whose zero lies anywhere."""
DAYS = 60
MARGINS = (
    "“Near a limit” is within a tenth of it, of a sound level within 3 dB, of a temperature within"
    f" 5 °C, and of a date or an age within {DAYS} days (from memory: no rule book sets these)."
)


def kept_by_little(condition: Condition, situation: Situation) -> tuple[Measure, ...]:
    """The numbers that lie near a limit which the condition, as declared, hangs on.

    Of several ways to meet it none, where another holds with room to spare. Nothing that a
    private fact has a part in: how near it is would tell its value.
    """
    match without_not(condition):
        case Between(least, most):
            return _all((least, most), situation)
        case All(parts):
            return _all(parts, situation)
        case AnyOf(parts):
            return _enough(1, parts, situation)
        case AtLeast(count, parts):
            return _enough(count, parts, situation)
        case ByRows(_, rows):
            if any(_has_private(row.condition, situation.rules) for row in rows if row.condition):
                return ()
            playing = in_play(rows, situation.holds)
            return _all([row.test for row in playing], situation)
        case Meaning(_, inner):
            return kept_by_little(inner, situation)
        case Not(Meaning(_, inner)):
            return kept_by_little(opposite(inner), situation)
        case NumberTest() as test:
            measure = _near(test, situation)
            return () if measure is None else (measure,)
        case _:
            return ()


def _all(parts: Iterable[Condition], situation: Situation) -> tuple[Measure, ...]:
    """Of all parts that hold: what does not is told as such."""
    holding = (part for part in parts if situation.holds(part) is True)
    found = (measure for part in holding for measure in kept_by_little(part, situation))
    return tuple(dict.fromkeys(found))


def _enough(count: int, parts: Iterable[Condition], situation: Situation) -> tuple[Measure, ...]:
    """Nothing where enough parts hold with room to spare."""
    holding = [kept_by_little(part, situation) for part in parts if situation.holds(part) is True]
    if sum(not measures for measures in holding) >= count:
        return ()
    return tuple(dict.fromkeys(measure for measures in holding for measure in measures))


def _has_private(condition: Condition, rules: Rules) -> bool:
    return any(is_private(path, rules) for path in facts_in(condition))


# ---- numbers ----------------------------------------------------------------


def _near(test: NumberTest, situation: Situation) -> Measure | None:
    rules = situation.rules
    if situation.holds(test) is not True or test.comparison in ("equal", "not equal"):
        return None
    if _has_private(test, rules):
        return None
    if any(_is_counted(test, path, rules) for path in named(test)):
        return None
    measure = measured(test, situation)
    return measure if measure is not None and is_near(measure) else None


def _is_counted(test: NumberTest, path: str, rules: Rules) -> bool:
    """Whether a side is a count of the fact, or a count of years: nobody measures it again."""
    kind = rules.facts[path].type
    whole = isinstance(kind, Measured) and kind.whole
    sides = (test.left, test.right)
    years = any(isinstance(term, CompletedYears) for side in sides for term in terms_in(side))
    return years or (whole and NumberOf(path) in sides)


def is_near(measure: Measure) -> bool:
    """Whether the number lies within the margin of its limit."""
    gap = abs(measure.gap)
    if not measure.difference:
        if measure.unit.dimension == LEVEL:
            return gap <= LEVELS
        if measure.unit.dimension == TEMPERATURE:
            return gap <= TEMPERATURES
    return abs(measure.bound) > 0 and gap <= TENTH * abs(measure.bound)


def how_near(measure: Measure) -> str:
    """`0.1 mm away, 7 % of the limit`."""
    if not measure.gap:
        return "just at it"
    away = f"{show(abs(measure.gap), measure.unit, difference=True)} away"
    on_a_scale = measure.unit.dimension in (LEVEL, TEMPERATURE) and not measure.difference
    if on_a_scale or not measure.bound:
        return away
    percent = round(100 * abs(measure.gap) / abs(measure.bound))
    return f"{away}, {percent or 'less than 1'} % of the limit"


# ---- dates ------------------------------------------------------------------


def ends_soon(rule: Rule, until: date | None, situation: Situation) -> bool:
    """Whether the calendar alone ends the answer soon after the event.

    Not of a rule with a private date, which the day would tell.
    """
    if until is None or until - situation.event > timedelta(days=DAYS):
        return False
    conditions = (part for asked in rule.asked for part in (asked.when, asked.demand))
    return not any(_has_private(condition, situation.rules) for condition in conditions)
