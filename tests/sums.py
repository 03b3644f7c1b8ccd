"""The tests' own arithmetic: exact numbers, and numbers known to within 10^-40 of their size.

A number is a fraction, or, where it is irrational, a pair of fractions that it lies between.
What is done to numbers is done to all their ends, and the least and the greatest that comes of
it are the ends of the result: every operation here only rises or only falls with each number.
"""

from collections.abc import Callable
from datetime import date
from decimal import Context, Decimal
from fractions import Fraction
from itertools import product
from math import isqrt

Number = Fraction | tuple[Fraction, Fraction]

EIGHTY_DIGITS = Context(prec=80, Emax=10**6, Emin=-(10**6))
TOLERANCE = Fraction(1, 10**41)
"""How far from an irrational number its ends are, each side, as a share of its size."""


def ends(number: Number) -> tuple[Fraction, Fraction]:
    return number if isinstance(number, tuple) else (number, number)


def order(one: Number | date | str | bool, other: Number | date | str | bool) -> int | None:
    """-1, 0 or 1 as `one` is below, at or above the other; None where that cannot be told."""
    if isinstance(one, tuple) or isinstance(other, tuple):
        (low, high), (other_low, other_high) = ends(one), ends(other)
        return -1 if high < other_low else 1 if low > other_high else None
    return 0 if one == other else -1 if one < other else 1


def worked_out(how: str, *numbers: Number) -> Number | None:
    """The sign or function `how` of the numbers; None where it has no value."""
    if how == "/":
        low, high = ends(numbers[1])
        if low <= 0 <= high:
            return None
    corners = [OPERATIONS[how](*corner) for corner in product(*map(ends, numbers))]
    if None in corners:
        return None
    low, high = min(ends(c)[0] for c in corners), max(ends(c)[1] for c in corners)
    return low if low == high else (low, high)


# ---- of exact numbers ------------------------------------------------------


def around(digits: Decimal) -> Number:
    """An irrational number, of which 80 digits are known."""
    number = Fraction(digits)
    return number - abs(number) * TOLERANCE, number + abs(number) * TOLERANCE


def in_digits(number: Fraction) -> Decimal:
    return EIGHTY_DIGITS.divide(Decimal(number.numerator), Decimal(number.denominator))


def square_root(number: Fraction) -> Number | None:
    if number < 0:
        return None
    above, below = isqrt(number.numerator), isqrt(number.denominator)
    if (above**2, below**2) == (number.numerator, number.denominator):
        return Fraction(above, below)
    return around(EIGHTY_DIGITS.sqrt(in_digits(number)))


def logarithm(number: Fraction) -> Number | None:
    """To the base 10: a power of ten has a whole one, no other fraction has a rational one."""
    if number <= 0:
        return None
    power = len(str(number.numerator)) - len(str(number.denominator))
    if number == Fraction(10) ** power:
        return Fraction(power)
    return around(EIGHTY_DIGITS.log10(in_digits(number)))


def power_of_ten(number: Fraction) -> Number | None:
    if abs(number) > 1000:
        return None
    if number.denominator == 1:
        return Fraction(10) ** int(number)
    return around(EIGHTY_DIGITS.power(Decimal(10), in_digits(number)))


def to_the_nearest(number: Fraction, step: Fraction) -> Fraction:
    """A tie goes away from zero."""
    steps, rest = divmod(abs(number), step)
    size = (steps + (1 if 2 * rest >= step else 0)) * step
    return size if number > 0 else -size


def down_to(number: Fraction, step: Fraction) -> Fraction:
    return number - number % step


OPERATIONS: dict[str, Callable[..., Number | None]] = {
    "+": lambda one, other: one + other,
    "-": lambda one, other: one - other,
    "*": lambda one, other: one * other,
    "/": lambda one, other: one / other,
    "sqrt": square_root,
    "log10": logarithm,
    "ten-to": power_of_ten,
    "minimum": min,
    "maximum": max,
    "rounded": to_the_nearest,
    "rounded down": down_to,
}
