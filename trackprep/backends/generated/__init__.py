"""The fast back end: a ruleset as generated Python.

    Rules ──lowering──▶ looks at one slot ──predicates──▶ "true", "false" ──functions──▶ Compiled
    values ──Compiled.row──▶ Row ──Compiled.statuses──▶ what each rule answers

The functions are built as `ast` trees from the checked model alone: every name, word and
number in them is made here, and no text of a file becomes source. An undeclared value makes both
"true" and "false" fail, without a look of its own; declarations of which no test can be
unknown have shorter functions.
"""

from datetime import date
from functools import cached_property
from math import nan

from attrs import frozen

from trackprep.backends.days import Values
from trackprep.backends.generated.functions import (
    Program,
    Row,
    Statuses,
    conditions_of,
    program,
)
from trackprep.backends.generated.predicates import constants_of
from trackprep.backends.generated.slots import (
    Constants,
    Encoder,
    Slot,
    encoder,
    paths_of,
)
from trackprep.backends.readings import prepared
from trackprep.backends.terms import named
from trackprep.dates import Span
from trackprep.rules.model import Dated, Rules

__all__ = ["Compiled", "Row", "Statuses", "compiled"]

UNKNOWN = frozenset((None, nan))
"""The codes of what is neither true nor false by itself; NaN is found as the one object."""


@frozen(eq=False)
class Compiled:
    """A ruleset ready to run."""

    rules: Rules
    _constants: Constants
    _places: dict[Slot, int]
    _program: Program
    _encoders: tuple[Encoder, ...]
    _paths: frozenset[str]
    """The facts that any test names."""
    _dates: dict[str, Dated]
    """Those of them that are dates."""

    def row(self, values: Values) -> Row:
        """The row of what is declared, whatever the event; make it once, check it often."""
        known = {**values, **self.rules.here} if self.rules.here else values
        codes = [encode(known) for encode in self._encoders]
        spans = [
            (kind, span)
            for path, kind in self._dates.items()
            if isinstance(span := known.get(path), Span)
        ]
        complete = (
            known.keys() >= self._paths
            and all(span.exact for _, span in spans)
            and UNKNOWN.isdisjoint(codes)
            and not self._program.daily
        )
        program = self._complete_program if complete else self._program
        latest = max((span.last.toordinal() for kind, span in spans if kind.past), default=0)
        parts = tuple(chunk.part(codes) for chunk in program.chunks)
        return Row(known, program, latest, parts)

    def statuses(self, row: Row, event: date) -> Statuses:
        """What every rule answers, in the order of `rules.rules`."""
        program = row.program
        day, function = program.bound.get(event) or program.bind(event)
        if row.latest > day:
            values, _ = prepared(self.rules, row.values, event)
            return self.statuses(self.row(values), event)
        return function(row)

    @cached_property
    def _complete_program(self) -> Program:
        """Shorter functions, for declarations of which no test is unknown."""
        return program(self.rules, self._constants, self._places, unknowns=False)


def compiled(rules: Rules) -> Compiled:
    """Generate the functions of a ruleset; the cost grows with the number of its tests."""
    constants = constants_of(conditions_of(rules.rules))
    places: dict[Slot, int] = {}
    general = program(rules, constants, places, unknowns=True)
    looked_at = (path for slot in places for path in paths_of(slot))
    settled = (path for test in general.daily for path in named(test.test))
    paths = frozenset((*looked_at, *settled))
    kinds = {path: rules.facts[path].type for path in paths}
    return Compiled(
        rules,
        constants,
        places,
        general,
        tuple(encoder(slot, rules, constants) for slot in places),
        paths,
        {path: kind for path, kind in kinds.items() if isinstance(kind, Dated)},
    )
