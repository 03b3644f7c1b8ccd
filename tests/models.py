"""Checked models and declared values, built at random and without a rule file.

Few facts, few values and many of those on a limit, so that tests meet at their edges.
"""

from datetime import date
from fractions import Fraction

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from trackprep.dates import Span, span_of, week_code
from trackprep.rules import conditions as c
from trackprep.rules import model
from trackprep.rules.values import Amount, Value
from trackprep.units import ONE

WORDS = ("first", "second", "third", "fourth")
GRADES = ("low", "middle", "high")

FACTS: dict[str, model.Type] = {
    "choice.a": model.Choosing("one of", tuple(map(model.Choice, WORDS))),
    "choice.b": model.Choosing("one of", tuple(map(model.Choice, WORDS))),
    "grade.a": model.Choosing("graded", tuple(map(model.Choice, GRADES))),
    "grade.b": model.Choosing("graded", tuple(map(model.Choice, GRADES))),
    "set.a": model.Choosing("several of", tuple(map(model.Choice, WORDS))),
    "flag.a": model.YesOrNo(),
    "flag.b": model.YesOrNo(),
    "flag.inspector": model.YesOrNo(),
    "number.a": model.Measured(ONE),
    "number.b": model.Measured(ONE),
    "day.any": model.Dated("date"),
    "day.past": model.Dated("past date"),
    "day.week": model.Dated("week code"),
}


def facts_of(types: dict[str, model.Type]) -> dict[str, model.Fact]:
    """Facts of these types; one is the inspector's."""
    return {
        path: model.Fact(
            path,
            path,
            its_type,
            marks=frozenset({"for the inspector"} if path.endswith("inspector") else ()),
        )
        for path, its_type in types.items()
    }


def rules_of(*rules: model.Rule, here: dict[str, Value] | None = None) -> model.Rules:
    """A ruleset of these rules."""
    return model.Rules("model", "Model", facts=facts_of(FACTS), rules=rules, here=here or {})


def rule(
    *asked: tuple[c.Condition, c.Condition],
    parts: tuple[str, ...] = (),
    level: model.Level = "required",
) -> model.Rule:
    """A rule of these conditions and demands, one of each for every part."""
    of = parts or (None,) * len(asked)
    return model.Rule(
        "rule", "Rule", "", level,
        tuple(model.Asked(part, *both) for part, both in zip(of, asked, strict=True)),
    )  # fmt: skip


# ---- numbers and days -------------------------------------------------------

TIGHT = Fraction(1, 10**30)
"""Far less than the floats around 1 tell apart."""
NUMBERS = [
    Fraction(0), Fraction(1), Fraction(2), Fraction(-1), Fraction(1, 3), Fraction(1, 10),
    Fraction(254, 10_000), Fraction(3048, 100_000), 1 + TIGHT, 1 - TIGHT, Fraction(1, 3) + TIGHT,
    Fraction(10**400), Fraction(10**400 + 1), Fraction(18),
]  # fmt: skip
EVENTS = [date(2026, 6, 14), date(2024, 2, 29), date(2026, 1, 1), date(2025, 3, 1)]
DAYS = [
    date(2021, 6, 13), date(2021, 6, 14), date(2021, 6, 15), date(2019, 2, 28), date(2019, 3, 1),
    date(2024, 2, 28), date(2024, 2, 29), date(2026, 6, 14), date(2026, 6, 15), date(2026, 1, 1),
]  # fmt: skip
SPANS = [
    *map(Span.of_day, DAYS), span_of("2021-06"), span_of("2021"), span_of("2024-02"),
    span_of("2026"), span_of("2025-03"), week_code("2421"), week_code("0926"), week_code("2426"),
]  # fmt: skip
MONTHS = [0, 12, 24, 60, 1, 18]

dates = st.sampled_from(["day.any", "day.past", "day.week"]).map(c.DayOf)
day_terms = st.recursive(
    st.one_of(
        dates,
        st.sampled_from(DAYS).map(c.FixedDay),
        st.booleans().map(c.EventDay),
    ),
    lambda inner: st.builds(
        c.Shifted,
        inner,
        st.sampled_from([*MONTHS, -12, 10**6]),
        st.sampled_from([0, 1, -1, 30]),
    ),
    max_leaves=2,
)
constants = st.sampled_from(NUMBERS).map(lambda number: c.Constant(number, ONE))
ORDERS = ("at least", "at most", "more than", "less than")
comparisons = st.sampled_from([*ORDERS, "equal", "not equal"])
STEPS = [c.Constant(Fraction(step), ONE) for step in ("1", "1/4", "3")]
COUNT_ROWS = tuple((Fraction(count), Fraction(count * count, 2)) for count in (0, 1, 2))
CHOICE_ROWS = tuple(zip(WORDS, (Fraction(2), Fraction(1, 3), Fraction(18)), strict=False))
"""One word has no row."""


