"""Conditions, expressions and values as they are spelled in the language."""

from collections.abc import Sequence
from types import UnionType
from typing import assert_never

from trackprep.syntax.layout import Joint, Piece, joined, quoted
from trackprep.syntax.tree import (
    Age,
    All,
    AnyOf,
    Bare,
    Between,
    Call,
    Compare,
    CompletedYears,
    Condition,
    Counted,
    Day,
    Expression,
    Flag,
    Group,
    Includes,
    Is,
    IsOneOf,
    Not,
    Number,
    OnOr,
    Pattern,
    Predicate,
    Product,
    Quantity,
    Reference,
    Rounded,
    Sum,
    Test,
    Value,
    Word,
)
from trackprep.syntax.words import is_bare

_SINGULARS = {
    "days": "day", "weeks": "week", "months": "month", "years": "year", "32nds": "32nd",
}  # fmt: skip


def condition_text(condition: Condition) -> str:
    """`condition` on one line, with parentheses only where precedence needs them."""
    return joined(condition_pieces(condition))


def predicate_text(predicate: Predicate) -> str:
    """`predicate` on one line: `is at least 2 mm`."""
    return joined(predicate_pieces(predicate))


def expression_text(expression: Expression) -> str:
    """`expression` on one line."""
    return joined(expression_pieces(expression))


def value_text(value: Value) -> str:
    """`value` as it is written: `30 mm`, `2026-06-14`, `full-face`, `"ECE 22.06"`, `yes`."""
    match value:
        case Number(text) | Day(text):
            return text
        case Quantity("1", unit):
            return f"1 {_SINGULARS.get(unit, unit)}"
        case Quantity(number, unit):
            return f"{number} {unit}"
        case Word(text):
            return text if is_bare(text) else quoted(text)
        case Flag(yes):
            return "yes" if yes else "no"
        case _:
            assert_never(value)


# ---- conditions -----------------------------------------------------------


def condition_pieces(condition: Condition, joint: Joint = Joint.OPEN) -> list[Piece]:
    """The pieces of `condition`; `joint` stands before each `and` or `or`, and in a list."""
    match condition:
        case AnyOf(parts):
            return _connected("or", parts, joint)
        case All(parts):
            return _connected("and", parts, joint)
        case Not(inner):
            operand = _operand(inner, All | AnyOf, joint)
            return [Piece("not", start=condition.place.start), *operand]
        case Test(subject, predicate):
            first, *rest = predicate_pieces(predicate, joint)
            return [
                *expression_pieces(subject),
                first._replace(joint=Joint.LOOSE),
                *rest,
            ]
        case Bare(subject):
            return expression_pieces(subject)
        case Counted():
            return _counted(condition, joint)
        case _:
            assert_never(condition)


def _connected(word: str, parts: Sequence[Condition], joint: Joint) -> list[Piece]:
    parenthesised = AnyOf if word == "or" else All | AnyOf
    first, *rest = parts
    pieces = _operand(first, parenthesised, joint)
    for part in rest:
        pieces.append(Piece(word, joint))
        pieces.extend(_operand(part, parenthesised, joint))
    return pieces


def _operand(condition: Condition, parenthesised: type | UnionType, joint: Joint) -> list[Piece]:
    deeper = Joint.INNER if joint is Joint.OPEN else Joint.LOOSE
    pieces = condition_pieces(condition, deeper)
    if not isinstance(condition, parenthesised):
        return pieces
    pieces[0] = pieces[0]._replace(text="(" + pieces[0].text)
    pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + ")")
    return pieces


def _counted(condition: Counted, joint: Joint) -> list[Piece]:
    if condition.quantifier == "at least":
        quantifier = f"at least {condition.least} of"
    else:
        quantifier = f"{condition.quantifier} of"
    items = [
        Piece(
            item.path + (".*" if isinstance(item, Pattern) else ""),
            start=item.place.start,
            end=item.place.end,
        )
        for item in condition.items
    ]
    first, *rest = predicate_pieces(condition.predicate, joint)
    return [
        Piece(quantifier, start=condition.place.start),
        *listed(items, joint),
        first._replace(joint=Joint.LOOSE),
        *rest,
    ]


def listed(items: Sequence[Piece], joint: Joint = Joint.OPEN) -> list[Piece]:
    """The items with commas between them; a line may end behind each as `joint` says."""
    last = len(items) - 1
    return [
        item._replace(
            text=item.text + ("," if number < last else ""),
            joint=joint if number else item.joint,
        )
        for number, item in enumerate(items)
    ]


# ---- predicates -----------------------------------------------------------


