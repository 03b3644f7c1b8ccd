"""Numbers and days in words: constants, facts, and what is worked out from them."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import assert_never

from trackprep.dates import long_form
from trackprep.explanations.wording import (
    counted,
    formula_label,
    inside,
    label_of,
    limit_label,
    listed,
    words_of,
)
from trackprep.rules.conditions import (
    Arithmetic,
    ByCase,
    Called,
    ChoiceLookup,
    CompletedYears,
    Constant,
    DayOf,
    DayTerm,
    DerivedNumber,
    EventDay,
    Extreme,
    FixedDay,
    FormulaNumber,
    Function,
    NumberLookup,
    NumberOf,
    Rounded,
    Shifted,
    Term,
)
from trackprep.rules.model import Rules
from trackprep.units import from_base_difference, show, written

_OPERATORS = {"+": "plus", "-": "minus", "*": "times", "/": "divided by"}
_READ_ON = {"+": "+-", "-": "+-", "*": "*", "/": "*"}
"""Which operators may stand to the left of another without brackets, as they are read aloud."""
_FUNCTIONS: dict[Function, str] = {
    "sqrt": "the square root of",
    "log10": "the decimal logarithm of",
    "ten-to": "10 to the power of",
}
_OF_TWO = {"minimum": "the smaller of", "maximum": "the greater of"}
_OF_SEVERAL = {"minimum": "the least of", "maximum": "the greatest of"}


def constant_text(constant: Constant) -> str:
    """The number and its unit, without the limit it came from; exactly, as a file may spell it."""
    text = show(constant.value, constant.unit, difference=constant.difference)
    if not text.startswith("about ") or (constant.difference and constant.unit.offset):
        return text
    return written(constant.value, constant.unit) or text


def from_limit(text: str, limit: str | None, rules: Rules) -> str:
    """The text, and the limit's name where it came from one."""
    return f"{text} (limit {limit_label(limit, rules)})" if limit else text


def term_text(term: Term, rules: Rules, *, inner: bool = False, short: bool = False) -> str:
    """A number in words.

    Args:
        inner: Whether it stands inside another: in brackets, if it would run on.
        short: Whether formulas and tables are said by their labels alone, without what they
            are worked out from.
    """
    said = partial(term_text, rules=rules, short=short)
    match term:
        case Constant(limit=limit):
            return from_limit(constant_text(term), limit, rules)
        case NumberOf(path) | DerivedNumber(path):
            return inside(label_of(path, rules))
        case CompletedYears(of, on):
            return f"number of whole years from {day_text(of, rules)} to {day_text(on, rules)}"
        case ChoiceLookup(table, path):
            return _looked_up(table, path, rules, short=short)
        case NumberLookup(table, of):
            return _looked_up(table, of, rules, short=short)
        case FormulaNumber(name, arguments):
            label = inside(formula_label(name, rules))
            return label if short else f"{label} (from {_handed_over(arguments, rules)})"
        case Arithmetic():
            text = _arithmetic(term, said)
        case Called(function, of):
            text = f"{_FUNCTIONS[function]} {said(of, inner=True)}"
        case Extreme(which, parts):
            opening = (_OF_TWO if len(parts) == 2 else _OF_SEVERAL)[which]
            text = f"{opening} {listed([said(part, inner=True) for part in parts], 'and')}"
        case Rounded(of, step, down):
            text = f"{said(of, inner=True)} rounded {'down ' if down else ''}to {_step(step)}"
        case ByCase(rows):
            values = [said(row.value, inner=True) for row in rows]
            text = f"the first that applies of {listed(values, 'and')}"
        case _:
            assert_never(term)
    return f"({text})" if inner else text


def _arithmetic(term: Arithmetic, said: Callable[..., str]) -> str:
    left, right, operator = term.left, term.right, term.operator
    reads_on = isinstance(left, Arithmetic) and left.operator in _READ_ON[operator]
    # Nothing is read after the right side that it could run into.
    ends = isinstance(right, Called)
    first, last = said(left, inner=not reads_on), said(right, inner=not ends)
    return f"{first} {_OPERATORS[operator]} {last}"


def calculation_text(term: Term, rules: Rules) -> str:
    """How a number is worked out, as a sentence may end; a sum after a product is set off."""
    match term:
        case Arithmetic("+" | "-", left, right) if _begins_with_product(left):
            last = term_text(right, rules, inner=not isinstance(right, Called))
            return f"{calculation_text(left, rules)}, {_OPERATORS[term.operator]} {last}"
        case _:
            return term_text(term, rules)


def _begins_with_product(term: Term) -> bool:
    match term:
        case Arithmetic("*" | "/"):
            return True
        case Arithmetic(_, left):
            return _begins_with_product(left)
        case _:
            return False


def _looked_up(table: str, by: str | Term, rules: Rules, *, short: bool) -> str:
    """`load of the front index`, if the label `Load of an index` has words of the fact's."""
    label = inside(formula_label(table, rules))
    match by:
        case str(path) | NumberOf(path) | DerivedNumber(path):
            where = inside(label_of(path, rules))
            if told := _with_example_replaced(label, where):
                return told
        case _:
            where = term_text(by, rules)
    return label if short else f"{label} (by {where})"


def _with_example_replaced(label: str, where: str) -> str | None:
    """`speed of the front symbol` for `speed of a symbol`, or None if there is no such word."""
    words, known = label.split(), frozenset(where.split())
    for place, article in enumerate(words):
        ends = place + 1
        while ends < len(words) and words[ends] in known:
            ends += 1
        if article in ("a", "an") and ends > place + 1:
            return " ".join((*words[:place], "the", where, *words[ends:]))
    return None


def _handed_over(arguments: Sequence[tuple[str, Term]], rules: Rules) -> str:
    """What a formula is worked out from; a constant by what it stands for."""
    said = [
        f"{words_of(name)} {term_text(term, rules)}"
        if isinstance(term, Constant)
        else term_text(term, rules, inner=True)
        for name, term in arguments
    ]
    return listed(said, "and")


def _step(step: Constant) -> str:
    """`whole dB`, `a whole number`, `a multiple of 0.5 mm`."""
    if from_base_difference(step.value, step.unit) != 1:
        return f"a multiple of {constant_text(step)}"
    if not step.unit.name:
        return "a whole number"
    return f"whole {'degrees' if step.unit.name == '°' else step.unit.name}"


def day_text(day: DayTerm, rules: Rules) -> str:
    """A day in words."""
    match day:
        case DayOf(path):
            return inside(label_of(path, rules))
        case FixedDay(fixed, limit):
            return from_limit(long_form(fixed), limit, rules)
        case EventDay(year_start):
            return "1 January of the event's year" if year_start else "the day of the event"
        case Shifted(shifted, months, days):
            way = "before" if months < 0 or days < 0 else "after"
            return f"{duration_text(months, days)} {way} {day_text(shifted, rules)}"
        case _:
            assert_never(day)


def duration_text(months: int, days: int) -> str:
    """`5 years`, `18 months`, `3 weeks`, `10 days`, whatever the sign."""
    months, days = abs(months), abs(days)
    if not months and days and not days % 7:
        return counted(days // 7, "week")
    said = []
    if months:
        years, rest = divmod(months, 12)
        said.append(counted(months, "month") if rest else counted(years, "year"))
    if days or not months:
        said.append(counted(days, "day"))
    return " and ".join(said)
