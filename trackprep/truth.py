"""Kleene's strong three-valued logic: what a test answers, and its connectives.

A truth is `True`, `False`, or `None` where too little is known (S. C. Kleene,
Introduction to Metamathematics, 1952, section 64). `None` is falsy in Python,
so ask `t is True`, `t is False` or `t is None`, never `not t`.
"""

from collections.abc import Iterable
from typing import TypeAlias

Truth: TypeAlias = bool | None


def negation(truth: Truth) -> Truth:
    """The other value; of an unknown, unknown."""
    return None if truth is None else not truth


def conjunction(truths: Iterable[Truth]) -> Truth:
    """True if all are, false as soon as one is, else unknown; true of none at all."""
    answer: Truth = True
    for truth in truths:
        if truth is False:
            return False
        if truth is None:
            answer = None
    return answer


def disjunction(truths: Iterable[Truth]) -> Truth:
    """True as soon as one is, false if all are, else unknown; false of none at all."""
    answer: Truth = False
    for truth in truths:
        if truth is True:
            return True
        if truth is None:
            answer = None
    return answer


def at_least(count: int, truths: Iterable[Truth]) -> Truth:
    """True if `count` of them are, false if not even the unknown ones could make it up."""
    true = possible = 0
    for truth in truths:
        true += truth is True
        possible += truth is not False
    if true >= count:
        return True
    return None if possible >= count else False
