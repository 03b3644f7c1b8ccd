"""What cannot be told although it is declared: numbers without a value, and ties by a hair."""

from collections.abc import Iterator
from typing import assert_never

from trackprep.backends.terms import operands
from trackprep.backends.valueless import TooClose, Valueless, why_unknown
from trackprep.enclosures import LARGEST_POWER, Enclosure, Real
from trackprep.explanations.findings import Uncertainty, Undefined
from trackprep.explanations.measures import unit_of
from trackprep.explanations.mentions import facts_in, tests_in
from trackprep.explanations.phrases import turned
from trackprep.explanations.situation import Situation
from trackprep.explanations.terms import term_text
from trackprep.explanations.wording import choice_label, formula_label, quoted
from trackprep.rules.conditions import (
    ChoiceLookup,
    Condition,
    DerivedNumber,
    FormulaNumber,
    NumberLookup,
    NumberTest,
    Term,
)
from trackprep.rules.model import Rules
from trackprep.units import ONE, show

_BELOW, _NOT_ABOVE = "which is below zero", "which is not above zero"


def undefined(condition: Condition, situation: Situation) -> tuple[Undefined, ...]:
    """What in the condition has no value, or is too close to its limit to tell, each once."""
    rules = situation.rules
    found = (
        _too_close(why, rules) if isinstance(why, TooClose) else _valueless(why, test, rules)
        for test in tests_in(condition)
        if isinstance(test, NumberTest)
        for why in why_unknown(test, situation.values, situation.event)
    )
    return tuple(dict.fromkeys(found))


def _valueless(one: Valueless, test: NumberTest, rules: Rules) -> Undefined:
    """By the name that people know it by: the derived fact or the formula that it is part of."""
    names = (name for side in (test.left, test.right) for name in _names(side, one.term, None))
    subject = term_text(next(names, one.term), rules)
    by_zero = one.why == "division by zero" and not isinstance(one.of, Enclosure)
    kind: Uncertainty = "division-by-zero" if by_zero else "no-value"
    return Undefined(subject, _cause(one, rules), kind, facts_in(test))


def _names(term: Term, wanted: Term, name: Term | None) -> Iterator[Term]:
    """For each place where `wanted` stands in the term, the nearest name around it."""
    if term == wanted and name is not None:
        yield name
    if isinstance(term, DerivedNumber | FormulaNumber):
        name = term
    for inner in operands(term):
        yield from _names(inner, wanted, name)


def _cause(one: Valueless, rules: Rules) -> str:
    match one.why:
        case "division by zero" if isinstance(one.of, Enclosure):
            return "it divides by what is too close to zero to tell"
        case "division by zero":
            return "it divides by zero"
        case "root below zero":
            return f"it takes the square root of {_argument(one, _BELOW, rules)}"
        case "logarithm not above zero":
            return f"it takes the logarithm of {_argument(one, _NOT_ABOVE, rules)}"
        case "power out of range":
            ends = f"from -{LARGEST_POWER} to {LARGEST_POWER}"
            said = _number(one.of, one.term, rules)
            return f"it takes 10 to the power of {said}, and only powers {ends} are worked out"
        case "no row":
            return _no_row(one, rules)
        case "out of size":
            return "it comes to a number too large, or too small, to go on with"
        case _:
            assert_never(one.why)


def _argument(one: Valueless, what: str, rules: Rules) -> str:
    if isinstance(one.of, Enclosure) and one.of.high >= 0:
        return "what is too close to zero to tell"
    return f"{_number(one.of, one.term, rules)}, {what}"


def _no_row(one: Valueless, rules: Rules) -> str:
    match one.term, one.of:
        case ChoiceLookup(table, path), str(word):
            label = quoted(formula_label(table, rules))
            return f"the table {label} has no value for {choice_label(path, word, rules)}"
        case NumberLookup(table), _:
            label = quoted(formula_label(table, rules))
            return f"the table {label} has no row for {_number(one.of, one.term, rules)}"
        case _:
            raise AssertionError(f"not looked up: {type(one.term).__name__}")


def _number(number: Real | str, term: Term, rules: Rules) -> str:
    """The number that a function was given, in the unit of what it was given."""
    assert not isinstance(number, str), "only a table is asked for a word"
    value = number.middle if isinstance(number, Enclosure) else number
    (of,) = operands(term)
    return show(value, unit_of(of, rules) or ONE)


def _too_close(one: TooClose, rules: Rules) -> Undefined:
    test = turned(one.test)
    subject, bound = (term_text(side, rules) for side in (test.left, test.right))
    return Undefined(
        subject,
        f"is too close to {bound} to tell: of its endless digits some 40 are worked out, "
        "and they agree",
        "too-close",
        facts_in(test),
    )
