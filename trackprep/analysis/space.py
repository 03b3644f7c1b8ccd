"""Every declaration for one event day, as far as some rulesets can tell them apart."""

from collections.abc import Iterable, Sequence
from datetime import date

from trackprep.analysis.clauses import Clauses, RuleLiterals
from trackprep.analysis.declared_regions import DeclaredRegions
from trackprep.analysis.domains import domains
from trackprep.analysis.sides import SharedFacts, Side
from trackprep.analysis.solving import Circuit
from trackprep.rules.model import Rule


class Space:
    """The declarations that can be read by one or more rulesets, and what these answer.

    Args:
        asked: For each ruleset the rules that will be asked about; all of them unless given.
        shared: The facts of all the rulesets, where they are known already.
        declared: Values that get regions of their own, for questions about one declaration.
    """

    def __init__(
        self,
        sides: Sequence[Side],
        asked: Sequence[Iterable[Rule]] | None = None,
        shared: SharedFacts | None = None,
        declared: DeclaredRegions | None = None,
    ) -> None:
        self.sides = tuple(sides)
        self.event: date = sides[0].event
        self.facts, self.clashes = shared or SharedFacts.of([side.rules for side in sides])
        rules = asked if asked is not None else [side.rules.rules for side in sides]
        tests = [
            leaf for side, some in zip(sides, rules, strict=True) for leaf in side.leaves(some)
        ]
        unread = frozenset(clash.path for clash in self.clashes)
        found = domains(self.facts, tests, self.event, unread)
        if declared is not None:
            declared.add_to(found)
        self.clauses = Clauses(self.facts, found)
        self._literals: dict[tuple[int, str], RuleLiterals] = {}

    @property
    def circuit(self) -> Circuit:
        """Where questions are put."""
        return self.clauses.circuit

    def rule(self, number: int, rule: Rule) -> RuleLiterals:
        """What a rule of the ruleset with that number answers."""
        key = (number, rule.name)
        if key not in self._literals:
            self._literals[key] = self.clauses.rule(rule, self.sides[number].here)
        return self._literals[key]

    def ready(self, number: int) -> int:
        """The literal that every required rule of a ruleset lets a complete declaration through."""
        rules = self.sides[number].rules.rules
        return self.circuit.all_of(
            self.rule(number, rule).lets for rule in rules if rule.level == "required"
        )

    def refused(self, number: int) -> int:
        """The literal that some required rule of a ruleset is not met."""
        rules = self.sides[number].rules.rules
        return self.circuit.any_of(
            self.rule(number, rule).refuses for rule in rules if rule.level == "required"
        )

    def complete(self, paths: Iterable[str]) -> list[int]:
        """Literals that say that the facts are declared."""
        return self.clauses.declared(paths)