def predicate_pieces(predicate: Predicate, joint: Joint = Joint.OPEN) -> list[Piece]:
    """The pieces of `predicate`; a line may end in its list of words as `joint` says."""
    start = predicate.place.start
    match predicate:
        case Is(value, negated):
            return [Piece("is not" if negated else "is", start=start), *expression_pieces(value)]
        case IsOneOf(words, negated):
            phrase = "is none of" if negated else "is one of"
            return [Piece(phrase, start=start), *word_pieces(words, joint)]
        case Compare(comparison, bound):
            return [Piece(f"is {comparison}", start=start), *expression_pieces(bound)]
        case Between(low, high):
            return [
                Piece("is between", start=start),
                *expression_pieces(low),
                Piece("and", Joint.LOOSE),
                *expression_pieces(high),
            ]
        case OnOr(side, bound):
            return [Piece(f"is on or {side}", start=start), *expression_pieces(bound)]
        case Includes(how, words):
            return [Piece(f"includes {how} of", start=start), *word_pieces(words, joint)]
        case _:
            assert_never(predicate)


def word_pieces(words: Sequence[Word], joint: Joint = Joint.OPEN) -> list[Piece]:
    """The pieces of `a, b, c`."""
    return listed([value_piece(word) for word in words], joint)


def value_piece(value: Value) -> Piece:
    """The piece of a value."""
    return Piece(value_text(value), start=value.place.start, end=value.place.end)


# ---- expressions ----------------------------------------------------------


def expression_pieces(expression: Expression) -> list[Piece]:
    """The pieces of `expression`; a line may end before a `+`, `-`, `*` or `/` at need."""
    match expression:
        case Number() | Quantity() | Day() | Word() | Flag():
            return [value_piece(expression)]
        case Reference(path):
            return [Piece(path, start=expression.place.start, end=expression.place.end)]
        case Sum(first, rest):
            return _chained(first, rest, Sum)
        case Product(first, rest):
            return _chained(first, rest, Sum | Product)
        case Group(inner):
            return _bracketed(inner)
        case Age(of, on, grain):
            to_the = "" if grain == "day" else f" to the {grain}"
            return [_whole(expression, f"age of {of.path}{_on(on)}{to_the}")]
        case CompletedYears(of, on):
            return [_whole(expression, f"completed years of {of.path}{_on(on)}")]
        case Call(name, arguments):
            return _call(expression, name, arguments)
        case Rounded(inner, step, down):
            words = Piece("rounded down to" if down else "rounded to", Joint.LOOSE)
            return [*_operand_of(inner, _TORN_BY_ROUNDING), words, value_piece(step)]
        case _:
            assert_never(expression)


def _chained(
    first: Expression, rest: Sequence[tuple[str, Expression]], bracketed: type | UnionType
) -> list[Piece]:
    """A sum or a product, in brackets what its signs would otherwise tear apart."""
    pieces = _operand_of(first, bracketed)
    for sign, term in rest:
        pieces.append(Piece(sign, Joint.LOOSE))
        pieces.extend(_operand_of(term, bracketed))
    return pieces


def _operand_of(term: Expression, bracketed: type | UnionType) -> list[Piece]:
    return _bracketed(term) if isinstance(term, bracketed) else expression_pieces(term)


def _bracketed(inner: Expression) -> list[Piece]:
    pieces = expression_pieces(inner)
    pieces[0] = pieces[0]._replace(text="[" + pieces[0].text)
    pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + "]")
    return pieces


_TORN_BY_ROUNDING = Sum | Product | Rounded | Age | CompletedYears


def _call(call: Call, name: str, arguments: Sequence[Expression]) -> list[Piece]:
    pieces: list[Piece] = []
    last = len(arguments) - 1
    for number, argument in enumerate(arguments):
        first, *rest = expression_pieces(argument)
        if number:
            its_pieces = [first._replace(joint=Joint.LOOSE), *rest]
        else:
            its_pieces = [
                first._replace(text=f"{name}({first.text}", start=call.place.start),
                *rest,
            ]
        end = "," if number < last else ")"
        its_pieces[-1] = its_pieces[-1]._replace(text=its_pieces[-1].text + end)
        pieces.extend(its_pieces)
    return [*pieces[:-1], pieces[-1]._replace(end=call.place.end)]


def _whole(expression: Age | CompletedYears, text: str) -> Piece:
    return Piece(text, start=expression.place.start, end=expression.place.end)


def _on(day: Day | Reference | None) -> str:
    match day:
        case None:
            return ""
        case Day(text):
            return f" on {text}"
        case Reference(path):
            return f" on {path}"
        case _:
            assert_never(day)
