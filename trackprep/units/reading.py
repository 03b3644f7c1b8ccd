"""Text to exact numbers and quantities; nothing is rounded, and nothing is guessed."""

import re
from collections.abc import Callable
from fractions import Fraction

from trackprep.units.suggestions import nearest_unit
from trackprep.units.table import Unit, unit

MOST_DIGITS = 20
"""The bound on a number's digits, so that no file can make arithmetic slow."""

_NUMBER = r"(-?(?:(?:([0-9]+) +)?([0-9]+)/([0-9]+)|([0-9]+)(?:\.([0-9]+))?))"
_WHOLE_TEXT = re.compile(_NUMBER)
_NUMBER_AND_UNIT = re.compile(_NUMBER + r"(?![0-9.,/]) *(.+)")
_STARTS_LIKE_A_NUMBER = re.compile(r"[-+]?[0-9.,][0-9.,/ ]*")
_WITH_COMMAS = re.compile(r"-?[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?")

# What word processors put for a minus and a space.
_SAME_SIGN = str.maketrans({"–": "-", "−": "-", "\u00a0": " ", "\u202f": " "})


def read_number(text: str) -> Fraction:
    """Read `3`, `3.5`, `3/32` or `1 1/4`, with a `-` before it where it is below zero.

    Raises:
        ValueError: One sentence for the writer: what is wrong, and what to write.
    """
    found = _WHOLE_TEXT.fullmatch(text) or _WHOLE_TEXT.fullmatch(_plain(text))
    if found is None:
        raise ValueError(_why_no_number(text))
    return _value(*found.groups())


def read_quantity(text: str) -> tuple[Fraction, Unit]:
    """Read a number and its unit, as in `3.5 mm` or `22N·m`; the value is in that unit.

    Raises:
        ValueError: One sentence for the writer: what is wrong, and what to write.
    """
    found = _NUMBER_AND_UNIT.fullmatch(text) or _NUMBER_AND_UNIT.fullmatch(_plain(text))
    if found is None:
        raise ValueError(_why_no_quantity(text))
    *number, spelling = found.groups()
    if its_unit := unit(spelling):
        return _value(*number), its_unit
    if spelling[0].isdigit():
        raise ValueError(_why_no_quantity(text))
    raise ValueError(_why_no_unit(spelling))


def _plain(text: str) -> str:
    return text.translate(_SAME_SIGN).strip()


def _value(
    number: str,
    whole: str | None,
    above: str | None,
    below: str | None,
    digits: str | None,
    decimals: str | None,
) -> Fraction:
    """The value of a number's text and its parts, as the pattern took them."""
    # Shorter texts cannot have too many digits, and need no count.
    if len(number) > MOST_DIGITS and (count := _digits(number)) > MOST_DIGITS:
        raise ValueError(f"`{_shown(number)}` has {count} digits: the most is {MOST_DIGITS}")
    if digits is None:
        numerator, denominator = _fraction(
            number, int(whole or 0), int(above or 0), int(below or 0)
        )
    elif decimals is None:
        numerator, denominator = int(digits), 1
    else:
        numerator, denominator = int(digits + decimals), 10 ** len(decimals)
    return Fraction(-numerator if number[0] == "-" else numerator, denominator)


def _fraction(number: str, whole: int, above: int, below: int) -> tuple[int, int]:
    """The numerator and denominator of a fraction, with the whole number before it if any."""
    if below == 0:
        raise ValueError(f"`{number}` divides by zero")
    if whole and above >= below:
        raise ValueError(f"`{number}` is no mixed fraction: its second part must be below 1")
    return whole * below + above, below


def _digits(text: str) -> int:
    return sum(sign.isdigit() for sign in text)


# What to say of the texts that are none


def _shown(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."


_SLIPS: tuple[tuple[re.Pattern[str], str, Callable[[str], str]], ...] = (
    (
        re.compile(r"-?\.[0-9]+"),
        "lacks its first digit: write `{}`",
        lambda number: number.replace(".", "0."),
    ),
    (re.compile(r"-?[0-9]+\."), "ends in a point: write `{}`", lambda number: number[:-1]),
    (re.compile(r"\+[0-9].*"), "has a plus sign: write `{}`", lambda number: number[1:]),
    (
        re.compile(r"-?[0-9]{1,3}(?: [0-9]{3})+"),
        "has a space inside: write `{}`",
        lambda number: number.replace(" ", ""),
    ),
    (re.compile(r"-?[0-9]+(?:\.[0-9]+)?[eE].*"), "has an exponent: write all its digits", str),
)
"""Slips that people make: their form, what to say, and what they should have written."""


def _why_no_number(text: str) -> str:
    """The sentence about a text that is no number."""
    written = _plain(text)
    if _WITH_COMMAS.fullmatch(written):
        return _comma(written, _shown(text))
    for form, advice, mended in _SLIPS:
        if form.fullmatch(written):
            return f"`{_shown(text)}` {advice.format(_shown(mended(written)))}"
    return f"`{_shown(text)}` is not a number: write it like `3`, `3.5`, `3/32` or `1 1/4`"


def _comma(written: str, shown: str) -> str:
    """The sentence about a comma, with the readings it may have."""
    joined = written.replace(",", "")
    if written.count(",") > 1 or "." in written:
        return f"`{shown}` has a comma: write `{joined}`"
    return f"`{shown}` could be two numbers: write `{written.replace(',', '.')}` or `{joined}`"


def _why_no_quantity(text: str) -> str:
    """The sentence about a text that is not a number and then a unit."""
    written = _plain(text)
    if _WHOLE_TEXT.fullmatch(written):
        return f"`{_shown(text)}` has no unit: write the unit after it, as in `3.5 mm`"
    found = _STARTS_LIKE_A_NUMBER.match(written)
    number = found.group().strip() if found else ""
    if not number or number in ("-", "+"):
        return f"`{_shown(text)}` is not a quantity: write a number and its unit, like `3.5 mm`"
    return _why_no_number(number)


def _why_no_unit(spelling: str) -> str:
    """The sentence about a word that is no unit, with the one that is meant if any is near."""
    near = nearest_unit(spelling)
    advice = f": did you mean `{near}`?" if near else ""
    return f"`{_shown(spelling)}` is not a unit that is read here{advice}"