def by_case(inner: SearchStrategy[c.Term]) -> SearchStrategy[c.Term]:
    """Rows of a formula, with and without connectives in their conditions."""
    tests_of_numbers = st.builds(c.NumberTest, inner, comparisons, inner)
    whens = st.one_of(
        tests_of_numbers,
        tests_of_numbers.map(c.Not),
        st.builds(
            lambda number, low, high: c.Between(
                c.NumberTest(number, "at least", low), c.NumberTest(number, "at most", high)
            ),
            inner, constants, constants,
        ),
        st.builds(lambda *two: c.AnyOf(two), tests_of_numbers, tests_of_numbers),
    )  # fmt: skip
    rows = st.lists(st.builds(c.TermCase, whens, inner), min_size=1, max_size=2)
    return st.builds(lambda first, last: c.ByCase((*first, c.TermCase(None, last))), rows, inner)


terms: SearchStrategy[c.Term] = st.recursive(
    st.one_of(
        constants,
        st.sampled_from(["number.a", "number.b"]).map(c.NumberOf),
        st.builds(c.CompletedYears, day_terms, day_terms),
        st.builds(
            c.ChoiceLookup,
            st.just("table"),
            st.sampled_from(["choice.a", "choice.b"]),
            st.just(CHOICE_ROWS),
            st.just(ONE),
        ),
    ),
    lambda inner: st.one_of(
        st.builds(c.Arithmetic, st.sampled_from("+-*/"), inner, inner),
        st.builds(c.DerivedNumber, st.just("derived"), inner, st.just(ONE)),
        st.builds(c.Called, st.sampled_from(["log10", "ten-to", "sqrt"]), inner),
        st.builds(
            c.Extreme,
            st.sampled_from(["minimum", "maximum"]),
            st.lists(inner, min_size=2, max_size=3).map(tuple),
        ),
        st.builds(c.Rounded, inner, st.sampled_from(STEPS), st.booleans()),
        st.builds(c.NumberLookup, st.just("table"), inner, st.just(COUNT_ROWS), st.just(ONE)),
        st.builds(c.FormulaNumber, st.just("formula"), st.just(()), inner, st.just(ONE)),
        by_case(inner),
    ),
    max_leaves=4,
)

# ---- conditions -------------------------------------------------------------

orders = st.sampled_from(ORDERS)
some_words = st.frozensets(st.sampled_from(WORDS), min_size=1, max_size=3)
years_reached = st.builds(c.CompletedYears, dates, st.just(c.EventDay()))
whole_years = st.sampled_from(["0", "2", "4.5", "5", "5.5", "7", "2000"]).map(
    lambda years: c.Constant(Fraction(years), ONE)
)
ages = st.one_of(
    st.tuples(st.sampled_from(MONTHS), st.none(), st.sampled_from(["day", "month"])),
    st.tuples(st.sampled_from([12, 60]), st.none(), st.just("year")),
    st.tuples(st.none(), st.sampled_from([0, 1, 30]), st.just("day")),
)

tests: SearchStrategy[c.Test] = st.one_of(
    st.builds(
        c.ChoiceTest, st.sampled_from(["choice.a", "choice.b"]), some_words, st.booleans()
    ),
    st.builds(
        c.GradeTest, st.just("grade.a"), orders, word=st.sampled_from(GRADES),
        grades=st.just(GRADES),
    ),
    st.builds(
        c.GradeTest, st.just("grade.a"), orders, other=st.just("grade.b"), grades=st.just(GRADES)
    ),
    st.builds(c.SetTest, st.just("set.a"), st.sampled_from(["any", "all", "none"]), some_words),
    st.builds(
        c.FlagTest, st.sampled_from(["flag.a", "flag.b", "flag.inspector"]), st.booleans()
    ),
    st.builds(c.NumberTest, st.sampled_from(["number.a"]).map(c.NumberOf), comparisons, constants),
    st.builds(c.NumberTest, constants, comparisons, st.just(c.NumberOf("number.b"))),
    st.builds(c.NumberTest, years_reached, comparisons, whole_years),
    st.builds(c.DayTest, dates, comparisons, st.sampled_from(DAYS).map(c.FixedDay)),
    st.builds(c.DayTest, st.just(c.EventDay()), comparisons, dates),
    st.builds(c.NumberTest, terms, comparisons, terms),
    st.builds(c.DayTest, day_terms, comparisons, day_terms),
    st.builds(
        lambda of, on, comparison, age: c.AgeTest(of, on, comparison, *age),
        day_terms, st.one_of(st.just(c.EventDay()), day_terms), orders, ages,
    ),
)  # fmt: skip


