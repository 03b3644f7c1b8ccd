"""Dimensions: what kind of quantity a unit measures, and its name in words."""

from functools import cache

from attrs import field

from trackprep.frozen import frozen

BASES = (
    "a length",
    "a mass",
    "a duration",
    "a temperature",
    "a sound level",
    "an angle",
    "a voltage",
    "a number of months or years",
)
"""The base dimensions. Calendar months are no duration: none has a fixed length."""


def _eight_exponents(_: object, __: object, exponents: tuple[int, ...]) -> None:
    if len(exponents) != len(BASES):
        raise ValueError(f"a dimension has {len(BASES)} exponents, not {len(exponents)}")


@frozen
class Dimension:
    """A product of powers of the base dimensions, as exponents in the order of `BASES`."""

    exponents: tuple[int, ...] = field(validator=_eight_exponents)

    def __mul__(self, other: "Dimension") -> "Dimension":
        """The dimension of a product."""
        pairs = zip(self.exponents, other.exponents, strict=True)
        return Dimension(tuple(one + two for one, two in pairs))

    def __truediv__(self, other: "Dimension") -> "Dimension":
        """The dimension of a quotient."""
        pairs = zip(self.exponents, other.exponents, strict=True)
        return Dimension(tuple(one - two for one, two in pairs))

    @property
    def words(self) -> str:
        """The name in words with its article: `a length`, `a mass over a length`."""
        return _NAMED.get(self) or _composed(self)

    @property
    def size(self) -> int:
        """How many bases are multiplied and divided in all."""
        return sum(map(abs, self.exponents))


def _base(index: int) -> Dimension:
    return Dimension(tuple(int(place == index) for place in range(len(BASES))))


LENGTH, MASS, TIME, TEMPERATURE, LEVEL, ANGLE, VOLTAGE, MONTHS = map(_base, range(len(BASES)))
NUMBER = LENGTH / LENGTH
AREA = LENGTH * LENGTH
VOLUME = AREA * LENGTH
SPEED = LENGTH / TIME
ACCELERATION = SPEED / TIME
ENGINE_SPEED = NUMBER / TIME
FORCE = MASS * ACCELERATION
PRESSURE = FORCE / AREA
TORQUE = FORCE * LENGTH
POWER = TORQUE / TIME
SPRING_RATE = FORCE / LENGTH

_NAMED = {
    **{_base(index): words for index, words in enumerate(BASES)},
    NUMBER: "a number",
    AREA: "an area",
    VOLUME: "a volume",
    SPEED: "a speed",
    ACCELERATION: "an acceleration",
    ENGINE_SPEED: "an engine speed",
    FORCE: "a force",
    PRESSURE: "a pressure",
    TORQUE: "a torque",
    POWER: "a power",
    SPRING_RATE: "a spring rate",
}


@cache
def _composed(dimension: Dimension) -> str:
    """The simplest two named dimensions that make it by division or multiplication."""
    found: list[tuple[int, str]] = []
    for one, words in _NAMED.items():
        below = one / dimension
        if below in _NAMED:
            found.append((one.size + below.size, f"{words} over {_NAMED[below]}"))
        beside = dimension / one
        if beside in _NAMED and NUMBER not in (one, beside):
            found.append((one.size + beside.size, f"{words} times {_NAMED[beside]}"))
    if found:
        return min(found, key=lambda candidate: candidate[0])[1]
    return _spelled_out(dimension)


def _spelled_out(dimension: Dimension) -> str:
    """The bases with their powers, those above the line first."""
    powers = list(zip(dimension.exponents, BASES, strict=True))
    above = [_power(base, exponent) for exponent, base in powers if exponent > 0]
    below = [_power(base, -exponent) for exponent, base in powers if exponent < 0]
    return " over ".join([" times ".join(above) or "a number", *below])


def _power(base: str, exponent: int) -> str:
    return base if exponent == 1 else f"{base} to the power of {exponent}"
