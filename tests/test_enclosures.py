"""Numbers between two that are known: published values, and the promise on every side.

The second opinion is mpmath at 400 digits, and for roots whole-number inequalities.
"""

from collections.abc import Callable
from fractions import Fraction

import mpmath
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trackprep import enclosures
from trackprep.enclosures import Enclosure, Real, ends_of, log10, order, rounded, sqrt, ten_to

TIGHT = Fraction(1, 10**40)
LEAST_STEP = Fraction(1, 10**380)
"""Far more than mpmath errs by."""
Q = Fraction


def shown(number: Real | None, places: int) -> str:
    """The number with so many places, if both its ends show the same."""
    assert number is not None
    low, high = (f"{float(end):.{places}f}" for end in ends_of(number))
    assert low == high
    return low


def sized(number: Real | None) -> None:
    """Either exact, or enclosed to 10^-40 of its size."""
    assert number is not None
    if isinstance(number, Enclosure):
        assert number.low < number.high
        assert number.high - number.low <= TIGHT * min(map(abs, ends_of(number)))


# ---- published values -------------------------------------------------------


@pytest.mark.parametrize(
    ("microphone", "distance", "decibels"),
    [  # ISO 9613-2:1996, clause 7.1: A(div) = 20 lg(d/d0) + 11 dB, of two distances the difference
        ("0.5", "1", "-6.021"),
        ("0.5", "2", "-12.041"),
        ("0.5", "7.5", "-23.522"),
        ("0.5", "5", "-20.000"),
        ("1", "1", "0.000"),
    ],
)
def test_sound_falls_off_with_the_distance(microphone: str, distance: str, decibels: str) -> None:
    logarithm = log10(Q(microphone) / Q(distance))
    assert logarithm is not None
    assert shown(enclosures.product(Q(20), logarithm), 3) == decibels


@pytest.mark.parametrize(
    ("exponent", "value"),
    [  # ISO 3:1973, preferred numbers, table 1: the calculated values of the series R10
        ("1", "1.2589"), ("2", "1.5849"), ("3", "1.9953"), ("4", "2.5119"), ("5", "3.1623"),
        ("6", "3.9811"), ("7", "5.0119"), ("8", "6.3096"), ("9", "7.9433"), ("10", "10.0000"),
    ],
)  # fmt: skip
def test_powers_of_ten_are_the_preferred_numbers(exponent: str, value: str) -> None:
    assert shown(ten_to(Q(exponent) / 10), 4) == value


@pytest.mark.parametrize(
    ("number", "digits"),
    [  # The On-Line Encyclopedia of Integer Sequences
        (log10(Q(2)), "0.30102999566398119521373889472449302676818988"),  # A007524
        (sqrt(Q(2)), "1.41421356237309504880168872420969807856967187"),  # A002193
    ],
)
def test_digits_that_are_published_lie_inside(number: Real | None, digits: str) -> None:
    low, high = ends_of(number) if number is not None else (Q(0), Q(0))
    cut = Fraction(digits)
    assert cut <= low < high <= cut + Fraction(1, 10 ** len(digits.partition(".")[2]))
    sized(number)


@pytest.mark.parametrize(
    ("number", "exact"),
    [
        (sqrt(Q("9/4")), "3/2"), (sqrt(Q(0)), "0"), (sqrt(Q("0.01")), "1/10"),
        (sqrt(Q(10) ** 400), "1" + "0" * 200),
        (log10(Q(1000)), "3"), (log10(Q(1)), "0"), (log10(Q("0.001")), "-3"),
        (log10(Q(10) ** 5000), "5000"),
        (ten_to(Q(-2)), "1/100"), (ten_to(Q(0)), "1"), (ten_to(Q(3)), "1000"),
    ],
)  # fmt: skip
def test_what_is_rational_is_exact(number: Real | None, exact: str) -> None:
    assert number == Fraction(exact)
    assert isinstance(number, Fraction)


@pytest.mark.parametrize("number", ["-1", "-1/1000000"])
def test_nothing_below_zero_has_a_root_or_a_logarithm(number: str) -> None:
    assert sqrt(Q(number)) is None
    assert log10(Q(number)) is None
    assert log10(Q(0)) is None


