"""What a fact can be declared to be."""

from fractions import Fraction
from typing import TypeAlias

from attrs import field

from trackprep.dates import Span
from trackprep.frozen import frozen
from trackprep.units import ONE, Unit


@frozen
class Amount:
    """A number or a quantity: exact in base units, and in the unit it was written in.

    Equal amounts are equal whatever units they were written in.
    """

    value: Fraction
    unit: Unit = field(default=ONE, eq=False)
    text: str = field(default="", eq=False)


Value: TypeAlias = str | frozenset[str] | bool | Amount | Span
"""A choice or words; a set of choices; yes or no; a number or quantity; some day of a span."""
