"""Why a test of a choice, a grade, a set or a yes or no does not hold."""

from collections.abc import Sequence

from trackprep.explanations.deciding import Deciding
from trackprep.explanations.findings import Reason
from trackprep.explanations.naming import named_limit
from trackprep.explanations.nearness import grade_steps, set_difference
from trackprep.explanations.phrases import grades_admitted, phrase_of
from trackprep.explanations.situation import Situation
from trackprep.explanations.wording import (
    choice_labels,
    counted,
    inside,
    label_of,
    listed,
)
from trackprep.rules.conditions import ChoiceTest, FlagTest, GradeTest, SetTest
from trackprep.rules.model import Choosing

MOST_WAYS_LISTED = 6


def failed_choice(test: ChoiceTest, deciding: Deciding, situation: Situation) -> Reason:
    """A choice that is not admitted, and those that are."""
    rules = situation.rules
    asked = phrase_of(test, rules).asked
    ways = _choices_admitted(test, situation)
    nearest = _one_of(choice_labels(test.path, ways, rules)) if ways else asked
    if not test.words and not test.negated:
        nearest = ""
    return Reason(
        subject=label_of(test.path, rules),
        value=situation.written(test.path),
        asked=named_limit(asked, test.name, deciding, rules),
        nearest=nearest,
        obvious=not test.negated or not ways,
    )


def failed_flag(test: FlagTest, situation: Situation) -> Reason:
    """A yes where no is asked, or the reverse."""
    asked = "yes" if test.value else "no"
    return Reason(
        subject=label_of(test.path, situation.rules),
        value=situation.written(test.path),
        asked=asked,
        nearest=asked,
    )


def failed_grade(test: GradeTest, deciding: Deciding, situation: Situation) -> Reason:
    """A grade that is too low or too high, and by how many steps."""
    rules = situation.rules
    steps = grade_steps(test, situation)
    asked = in_words = phrase_of(test, rules).asked
    if test.other is not None:
        other = inside(label_of(test.other, rules))
        asked = asked.replace(other, f"{other} ({situation.written(test.other)})")
    ways = choice_labels(test.path, grades_admitted(test), rules)
    return Reason(
        subject=label_of(test.path, rules),
        value=situation.written(test.path),
        asked=named_limit(asked, test.limit, deciding, rules),
        off=f"{counted(abs(steps), 'step')} too {'low' if steps < 0 else 'high'}",
        nearest=_one_of(ways) if 0 < len(ways) <= MOST_WAYS_LISTED else asked,
        asked_in_words=in_words if test.other is not None else "",
    )


def failed_set(test: SetTest, situation: Situation) -> Reason:
    """What a set lacks, or has and should not."""
    rules = situation.rules
    words = choice_labels(test.path, set_difference(test, situation), rules)
    if test.how == "none":
        off, nearest = _is_or_are(words, "not admitted"), f"without {listed(words, 'and')}"
    elif test.how == "all":
        off, nearest = _is_or_are(words, "missing"), f"{listed(words, 'and')} as well"
    else:
        off, nearest = "none of them is there", _one_of(words) if words else ""
    return Reason(
        subject=label_of(test.path, rules),
        value=situation.written(test.path),
        asked=phrase_of(test, rules).asked,
        off=off,
        nearest=nearest,
        nearest_tells=True,
    )


def failed_whole_set(test: SetTest, situation: Situation) -> Reason:
    """A set that includes all of some words, which it should not."""
    rules = situation.rules
    words = choice_labels(test.path, test.words, rules)
    return Reason(
        subject=label_of(test.path, rules),
        value=situation.written(test.path),
        asked=f"not all of {listed(words, 'and')}",
        off="all of them are there",
        nearest=f"without {_one_of(words)}",
    )


def _choices_admitted(test: ChoiceTest, situation: Situation) -> tuple[str, ...]:
    """The choices that meet the test, unless they are too many to say."""
    if not test.negated:
        return tuple(test.words)
    fact = situation.rules.facts.get(test.path)
    if fact is None or not isinstance(fact.type, Choosing):
        return ()
    words = tuple(word for word in fact.type.words if word not in test.words)
    return words if len(words) <= MOST_WAYS_LISTED else ()


def _one_of(labels: Sequence[str]) -> str:
    return listed(labels, "or")


def _is_or_are(words: list[str], what: str) -> str:
    return f"{listed(words, 'and')} {'is' if len(words) == 1 else 'are'} {what}"
