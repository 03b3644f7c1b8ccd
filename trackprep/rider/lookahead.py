"""A season ahead: from which day on which rule answers otherwise, with nothing declared changed."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from trackprep.analysis.turning import BADNESS, Course, Turning
from trackprep.backends.checks import Outcome, Verdict, verdict
from trackprep.backends.statuses import Status
from trackprep.frozen import frozen
from trackprep.rules.model import Rule, Rules
from trackprep.rules.values import Value

MOST_DAYS = 3_660
"""The longest season: ten years and a little; more says nothing about a machine in use."""
_WORST_FIRST: tuple[Verdict, ...] = ("not-ready", "incomplete", "ready")


@frozen
class Stretch:
    """The days from the first to the last, on all of which the verdict is the same."""

    first: date
    last: date
    verdict: Verdict


@frozen
class Change:
    """A day from which on a rule has another answer than the day before.

    Attributes:
        again: Whether it had this answer earlier in the season.
        worse: Whether the answer is worse: unsettled or not met, and was less than that.
    """

    day: date
    rule: Rule
    before: Status
    after: Status
    again: bool
    worse: bool


@frozen
class EventAhead:
    """One ruleset over a season.

    Attributes:
        stretches: The verdicts, in order; together they cover the season.
        courses: What each rule answers, in report order.
        changes: By day, then in report order.
    """

    rules: Rules
    first: date
    last: date
    stretches: tuple[Stretch, ...]
    courses: tuple[Course, ...]
    changes: tuple[Change, ...]

    @property
    def worst(self) -> Verdict:
        """The worst verdict of the season."""
        return worst(stretch.verdict for stretch in self.stretches)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The worst of some verdicts."""
    return min(verdicts, key=_WORST_FIRST.index)


def season_ahead(
    rules: Rules, declared: Mapping[str, Value], first: date, last: date
) -> EventAhead:
    """What a ruleset answers to the same declaration on each day from the first to the last.

    Raises:
        ValueError: The last day lies before the first, or more than `MOST_DAYS` behind it.
    """
    if not 0 <= (last - first).days < MOST_DAYS:
        raise ValueError(f"a season goes from a day to a later one, over at most {MOST_DAYS} days")
    turning = Turning(rules, declared)
    courses = tuple(Course(rule, turning.turns(rule, first, last)) for rule in rules.rules)
    return ahead_by(rules, courses, first, last)


def ahead_by(rules: Rules, courses: tuple[Course, ...], first: date, last: date) -> EventAhead:
    """A season of which is known what each rule answers, in report order."""
    return EventAhead(
        rules, first, last, _stretches(rules, courses, first, last), courses, _changes(courses)
    )


def _stretches(
    rules: Rules, courses: Sequence[Course], first: date, last: date
) -> tuple[Stretch, ...]:
    days = sorted({first, *(turn.day for course in courses for turn in course.turns)})
    found: list[Stretch] = []
    for day, following in zip(days, [*days[1:], last + timedelta(days=1)], strict=True):
        answers: list[Outcome] = [course.on(day) for course in courses]
        said, end = verdict(rules, answers), following - timedelta(days=1)
        if found and found[-1].verdict == said:
            found[-1] = Stretch(found[-1].first, end, said)
        else:
            found.append(Stretch(day, end, said))
    return tuple(found)


def _changes(courses: Iterable[Course]) -> tuple[Change, ...]:
    found: list[Change] = []
    for course in courses:
        first, *later = course.turns
        had, before = {first.outcome.status}, first.outcome.status
        for turn in later:
            after = turn.outcome.status
            if after != before:
                worse = BADNESS[after] > BADNESS[before]
                found.append(Change(turn.day, course.rule, before, after, after in had, worse))
            had.add(after)
            before = after
    return tuple(sorted(found, key=lambda change: change.day))