@st.composite
def ranges(draw: st.DrawFn) -> c.Between:
    """The two ends of a range, asked of one subject; they may stand the wrong way round."""
    low, high = draw(st.tuples(constants, constants))
    first, last = draw(st.tuples(day_terms, day_terms))
    fixed, other = (c.FixedDay(draw(st.sampled_from(DAYS))) for _ in range(2))
    (least, most), subject = draw(st.tuples(ages, ages)), draw(dates)
    number = draw(terms)
    ends: tuple[tuple[c.Test, c.Test], ...] = (
        (c.NumberTest(number, "at least", low), c.NumberTest(number, "at most", high)),
        (c.DayTest(subject, "at least", first), c.DayTest(subject, "at most", last)),
        (c.DayTest(subject, "at least", fixed), c.DayTest(subject, "at most", other)),
        (
            c.AgeTest(subject, c.EventDay(), "at least", *least),
            c.AgeTest(subject, c.EventDay(), "at most", *most),
        ),
        (
            c.GradeTest("grade.a", "at least", draw(st.sampled_from(GRADES)), grades=GRADES),
            c.GradeTest("grade.a", "at most", None, "grade.b", grades=GRADES),
        ),
    )
    return c.Between(*draw(st.sampled_from(ends)))


def joined(inner: SearchStrategy[c.Condition]) -> SearchStrategy[c.Condition]:
    parts = st.lists(inner, max_size=3).map(tuple)
    rows = st.builds(c.Case, inner, inner)
    last = st.builds(c.Case, st.none(), inner)
    return st.one_of(
        st.builds(c.Not, inner),
        st.builds(c.Meaning, st.just("derived"), inner),
        st.builds(c.All, parts),
        st.builds(c.AnyOf, parts),
        st.builds(c.AtLeast, st.integers(0, 4), parts),
        st.builds(
            lambda first, otherwise: c.ByRows("limit", (*first, otherwise)),
            st.lists(rows, max_size=2), last,
        ),
    )  # fmt: skip


conditions: SearchStrategy[c.Condition] = st.recursive(
    st.one_of(tests, ranges()), joined, max_leaves=6
)

# ---- rulesets and declarations ----------------------------------------------


@st.composite
def rulesets(draw: st.DrawFn) -> model.Rules:
    """A ruleset whose rules share some of their conditions."""
    pool = draw(st.lists(conditions, min_size=1, max_size=4))
    picked = st.sampled_from(pool)
    when = st.one_of(st.just(c.ALWAYS), picked, st.builds(lambda *two: c.All(two), picked, picked))
    asked = st.lists(st.tuples(when, st.one_of(picked, conditions)), min_size=1, max_size=3)
    rules = [
        rule(*conditions_of_it, parts=("a", "b", "c")[: len(conditions_of_it)])
        for conditions_of_it in draw(st.lists(asked, min_size=1, max_size=4))
    ]
    settled: list[dict[str, Value]] = [{}, {"flag.b": True}, {"choice.b": "first"}]
    return rules_of(*rules, here=draw(st.sampled_from(settled)))


def _value(kind: model.Type) -> SearchStrategy[Value]:
    match kind:
        case model.Choosing("several of", choices):
            return st.frozensets(st.sampled_from([choice.word for choice in choices]))
        case model.Choosing(_, choices):
            return st.sampled_from([choice.word for choice in choices])
        case model.YesOrNo():
            return st.booleans()
        case model.Measured():
            return st.sampled_from(NUMBERS).map(Amount)
        case model.Dated():
            return st.sampled_from(SPANS)
        case model.FreeText():
            return st.text()


declarations: SearchStrategy[dict[str, Value]] = st.one_of(
    st.fixed_dictionaries({}, optional={path: _value(kind) for path, kind in FACTS.items()}),
    st.fixed_dictionaries({path: _value(kind) for path, kind in FACTS.items()}),
)
events = st.sampled_from(EVENTS)
