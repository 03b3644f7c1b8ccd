"""The fast back end: a ruleset as generated Python.

    Rules ──lowering──▶ looks at one slot ──predicates──▶ "true", "false" ──functions──▶ Compiled
    values ──Compiled.row──▶ Row ──Compiled.statuses──▶ a status code for each rule

The functions are built as `ast` trees from the checked model alone: every name and number
in them is made here, and no text of a file becomes source. One version answers complete
and incomplete declarations alike: an undeclared value makes both "true" and "false" fail,
without a look of its own.
"""

from collections.abc import Iterable
from datetime import date
from typing import TypeAlias

from attrs import field, frozen

from trackprep.backends.generated.functions import (
    MET,
    NOT_ASKED,
    NOT_MET,
    STATUSES,
    UNSETTLED,
    Chunk,
    Codes,
    Function,
    Row,
    chunks_of,
    joined,
)
from trackprep.backends.generated.slots import (
    DaySlot,
    Encoder,
    SettledSlot,
    Slot,
    encoder,
)
from trackprep.backends.readings import Values, named, prepared
from trackprep.dates import Span
from trackprep.rules.model import Dated, Rules

__all__ = [
    "MET",
    "NOT_ASKED",
    "NOT_MET",
    "STATUSES",
    "UNSETTLED",
    "Codes",
    "Compiled",
    "Row",
    "compiled",
]

MOST_EVENTS = 64
"""The functions of so many event days are kept."""

Bound: TypeAlias = tuple[int, Function]
"""The ordinal of an event's day, and the function with its boundary days."""


@frozen(eq=False)
class Compiled:
    """A ruleset ready to run."""

    rules: Rules
    _chunks: tuple[Chunk, ...]
    _encoders: tuple[Encoder, ...]
    _past: frozenset[str]
    _bound: dict[date, Bound] = field(factory=dict, init=False)

    def row(self, values: Values) -> Row:
        """The row of what is declared, whatever the event; make it once, check it often."""
        known = {**values, **self.rules.here} if self.rules.here else values
        codes = [encode(known) for encode in self._encoders]
        declared = (known.get(path) for path in self._past)
        latest = max(
            (span.last.toordinal() for span in declared if isinstance(span, Span)), default=0
        )
        return Row(known, latest, tuple(chunk.pick(codes) for chunk in self._chunks))

    def statuses(self, row: Row, event: date) -> Codes:
        """What every rule answers, as places in `STATUSES`, in the order of `rules.rules`."""
        day, function = self._bound.get(event) or self._bind(event)
        if row.latest > day:
            row = self.row(prepared(self.rules, row.values, event)[0])
        return function(row)

    def _bind(self, event: date) -> Bound:
        if len(self._bound) >= MOST_EVENTS:
            self._bound.clear()
        functions = [chunk.on(event) for chunk in self._chunks]
        self._bound[event] = event.toordinal(), joined(functions)
        return self._bound[event]


def compiled(rules: Rules) -> Compiled:
    """Generate the functions of a ruleset; its cost grows with the number of its tests."""
    chunks, slots, constants = chunks_of(rules)
    encoders = tuple(encoder(slot, rules, constants) for slot in slots)
    return Compiled(rules, chunks, encoders, _past_facts(rules, slots))


def _past_facts(rules: Rules, slots: Iterable[Slot]) -> frozenset[str]:
    """The facts with slots that cannot lie after the event."""
    paths: set[str] = set()
    for slot in slots:
        if isinstance(slot, DaySlot):
            paths.add(slot.path)
        elif isinstance(slot, SettledSlot):
            paths.update(named(slot.settled.test))
    kinds = {path: rules.facts[path].type for path in paths}
    return frozenset(path for path, kind in kinds.items() if isinstance(kind, Dated) and kind.past)
