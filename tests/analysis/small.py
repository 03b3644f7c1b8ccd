"""Rulesets over facts of few values, and all that can be declared for them, one by one."""

from collections.abc import Iterable, Iterator
from datetime import date
from fractions import Fraction
from itertools import product
from typing import Any

from hypothesis import strategies as st
from models import joined

from trackprep.backends.checks import outcome, prepared
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.values import Amount, Value
from trackprep.units import ONE

EVENT = date(2026, 6, 14)
WORDS = ("first", "second", "third")
GRADES = ("low", "middle", "high")
MOST = 3

TYPES: dict[str, model.Type] = {
    "choice": model.Choosing("one of", tuple(map(model.Choice, WORDS))),
    "grade.a": model.Choosing("graded", tuple(map(model.Choice, GRADES))),
    "grade.b": model.Choosing("graded", tuple(map(model.Choice, GRADES))),
    "set": model.Choosing("several of", tuple(map(model.Choice, WORDS[:2]))),
    "flag.a": model.YesOrNo(),
    "flag.b": model.YesOrNo(),
    "count.a": model.Measured(ONE, Fraction(0), Fraction(MOST), whole=True),
    "count.b": model.Measured(ONE, Fraction(0), Fraction(MOST), whole=True),
}
FACTS = {path: model.Fact(path, path, kind) for path, kind in TYPES.items()}


def values_of(path: str) -> list[Value]:
    """All that a fact can be declared to be."""
    match TYPES[path]:
        case model.Choosing("several of"):
            return [frozenset(), *(frozenset({w}) for w in WORDS[:2]), frozenset(WORDS[:2])]
        case model.Choosing() as kind:
            return list(kind.words)
        case model.YesOrNo():
            return [True, False]
        case _:
            return [Amount(Fraction(n), ONE) for n in range(MOST + 1)]


def declarations(complete: Iterable[str], others: Iterable[str] = ()) -> Iterator[dict[str, Value]]:
    """Each declaration of the facts, and of the others or not."""
    options = {path: [*values_of(path)] for path in complete}
    options |= {path: [*values_of(path), None] for path in others if path not in options}
    for values in product(*options.values()):
        chosen = zip(options, values, strict=True)
        yield {path: value for path, value in chosen if value is not None}


def answered(rules: model.Rules, rule: model.Rule, values: dict[str, Value]) -> str:
    """What the reference answers."""
    return outcome(rule, prepared(rules, values, EVENT)[0], EVENT).status


# ---- strategies -------------------------------------------------------------

numbers = st.sampled_from(["0", "1", "3/2", "2", "3", "5"]).map(
    lambda text: c.Constant(Fraction(text), ONE)
)
counts = st.sampled_from(["count.a", "count.b"]).map(c.NumberOf)
comparisons = st.sampled_from(["at least", "at most", "more than", "less than", "equal"])
COUNT_ROWS = tuple((Fraction(n), Fraction(n * n, 2)) for n in (0, 1, 2))
CHOICE_ROWS = (("first", Fraction(2)), ("second", Fraction(1)))


def _by_case(one: c.Term, comparison: c.Comparison, bound: c.Term, *values: c.Term) -> c.ByCase:
    when = c.NumberTest(one, comparison, bound)
    return c.ByCase((c.TermCase(when, values[0]), c.TermCase(None, values[1])))


terms: st.SearchStrategy[c.Term] = st.recursive(
    st.one_of(
        numbers,
        counts,
        st.just(c.ChoiceLookup("table", "choice", CHOICE_ROWS, ONE)),
    ),
    lambda inner: st.one_of(
        st.builds(c.Arithmetic, st.sampled_from("++-*/"), inner, inner),
        st.builds(c.DerivedNumber, st.just("derived"), inner, st.just(ONE)),
        st.builds(c.Extreme, st.sampled_from(["minimum", "maximum"]), st.tuples(inner, inner)),
        st.builds(c.Rounded, inner, st.just(c.Constant(Fraction(2), ONE)), st.booleans()),
        st.builds(c.NumberLookup, st.just("table"), inner, st.just(COUNT_ROWS), st.just(ONE)),
        st.builds(_by_case, inner, comparisons, numbers, inner, inner),
    ),
    max_leaves=3,
)
words = st.frozensets(st.sampled_from(WORDS), min_size=1, max_size=2)
orders = st.sampled_from(["at least", "at most", "more than", "less than"])
simple: st.SearchStrategy[c.Test] = st.one_of(
    st.builds(c.ChoiceTest, st.just("choice"), words, st.booleans()),
    st.builds(
        c.GradeTest, st.just("grade.a"), orders, st.sampled_from(GRADES), grades=st.just(GRADES)
    ),
    st.builds(
        c.GradeTest, st.just("grade.a"), orders, other=st.just("grade.b"), grades=st.just(GRADES)
    ),
    st.builds(
        c.SetTest, st.just("set"), st.sampled_from(["any", "all", "none"]),
        st.frozensets(st.sampled_from(WORDS[:2]), min_size=1),
    ),
    st.builds(c.FlagTest, st.sampled_from(["flag.a", "flag.b"]), st.booleans()),
    st.builds(c.NumberTest, counts, comparisons, numbers),
)  # fmt: skip
worked = st.builds(c.NumberTest, terms, comparisons, terms)
ranges = st.builds(
    lambda number, low, high: c.Between(
        c.NumberTest(number, "at least", low), c.NumberTest(number, "at most", high)
    ),
    terms, numbers, numbers,
)  # fmt: skip
conditions: st.SearchStrategy[c.Condition] = st.recursive(
    st.one_of(simple, simple, worked, ranges), joined, max_leaves=4
)


@st.composite
def rules(draw: st.DrawFn, name: str = "rule") -> model.Rule:
    """A rule of one part or two."""
    whens = st.one_of(st.just(c.ALWAYS), conditions)
    parts = draw(st.lists(st.tuples(whens, conditions), min_size=1, max_size=2))
    asked = (model.Asked(f"part-{n}", *part) for n, part in enumerate(parts))
    level: model.Level = draw(st.sampled_from(["required", "required", "recommended"]))
    return model.Rule(name, "Rule", "", level, tuple(asked))


class Small(model.Rules):
    """A ruleset that a failing example can show."""

    def __repr__(self) -> str:
        asked = [(rule.name, rule.level, *rule.asked) for rule in self.rules]
        return f"ruleset({asked}, here={self.here})"

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        printer.text(repr(self))


def ruleset(*its: model.Rule, here: dict[str, Value] | None = None) -> model.Rules:
    """A ruleset of these rules, for one event day."""
    return Small("small", "Small", facts=FACTS, rules=its, here=here or {}, valid=(EVENT, EVENT))


@st.composite
def pairs(draw: st.DrawFn) -> tuple[model.Rules, model.Rules]:
    """Two rulesets of one rule each, which often has much in common with the other."""
    one = draw(rules())
    other = draw(rules())
    if draw(st.booleans()):
        (first, *rest), (spare, *_) = one.asked, other.asked
        changed = draw(
            st.sampled_from([
                c.All((first.demand, spare.demand)),
                c.AnyOf((first.demand, spare.demand)),
                c.Not(c.Not(first.demand)),
                first.demand,
            ])
        )  # fmt: skip
        asked = (model.Asked(first.part, first.when, changed), *rest)
        other = model.Rule("rule", "Rule", "", other.level, asked)
    settled: list[dict[str, Value]] = [{}, {}, {"flag.a": True}, {"choice": "second"}]
    return (
        ruleset(one, here=draw(st.sampled_from(settled))),
        ruleset(other, here=draw(st.sampled_from(settled))),
    )
