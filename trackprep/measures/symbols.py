"""A formula in symbols, and the same with its numbers put in."""

from collections.abc import Callable
from typing import TypeAlias, assert_never

from trackprep.rules.conditions import (
    Arithmetic,
    ByCase,
    Called,
    ChoiceLookup,
    CompletedYears,
    Constant,
    DerivedNumber,
    Extreme,
    FormulaNumber,
    NumberLookup,
    NumberOf,
    Rounded,
    Term,
)
from trackprep.units import show, written

Replacing: TypeAlias = Callable[[Term], str | None]
"""What stands for a term in place of its own symbols, if anything does."""

_SIGNS = {"+": "+", "-": "−", "*": "×", "/": "÷"}
_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}
_TIGHT = 3


def in_symbols(term: Term, replacing: Replacing = lambda term: None) -> str:
    """The term as people write it: `(set + outside) × absolute(now) ÷ absolute(set-at)`."""
    return _bound(term, replacing)[0]


def _bound(term: Term, replacing: Replacing) -> tuple[str, int]:
    """The text, and how tightly it holds together."""
    replaced = replacing(term)
    if replaced is not None:
        return replaced, _TIGHT
    match term:
        case Constant(value, unit, difference=difference):
            text = show(value, unit, difference=difference)
            if text.startswith("about "):  # `50/9 K` rather
                text = written(value, unit) or text
            return text, _TIGHT
        case NumberOf(name) | DerivedNumber(name):
            return name, _TIGHT
        case Arithmetic(operator, left, right):
            binds = _BINDS[operator]
            one = _inside(left, replacing, binds)
            other = _inside(right, replacing, binds + (operator in "-/"))
            if other.removeprefix("about ").startswith("-"):
                other = f"({other})"
            return f"{one} {_SIGNS[operator]} {other}", binds
        case FormulaNumber(name, arguments):
            return _call(name, tuple(argument for _, argument in arguments), replacing), _TIGHT
        case Called(name, of) | NumberLookup(name, of):
            return _call(name, (of,), replacing), _TIGHT
        case ChoiceLookup(name, path):
            return f"{name}({path})", _TIGHT
        case Extreme(which, parts):
            return _call(which, parts, replacing), _TIGHT
        case Rounded(of, step, down):
            way = "rounded down to" if down else "rounded to"
            return f"{_inside(of, replacing, _TIGHT)} {way} {in_symbols(step)}", 0
        case ByCase() | CompletedYears():
            return "…", _TIGHT  # a formula's rows are walked one by one, and it knows no dates
        case _:
            assert_never(term)


def _inside(term: Term, replacing: Replacing, tightness: int) -> str:
    text, binds = _bound(term, replacing)
    return f"({text})" if binds < tightness else text


def _call(name: str, arguments: tuple[Term, ...], replacing: Replacing) -> str:
    return f"{name}({', '.join(_bound(argument, replacing)[0] for argument in arguments)})"
