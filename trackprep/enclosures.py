"""Numbers known exactly, and numbers between two that are: roots, logarithms, powers of ten.

What is rational stays exact: the root of 9/4, the logarithm of 1000, ten to the power of -2.
Everything else is *enclosed*: the number lies between `low` and `high`, always. A function of
an exact number is enclosed to less than 10^-40 of its size; arithmetic goes on with both ends,
and where two nearly equal numbers are subtracted the enclosure shows what is left of that.

Nothing here rounds to the nearest: every end is rounded away from the number, so that a
comparison with an end beyond the limit is proved. Roots are whole roots of integers; the others
rest on the correctly rounded `ln`, `log10` and `exp` of the standard library's `decimal`
(General Decimal Arithmetic Specification, version 1.70), moved one unit of the last place.
"""

from collections.abc import Callable, Iterable
from decimal import MAX_EMAX, MIN_EMIN, ROUND_CEILING, ROUND_FLOOR, Context, Decimal
from fractions import Fraction
from functools import lru_cache
from math import floor, isqrt
from typing import Literal, TypeAlias

from trackprep.frozen import frozen

Sign: TypeAlias = Literal["+", "-", "*", "/"]
Ends: TypeAlias = tuple[Fraction, Fraction]

MOST_BITS = 1 << 16
"""A product or quotient past this size, about 10^20000, has no value: no measure comes near."""
LARGEST_POWER = 1_000
"""Ten is raised to powers up to this one, and down to its negative."""

_LONG = 400
"""Ends of more bits than this are rounded outward, to `_KEPT` digits."""
_KEPT, _WORKING = 60, 130
_NEAR_ONE = Fraction(1, 10**60)
"""So near to 1 the logarithm is worked out from the distance."""


@frozen
class Enclosure:
    """A number that is not known exactly: from `low` to `high`, which is greater."""

    low: Fraction
    high: Fraction

    @property
    def middle(self) -> Fraction:
        """A number inside, to be shown."""
        return (self.low + self.high) / 2


Real: TypeAlias = Fraction | Enclosure


def ends_of(number: Real) -> Ends:
    """The least and the greatest that the number may be."""
    if isinstance(number, Enclosure):
        return number.low, number.high
    return number, number


def order(one: Real, other: Real) -> Literal[-1, 0, 1] | None:
    """Whether `one` is less than `other`, equal, or greater; None where that is not proved.

    An enclosure that overlaps or touches the other number is neither below nor above it, and
    never equal to it.
    """
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return 0 if one == other else -1 if one < other else 1
    (low, high), (other_low, other_high) = ends_of(one), ends_of(other)
    return -1 if high < other_low else 1 if low > other_high else None


# ---- arithmetic -------------------------------------------------------------


def calculated(one: Real, sign: Sign, other: Real) -> Real | None:
    """`one SIGN other`; None if it divides by what may be zero, or is past `MOST_BITS`."""
    match sign:
        case "+":
            return total(one, other)
        case "-":
            return difference(one, other)
        case "*":
            return product(one, other)
        case "/":
            return quotient(one, other)


def total(one: Real, other: Real) -> Real:
    """The sum."""
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return one + other
    (low, high), (other_low, other_high) = ends_of(one), ends_of(other)
    return _between(low + other_low, high + other_high)


def difference(one: Real, other: Real) -> Real:
    """`one` less `other`."""
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return one - other
    (low, high), (other_low, other_high) = ends_of(one), ends_of(other)
    return _between(low - other_high, high - other_low)


def product(one: Real, other: Real) -> Real | None:
    """The product; None past `MOST_BITS`."""
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return _bounded(one * other)
    corners = [left * right for left in ends_of(one) for right in ends_of(other)]
    return _bounded(_between(min(corners), max(corners)))


def quotient(one: Real, other: Real) -> Real | None:
    """`one` divided by `other`; None where that may be zero, and past `MOST_BITS`."""
    if may_be_zero(other):
        return None
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        return _bounded(one / other)
    corners = [left / right for left in ends_of(one) for right in ends_of(other)]
    return _bounded(_between(min(corners), max(corners)))


def may_be_zero(number: Real) -> bool:
    """Whether nothing proves that the number is not zero."""
    low, high = ends_of(number)
    return low <= 0 <= high


def minimum(numbers: Iterable[Real]) -> Real:
    """The least of some numbers."""
    lows, highs = zip(*map(ends_of, numbers), strict=True)
    return _between(min(lows), min(highs))


def maximum(numbers: Iterable[Real]) -> Real:
    """The greatest of some numbers."""
    lows, highs = zip(*map(ends_of, numbers), strict=True)
    return _between(max(lows), max(highs))


def rounded(number: Real, step: Fraction, *, down: bool = False) -> Real:
    """The nearest multiple of `step`, which is above zero; ties go away from zero.

    `down`: the greatest multiple that is not above the number.
    """

    def multiple(end: Fraction) -> Fraction:
        steps = end / step
        if down:
            return floor(steps) * step
        size = floor(abs(steps) + Fraction(1, 2)) * step
        return size if steps > 0 else -size

    low, high = ends_of(number)
    return _between(multiple(low), multiple(high))


