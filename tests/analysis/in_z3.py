"""What a rule answers, said to z3 naively: of each condition, that it is true, that it is false.

Nothing here comes from the analysis; ages are counted by the tests' own almanac.
"""

import operator
from datetime import date, timedelta
from typing import Any

import z3
from almanac import add, cut
from chance import EVENT, TYPES

from trackprep.rules import conditions as c
from trackprep.rules import model

Both = tuple[Any, Any]
FIRST, LAST = date(1900, 1, 1).toordinal(), date(2199, 12, 31).toordinal()
COMPARE = {
    "at least": lambda a, b: a >= b,
    "at most": lambda a, b: a <= b,
    "more than": lambda a, b: a > b,
    "less than": lambda a, b: a < b,
    "equal": lambda a, b: a == b,
    "not equal": lambda a, b: a != b,
}


def declared(path: str) -> Any:
    return z3.Bool(f"declared {path}")


def variable(path: str) -> Any:
    match TYPES[path]:
        case model.YesOrNo():
            return z3.Bool(path)
        case model.Measured(whole=False):
            return z3.Real(path)
        case model.Measured():
            return z3.ToReal(z3.Int(path))
        case _:
            return z3.Int(path)


def member(path: str, word: str) -> Any:
    return z3.Bool(f"{path} includes {word}")


def ranges() -> list[Any]:
    """What each fact can be."""
    found = []
    for path, kind in TYPES.items():
        match kind:
            case model.Choosing("several of") | model.YesOrNo():
                pass
            case model.Choosing():
                found += [variable(path) >= 0, variable(path) < len(kind.words)]
            case model.Measured(low=low, high=high):
                found += [variable(path) >= fraction(low)] if low is not None else []
                found += [variable(path) <= fraction(high)] if high is not None else []
            case model.Dated():
                last = EVENT.toordinal() if kind.past else LAST
                found += [variable(path) >= FIRST, variable(path) <= last]
    return found


def fraction(number: Any) -> Any:
    return z3.Q(number.numerator, number.denominator)


def condition(its: c.Condition) -> Both:
    """That it is true, and that it is false; neither is that it is unknown."""
    match its:
        case c.Not(inner):
            true, false = condition(inner)
            return false, true
        case c.Meaning(_, inner):
            return condition(inner)
        case c.All(parts):
            said = list(map(condition, parts))
            return z3.And([true for true, _ in said]), z3.Or([false for _, false in said])
        case c.AnyOf(parts):
            said = list(map(condition, parts))
            return z3.Or([true for true, _ in said]), z3.And([false for _, false in said])
        case c.AtLeast(count, parts):
            said = list(map(condition, parts))
            true = z3.Sum([z3.If(true, 1, 0) for true, _ in said]) >= count
            return true, z3.Sum([z3.If(false, 0, 1) for _, false in said]) < count
        case c.ByRows(_, rows):
            return by_rows(list(rows))
        case _:
            known = z3.And([declared(path) for path in named(its)])
            holds = test(its)
            return z3.And(known, holds), z3.And(known, z3.Not(holds))


def by_rows(rows: list[c.Case]) -> Both:
    """The first row that holds; where that is unknown, what all that may be it say."""
    first, *rest = rows
    here = condition(first.test)
    if first.condition is None:
        return here
    holds, fails = condition(first.condition)
    there = by_rows(rest)
    true, false = (
        z3.If(holds, mine, z3.If(fails, others, z3.And(mine, others)))
        for mine, others in zip(here, there, strict=True)
    )
    return true, false


def named(its: Any) -> list[str]:
    """The facts that a test names, by looking into all that it is made of."""
    if isinstance(its, tuple):
        return [path for part in its for path in named(part)]
    if isinstance(its, c.DerivedNumber):
        return named(its.definition)
    if not hasattr(its, "__attrs_attrs__"):
        return []
    own = [getattr(its, name, None) for name in ("path", "other")]
    parts = [getattr(its, attribute.name) for attribute in its.__attrs_attrs__]
    inside = [path for part in parts for path in named(part)]
    return [path for path in own if isinstance(path, str)] + inside


