"""Rule pairs drawn by chance from a seed, over facts of every type: thousands in a few seconds."""

from datetime import date
from fractions import Fraction
from random import Random

from trackprep.dates import Grain
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.units import ONE

EVENT = date(2026, 6, 14)
WORDS = ("first", "second", "third", "fourth")
GRADES = ("low", "middle", "high")


def _choosing(how: str, words: tuple[str, ...]) -> model.Choosing:
    return model.Choosing(how, tuple(map(model.Choice, words)))  # type: ignore[arg-type]


TYPES: dict[str, model.Type] = {
    "choice.a": _choosing("one of", WORDS),
    "choice.b": _choosing("one of", WORDS[:3]),
    "grade.a": _choosing("graded", GRADES),
    "grade.b": _choosing("graded", GRADES),
    "set.a": _choosing("several of", WORDS[:3]),
    "flag.a": model.YesOrNo(),
    "flag.b": model.YesOrNo(),
    "length.a": model.Measured(ONE, Fraction(0)),
    "length.b": model.Measured(ONE, Fraction(0), Fraction(10)),
    "length.c": model.Measured(ONE),
    "count.a": model.Measured(ONE, Fraction(0), Fraction(12), whole=True),
    "count.b": model.Measured(ONE, Fraction(0), whole=True),
    "day.a": model.Dated("date"),
    "day.b": model.Dated("date"),
    "day.past": model.Dated("past date"),
}
FACTS = {path: model.Fact(path, path, kind) for path, kind in TYPES.items()}
NUMBERS = [path for path, kind in TYPES.items() if isinstance(kind, model.Measured)]
DAYS = [path for path, kind in TYPES.items() if isinstance(kind, model.Dated)]
FIXED = [date(2021, 6, 14), date(2024, 2, 29), date(2026, 6, 14), date(2026, 6, 15)]
SORTS = ("choice", "choice", "grade", "set", "flag", "number", "number", "day", "age", "range")
AGES: tuple[tuple[int | None, int | None, Grain], ...] = (
    (60, None, "day"), (12, None, "month"), (60, None, "year"), (None, 30, "day"),
)  # fmt: skip
ORDERS: tuple[c.Order, ...] = ("at least", "at most", "more than", "less than")
COMPARISONS: tuple[c.Comparison, ...] = (*ORDERS, "equal", "not equal")


