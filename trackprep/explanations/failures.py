"""Why a single test does not hold: what was declared, and what is asked instead."""

from attrs import evolve

from trackprep.explanations.deciding import Deciding
from trackprep.explanations.failed_days import failed_age, failed_day
from trackprep.explanations.failed_numbers import failed_number
from trackprep.explanations.failed_words import (
    failed_choice,
    failed_flag,
    failed_grade,
    failed_set,
    failed_whole_set,
)
from trackprep.explanations.findings import Reason
from trackprep.explanations.mentions import facts_in
from trackprep.explanations.nearness import is_fixed
from trackprep.explanations.situation import Situation
from trackprep.explanations.wording import label_of
from trackprep.rules.conditions import (
    AgeTest,
    ChoiceTest,
    Condition,
    DayTest,
    FlagTest,
    GradeTest,
    Not,
    NumberTest,
    SetTest,
)


def reason_of(deciding: Deciding, situation: Situation) -> Reason:
    """The test that decided, in words."""
    test = deciding.test
    reason = _reason(test, deciding, situation)
    if is_fixed(test, situation):
        reason = evolve(reason, nearest="")
    paths = facts_in(test)
    if reason.origin == "declared" and all(path in situation.rules.here for path in paths):
        reason = evolve(reason, origin="set by the event")
    meanings = tuple(label_of(path, situation.rules) for path in deciding.meanings)
    return evolve(reason, meanings=meanings, paths=paths)


def _reason(test: Condition, deciding: Deciding, situation: Situation) -> Reason:
    match test:
        case ChoiceTest():
            return failed_choice(test, deciding, situation)
        case FlagTest():
            return failed_flag(test, situation)
        case GradeTest():
            return failed_grade(test, deciding, situation)
        case SetTest():
            return failed_set(test, situation)
        case Not(SetTest() as whole):
            return failed_whole_set(whole, situation)
        case NumberTest():
            return failed_number(test, deciding, situation)
        case DayTest():
            return failed_day(test, deciding, situation)
        case AgeTest():
            return failed_age(test, deciding, situation)
        case _:
            raise AssertionError(f"not a single test: {type(test).__name__}")
