"""A ruleset, and what is declared, as plain data that is small as JSON.

Conditions and terms are numbered nodes, `[kind, member, …]`: a member that is a node stands
there by its number, a fact by its place among the facts. Equal nodes are one. Names that
only explanations need are left out. Numbers are texts such as `3/10`, days are whole
numbers, 1 January of the year 1 being 1.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction
from typing import Any, TypeAlias, assert_never

from trackprep.dates import Span
from trackprep.rules.conditions import (
    AgeTest,
    All,
    AnyOf,
    Arithmetic,
    AtLeast,
    Between,
    ByCase,
    ByRows,
    Called,
    Case,
    ChoiceLookup,
    ChoiceTest,
    CompletedYears,
    Condition,
    Constant,
    DayOf,
    DayTerm,
    DayTest,
    DerivedNumber,
    EventDay,
    Extreme,
    FixedDay,
    FlagTest,
    FormulaNumber,
    GradeTest,
    Meaning,
    Not,
    NumberLookup,
    NumberOf,
    NumberTest,
    Rounded,
    SetTest,
    Shifted,
    Term,
    TermCase,
)
from trackprep.rules.model import Choosing, Dated, FreeText, Measured, Rules, Type, YesOrNo
from trackprep.rules.values import Amount, Value

Plain: TypeAlias = Any
"""What JSON can say."""

_ALWAYS = -1
"""Stands where a row has no condition."""


def plain_rules(rules: Rules) -> dict[str, Plain]:
    """The ruleset: its facts, what the event settles, nodes, and rules.

    A fact is `[path, kind, for the inspector]`, a rule `[name, level, asked]` with
    `[part, when, demand]` for each part.
    """
    return PlainRuleset(rules).data()


class PlainRuleset:
    """A ruleset as data in the making, for a page that has conditions of its own besides.

    Attributes:
        facts: The facts that it has; all others are left out.
    """

    def __init__(self, rules: Rules, facts: Iterable[str] | None = None) -> None:
        self.rules = rules
        self.facts = tuple(rules.facts if facts is None else facts)
        self._nodes = _Nodes(self.facts)
        self._rules = [
            [
                rule.name,
                rule.level,
                [
                    [asked.part, self.condition(asked.when), self.condition(asked.demand)]
                    for asked in rule.asked
                ],
            ]
            for rule in rules.rules
        ]

    def condition(self, condition: Condition) -> int:
        """The number of the node that the condition is in `data`."""
        return self._nodes.condition(condition)

    def term(self, term: Term) -> int:
        """The number of the node that the term is in `data`."""
        return self._nodes.term(term)

    def data(self) -> dict[str, Plain]:
        """As `plain_rules`, with the nodes of every condition that was asked for."""
        facts = [
            [path, _kind(fact.type), int(fact.for_the_inspector)]
            for path, fact in ((path, self.rules.facts[path]) for path in self.facts)
        ]
        known = {path: value for path, value in self.rules.here.items() if path in self.facts}
        return {
            "facts": facts,
            "here": plain_values(known),
            "nodes": list(self._nodes.places),
            "rules": self._rules,
        }


def plain_values(values: Mapping[str, Value]) -> dict[str, Plain]:
    """What is declared, by path."""
    return {path: _plain_value(value) for path, value in values.items()}


def plain_day(day: date) -> int:
    """The number of a day."""
    return day.toordinal()


def _plain_value(value: Value) -> Plain:
    match value:
        case Amount(value=number):
            return str(number)
        case Span(first, last):
            return [plain_day(first), plain_day(last)]
        case frozenset():
            return sorted(value)
        case str() | bool():
            return value
        case _:
            assert_never(value)


def _kind(its: Type) -> str:
    match its:
        case Choosing(how) | Dated(how):
            return how
        case YesOrNo():
            return "yes or no"
        case Measured():
            return "number"
        case FreeText():
            return "text"
        case _:
            assert_never(its)


class _Nodes:
    """Collects nodes; `places` holds them in the order of their numbers."""

    def __init__(self, facts: Iterable[str]) -> None:
        self.facts = {path: place for place, path in enumerate(facts)}
        self.places: dict[tuple[Plain, ...], int] = {}

    def put(self, kind: str, *members: Plain) -> int:
        """The number of the node, which is a new one where none is equal."""
        return self.places.setdefault((kind, *members), len(self.places))

    def condition(self, condition: Condition) -> int:
        match condition:
            case Not(inner):
                return self.put("not", self.condition(inner))
            case All(parts):
                return self.put("all", *map(self.condition, parts))
            case AnyOf(parts):
                return self.put("any", *map(self.condition, parts))
            case AtLeast(count, parts):
                return self.put("some of", count, *map(self.condition, parts))
            case Meaning(_, inner):
                return self.condition(inner)
            case ByRows(_, rows):
                return self.put("by rows", *self.rows(rows))
            case Between(least, most):
                return self.put("between", self.condition(least), self.condition(most))
            case NumberTest(left, comparison, right):
                return self.put("number", self.term(left), comparison, self.term(right))
            case DayTest(left, comparison, right):
                return self.put("day", self.day(left), comparison, self.day(right))
            case AgeTest(of, on, comparison, months, days, grain):
                sizes = (months or 0, days or 0)
                return self.put("age", self.day(of), self.day(on), comparison, *sizes, grain)
            case ChoiceTest() | GradeTest() | SetTest() | FlagTest():
                return self.words(condition)
            case _:
                assert_never(condition)

    def words(self, test: ChoiceTest | GradeTest | SetTest | FlagTest) -> int:
        fact = self.facts[test.path]
        match test:
            case ChoiceTest(_, words, negated):
                return self.put("is not" if negated else "is", fact, *sorted(words))
            case GradeTest(_, comparison, word, other, grades):
                bound = word if other is None else self.facts[other]
                return self.put("grade", fact, comparison, bound, *grades)
            case SetTest(_, how, words):
                return self.put("includes", fact, how, *sorted(words))
            case FlagTest(_, value):
                return self.put("flag", fact, value)
            case _:
                assert_never(test)

    def rows(self, rows: Iterable[Case | TermCase]) -> list[int]:
        """Each row's condition and what it gives, one after the other."""
        flat = []
        for row in rows:
            flat.append(_ALWAYS if row.condition is None else self.condition(row.condition))
            flat.append(self.condition(row.test) if isinstance(row, Case) else self.term(row.value))
        return flat

    def term(self, term: Term) -> int:
        match term:
            case Constant(value):
                return self.put("constant", str(value))
            case NumberOf(path):
                return self.put("number of", self.facts[path])
            case Arithmetic(sign, left, right):
                return self.put(sign, self.term(left), self.term(right))
            case CompletedYears(of, on):
                return self.put("years", self.day(of), self.day(on))
            case DerivedNumber(definition=inner) | FormulaNumber(definition=inner):
                return self.term(inner)
            case Called(function, of):
                return self.put(function, self.term(of))
            case Extreme(which, several):
                return self.put(which, *map(self.term, several))
            case Rounded(of, step, down):
                kind = "rounded down" if down else "rounded"
                return self.put(kind, self.term(of), str(step.value))
            case ChoiceLookup(path=path, rows=by_word):
                return self.put("row of", self.facts[path], self.table("words", by_word))
            case NumberLookup(of=of, rows=by_count):
                return self.put("row at", self.term(of), self.table("counts", by_count))
            case ByCase(cases):
                return self.put("cases", *self.rows(cases))
            case _:
                assert_never(term)

    def table(self, kind: str, rows: Iterable[tuple[str | Fraction, Fraction]]) -> int:
        return self.put(kind, *((str(key), str(value)) for key, value in rows))

    def day(self, term: DayTerm) -> int:
        match term:
            case DayOf(path):
                return self.put("day of", self.facts[path])
            case FixedDay(day):
                return self.put("fixed", plain_day(day))
            case EventDay(year_start):
                return self.put("year start" if year_start else "event")
            case Shifted(day, months, days):
                return self.put("shifted", self.day(day), months, days)
            case _:
                assert_never(term)
