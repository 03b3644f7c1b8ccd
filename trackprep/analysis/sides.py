"""The rulesets that a question is about, and the facts that all of them can read."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from attrs import define, evolve, field

from trackprep.analysis.leaves import LeafOf, Settled, leaves
from trackprep.backends.readings import prepared
from trackprep.frozen import frozen
from trackprep.rules.model import Choice, Choosing, Dated, Fact, Measured, Rule, Rules, Type
from trackprep.units import Unit


@define(eq=False)
class Side:
    """One ruleset on one event day: its rules, and what the event itself settles.

    Attributes:
        here: By path; None where it settles that a fact stays undeclared.
    """

    rules: Rules
    event: date
    here: Settled
    _open: dict[str, tuple[str, ...]] = field(factory=dict, init=False, repr=False)
    _leaves: dict[str, tuple[LeafOf, ...]] = field(factory=dict, init=False, repr=False)

    @classmethod
    def of(cls, rules: Rules, event: date) -> "Side":
        """The ruleset as it stands on the day."""
        known, future = prepared(rules, {}, event)
        return cls(rules, event, {**known, **dict.fromkeys(future)})

    def on(self, event: date) -> "Side":
        """The same ruleset on another day."""
        moved = Side.of(self.rules, event)
        if moved.here == self.here:
            moved._open, moved._leaves = self._open, self._leaves
        return moved

    def open_facts(self, rule: Rule) -> tuple[str, ...]:
        """The facts that a declaration decides the rule by, each once."""
        if rule.name not in self._open:
            found = (path for leaf in self.leaves([rule]) for path in leaf.open)
            self._open[rule.name] = tuple(dict.fromkeys(found))
        return self._open[rule.name]

    def leaves(self, rules: Iterable[Rule]) -> Iterator[LeafOf]:
        """Every test of some rules."""
        for rule in rules:
            if rule.name not in self._leaves:
                conditions = (part for asked in rule.asked for part in (asked.when, asked.demand))
                found = (leaf for part in conditions for leaf in leaves(part, self.here))
                self._leaves[rule.name] = tuple(dict.fromkeys(found))
            yield from self._leaves[rule.name]


@frozen
class Clash:
    """A fact that two rulesets define so differently that no value can be read by both."""

    path: str
    one: Type
    other: Type


class SharedFacts(NamedTuple):
    """Each fact with the values that all the rulesets which know it can read."""

    facts: dict[str, Fact]
    clashes: tuple[Clash, ...]

    @classmethod
    def of(cls, rulesets: Iterable[Rules]) -> "SharedFacts":
        """The facts of some rulesets."""
        found: dict[str, Fact] = {}
        clashes: dict[str, Clash] = {}
        for rules in rulesets:
            for path, fact in rules.facts.items():
                known = found.setdefault(path, fact)
                if known.type == fact.type or path in clashes:
                    continue
                both = in_both(known.type, fact.type)
                if both is None:
                    clashes[path] = Clash(path, known.type, fact.type)
                else:
                    found[path] = evolve(known, type=both)
        return cls(found, tuple(clashes.values()))


def in_both(one: Type, other: Type) -> Type | None:
    """The type of the values that both can read; None if there are none."""
    match one, other:
        case Choosing(how, choices), Choosing(other_how, _) if how == other_how:
            common = tuple(choice for choice in choices if choice.word in other.words)
            if how == "graded" and not _alike(common, other.words):
                return None
            return Choosing(how, common) if common else None
        case Measured(), Measured() if _same_dimension(one.unit, other.unit):
            if one.whole != other.whole:
                return None
            lows = [low for low in (one.low, other.low) if low is not None]
            highs = [high for high in (one.high, other.high) if high is not None]
            low, high = max(lows, default=None), min(highs, default=None)
            if low is not None and high is not None and low > high:
                return None
            return Measured(one.unit, low, high, one.whole)
        case Dated("date" | "past date"), Dated("date" | "past date"):
            return one if one == other else Dated("past date")
        case _ if one == other:
            return one
        case _:
            return None


def _alike(common: tuple[Choice, ...], order: tuple[str, ...]) -> bool:
    """Whether grades stand in the same order in both."""
    places = [order.index(choice.word) for choice in common]
    return places == sorted(places)


def _same_dimension(one: Unit, other: Unit) -> bool:
    return one.dimension == other.dimension