class Chance:
    """Draws conditions and rules.

    Args:
        several: Whether arithmetic of several facts is drawn too.
    """

    def __init__(self, seed: int, *, several: bool) -> None:
        self.random, self.several = Random(seed), several

    def constant(self) -> c.Constant:
        numbers = ("0", "1", "2", "2", "3", "5", "1/2", "7/2", "10", "-1")
        return c.Constant(Fraction(self.random.choice(numbers)), ONE)

    def term(self, path: str, depth: int = 2) -> c.Term:
        """A number that is worked out from a fact, and from others where they are drawn."""
        pick = self.random.choice
        if not depth or self.random.random() < 0.3:
            return c.NumberOf(pick(NUMBERS) if self.several else path)
        inner = self.term(path, depth - 1)
        match pick(("sum", "sum", "scaled", "over", "extreme", "rounded", "derived", "rows")):
            case "sum":
                other = self.term(path, depth - 1) if self.several else self.constant()
                return c.Arithmetic(pick("+-"), inner, other)
            case "scaled":
                return c.Arithmetic("*", c.Constant(Fraction(pick((2, 3, -1))), ONE), inner)
            case "over":
                return c.Arithmetic("/", inner, c.Constant(Fraction(pick((2, 4))), ONE))
            case "extreme":
                parts = (inner, self.constant())
                return c.Extreme(pick(("minimum", "maximum")), parts)
            case "rounded":
                return c.Rounded(
                    inner, c.Constant(Fraction(pick((1, 2))), ONE), pick((True, False))
                )
            case "derived":
                return c.DerivedNumber("derived", inner, ONE)
            case _:
                when = c.NumberTest(c.NumberOf(path), pick(ORDERS), self.constant())
                return c.ByCase((c.TermCase(when, inner), c.TermCase(None, self.constant())))

    def day(self, path: str) -> c.DayTerm:
        pick = self.random.choice
        day: c.DayTerm = pick((c.FixedDay(pick(FIXED)), c.EventDay(), c.EventDay(True)))
        if self.several and self.random.random() < 0.5:
            day = c.DayOf(pick([other for other in DAYS if other != path]))
        return day if self.random.random() < 0.6 else c.Shifted(day, 0, pick((-30, 7, 1)))

    def test(self) -> c.Condition:
        pick = self.random.choice
        match pick(
            ("choice", "choice", "grade", "set", "flag", "number", "number", "day", "age", "range")
        ):
            case "choice":
                path = pick(("choice.a", "choice.b"))
                kind = TYPES[path]
                assert isinstance(kind, model.Choosing)
                words = self.random.sample(kind.words, pick((1, 2)))
                return c.ChoiceTest(path, frozenset(words), pick((False, True)))
            case "grade":
                word, other = (pick(GRADES), None) if pick((True, False)) else (None, "grade.b")
                return c.GradeTest("grade.a", pick(ORDERS), word, other, GRADES)
            case "set":
                words = self.random.sample(WORDS[:3], pick((1, 2)))
                return c.SetTest("set.a", pick(("any", "all", "none")), frozenset(words))
            case "flag":
                return c.FlagTest(pick(("flag.a", "flag.b")), pick((True, False)))
            case "number":
                path = pick(NUMBERS)
                return c.NumberTest(self.term(path), pick(COMPARISONS), self.constant())
            case "day":
                path = pick(DAYS)
                return c.DayTest(c.DayOf(path), pick(COMPARISONS), self.day(path))
            case "age":
                age = pick(
                    ((60, None, "day"), (12, None, "month"), (60, None, "year"), (None, 30, "day"))
                )
                return c.AgeTest(c.DayOf(pick(DAYS)), c.EventDay(), pick(ORDERS), *age)
            case _:
                term = self.term(pick(NUMBERS), 1)
                ends = (c.NumberTest(term, "at least", self.constant()),
                        c.NumberTest(term, "at most", self.constant()))  # fmt: skip
                return c.Between(*ends)

    def condition(self, depth: int = 2) -> c.Condition:
        if not depth or self.random.random() < 0.4:
            return self.test()
        parts = tuple(self.condition(depth - 1) for _ in range(self.random.choice((1, 2, 2, 3))))
        match self.random.choice(("all", "all", "any", "any", "not", "count", "rows", "means")):
            case "all":
                return c.All(parts)
            case "any":
                return c.AnyOf(parts)
            case "not":
                return c.Not(parts[0])
            case "count":
                return c.AtLeast(self.random.randint(1, len(parts)), parts)
            case "means":
                return c.Meaning("derived", parts[0])
            case _:
                rows = (c.Case(self.condition(0), part) for part in parts[1:])
                return c.ByRows("limit", (*rows, c.Case(None, parts[0])))

    def pair(self) -> tuple[model.Rule, model.Rule]:
        """Two rules, mostly with much in common."""
        when = c.ALWAYS if self.random.random() < 0.5 else self.condition(1)
        demand, spare = self.condition(), self.condition(1)
        other = self.random.choice(
            [c.All((demand, spare)), c.AnyOf((demand, spare)), c.Not(c.Not(demand)), spare,
             c.AnyOf((demand, c.All((demand, spare)))), c.All((demand, demand))]
        )  # fmt: skip
        other_when = when if self.random.random() < 0.7 else c.AnyOf((when, spare))
        return rule(when, demand), rule(other_when, other)


def rule(when: c.Condition, demand: c.Condition) -> model.Rule:
    """A required rule of one part."""
    return model.Rule("rule", "Rule", "", "required", (model.Asked(None, when, demand),))


def ruleset(its: model.Rule) -> model.Rules:
    """A ruleset of one rule, for one event day."""
    return model.Rules("drawn", "Drawn", facts=FACTS, rules=(its,), valid=(EVENT, EVENT))
