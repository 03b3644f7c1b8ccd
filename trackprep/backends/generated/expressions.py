"""Pieces of Python as `ast` trees, made of names, words and numbers of ours alone."""

import ast
from collections.abc import Sequence
from typing import Any

HERE: Any = {"lineno": 1, "col_offset": 0}
"""The place that the compiler wants of every piece; there is no text it could stand in."""

LOAD, STORE = ast.Load(), ast.Store()
AND, OR = ast.And(), ast.Or()
IS, EQUAL, AT_LEAST, AT_MOST, MORE, LESS = (
    ast.Is(), ast.Eq(), ast.GtE(), ast.LtE(), ast.Gt(), ast.Lt()
)  # fmt: skip
YES: ast.expr = ast.Constant(True, **HERE)
NO: ast.expr = ast.Constant(False, **HERE)


def number(value: float) -> ast.expr:
    """A number."""
    return ast.Constant(value, **HERE)


def text(word: str) -> ast.expr:
    """A word of ours."""
    return ast.Constant(word, **HERE)


def name(word: str) -> ast.Name:
    """A name, read."""
    return ast.Name(word, LOAD, **HERE)


def compared(left: ast.expr, sign: ast.cmpop, right: ast.expr) -> ast.expr:
    """`left SIGN right`."""
    return ast.Compare(left, [sign], [right], **HERE)


def attribute(value: ast.expr, of: str) -> ast.expr:
    """`value.of`."""
    return ast.Attribute(value, of, LOAD, **HERE)


def item(value: ast.expr, place: ast.expr) -> ast.expr:
    """`value[place]`."""
    return ast.Subscript(value, place, LOAD, **HERE)


def table(values: tuple[bool, ...] | tuple[str, ...]) -> ast.expr:
    """A row of answers, to be looked up by their places."""
    constant: Any = values
    return ast.Constant(constant, **HERE)


def bits_in(bits: ast.expr, mask: ast.expr) -> ast.expr:
    """`bits & mask`."""
    return ast.BinOp(bits, ast.BitAnd(), mask, **HERE)


def total(parts: Sequence[ast.expr]) -> ast.expr:
    """How many of the parts hold."""
    ones = [choose(part, number(1), number(0)) for part in parts]
    so_far = ones[0]
    for one in ones[1:]:
        so_far = ast.BinOp(so_far, ast.Add(), one, **HERE)
    return so_far


def every(parts: Sequence[ast.expr]) -> ast.expr:
    """`part and part and …`, without what decides nothing."""
    return _chain(AND, parts, deciding=NO, idle=YES)


def some(parts: Sequence[ast.expr]) -> ast.expr:
    """`part or part or …`, without what decides nothing."""
    return _chain(OR, parts, deciding=YES, idle=NO)


def _chain(
    joint: ast.boolop, parts: Sequence[ast.expr], *, deciding: ast.expr, idle: ast.expr
) -> ast.expr:
    if any(part is deciding for part in parts):
        return deciding
    telling = [part for part in parts if part is not idle]
    if len(telling) > 1:
        return ast.BoolOp(joint, telling, **HERE)
    return telling[0] if telling else idle


def choose(test: ast.expr, then: ast.expr, otherwise: ast.expr) -> ast.expr:
    """`then if test else otherwise`, without what is never chosen."""
    if test is YES or test is NO:
        return then if test is YES else otherwise
    return ast.IfExp(test, then, otherwise, **HERE)


def row_of(parts: Sequence[ast.expr]) -> ast.expr:
    """`(part, part, …)`."""
    return ast.Tuple(list(parts), LOAD, **HERE)


def assignment(target: str, value: ast.expr) -> ast.stmt:
    """`target = value`."""
    return ast.Assign([ast.Name(target, STORE, **HERE)], value, **HERE)


def unpacking(targets: Sequence[ast.Name], value: ast.expr) -> ast.stmt:
    """`target, target, … = value`."""
    names: list[ast.expr] = [ast.Name(target.id, STORE, **HERE) for target in targets]
    return ast.Assign([ast.Tuple(names, STORE, **HERE)], value, **HERE)


def returned(value: ast.expr) -> ast.stmt:
    """`return value`."""
    return ast.Return(value, **HERE)


def parameter(word: str) -> ast.arg:
    """A parameter of a function."""
    return ast.arg(word, **HERE)
