"""What is ready at one of two rulesets and not at the other, on every event day."""

from collections.abc import Iterable, Mapping, Sequence

from attrs import define, field

from trackprep.analysis.comparisons import ReadyAtOne
from trackprep.analysis.sides import Side
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import UNREADABLE, TwoSides, answers
from trackprep.analysis.witnesses import found, possible
from trackprep.rules.model import Rule
from trackprep.rules.values import Value


@define(eq=False)
class Whole:
    """Two rulesets as a whole.

    Attributes:
        alone: Rules that only one of the two has, each with the number of its ruleset.
        restated: Those that ask nothing which the other ruleset does not ask in other rules.
    """

    both: TwoSides
    alone: tuple[tuple[int, Rule], ...] = ()
    lost: ReadyAtOne | None = None
    gained: ReadyAtOne | None = None
    restated: set[tuple[int, str]] = field(factory=set)
    reasons: dict[str, None] = field(factory=dict)

    def look(self) -> None:
        """Asks about every event day."""
        self.restated = {(number, rule.name) for number, rule in self.alone}
        asked = [self.asked(number) for number in (0, 1)]
        sides = zip(self.both.first, asked, strict=True)
        leaves = [leaf for side, rules in sides for leaf in side.leaves(rules)]
        for event in self.both.days.questions(leaves):
            space = Space(self.both.on(event), asked, self.both.shared)
            self.lost = self.lost or self.tried(space, 0, 1)
            self.gained = self.gained or self.tried(space, 1, 0)
            for number, rule in self.alone:
                if (number, rule.name) in self.restated and not self.restates(space, number, rule):
                    self.restated.discard((number, rule.name))
            space.circuit.close()
            if self.lost and self.gained and not self.restated:
                break

    def restated_by(self, one: Rule | None, other: Rule | None) -> bool:
        """Whether a rule that only one of the two has asks nothing new of the other."""
        if one is not None and other is not None:
            return False
        rule = other or one
        return rule is not None and (0 if other is None else 1, rule.name) in self.restated

    @property
    def undecided(self) -> tuple[str, ...]:
        """Why it could not be told, each reason once."""
        return tuple(self.reasons)

    def asked(self, number: int) -> list[Rule]:
        """The rules of a ruleset that are asked about."""
        rules = self.both.rulesets[number].rules
        alone = {rule.name for of, rule in self.alone if of == number}
        return [rule for rule in rules if rule.level == "required" or rule.name in alone]

    def tried(self, space: Space, at: int, not_at: int) -> ReadyAtOne | None:
        try:
            return self.ready_at_one(space, at, not_at)
        except UndecidedError as why:
            self.reasons[why.reason] = None
            return None

    def ready_at_one(self, space: Space, at: int, not_at: int) -> ReadyAtOne | None:
        """A machine that is ready at one and not ready at the other, or else incomplete there."""
        here, there = space.sides[at], space.sides[not_at]
        facts = _asked_facts((here, there))
        readable = tuple(path for path in facts if path not in self.both.clashing)

        def agrees(values: Mapping[str, Value], wanted: str) -> bool:
            return answers(here, values)[0] == "ready" and answers(there, values)[0] == wanted

        goals = [space.ready(at), space.refused(not_at)]
        witness = found(space, goals, readable, lambda values: agrees(values, "not-ready"))
        if witness is None:
            if len(readable) < len(facts):
                raise UndecidedError(UNREADABLE)
            goals = [space.ready(at), -space.ready(not_at), -space.refused(not_at)]
            witness = found(
                space, goals, facts, lambda values: agrees(values, "incomplete"), declared=facts
            )
        if witness is None:
            return None
        verdict, statuses = answers(there, witness.values)
        wanted = "not-met" if verdict == "not-ready" else "unsettled"
        names = (
            rule.name
            for rule, status in zip(there.rules.rules, statuses, strict=True)
            if status == wanted and rule.level == "required"
        )
        return ReadyAtOne(witness, verdict, tuple(names))

    def restates(self, space: Space, number: int, rule: Rule) -> bool:
        """Whether the other ruleset's rules leave nothing for a rule to turn away."""
        side, other = space.sides[number], space.sides[1 - number]
        facts = side.open_facts(rule)
        if not self.both.clashing.isdisjoint((*facts, *_asked_facts([other]))):
            return False
        goals = [space.ready(1 - number), -space.rule(number, rule).lets]
        try:
            return not possible(space, [*goals, *space.complete(facts)])
        except UndecidedError:
            return False


def _asked_facts(sides: Sequence[Side]) -> tuple[str, ...]:
    """What the required rules ask for."""
    return tuple(dict.fromkeys(path for side in sides for path in _required(side)))


def _required(side: Side) -> Iterable[str]:
    rules = (rule for rule in side.rules.rules if rule.level == "required")
    return (path for rule in rules for path in side.open_facts(rule))
