"""Conditions as Python expressions: one that says "this is true", one that says "this is false".

Where neither holds, the condition is unknown. By Kleene's tables a conjunction is true where
every part is true and false where some part is false; nothing else needs a third value.
"""

import ast
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TypeAlias, assert_never

from trackprep.backends.connectives import Joined, members, tests_of
from trackprep.backends.generated.expressions import (
    AT_LEAST,
    AT_MOST,
    EQUAL,
    IS,
    LESS,
    MORE,
    NO,
    YES,
    assignment,
    bits_in,
    compared,
    every,
    item,
    name,
    number,
    some,
    table,
    total,
)
from trackprep.backends.generated.lowering import (
    Bounded,
    Lowered,
    Placed,
    Settled,
    lowered,
)
from trackprep.backends.generated.slots import (
    ChoiceSlot,
    Constants,
    DaySlot,
    FlagSlot,
    GradeSlot,
    PlaceSlot,
    SetSlot,
    SettledSlot,
    Slot,
    bits_of,
    place_of,
    words_of,
)
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    AtLeast,
    ByRows,
    Case,
    ChoiceTest,
    Comparison,
    Condition,
    DayTest,
    FlagTest,
    GradeTest,
    Meaning,
    Not,
    SetTest,
    Term,
)
from trackprep.rules.model import Rules

BoundaryTest: TypeAlias = AgeTest | DayTest


class Predicates:
    """The expressions for conditions, with the slots and boundaries that they read.

    What stands in several conditions is worked out once, in `statements`.
    """

    def __init__(self, rules: Rules, constants: Constants, conditions: Iterable[Condition]) -> None:
        self.slots: dict[Slot, ast.Name] = {}
        self.boundaries: dict[BoundaryTest, ast.Name] = {}
        self.statements: list[ast.stmt] = []
        self._rules = rules
        self._constants = constants
        self._shared = _standing_twice(conditions)
        self._worked_out: dict[tuple[Condition, bool], ast.expr] = {}

    def true(self, condition: Condition) -> ast.expr:
        """An expression that holds where the condition is true."""
        return self._says(condition, True)

    def false(self, condition: Condition) -> ast.expr:
        """An expression that holds where the condition is false."""
        return self._says(condition, False)

    def named(self, value: ast.expr) -> ast.Name:
        """A local that is given the value."""
        target = f"t{len(self.statements)}"
        self.statements.append(assignment(target, value))
        return name(target)

    def _says(self, condition: Condition, truth: bool) -> ast.expr:
        if not isinstance(condition, Joined):
            meaning = lowered(condition)
            if isinstance(meaning, Joined):
                return self._joined(meaning, truth)
            return self._test(meaning, truth)
        if condition not in self._shared:
            return self._joined(condition, truth)
        if (known := self._worked_out.get((condition, truth))) is None:
            known = self._worked_out[condition, truth] = self.named(self._joined(condition, truth))
        return known

    def _joined(self, condition: Joined, truth: bool) -> ast.expr:
        match condition:
            case Meaning(_, inner):
                return self._says(inner, truth)
            case Not(inner):
                return self._says(inner, not truth)
            case All(parts):
                said = [self._says(part, truth) for part in parts]
                return every(said) if truth else some(said)
            case AnyOf(parts):
                said = [self._says(part, truth) for part in parts]
                return some(said) if truth else every(said)
            case AtLeast(count, parts):
                said = [self._says(part, truth) for part in parts]
                return _counted(count if truth else len(parts) - count + 1, said)
            case ByRows(_, rows):
                return self._by_rows(rows, truth)
            case _:
                assert_never(condition)

    def _by_rows(self, rows: tuple[Case, ...], truth: bool) -> ast.expr:
        """Every row that may be the first to hold says so.

        Of a row that does not hold the test does not count, of one that does, the rows
        behind it do not; of one that is unknown, both count.
        """
        said = NO
        for row in reversed(rows):
            here = self._says(row.test, truth)
            if row.condition is None:
                said = here
            else:
                behind = some([self.true(row.condition), said])
                said = every([some([self.false(row.condition), here]), behind])
        return said

    # -- tests

    def _test(self, test: Lowered, truth: bool) -> ast.expr:
        match test:
            case ChoiceTest():
                return self._choice(test, truth)
            case GradeTest(path, comparison, word):
                assert word is not None
                grade = float(words_of(self._rules, path).index(word) + 1)
                return _ordered(self._slot(GradeSlot(path)), comparison, grade, truth)
            case SetTest():
                return self._set(test, truth)
            case FlagTest(path, value):
                return _flag(self._slot(FlagSlot(path)), value is truth)
            case Placed(term, comparison, constant):
                place = place_of(constant, self._constants[term])
                return _ordered(self._slot(PlaceSlot(term)), comparison, place, truth)
            case Bounded(path, boundary):
                # Every day is on or after it if the first is, and before it if the last is.
                since = test.since is truth
                day = self._slot(DaySlot(path, last=not since))
                return compared(day, AT_LEAST if since else LESS, self._boundary(boundary))
            case Settled():
                return _flag(self._slot(SettledSlot(test)), truth)
            case _:
                assert_never(test)

    def _slot(self, slot: Slot) -> ast.expr:
        return self.slots.setdefault(slot, name(f"s{len(self.slots)}"))

    def _boundary(self, test: BoundaryTest) -> ast.expr:
        return self.boundaries.setdefault(test, name(f"k{len(self.boundaries)}"))

    def _choice(self, test: ChoiceTest, truth: bool) -> ast.expr:
        wanted = truth is not test.negated
        words = words_of(self._rules, test.path)
        answers = (False, *((word in test.words) is wanted for word in words))
        code = self._slot(ChoiceSlot(test.path))
        if answers.count(True) == 1:
            return compared(code, EQUAL, number(answers.index(True)))
        return item(table(answers), code)

    def _set(self, test: SetTest, truth: bool) -> ast.expr:
        bits = self._slot(SetSlot(test.path))
        # The lowest bit of both says that the set is declared.
        wanted = number(bits_of(test.words, words_of(self._rules, test.path)) | 1)
        included = bits_in(bits, wanted)
        match test.how, truth:
            case "all", True:
                return compared(included, EQUAL, wanted)
            case "all", False:
                return every([bits, compared(included, LESS, wanted)])
            case ("any", True) | ("none", False):
                return compared(included, MORE, number(1))
            case _:
                return compared(included, EQUAL, number(1))


