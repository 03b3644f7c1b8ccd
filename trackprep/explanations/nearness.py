"""How far a failing test is from holding, to choose the nearest of several ways."""

from fractions import Fraction

from trackprep.explanations.measures import measured
from trackprep.explanations.mentions import facts_in
from trackprep.explanations.situation import Situation
from trackprep.explanations.timing import age_gap, day_gap
from trackprep.rules.conditions import (
    AgeTest,
    Condition,
    DayTest,
    GradeTest,
    NumberTest,
    SetTest,
)

_FAR = Fraction(1)
_YEAR = 365


def distance(test: Condition, situation: Situation) -> Fraction:
    """How far off the test is, from 0 (just) to 1 and more; a choice is always 1 off.

    So is a test of a private fact: which way is told must not tell how far off that is.
    """
    facts = situation.rules.facts
    if any(path in facts and facts[path].private for path in facts_in(test)):
        return _FAR
    match test:
        case NumberTest():
            measure = measured(test, situation)
            return measure.relative_gap if measure else _FAR
        case AgeTest():
            age = age_gap(test, situation)
            return Fraction(age.days, _YEAR) if age else _FAR
        case DayTest():
            day = day_gap(test, situation)
            return Fraction(abs(day.days), _YEAR) if day else _FAR
        case GradeTest():
            steps = grade_steps(test, situation)
            return Fraction(abs(steps), len(test.grades))
        case SetTest(words=words):
            return Fraction(len(set_difference(test, situation)), len(words) or 1)
        case _:
            return _FAR


def is_fixed(condition: Condition, situation: Situation) -> bool:
    """Whether all that the condition looks at is what nobody can change."""
    return all(situation.fixed(path) for path in facts_in(condition))


def grade_steps(test: GradeTest, situation: Situation) -> int:
    """How many grades too high the declared one is; below zero, too low."""
    word = situation.values.get(test.path)
    bound = test.word if test.other is None else situation.values.get(test.other)
    if not isinstance(word, str) or not isinstance(bound, str):
        return 0
    steps = test.grades.index(word) - test.grades.index(bound)
    strict = {"more than": -1, "less than": 1}.get(test.comparison, 0)
    return steps + strict


def set_difference(test: SetTest, situation: Situation) -> frozenset[str]:
    """The words that are missing from the declared set, or that it should not have."""
    declared = situation.values.get(test.path)
    has = declared if isinstance(declared, frozenset) else frozenset()
    return test.words & has if test.how == "none" else test.words - has
