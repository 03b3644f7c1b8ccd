"""Each test brought down to one look at one slot of a declaration's row.

Numbers are compared with constants, dates with a boundary day that only the event moves;
what is neither is settled as a whole, before the generated code runs.
"""

from datetime import date
from fractions import Fraction
from math import ceil, floor
from typing import TypeAlias, assert_never

from attrs import field, frozen

from trackprep.backends.connectives import Joined
from trackprep.backends.days import day_span
from trackprep.backends.terms import operands
from trackprep.dates import age_boundary
from trackprep.rules.conditions import (
    MIRRORED,
    AgeTest,
    All,
    Arithmetic,
    Between,
    ByCase,
    ByRows,
    Called,
    Case,
    ChoiceTest,
    Comparison,
    CompletedYears,
    Constant,
    DayOf,
    DayTerm,
    DayTest,
    DerivedNumber,
    EventDay,
    FixedDay,
    FlagTest,
    FormulaNumber,
    GradeTest,
    Not,
    NumberTest,
    SetTest,
    Shifted,
    Term,
    TermCase,
    Test,
)

MOST_YEARS = 1_000
"""Limits on completed years up to here become a boundary day; stranger ones are settled."""


@frozen
class Placed:
    """A number worked out from the declaration alone, compared with a constant."""

    term: Term
    comparison: Comparison
    constant: Fraction


@frozen
class Bounded:
    """A declared date on or after a boundary day (`since`), or before it."""

    path: str
    boundary: AgeTest | DayTest = field()
    """The test of some day: where it begins or ceases to hold is the boundary."""

    @property
    def since(self) -> bool:
        """Whether it holds from the boundary on."""
        comparison = self.boundary.comparison
        if isinstance(self.boundary, AgeTest):
            return comparison in ("at most", "less than")
        return comparison in ("at least", "more than")


@frozen
class Settled:
    """A test that is answered as a whole; on the event's day only, if `daily`."""

    test: GradeTest | NumberTest | DayTest | AgeTest | Between
    daily: bool


Lowered: TypeAlias = ChoiceTest | GradeTest | SetTest | FlagTest | Placed | Bounded | Settled
ANY_DAY = EventDay()
"""Stands for the declared day in a boundary's test."""


def lowered(test: Test | Between) -> Lowered | Joined:
    """The test on one slot, or tests joined that mean the same."""
    match test:
        case Between():
            return _between(test)
        case ChoiceTest() | SetTest() | FlagTest():
            return test
        case GradeTest():
            return test if test.other is None else Settled(test, daily=False)
        case NumberTest():
            return _number(test)
        case DayTest():
            return _day(test)
        case AgeTest(DayOf(path), on) if _fixed(on):
            return Bounded(
                path, AgeTest(ANY_DAY, on, test.comparison, test.months, test.days, test.grain)
            )
        case AgeTest(of, on):
            return Settled(test, daily=_daily(of) or _daily(on))
        case _:
            assert_never(test)


def _between(test: Between) -> Settled | All:
    """Both ends joined where that says as much; else settled as one test.

    Of a date known to a span it does if some day lies between the ends: then either one end
    fails for the whole span, or some day of the span meets both.
    """
    match test.least, test.most:
        case GradeTest(other=None), GradeTest(other=None):
            return test.ends
        case NumberTest(subject, _, Constant()), NumberTest(_, _, Constant()) if _single(subject):
            return test.ends
        case DayTest(DayOf(), _, FixedDay(low)), DayTest(_, _, FixedDay(high)) if low <= high:
            return test.ends
        case AgeTest(DayOf(), on) as least, AgeTest() as most if (
            _fixed(on) and least.on == most.on and least.grain == most.grain
        ):
            # Of equal ages in months there may be no day: none is a month before 31 March.
            if (least.days or 0) <= (most.days or 0) and (least.months or 0) < (most.months or 1):
                return test.ends
        case _:
            pass
    return Settled(test, daily=_test_is_daily(test.least) or _test_is_daily(test.most))


def _test_is_daily(test: Test) -> bool:
    """Whether the day of the event has a part in the test."""
    match test:
        case NumberTest(left, _, right) | DayTest(left, _, right):
            return _daily(left) or _daily(right)
        case AgeTest(of, on):
            return _daily(of) or _daily(on)
        case _:
            return False