def test(its: c.Condition) -> Any:
    """Whether a test of declared facts holds."""
    match its:
        case c.ChoiceTest(path, words, negated):
            kind = TYPES[path]
            assert isinstance(kind, model.Choosing)
            one = z3.Or([variable(path) == kind.words.index(word) for word in words])
            return z3.Not(one) if negated else one
        case c.GradeTest(path, comparison, word, other, grades):
            bound = grades.index(word) if word is not None else variable(str(other))
            return COMPARE[comparison](variable(path), bound)
        case c.SetTest(path, how, words):
            members = [member(path, word) for word in words]
            any_of = z3.Or(members)
            return {"all": z3.And(members), "any": any_of, "none": z3.Not(any_of)}[how]
        case c.FlagTest(path, value):
            return variable(path) == value
        case c.NumberTest(left, comparison, right):
            return COMPARE[comparison](term(left), term(right))
        case c.DayTest(left, comparison, right):
            return COMPARE[comparison](day(left), day(right))
        case c.AgeTest(c.DayOf(path), c.EventDay(), comparison, months, days, grain):
            return aged(variable(path), comparison, months or 0, days or 0, grain)
        case c.Between(least, most):
            return z3.And(test(least), test(most))
    raise AssertionError(its)


def aged(day: Any, comparison: str, months: int, days: int, grain: str) -> Any:
    """Whether an age on the event's day stands so to the limit, by trying days one by one."""

    def reached(when: date) -> date:
        return add(add(cut(when, grain), months, "months"), days, "days")

    # As the day goes on, so does the day on which the age is reached.
    near = EVENT - timedelta(days=31 * months + days + 800)
    while COMPARE["less than"](reached(near), cut(EVENT, grain)):
        near += timedelta(days=1)
    first_at_most = near.toordinal()  # from it on the age is at most the limit
    while reached(near) == cut(EVENT, grain):
        near += timedelta(days=1)
    first_less = near.toordinal()  # from it on it is less
    return {
        "at most": day >= first_at_most,
        "more than": day < first_at_most,
        "less than": day >= first_less,
        "at least": day < first_less,
    }[comparison]


def day(its: c.DayTerm) -> Any:
    match its:
        case c.DayOf(path):
            return variable(path)
        case c.FixedDay(fixed):
            return z3.IntVal(fixed.toordinal())
        case c.EventDay(year_start):
            return z3.IntVal((date(EVENT.year, 1, 1) if year_start else EVENT).toordinal())
        case c.Shifted(inner, 0, days):
            return day(inner) + days
    raise AssertionError(its)


def term(its: c.Term) -> Any:
    match its:
        case c.Constant(value):
            return fraction(value)
        case c.NumberOf(path):
            return variable(path)
        case c.DerivedNumber(_, definition):
            return term(definition)
        case c.Arithmetic(sign, left, right):
            work = {"+": operator.add, "-": operator.sub, "*": operator.mul, "/": operator.truediv}
            return work[sign](term(left), term(right))
        case c.Extreme(which, (first, second)):
            one, other = term(first), term(second)
            return z3.If((one < other) if which == "minimum" else (one > other), one, other)
        case c.Rounded(of, step, down):
            steps = term(of) / fraction(step.value)
            if down:
                return z3.ToReal(z3.ToInt(steps)) * fraction(step.value)
            half = z3.Q(1, 2)
            up, under = z3.ToReal(z3.ToInt(steps + half)), -z3.ToReal(z3.ToInt(half - steps))
            return z3.If(steps >= 0, up, under) * fraction(step.value)
        case c.ByCase((c.TermCase(when, value), c.TermCase(None, otherwise))):
            assert when is not None
            return z3.If(test(when), term(value), term(otherwise))
    raise AssertionError(its)


def lets_and_refuses(rule: model.Rule) -> Both:
    """That a rule is met or not asked, and that it is not met."""
    (part,) = rule.asked
    (asked, not_asked), (met, not_met) = condition(part.when), condition(part.demand)
    return z3.Or(not_asked, met), z3.And(asked, not_met)


def facts(rule: model.Rule) -> list[str]:
    (part,) = rule.asked
    return list(dict.fromkeys(named((part.when, part.demand))))