# ---- functions --------------------------------------------------------------


def sqrt(number: Real) -> Real | None:
    """The square root; None where the number may be below zero."""
    return None if ends_of(number)[0] < 0 else _rising(_root, number)


def log10(number: Real) -> Real | None:
    """The logarithm to base ten; None where the number may be zero or below."""
    return None if ends_of(number)[0] <= 0 else _rising(_logarithm, number)


def ten_to(number: Real) -> Real | None:
    """Ten to the power of the number; None where that may be beyond `LARGEST_POWER`."""
    low, high = ends_of(number)
    if low < -LARGEST_POWER or high > LARGEST_POWER:
        return None
    return _rising(_power_of_ten, number)


def _rising(function: Callable[[Fraction], Ends], number: Real) -> Real:
    """A function that grows with its argument: its own ends at both ends of that."""
    if isinstance(number, Fraction):
        return _between(*function(number))
    return _between(function(number.low)[0], function(number.high)[1])


@lru_cache(maxsize=1024)
def _root(number: Fraction) -> Ends:
    above, below = isqrt(number.numerator), isqrt(number.denominator)
    if above * above == number.numerator and below * below == number.denominator:
        return Fraction(above, below), Fraction(above, below)
    # The root of n/d is that of n·d over d: a whole root of 200 bits or more, and the next.
    square = number.numerator * number.denominator
    bits = max(0, 200 - square.bit_length() // 2)
    whole, divisor = isqrt(square << 2 * bits), number.denominator << bits
    return _below(Fraction(whole, divisor)), _above(Fraction(whole + 1, divisor))


@lru_cache(maxsize=1024)
def _logarithm(number: Fraction) -> Ends:
    if (whole := _exponent(number)) is not None:
        return whole, whole
    distance = number - 1
    if abs(distance) < _NEAR_ONE:
        # ln(1 + d) lies between d - d² and d wherever |d| is at most 1/2.
        natural = Enclosure(distance - distance * distance, distance)
        exact = quotient(natural, _LN_TEN)
        assert exact is not None, "ln 10 is not zero"
        low, high = ends_of(exact)
    else:
        low = Fraction(_DOWN.next_minus(_quotient(_DOWN, number).log10(_DOWN)))
        high = Fraction(_UP.next_plus(_quotient(_UP, number).log10(_UP)))
    return _below(low), _above(high)


def _exponent(number: Fraction) -> Fraction | None:
    """Of a power of ten, its exponent: no other rational number has a rational logarithm."""
    if number.numerator != 1 and number.denominator != 1:
        return None
    large = max(number.numerator, number.denominator)
    if large != 1 and large % 10:
        return None
    exponent = int(Decimal(large).logb())
    if 10**exponent != large:
        return None
    return Fraction(exponent if number >= 1 else -exponent)


@lru_cache(maxsize=1024)
def _power_of_ten(number: Fraction) -> Ends:
    whole = floor(number)
    scale = Fraction(10) ** whole
    if number == whole:
        return scale, scale
    part = number - whole
    least = _DOWN.multiply(_quotient(_DOWN, part), _LN_TEN_LOW)
    most = _UP.multiply(_quotient(_UP, part), _LN_TEN_HIGH)
    low, high = _DOWN.next_minus(least.exp(_DOWN)), _UP.next_plus(most.exp(_UP))
    return _below(scale * Fraction(low)), _above(scale * Fraction(high))


# ---- ends -------------------------------------------------------------------


def _context(digits: int, rounding: str) -> Context:
    return Context(digits, rounding=rounding, Emin=MIN_EMIN, Emax=MAX_EMAX, traps=[])


_DOWN, _UP = _context(_WORKING, ROUND_FLOOR), _context(_WORKING, ROUND_CEILING)
_SHORT_DOWN, _SHORT_UP = _context(_KEPT, ROUND_FLOOR), _context(_KEPT, ROUND_CEILING)
_LN_TEN_LOW = _DOWN.next_minus(Decimal(10).ln(_DOWN))
_LN_TEN_HIGH = _UP.next_plus(Decimal(10).ln(_UP))
_LN_TEN = Enclosure(Fraction(_LN_TEN_LOW), Fraction(_LN_TEN_HIGH))


def _quotient(context: Context, number: Fraction) -> Decimal:
    return context.divide(Decimal(number.numerator), Decimal(number.denominator))


def _below(number: Fraction) -> Fraction:
    return Fraction(_quotient(_SHORT_DOWN, number))


def _above(number: Fraction) -> Fraction:
    return Fraction(_quotient(_SHORT_UP, number))


def _between(low: Fraction, high: Fraction) -> Real:
    """The number itself where both ends are one; long ends are rounded outward."""
    if low == high:
        return low
    return Enclosure(
        _below(low) if _bits(low) > _LONG else low, _above(high) if _bits(high) > _LONG else high
    )


def _bits(number: Fraction) -> int:
    return max(number.numerator.bit_length(), number.denominator.bit_length())


def _bounded(number: Real) -> Real | None:
    """The number, if it is of a size that arithmetic may go on with."""
    low, high = ends_of(number)
    return None if max(_bits(low), _bits(high)) > MOST_BITS else number
