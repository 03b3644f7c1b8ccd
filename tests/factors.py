"""The tests' own table of units: dimension, factor and offset to its base, all exact.

By NIST SP 811, appendix B: the inch is 0.0254 m, the pound 0.45359237 kg, standard
gravity 9.80665 m/s^2, mechanical horsepower 550 ft*lbf/s, metric 75 kgf*m/s.
"""

from fractions import Fraction

from trackprep.syntax import tree

F = Fraction
INCH, POUND, GRAVITY = F("0.0254"), F("0.45359237"), F("9.80665")

UNITS: dict[str, tuple[str, Fraction, Fraction]] = {
    "mm": ("length", F("0.001"), F(0)),
    "cm": ("length", F("0.01"), F(0)),
    "m": ("length", F(1), F(0)),
    "in": ("length", INCH, F(0)),
    "mm^2": ("area", F("0.000001"), F(0)),
    "cm^2": ("area", F("0.0001"), F(0)),
    "m^2": ("area", F(1), F(0)),
    "in^2": ("area", INCH**2, F(0)),
    "cc": ("volume", F("0.000001"), F(0)),
    "mL": ("volume", F("0.000001"), F(0)),
    "L": ("volume", F("0.001"), F(0)),
    "kg": ("mass", F(1), F(0)),
    "g": ("mass", F("0.001"), F(0)),
    "lb": ("mass", POUND, F(0)),
    "oz": ("mass", POUND / 16, F(0)),
    "N": ("force", F(1), F(0)),
    "kN": ("force", F(1000), F(0)),
    "lbf": ("force", POUND * GRAVITY, F(0)),
    "psi": ("pressure", POUND * GRAVITY / INCH**2, F(0)),
    "kPa": ("pressure", F(1000), F(0)),
    "atm": ("pressure", F(101_325), F(0)),
    "bar": ("pressure", F(100_000), F(0)),
    "MPa": ("pressure", F(10**6), F(0)),
    "N*m": ("torque", F(1), F(0)),
    "kgf*m": ("torque", GRAVITY, F(0)),
    "lbf*ft": ("torque", POUND * GRAVITY * 12 * INCH, F(0)),
    "kW": ("power", F(1000), F(0)),
    "hp": ("power", 550 * 12 * INCH * POUND * GRAVITY, F(0)),
    "PS": ("power", 75 * GRAVITY, F(0)),
    "km/h": ("speed", F(1000, 3600), F(0)),
    "mph": ("speed", 63_360 * INCH / 3600, F(0)),
    "m/s": ("speed", F(1), F(0)),
    "m/s^2": ("acceleration", F(1), F(0)),
    "rpm": ("engine speed", F(1, 60), F(0)),
    "V": ("voltage", F(1), F(0)),
    "dB": ("level", F(1), F(0)),
    "°": ("angle", F(1), F(0)),
    "K": ("temperature", F(1), F(0)),
    "°C": ("temperature", F(1), F("273.15")),
    "°F": ("temperature", F(5, 9), F("459.67") * F(5, 9)),
    "s": ("duration", F(1), F(0)),
    "min": ("duration", F(60), F(0)),
    "h": ("duration", F(3600), F(0)),
    "days": ("duration", F(86_400), F(0)),
    "weeks": ("duration", F(604_800), F(0)),
    "months": ("months", F(1), F(0)),
    "years": ("months", F(12), F(0)),
    "%": ("number", F("0.01"), F(0)),
}


def number(text: str) -> Fraction:
    """`3`, `-2.5`, `3/32`, `1 1/4`."""
    size = sum(Fraction(part) for part in text.removeprefix("-").split())
    return -size if text.startswith("-") else size


def in_base(constant: tree.Number | tree.Quantity) -> Fraction:
    """The constant in base units; of a temperature, as a point."""
    if isinstance(constant, tree.Number):
        return number(constant.text)
    _, factor, offset = UNITS[constant.unit]
    return number(constant.number) * factor + offset


def as_written(base: Fraction, unit: str) -> tree.Quantity | None:
    """The quantity in a unit, as a decimal or else a fraction; None if it takes over 20 digits."""
    _, factor, offset = UNITS[unit]
    size = (base - offset) / factor
    text = str(size)
    for places in range(7):
        if (size * 10**places).denominator == 1 and places:
            digits = str(abs(int(size * 10**places))).rjust(places + 1, "0")
            text = f"{'-' if size < 0 else ''}{digits[:-places]}.{digits[-places:]}"
            break
        if size.denominator == 1:
            break
    return tree.Quantity(text, unit) if sum(map(str.isdigit, text)) <= 20 else None