def _counted(needed: int, said: list[ast.expr]) -> ast.expr:
    """At least `needed` of the expressions hold."""
    if not 0 < needed <= len(said):
        return YES if needed <= 0 else NO
    return compared(total(said), AT_LEAST, number(needed))


def _flag(code: ast.expr, value: bool) -> ast.expr:
    return code if value else compared(code, IS, NO)


def _ordered(code: ast.expr, comparison: Comparison, place: float, truth: bool) -> ast.expr:
    """A comparison of codes of which NaN is the unknown one."""
    limit = number(place)
    match comparison, truth:
        case ("at least", True) | ("less than", False):
            return compared(code, AT_LEAST, limit)
        case ("at most", True) | ("more than", False):
            return compared(code, AT_MOST, limit)
        case ("more than", True) | ("at most", False):
            return compared(code, MORE, limit)
        case ("less than", True) | ("at least", False):
            return compared(code, LESS, limit)
        case ("equal", True) | ("not equal", False):
            return compared(code, EQUAL, limit)
        case _:
            return some([compared(code, LESS, limit), compared(code, MORE, limit)])


# ---- over all conditions ----------------------------------------------------


def constants_of(conditions: Iterable[Condition]) -> Constants:
    """For every number of the conditions, the constants that it is compared with."""
    found: dict[Term, set[Fraction]] = {}
    for condition in conditions:
        for placed in _placed(condition):
            found.setdefault(placed.term, set()).add(placed.constant)
    return {term: tuple(sorted(constants)) for term, constants in found.items()}


def _placed(condition: Condition) -> Iterator[Placed]:
    for test in tests_of(condition):
        match lowered(test):
            case Placed() as placed:
                yield placed
            case meaning if isinstance(meaning, Joined):
                yield from _placed(meaning)


def _standing_twice(conditions: Iterable[Condition]) -> frozenset[Condition]:
    """The conditions of more than one test that stand in several places."""
    places: Counter[Condition] = Counter()

    def visit(condition: Condition) -> None:
        if isinstance(condition, Joined):
            places[condition] += 1
            if places[condition] == 1:
                for member in members(condition):
                    visit(member)

    for condition in conditions:
        visit(condition)
    repeated = (condition for condition, count in places.items() if count > 1)
    return frozenset(condition for condition in repeated if len(list(tests_of(condition))) > 1)