def boundary_day(test: AgeTest | DayTest, event: date) -> float:
    """The ordinal of the first day on which a bounded test changes."""
    other = day_span(test.on if isinstance(test, AgeTest) else test.right, {}, event)
    assert other is not None, "a boundary hangs on nothing declared"
    match test:
        case AgeTest(_, _, comparison, months, days, grain):
            edge = age_boundary(
                other.first, comparison, months=months or 0, days=days or 0, grain=grain
            )
            return float(edge.day.toordinal())
        case DayTest(comparison=("more than" | "at most")):
            return float(other.first.toordinal() + 1)
        case DayTest():
            return float(other.first.toordinal())
        case _:
            assert_never(test)


# ---- numbers ----------------------------------------------------------------


def _number(test: NumberTest) -> Lowered | Joined:
    left, right = _definition(test.left), _definition(test.right)
    if isinstance(left, Constant):
        left, right, comparison = right, left, MIRRORED[test.comparison]
    else:
        comparison = test.comparison
    if _single(left) and _single(right):
        if isinstance(right, Constant):
            return Placed(left, comparison, right.value)
        return Placed(Arithmetic("-", left, right), comparison, Fraction(0))
    if isinstance(right, Constant):
        match left:
            case CompletedYears():
                return _years(test, left, comparison, right.value)
            case ByCase(rows) if not _has_days(left):
                return _by_rows(rows, comparison, right)
    return Settled(test, daily=_daily(left) or _daily(right))


def _definition(term: Term) -> Term:
    """The term itself, without the names of derived facts and formulas around it."""
    while isinstance(term, DerivedNumber | FormulaNumber):
        term = term.definition
    return term


def _by_rows(rows: tuple[TermCase, ...], comparison: Comparison, limit: Constant) -> ByRows:
    """A test of a formula's rows as one test for each row."""
    tests = (Case(row.condition, NumberTest(row.value, comparison, limit)) for row in rows)
    return ByRows("", tuple(tests))


def _years(
    test: NumberTest, term: CompletedYears, comparison: Comparison, limit: Fraction
) -> Lowered | Joined:
    """Completed years as an age: the year is complete on the day when the age is reached."""
    reachable = limit.denominator == 1 or comparison not in ("equal", "not equal")
    if not (
        isinstance(term.of, DayOf) and _fixed(term.on) and reachable and 0 <= limit <= MOST_YEARS
    ):
        return Settled(test, daily=_daily(term))
    reached = AgeTest(term.of, term.on, "at least", 12 * ceil(limit), None)
    passed = AgeTest(term.of, term.on, "at least", 12 * (floor(limit) + 1), None)
    match comparison:
        case "at least":
            return lowered(reached)
        case "more than":
            return lowered(passed)
        case "less than":
            return Not(reached)
        case "at most":
            return Not(passed)
        case "equal":
            return All((reached, Not(passed)))
        case "not equal":
            return Not(All((reached, Not(passed))))
        case _:
            assert_never(comparison)


def _single(term: Term) -> bool:
    """Whether it is always one number and exact, or has no value."""
    if isinstance(term, CompletedYears | Called | ByCase):
        return False
    return all(map(_single, operands(term)))


def _has_days(term: Term) -> bool:
    return isinstance(term, CompletedYears) or any(map(_has_days, operands(term)))


# ---- days -------------------------------------------------------------------


def _day(test: DayTest) -> Lowered | Joined:
    left, right, comparison = test.left, test.right, test.comparison
    if isinstance(right, DayOf):
        left, right, comparison = right, left, MIRRORED[comparison]
    if not (isinstance(left, DayOf) and _fixed(right)):
        return Settled(test, daily=_daily(test.left) or _daily(test.right))
    if comparison in ("equal", "not equal"):
        same = All((DayTest(left, "at least", right), DayTest(left, "at most", right)))
        return same if comparison == "equal" else Not(same)
    return Bounded(left.path, DayTest(ANY_DAY, comparison, right))


def _fixed(day: DayTerm) -> bool:
    """Whether the day hangs on nothing that is declared."""
    match day:
        case FixedDay() | EventDay():
            return True
        case Shifted(inner):
            return _fixed(inner)
        case DayOf():
            return False
        case _:
            assert_never(day)


def _daily(term: Term | DayTerm) -> bool:
    """Whether the day of the event has a part in it."""
    match term:
        case EventDay():
            return True
        case CompletedYears(of, on):
            return _daily(of) or _daily(on)
        case Shifted(inner):
            return _daily(inner)
        case DayOf() | FixedDay():
            return False
        case _:
            return any(map(_daily, operands(term)))
