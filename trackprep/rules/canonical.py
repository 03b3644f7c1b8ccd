"""Conditions in one canonical form: what digests are made of.

A condition becomes nested lists of texts, each list with a tag in front that is written
here. Nothing of it hangs on the names or the order of a class's fields, on the order of a
mapping or a set, or on hash seeds: fields are taken one by one by name, whatever has no
order of its own is sorted by its text, and a class without a line here is an error of the
type checker. Units, names of limits, lists, derived facts and formulas, and the forms that
something was said in, are gone: a number is its fraction in base units.

A change here changes digests that were published: it takes a new `meaning.VERSION`.
"""

import json
from collections.abc import Iterable
from fractions import Fraction
from typing import TypeAlias, assert_never

from trackprep.rules import conditions as c

Canonical: TypeAlias = str | list["Canonical"]
"""A text, or a list that begins with its tag."""


def text_of(form: Canonical) -> str:
    """The form as ASCII text, by which forms are sorted and told apart."""
    return json.dumps(form, ensure_ascii=True, separators=(",", ":"))


def in_order(forms: Iterable[Canonical]) -> list[Canonical]:
    """Forms that have no order of their own, each once."""
    told = {text_of(form): form for form in forms}
    return [told[text] for text in sorted(told)]


class Walk:
    """Makes forms, and keeps the facts that it came upon.

    Kleene's `and` and `or` heed neither order nor repetition, so that both are gone too.
    """

    def __init__(self) -> None:
        self.paths: set[str] = set()

    def fact(self, path: str) -> str:
        """The path of a fact, which is kept."""
        self.paths.add(path)
        return path

    # ---- conditions ----

    def condition(self, condition: c.Condition) -> Canonical:
        """The form of a condition."""
        match condition:
            case c.Meaning(_, inner):
                return self.condition(inner)
            case c.Not(inner):
                return self.opposite(inner)
            case c.All(parts):
                return self.joined("all", parts)
            case c.AnyOf(parts):
                return self.joined("any", parts)
            case c.AtLeast(count, parts):
                # Here a part that stands twice counts twice.
                return ["count", str(count), *sorted(map(self.condition, parts), key=text_of)]
            case c.Between(least, most):
                return ["between", *in_order((self.test(least), self.test(most)))]
            case c.ByRows():
                return ["rows", *(self.row(row.condition, row.test) for row in condition.rows)]
            case _:
                return self.test(condition)

    def joined(self, tag: str, parts: Iterable[c.Condition]) -> Canonical:
        """`and` or `or`, with those inside it that are the same; of one part, the part."""
        forms: list[Canonical] = []
        for form in map(self.condition, parts):
            forms += form[1:] if isinstance(form, list) and form[0] == tag else [form]
        sorted_forms = in_order(forms)
        return sorted_forms[0] if len(sorted_forms) == 1 else [tag, *sorted_forms]

    def opposite(self, condition: c.Condition) -> Canonical:
        """`not`, which a test on choices and one on yes or no take into themselves."""
        match condition:
            case c.Meaning(_, inner):
                return self.opposite(inner)
            case c.Not(inner):
                return self.condition(inner)
            case c.ChoiceTest(path, words, negated):
                return self.choice(path, words, not negated)
            case c.FlagTest(path, value):
                return self.flag(path, not value)
            case _:
                return ["not", self.condition(condition)]

    def row(self, condition: c.Condition | None, test: c.Condition) -> Canonical:
        """A row of a limit; one without a condition is otherwise."""
        return [["all"] if condition is None else self.condition(condition), self.condition(test)]

    # ---- tests ----

    def test(self, test: c.Test) -> Canonical:
        """The form of a test."""
        match test:
            case c.ChoiceTest(path, words, negated):
                return self.choice(path, words, negated)
            case c.GradeTest(path, comparison, word, other):
                against: Canonical = ["word", word or ""] if other is None else self.path(other)
                return ["grade", self.fact(path), comparison, against]
            case c.SetTest(path, how, words):
                return ["set", self.fact(path), how, *sorted(words)]
            case c.FlagTest(path, value):
                return self.flag(path, value)
            case c.NumberTest(left, comparison, right):
                return _either_way("number", self.term(left), comparison, self.term(right))
            case c.DayTest(left, comparison, right):
                return _either_way("day", self.day(left), comparison, self.day(right))
            case c.AgeTest():
                return self.age(test)
            case _:
                assert_never(test)

    def choice(self, path: str, words: Iterable[str], negated: bool) -> Canonical:
        """A test on choices."""
        return ["is-not" if negated else "is", self.fact(path), *sorted(words)]

    def flag(self, path: str, value: bool) -> Canonical:
        """A test on yes or no."""
        return ["yes" if value else "no", self.fact(path)]

    def path(self, path: str) -> Canonical:
        """What is declared for a fact."""
        return ["fact", self.fact(path)]

    def age(self, test: c.AgeTest) -> Canonical:
        """A test on an age: a whole number of months, or of days."""
        length = ["months", str(test.months)] if test.days is None else ["days", str(test.days)]
        both = [self.day(test.of), self.day(test.on)]
        return ["age", *both, test.comparison, *length, test.grain]

    # ---- days and numbers ----

    def day(self, day: c.DayTerm) -> Canonical:
        """The form of a day."""
        match day:
            case c.DayOf(path):
                return self.path(path)
            case c.FixedDay(fixed):
                return ["on", fixed.isoformat()]
            case c.EventDay(year_start):
                return ["year-start"] if year_start else ["event"]
            case c.Shifted(inner, months, days):
                return ["shifted", self.day(inner), str(months), str(days)]
            case _:
                assert_never(day)

    def term(self, term: c.Term) -> Canonical:
        """The form of a number."""
        match term:
            case c.Constant(value):
                return fraction(value)
            case c.NumberOf(path):
                return self.path(path)
            case c.Arithmetic(operator, left, right):
                sides = [self.term(left), self.term(right)]
                return [operator, *(sorted(sides, key=text_of) if operator in "+*" else sides)]
            case c.CompletedYears(of, on):
                return ["years", self.day(of), self.day(on)]
            case c.DerivedNumber() | c.FormulaNumber():
                return self.term(term.definition)
            case c.Called(function, of):
                return [function, self.term(of)]
            case c.Extreme(which, parts):
                return [which, *in_order(map(self.term, parts))]
            case c.Rounded(inner, step, down):
                return ["down" if down else "nearest", self.term(inner), self.term(step)]
            case c.ChoiceLookup():
                return ["choice-table", self.fact(term.path), *in_order(
                    [word, fraction(value)] for word, value in term.rows
                )]  # fmt: skip
            case c.NumberLookup():
                return ["table", self.term(term.of), *in_order(
                    [fraction(key), fraction(value)] for key, value in term.rows
                )]  # fmt: skip
            case c.ByCase(cases):
                return ["cases", *(self.case(case) for case in cases)]
            case _:
                assert_never(term)

    def case(self, case: c.TermCase) -> Canonical:
        """A row of a formula."""
        when: Canonical = ["all"] if case.condition is None else self.condition(case.condition)
        return [when, self.term(case.value)]


def fraction(value: Fraction) -> str:
    """`5/2`; a whole number too has its `/1`."""
    return f"{value.numerator}/{value.denominator}"


def _either_way(tag: str, left: Canonical, comparison: c.Comparison, right: Canonical) -> Canonical:
    """Two sides compared, of which either may have been written first."""
    if text_of(right) < text_of(left):
        left, comparison, right = right, c.MIRRORED[comparison], left
    return [tag, left, comparison, right]
