"""Tests of several facts' arithmetic, decided by an SMT solver where one is installed.

The regions of the facts and the answers of the tests come from the SAT solver; here they
are put together with what the tests say. Either there are numbers that fit, or some of the
regions and answers never go together, which the SAT solver is then told.
"""

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction
from math import ceil
from typing import Any

from trackprep.analysis.clauses import FactLiterals
from trackprep.analysis.leaves import LeafOf
from trackprep.analysis.regions import Region
from trackprep.analysis.representatives import Stretch, rounded_into
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.spoken import NOT_SPOKEN, Numbers, Spoken
from trackprep.dates import Span
from trackprep.frozen import frozen
from trackprep.rules.model import Dated, Measured
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth

MOST_WORK = 5_000_000
"""What one question may cost the solver, in units of its own that are the same everywhere."""
NOT_INSTALLED = "it hangs on arithmetic of several facts, which takes the `solver` extra"
TOO_HARD = "its arithmetic of several facts would take more work than is allowed"


@frozen
class Impossible:
    """Literals that are never all true."""

    literals: tuple[int, ...]


def settled(
    facts: Mapping[str, FactLiterals],
    regions: Mapping[str, tuple[int, Region]],
    free: Mapping[LeafOf, tuple[tuple[int, ...], Truth]],
    event: date,
    *,
    shown: bool = True,
) -> "dict[str, Value] | Impossible":
    """Values in the regions for which the tests answer so, or which of it is impossible.

    Args:
        regions: The region of each fact, with its literal.
        free: The answer of each test of several facts, with the literals that say so.
        shown: Whether somebody will read the values; where nobody does, there are none.

    Raises:
        UndecidedError: It cannot be told.
    """
    try:
        import z3  # an extra: most rulesets need none
    except ImportError:
        raise UndecidedError(NOT_INSTALLED) from None
    return _Settling(z3, facts, regions, free, event).settled(shown)


class _Settling:
    """One question to the SMT solver."""

    def __init__(
        self,
        z3: Any,
        facts: Mapping[str, FactLiterals],
        regions: Mapping[str, tuple[int, Region]],
        free: Mapping[LeafOf, tuple[tuple[int, ...], Truth]],
        event: date,
    ) -> None:
        self.z3, self.regions, self.free = z3, regions, free
        self.facts = {path: facts[path].fact for path in regions}
        self.numbers = Numbers(z3, self.facts, regions, event)
        self.solver = z3.Solver()
        self.solver.set("rlimit", MOST_WORK)
        self.claims: dict[str, int] = {}

    def settled(self, shown: bool) -> "dict[str, Value] | Impossible":
        for literal, _ in self.regions.values():
            self.claims[f"a{literal}"] = literal
        for path, (literal, region) in self.regions.items():
            if region.stretches:
                self.claim((literal,), self.lies_in(self.numbers.number(path), region.stretches))
        for leaf, (literals, truth) in self.free.items():
            spoken = Spoken(self.numbers, leaf)
            said = spoken.answered(truth)
            self.claim((*literals, *spoken.hinges), said)
        assumed = [self.z3.Bool(name) for name in self.claims]
        answer = self.solver.check(*assumed)
        if answer == self.z3.unsat:
            core = [self.claims[str(name)] for name in self.solver.unsat_core()]
            return Impossible(tuple(core))
        if answer != self.z3.sat:
            raise UndecidedError(TOO_HARD)
        self.solver.add(*assumed)
        return self.values() if shown else {}

    def claim(self, literals: Iterable[int], what: Any) -> None:
        """What holds where the literals are true."""
        names = []
        for literal in literals:
            names.append(self.z3.Bool(f"a{literal}"))
            self.claims[f"a{literal}"] = literal
        self.solver.add(self.z3.Implies(self.z3.And(*names), what))

    def lies_in(self, variable: Any, stretches: Iterable[Stretch]) -> Any:
        parts = []
        for stretch in stretches:
            ends = []
            if stretch.low is not None:
                low = self.numbers.constant(stretch.low)
                ends.append(variable > low if stretch.low_open else variable >= low)
            if stretch.high is not None:
                high = self.numbers.constant(stretch.high)
                ends.append(variable < high if stretch.high_open else variable <= high)
            parts.append(self.z3.And(*ends))
        return self.z3.Or(*parts)

    # ---- values that people would write ----

    def values(self) -> dict[str, Value]:
        found: dict[str, Value] = {}
        for path, (_, region) in self.regions.items():
            if not region.stretches:
                found[path] = region.values[0]
                continue
            number = self.readable(path, region)
            kind = self.facts[path].type
            if isinstance(kind, Dated):
                found[path] = Span.of_day(date.fromordinal(ceil(number)))
            else:
                assert isinstance(kind, Measured)
                found[path] = Amount(number, kind.unit)
        return found

    def readable(self, path: str, region: Region) -> Fraction:
        """A number of the region that goes with all that is fixed so far, then fixed too."""
        variable, kind = self.numbers.number(path), self.facts[path].type
        shown = [number for stretch in region.stretches for number in stretch.shown]
        worth = self.worth(variable)
        if isinstance(kind, Measured) and worth is not None:
            shown.extend(rounded_into(worth, kind))
        if worth is not None:
            shown.append(worth)
        for number in shown:
            fits = variable == self.numbers.constant(number)
            if self.solver.check(fits) == self.z3.sat:
                self.solver.add(fits)
                return number
        raise UndecidedError(NOT_SPOKEN)

    def worth(self, variable: Any) -> Fraction | None:
        """What the solver takes a variable to be; None where that is not rational."""
        if self.solver.check() != self.z3.sat:
            raise UndecidedError(TOO_HARD)
        value = self.solver.model().eval(variable, model_completion=True)
        if self.z3.is_int_value(value):
            return Fraction(value.as_long())
        return Fraction(value.as_fraction()) if self.z3.is_rational_value(value) else None