def test_what_may_be_below_zero_has_no_value() -> None:
    around_zero = Enclosure(Q(-1), Q(1))
    assert sqrt(around_zero) is None
    assert log10(around_zero) is None
    assert log10(Enclosure(Q(0), Q(1))) is None
    assert enclosures.quotient(Q(1), around_zero) is None
    assert enclosures.quotient(around_zero, Q(0)) is None


@pytest.mark.parametrize("power", ["1000", "-1000", "999.5"])
def test_ten_is_raised_to_a_thousand_and_no_further(power: str) -> None:
    sized(ten_to(Q(power)))
    beyond = Q(power) * Q(1001, 1000) + (1 if Q(power) > 0 else -1)
    assert ten_to(beyond) is None
    assert ten_to(Enclosure(min(Q(power), beyond), max(Q(power), beyond))) is None


# ---- the promise ------------------------------------------------------------

positive = st.one_of(
    st.fractions(min_value=0, max_denominator=1000),
    st.builds(lambda a, b: Q(a, b), st.integers(0, 10**80), st.integers(1, 10**80)),
    st.builds(lambda n, k: Q(n) * Q(10) ** k, st.integers(0, 99), st.integers(-300, 300)),
    # beside one, where a logarithm is nearly nothing
    st.builds(lambda n, k: 1 + Q(n) / Q(10) ** k, st.integers(-9, 9), st.integers(1, 200)),
)
signed = st.one_of(positive, positive.map(lambda number: -number))


def true_value(function: Callable[[mpmath.mpf], mpmath.mpf], number: Fraction) -> Fraction:
    with mpmath.workdps(400):
        result = function(mpmath.mpf(number.numerator) / number.denominator)
        return Fraction(*result.as_integer_ratio())


def inside(number: Real | None, true: Fraction) -> bool:
    assert number is not None
    low, high = ends_of(number)
    return low - abs(true) * LEAST_STEP <= true <= high + abs(true) * LEAST_STEP


@given(positive)
def test_a_root_lies_between_its_ends(number: Fraction) -> None:
    root = sqrt(number)
    assert root is not None
    low, high = ends_of(root)
    assert 0 <= low * low <= number <= high * high
    sized(root)


@given(positive)
def test_a_logarithm_lies_between_its_ends(number: Fraction) -> None:
    assume(number > 0)
    found = log10(number)
    # Of what lies very near to one, mpmath is given the distance: it keeps its digits.
    with mpmath.workdps(400):
        beside = mpmath.mpf((number - 1).numerator) / (number - 1).denominator
        true = mpmath.log1p(beside) / mpmath.log(10)
        assert inside(found, Fraction(*true.as_integer_ratio()))
    sized(found)


@given(st.one_of(signed, st.fractions(-1000, 1000)))
def test_a_power_of_ten_lies_between_its_ends(number: Fraction) -> None:
    assume(abs(number) <= 1000)
    assert inside(ten_to(number), true_value(lambda power: mpmath.power(10, power), number))
    sized(ten_to(number))


@st.composite
def enclosed(draw: st.DrawFn) -> tuple[Real, Fraction]:
    """A number that is enclosed or exact, and what it is in truth."""
    low = draw(st.one_of(signed, st.fractions(-3, 3, max_denominator=4)))
    width = draw(st.one_of(st.just(Q(0)), st.fractions(0, 3, max_denominator=8), positive))
    part = draw(st.fractions(0, 1, max_denominator=5))
    number = Enclosure(low, low + width) if width else low
    return number, low + width * part


@given(enclosed(), st.sampled_from("+-*/"), enclosed())
def test_arithmetic_keeps_what_is_true(
    one: tuple[Real, Fraction], sign: enclosures.Sign, other: tuple[Real, Fraction]
) -> None:
    found = enclosures.calculated(one[0], sign, other[0])
    if found is None:
        assert sign == "/"
        assert ends_of(other[0])[0] <= 0 <= ends_of(other[0])[1]
        return
    exactly = {
        "+": lambda a, b: a + b, "-": lambda a, b: a - b,
        "*": lambda a, b: a * b, "/": lambda a, b: a / b,
    }[sign]  # fmt: skip
    low, high = ends_of(found)
    assert low <= exactly(one[1], other[1]) <= high
    if isinstance(one[0], Fraction) and isinstance(other[0], Fraction):
        assert low == high


