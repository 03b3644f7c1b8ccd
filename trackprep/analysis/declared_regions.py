"""What is declared, as regions of its own: the value itself, and finer days within a coarse date.

So the solver can be asked what has to change, and all else stays as it is declared.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from itertools import product

from attrs import define, field

from trackprep.analysis.clauses import Clauses, FactLiterals
from trackprep.analysis.domains import Domain, Domains, LeafOf, answer
from trackprep.analysis.regions import Region
from trackprep.analysis.representatives import Stretch
from trackprep.dates import Span
from trackprep.rules.model import Dated
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth


@define(eq=False)
class DeclaredRegions:
    """Where, among the regions of each declared fact, its value and its finer days stand."""

    values: Mapping[str, Value]
    kept: dict[str, int] = field(factory=dict)
    finer: dict[str, tuple[int, ...]] = field(factory=dict)

    def add_to(self, domains: Domains) -> None:
        """Gives the declared values regions of their own, behind those that the tests make."""
        for path, domain in domains.by_path.items():
            if path in self.values:
                self._add(path, domain, domains.event)
        for leaf in domains.joint:
            domains.joint[leaf] = _answered(leaf, domains)

    def _add(self, path: str, domain: Domain, event: date) -> None:
        value = self.values[path]
        finer = list(_finer(value, domain))
        self.kept[path] = len(domain.regions)
        first = self.kept[path] + 1
        self.finer[path] = tuple(range(first, first + len(finer)))
        domain.regions += [_region_of(value), *(region for _, region in finer)]
        for leaf, answers in domain.answers.items():
            *told, undeclared = answers
            within = (told[place] for place, _ in finer)
            added = (answer(leaf, {path: value}, event), *within)
            domain.answers[leaf] = (*told, *added, undeclared)

    # ---- as literals ----

    def as_declared(self, fact: FactLiterals, clauses: Clauses) -> int:
        """The literal that a declared fact stays as it is declared."""
        path = fact.fact.path
        if path in self.kept:
            return fact.regions[self.kept[path]]
        words = self.values[path]
        assert isinstance(words, frozenset)
        members = (member if word in words else -member for word, member in fact.members.items())
        return clauses.circuit.all_of((-fact.undeclared, *members))

    def looked_up(self, fact: FactLiterals, clauses: Clauses) -> int:
        """The literal that a coarse date turns out to be some day within it."""
        places = self.finer.get(fact.fact.path, ())
        return clauses.circuit.any_of(fact.regions[place] for place in places)

    def settle(self, clauses: Clauses) -> None:
        """Says of tests of several facts what they answer where all stays as declared.

        So no arithmetic has to be solved about what nobody changes.
        """
        for leaf, both in clauses.free.items():
            if not all(path in self.kept for path in leaf.open):
                continue
            facts = [clauses.facts[path] for path in leaf.open]
            moved = [-self.as_declared(fact, clauses) for fact in facts]
            values = {path: self.values[path] for path in leaf.open}
            truth = answer(leaf, values, clauses.domains.event)
            clauses.circuit.claim((*moved, both.true if truth is True else -both.true))
            clauses.circuit.claim((*moved, both.false if truth is False else -both.false))


def _region_of(value: Value) -> Region:
    match value:
        case Amount(number):
            return Region((value,), (Stretch(number, number, False, False, (number,)),))
        case Span(first, last) if first == last:
            day = Fraction(first.toordinal())
            return Region((value,), (Stretch(day, day, False, False, (day,)),))
        case _:
            return Region((value,))


def _finer(value: Value, domain: Domain) -> Iterator[tuple[int, Region]]:
    """The days of a coarse date, by the region in which they lie; a week cannot be finer."""
    kind = domain.fact.type
    if not isinstance(value, Span) or value.exact or not isinstance(kind, Dated):
        return
    if kind.how == "week code":
        return
    first, last = value.first.toordinal(), value.last.toordinal()
    for place, region in enumerate(domain.regions):
        for stretch in region.stretches:
            low = max(first, int(stretch.low or first))
            high = min(last, int(stretch.high or last))
            if low <= high:
                # Told by the day next to where the answer changes.
                day = high if high < last else low
                number = Fraction(day)
                inside = Stretch(Fraction(low), Fraction(high), False, False, (number,))
                yield place, Region((Span.of_day(date.fromordinal(day)),), (inside,))


def _answered(leaf: LeafOf, domains: Domains) -> dict[tuple[int, ...], Truth]:
    """What a test of several facts answers for each combination of their regions."""
    undeclared = (None,) if leaf.by_rows else ()
    options = [
        [*(region.values[0] for region in domains.by_path[path].regions), *undeclared]
        for path in leaf.open
    ]
    table: dict[tuple[int, ...], Truth] = {}
    for places in product(*(range(len(values)) for values in options)):
        chosen = zip(leaf.open, options, places, strict=True)
        values = {path: its[place] for path, its, place in chosen}
        declared = {path: value for path, value in values.items() if value is not None}
        table[places] = answer(leaf, declared, domains.event)
    return table
