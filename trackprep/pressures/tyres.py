"""What a rider types of a tyre: the makers' figures, and readings through the day."""

from collections.abc import Mapping
from datetime import date, time
from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.measures.inputs import Input, InputError, Quantity, read
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount
from trackprep.units import written

Tyre: TypeAlias = Literal["front", "rear"]
State: TypeAlias = Literal["cold", "hot"]

TYRES: tuple[Tyre, ...] = ("front", "rear")

FIGURE = Input("figure", "the tyre maker's figure for the track, cold", "31psi", Quantity("psi"))
LEAST = Input("least", "the least pressure that the tyre's maker allows, cold", "26psi",
              Quantity("psi"))  # fmt: skip
SIDEWALL = Input("sidewall", "the maximum that stands on the sidewall", "42psi", Quantity("psi"))
ROAD = Input("road", "the road figure of the machine's manual, cold", "36psi", Quantity("psi"))
HOT_TARGET = Input("hot-target", "a hot pressure that you or the tyre's maker aim at", "36psi",
                   Quantity("psi"))  # fmt: skip
KEPT = (FIGURE, LEAST, SIDEWALL, ROAD, HOT_TARGET)
"""What is noted of a tyre, once for all days."""

GIVEN_AT = Input("given-at", "the temperature for which the maker gives that figure", "20C",
                 Quantity("°C"))  # fmt: skip
GIVEN_ALTITUDE = Input("given-altitude", "the altitude for which the figure is given, or where it"
                       " was set", "50m", Quantity("m", low=None))  # fmt: skip
AIR = Input("air", "the temperature of the air, in the shade", "9C", Quantity("°C"))
WARM = Input("tyre", "the temperature of the tyre, measured", "62C", Quantity("°C"))
HOT_AT = Input("hot-at", "how hot the tyre gets, to see what the pressure becomes", "80C",
               Quantity("°C"))  # fmt: skip
ALTITUDE = Input("altitude", "how high the paddock lies", "600m", Quantity("m", low=None))
PRESSURE = Input("pressure", "what the gauge shows", "30.5psi", Quantity("psi"))


@frozen
class Figures:
    """What is known of one tyre: only what the rider typed.

    Attributes:
        figure: The tyre maker's figure for the track, cold. It decides.
        given_at: The temperature that it is given for; without one it holds as the tyre stands.
        given_altitude: The altitude that it is given for, or was set at.
        least: The least that the tyre's maker allows, cold.
        sidewall: The maximum on the sidewall, which is no setting.
        road: The road figure in the machine's manual, cold.
        hot_target: What the rider aims at, hot.
    """

    figure: Amount | None = None
    given_at: Amount | None = None
    given_altitude: Amount | None = None
    least: Amount | None = None
    sidewall: Amount | None = None
    road: Amount | None = None
    hot_target: Amount | None = None


@frozen
class Reading:
    """One look at a gauge.

    Attributes:
        was_set: Whether it is what the tyre was set to, and not what it was found at.
        warm: The temperature of the tyre, where that was measured.
        figures: What was known of the tyre when it was read.
    """

    day: date
    at: time
    tyre: Tyre
    pressure: Amount
    state: State
    was_set: bool = False
    air: Amount | None = None
    warm: Amount | None = None
    altitude: Amount | None = None
    note: str = ""
    figures: Figures = Figures()

    @property
    def temperature(self) -> Amount | None:
        """That of the gas: the tyre's; of a cold tyre without its own, the air's."""
        return self.warm or (self.air if self.state == "cold" else None)


@frozen
class Day:
    """The readings of one day, in the order of the clock, and what is known of the tyres."""

    day: date
    figures: Mapping[Tyre, Figures]
    readings: tuple[Reading, ...]

    def of(self, tyre: Tyre) -> tuple[Reading, ...]:
        """The readings of one tyre."""
        return tuple(reading for reading in self.readings if reading.tyre == tyre)


def amount(asked: Input, value: object, shown: str, rules: Rules) -> Amount:
    """What was typed for it.

    Raises:
        InputError: It cannot be read.
    """
    found = read(asked, value, shown, rules)
    assert isinstance(found, Amount)
    return found


def spelled(quantity: Amount) -> str:
    """The quantity as a file has it, exactly as typed."""
    text = written(quantity.value, quantity.unit)
    if text is None:
        raise InputError(f"`{quantity.text}` has too many digits", "a shorter number")
    return text