@given(st.lists(enclosed(), min_size=2, max_size=4))
def test_the_least_and_the_greatest_keep_what_is_true(some: list[tuple[Real, Fraction]]) -> None:
    numbers, truths = [number for number, _ in some], [true for _, true in some]
    for extreme, true in (
        (enclosures.minimum(numbers), min(truths)), (enclosures.maximum(numbers), max(truths))
    ):  # fmt: skip
        low, high = ends_of(extreme)
        assert low <= true <= high


@given(enclosed(), enclosed())
def test_an_order_that_is_given_is_true(
    one: tuple[Real, Fraction], other: tuple[Real, Fraction]
) -> None:
    stands = order(one[0], other[0])
    if stands is not None:
        assert stands == (one[1] > other[1]) - (one[1] < other[1])
    else:
        assert isinstance(one[0], Enclosure) or isinstance(other[0], Enclosure)
    back = order(other[0], one[0])
    assert back == (None if stands is None else -stands)


@given(
    st.sampled_from(["sqrt", "log10", "ten_to"]), st.fractions("0.01", 5), st.fractions("0.01", 5)
)
def test_a_function_of_an_enclosure_holds_that_of_its_ends(
    name: str, one: Fraction, other: Fraction
) -> None:
    assume(one != other)
    function: Callable[[Real], Real | None] = getattr(enclosures, name)
    whole = function(Enclosure(min(one, other), max(one, other)))
    for end in (one, other, (one + other) / 2):
        ends = function(end)
        assert whole is not None
        assert ends is not None
        assert ends_of(whole)[0] <= ends_of(ends)[0]
        assert ends_of(ends)[1] <= ends_of(whole)[1]


# ---- rounding ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "step", "nearest", "down"),
    [  # ties away from zero; down is towards minus infinity
        ("94.5", "1", "95", "94"), ("94.4", "1", "94", "94"), ("-94.5", "1", "-95", "-95"),
        ("-94.4", "1", "-94", "-95"), ("0", "5", "0", "0"), ("7", "5", "5", "5"),
        ("7.5", "5", "10", "5"), ("95", "1", "95", "95"), ("1/3", "1/4", "1/4", "1/4"),
        ("3/8", "1/4", "1/2", "1/4"), ("-0.1", "1", "0", "-1"),
    ],
)  # fmt: skip
def test_rounding_goes_to_a_multiple(number: str, step: str, nearest: str, down: str) -> None:
    assert rounded(Q(number), Q(step)) == Q(nearest)
    assert rounded(Q(number), Q(step), down=True) == Q(down)


@given(enclosed(), st.fractions("0.01", 5, max_denominator=100), st.booleans())
def test_rounding_keeps_what_is_true(
    one: tuple[Real, Fraction], step: Fraction, down: bool
) -> None:
    number, true = one
    low, high = ends_of(rounded(number, step, down=down))
    if max(abs(low), abs(high)) < 10**50:  # past that long ends are rounded outward
        assert (low / step).denominator == (high / step).denominator == 1
    found = rounded(true, step, down=down)
    assert isinstance(found, Fraction)
    assert low <= found <= high
    assert 0 <= true - found < step if down else abs(true - found) <= step / 2


def test_an_irrational_number_rounds_to_an_exact_one() -> None:
    logarithm = log10(Q(2))
    assert logarithm is not None
    assert rounded(logarithm, Q(1, 100)) == Q("0.3")
    assert rounded(logarithm, Q(1, 100), down=True) == Q("0.3")


# ---- bounds on the work -----------------------------------------------------


def test_ends_do_not_grow_with_the_arithmetic() -> None:
    number = sqrt(Q(2))
    for _ in range(200):
        assert number is not None
        number = enclosures.calculated(number, "*", Enclosure(Q(999, 1000), Q(1001, 1000)))
    assert number is not None
    assert all(end.numerator.bit_length() < 1000 for end in ends_of(number))


def test_products_past_all_measure_have_no_value() -> None:
    number: Real | None = ten_to(Q(1000))
    for _ in range(100):
        if number is None:
            break
        number = enclosures.product(number, number)
    assert number is None
