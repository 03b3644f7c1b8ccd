"""The regions of each fact: values on which every test has one and the same answer."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import product
from math import prod

from attrs import define, field

from trackprep.analysis.days import DayPattern, day_pattern
from trackprep.analysis.leaves import Leaf, LeafOf, Settled, answer, number_tests
from trackprep.analysis.regions import Region, choices, joined, regions
from trackprep.analysis.representatives import stretches
from trackprep.analysis.thresholds import NotExactError, Surroundings, steps_of, thresholds
from trackprep.backends.terms import Values
from trackprep.dates import Span
from trackprep.rules.conditions import Between, ChoiceTest, NumberTest, SetTest
from trackprep.rules.model import Dated, Fact, Measured
from trackprep.rules.values import Amount, Value
from trackprep.truth import Truth

__all__ = ["Domain", "Domains", "Leaf", "LeafOf", "Settled", "answer", "domains"]

MOST_COMBINATIONS = 5_000
"""The most regions of several facts that one test is tried on together."""


@define(eq=False)
class Domain:
    """The regions of a fact, and what each of the tests of it alone answers on them.

    The last answer of each is that where the fact is undeclared.
    """

    fact: Fact
    regions: list[Region]
    answers: dict[LeafOf, tuple[Truth, ...]] = field(factory=dict)


@define(eq=False)
class Domains:
    """The regions of all facts for an event on one day.

    Attributes:
        by_path: One for each fact that a test names, but for sets, which have a
            yes or no for each member.
        joint: Tests of several facts, answered for each combination of their regions; after
            the last region of a fact comes that it is undeclared.
        free: Tests of several facts whose answers no finite look-up gives.
        constant: Tests that no declaration changes.
    """

    event: date
    by_path: dict[str, Domain] = field(factory=dict)
    joint: dict[LeafOf, dict[tuple[int, ...], Truth]] = field(factory=dict)
    free: list[LeafOf] = field(factory=list)
    constant: dict[LeafOf, Truth] = field(factory=dict)


def domains(
    facts: Mapping[str, Fact],
    leaves: Iterable[LeafOf],
    event: date,
    unread: Collection[str] = (),
) -> Domains:
    """The regions that the tests make of the facts.

    Args:
        unread: Facts that stay undeclared, so that every test of one is unknown.
    """
    return _Making(facts, event, frozenset(unread)).made(dict.fromkeys(leaves))


class _Making:
    """Domains in the making."""

    def __init__(self, facts: Mapping[str, Fact], event: date, unread: frozenset[str]) -> None:
        self.facts, self.event, self.unread = facts, event, unread
        self.cuts: dict[str, set[Fraction]] = {}
        self.patterns: dict[LeafOf, DayPattern] = {}
        self.out = Domains(event)

    def made(self, leaves: Iterable[LeafOf]) -> Domains:
        single: dict[str, list[LeafOf]] = {}
        joint: list[LeafOf] = []
        for leaf in leaves:
            paths = leaf.open
            if not self.unread.isdisjoint(paths):
                self.out.constant[leaf] = None
                paths = tuple(path for path in paths if path not in self.unread)
            elif not paths:
                self.out.constant[leaf] = answer(leaf, {}, self.event)
            elif isinstance(leaf.test, SetTest):
                continue
            elif not self.cut(leaf, paths):
                self.out.free.append(leaf)
            elif len(paths) == 1:
                single.setdefault(paths[0], []).append(leaf)
            else:
                joint.append(leaf)
            for path in paths:
                single.setdefault(path, [])
        # What decides together is kept apart: each region then stands for one choice.
        free = (p for leaf in self.out.free for p in leaf.open if choices(self.facts[p]))
        together = {*(path for leaf in joint for path in leaf.open), *free}
        for path, leaves in single.items():
            self.out.by_path[path] = self.domain(path, leaves, apart=path in together)
        for leaf in joint:
            self.answer_jointly(leaf)
        return self.out

    # ---- where answers may change ----

    def cut(self, leaf: LeafOf, paths: tuple[str, ...]) -> bool:
        """Whether the places are known at which the test may change its answer; keeps them."""
        moving = [p for p in paths if isinstance(self.facts[p].type, Measured | Dated)]
        given = [p for p in paths if p not in moving]
        if not moving:
            return True
        try:
            stepped = self.stepped(leaf, moving) if len(moving) > 1 else {}
            (alone,) = (path for path in moving if path not in stepped)
            for chosen in self.choices_of(given, stepped):
                self.cut_by(leaf, alone, {**leaf.settled, **chosen}, single=len(paths) == 1)
        except NotExactError:
            return False
        for path, cuts in stepped.items():
            self.cuts.setdefault(path, set()).update(cuts)
        return True

    def stepped(self, leaf: LeafOf, moving: list[str]) -> dict[str, frozenset[Fraction]]:
        """The facts that only choose rows in a test, with where they do; all but one."""
        around = Surroundings(leaf.settled, self.event)
        found: dict[str, frozenset[Fraction]] = {}
        for path in moving:
            if isinstance(self.facts[path].type, Dated):
                continue
            steps = [steps_of(test, path, around) for test in number_tests(leaf.test)]
            known = [cuts for cuts in steps if cuts is not None]
            if len(known) == len(steps):
                found[path] = frozenset(cut for cuts in known for cut in cuts)
        if len(moving) - len(found) > 1:
            raise NotExactError
        if len(found) == len(moving):
            del found[moving[0]]
        return found

    def choices_of(
        self, paths: Sequence[str], stepped: Mapping[str, frozenset[Fraction]]
    ) -> Iterator[dict[str, Value]]:
        """Every combination of the choices of some facts, and of the rows that others choose."""
        options: dict[str, tuple[Value, ...]] = {path: choices(self.facts[path]) for path in paths}
        for path, cuts in stepped.items():
            kind = self.facts[path].type
            assert isinstance(kind, Measured)
            options[path] = tuple(Amount(s.shown[0], kind.unit) for s in stretches(kind, cuts))
        if prod(len(values) for values in options.values()) > MOST_COMBINATIONS:
            raise NotExactError
        for chosen in product(*options.values()):
            yield dict(zip(options, chosen, strict=True))

    def cut_by(self, leaf: LeafOf, path: str, values: Values, *, single: bool) -> None:
        kind = self.facts[path].type
        if isinstance(kind, Dated):
            pattern = day_pattern(leaf.test, path, values, self.event)
            if single:
                self.patterns[leaf] = pattern
            self.cuts.setdefault(path, set()).update(map(Fraction, pattern.boundaries))
            return
        around = Surroundings(values, self.event)
        for test in number_tests(leaf.test):
            self.cuts.setdefault(path, set()).update(thresholds(test, around))

    # ---- regions ----

    def domain(self, path: str, leaves: list[LeafOf], *, apart: bool) -> Domain:
        """The fact's regions, those that no test tells apart taken together unless `apart`."""
        fact = self.facts[path]
        found: dict[object, list[Region]] = {}
        answers: list[tuple[Truth, ...]] = []
        for number, region in enumerate(regions(fact, self.cuts.get(path, ()), self.event)):
            vector = tuple(self.answered(leaf, path, region.values[0]) for leaf in leaves)
            members = found.setdefault((number, vector) if apart else vector, [])
            if not members:
                answers.append(vector)
            members.append(region)
        answers.append(tuple(self.undeclared(leaf) for leaf in leaves))
        return Domain(
            fact,
            [joined(members) for members in found.values()],
            {leaf: tuple(row[place] for row in answers) for place, leaf in enumerate(leaves)},
        )

    def undeclared(self, leaf: LeafOf) -> Truth:
        """What a test of one fact answers where it is undeclared: mostly nothing."""
        if isinstance(leaf.test, NumberTest | Between) and leaf.by_rows:
            return answer(leaf, {}, self.event)
        return None

    def answered(self, leaf: LeafOf, path: str, value: Value) -> Truth:
        match leaf.test:
            case ChoiceTest(_, words, negated):  # most tests are
                return (value in words) is not negated
        pattern = self.patterns.get(leaf)
        if pattern is not None and isinstance(value, Span):
            return pattern.over(value.first.toordinal(), value.last.toordinal())
        return answer(leaf, {path: value}, self.event)

    # ---- tests of several facts ----

    def answer_jointly(self, leaf: LeafOf) -> None:
        paths = leaf.open
        undeclared = (None,) if leaf.by_rows else ()
        options = [
            [*(region.values[0] for region in self.out.by_path[path].regions), *undeclared]
            for path in paths
        ]
        if prod(map(len, options)) > MOST_COMBINATIONS:
            self.out.free.append(leaf)
            return
        table: dict[tuple[int, ...], Truth] = {}
        for places in product(*(range(len(values)) for values in options)):
            chosen = zip(paths, options, places, strict=True)
            values = {path: its[place] for path, its, place in chosen}
            declared = {path: value for path, value in values.items() if value is not None}
            table[places] = answer(leaf, declared, self.event)
        self.out.joint[leaf] = table
