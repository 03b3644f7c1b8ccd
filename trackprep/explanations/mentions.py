"""What a condition mentions, in reading order."""

from collections.abc import Iterator
from typing import assert_never

from trackprep.backends.terms import named, operands
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    Between,
    ByRows,
    ChoiceLookup,
    ChoiceTest,
    Condition,
    Constant,
    DayTest,
    DerivedNumber,
    FixedDay,
    FlagTest,
    FormulaNumber,
    GradeTest,
    Meaning,
    Not,
    NumberLookup,
    NumberTest,
    SetTest,
    Shifted,
    Term,
    Test,
)
from trackprep.rules.model import Rules


def conditions_of(rules: Rules) -> Iterator[Condition]:
    """Every condition that a declaration is held against: of rules, their work and sections."""
    for rule in rules.rules:
        for asked in rule.asked:
            yield from (asked.when, asked.demand)
            yield from (work.when for work in (*asked.fixes, *asked.undos) if work.when)
    yield from (section.when for section in rules.sections if section.when)


def tests_in(condition: Condition) -> Iterator[Test]:
    """Every test that the condition is made of."""
    for inner in _inside(condition):
        if not isinstance(inner, Between | Meaning | ByRows | Not | All | AnyOf | AtLeast):
            yield inner


def facts_in(condition: Condition) -> tuple[str, ...]:
    """The facts that the condition asks for, each once; derived ones by what they ask."""
    return tuple(dict.fromkeys(path for test in tests_in(condition) for path in named(test)))


def demanded_in(condition: Condition) -> tuple[str, ...]:
    """The facts that the condition itself is about, not those that only choose a limit's row."""
    match condition:
        case Not(inner) | Meaning(_, inner):
            return demanded_in(inner)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            found = (path for part in parts for path in demanded_in(part))
        case ByRows(_, rows):
            found = (path for row in rows for path in demanded_in(row.test))
        case _:
            return facts_in(condition)
    return tuple(dict.fromkeys(found))


def rows_in(condition: Condition) -> tuple[Condition, ...]:
    """What decides which row of a limit the condition goes by."""
    rows = (row for inner in _inside(condition) if isinstance(inner, ByRows) for row in inner.rows)
    return tuple(row.condition for row in rows if row.condition is not None)


def derived_in(condition: Condition) -> tuple[str, ...]:
    """The derived facts that the condition names, and those they are made of, each once."""
    return tuple(dict.fromkeys(path for inner in _inside(condition) for path in _derived(inner)))


def computations_in(condition: Condition) -> tuple[str, ...]:
    """The formulas and tables that the condition comes upon, each once."""
    found = (
        term.table if isinstance(term, ChoiceLookup | NumberLookup) else term.name
        for inner in _inside(condition)
        for term in _terms_of(inner)
        if isinstance(term, FormulaNumber | ChoiceLookup | NumberLookup)
    )
    return tuple(dict.fromkeys(found))


def limits_in(condition: Condition) -> tuple[str, ...]:
    """The limits and lists that the condition names, each once."""
    found = (name for inner in _inside(condition) for name in _limits(inner))
    return tuple(dict.fromkeys(name for name in found if name is not None))


def _limits(condition: Condition) -> Iterator[str | None]:
    """The limits and lists that the condition names itself."""
    match condition:
        case ChoiceTest() | SetTest():
            yield condition.name
        case GradeTest() | AgeTest() | ByRows():
            yield condition.limit
        case NumberTest():
            yield from (term.limit for term in _terms_of(condition) if isinstance(term, Constant))
        case DayTest(left, _, right):
            for day in (left, right):
                while isinstance(day, Shifted):
                    day = day.day
                if isinstance(day, FixedDay):
                    yield day.limit
        case _:
            return


def facts_of(term: Term) -> tuple[str, ...]:
    """The facts that a number is worked out from, each once."""
    return tuple(dict.fromkeys(named(term)))


def terms_in(term: Term) -> Iterator[Term]:
    """The term, and every one that it is worked out from."""
    yield term
    for inner in operands(term):
        yield from terms_in(inner)


def _inside(condition: Condition) -> Iterator[Condition]:
    """The condition, and every one inside it."""
    yield condition
    match condition:
        case Meaning(_, inner) | Not(inner):
            yield from _inside(inner)
        case Between(least, most):
            yield from (least, most)
        case ByRows(_, rows):
            for row in rows:
                if row.condition is not None:
                    yield from _inside(row.condition)
                yield from _inside(row.test)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            for part in parts:
                yield from _inside(part)
        case (
            ChoiceTest()
            | GradeTest()
            | SetTest()
            | FlagTest()
            | NumberTest()
            | DayTest()
            | AgeTest()
        ):
            return
        case _:
            assert_never(condition)


def _derived(condition: Condition) -> Iterator[str]:
    """The derived facts that the condition names itself."""
    match condition:
        case Meaning(path):
            yield path
        case AgeTest(derived=str(path)):
            yield path
        case _:
            terms = _terms_of(condition)
            yield from (term.path for term in terms if isinstance(term, DerivedNumber))


def _terms_of(condition: Condition) -> Iterator[Term]:
    """The numbers that the condition itself compares, and what they are worked out from."""
    if isinstance(condition, NumberTest):
        yield from terms_in(condition.left)
        yield from terms_in(condition.right)
