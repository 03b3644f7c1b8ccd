"""What a rider declares: for each fact a value, and where it was written."""

from collections.abc import Mapping
from datetime import date

from attrs import field

from trackprep.frozen import frozen
from trackprep.rules.model import Rules
from trackprep.rules.values import Value
from trackprep.source import Place


@frozen(eq=False)
class Declaration:
    """A machine, its rider and the gear, as declared.

    Attributes:
        title: Who, and which machine.
        declared_on: The day it was written down, if it says so.
        values: Path → value, of the declared facts alone.
        places: Where each was written, for text.
        rules: The ruleset that it was read for.
        name: The name of its file, or `<text>`.
    """

    title: str
    declared_on: date | None
    values: Mapping[str, Value]
    places: Mapping[str, Place | None] = field(repr=False)
    rules: Rules = field(repr=False)
    name: str = "<text>"
