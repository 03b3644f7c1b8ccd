"""What is ready at one of two rulesets and not at the other, on every event day."""

from collections.abc import Iterable, Mapping, Sequence

from attrs import define, field

from trackprep.analysis.comparisons import ReadyAtOne, RuleDifference
from trackprep.analysis.sides import Side
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import UNREADABLE, TwoSides, answers
from trackprep.analysis.witnesses import found, possible
from trackprep.backends.checks import Verdict
from trackprep.backends.statuses import Status
from trackprep.rules.model import Rule
from trackprep.rules.values import Value

MOST_QUESTIONS = 400
"""For how many different event days whole rulesets are looked at."""
TOO_MANY_DAYS = "too many event days would have to be looked at one by one"


@define(eq=False)
class Whole:
    """Two rulesets as a whole.

    Attributes:
        suspects: For each ruleset, the required rules that may turn away what the rule of
            the other that is about the same lets through; all other rules never do, so that
            nobody who is ready there is turned away by them.
        alone: Rules that only one of the two has, each with the number of its ruleset.
        restated: Those that ask nothing which the other ruleset does not ask in other rules.
    """

    both: TwoSides
    suspects: tuple[tuple[Rule, ...], tuple[Rule, ...]]
    alone: tuple[tuple[int, Rule], ...] = ()
    lost: ReadyAtOne | None = None
    gained: ReadyAtOne | None = None
    restated: set[tuple[int, str]] = field(factory=set)
    _reasons: dict[int, str] = field(factory=dict, init=False)

    @classmethod
    def of(cls, both: TwoSides, differences: Sequence[RuleDifference]) -> "Whole":
        """Two rulesets whose rules were compared one by one."""
        refusing: tuple[list[Rule], list[Rule]] = ([], [])
        alone: list[tuple[int, Rule]] = []
        for its in differences:
            if its.one is None or its.other is None:
                alone.append((0 if its.other is None else 1, its.rule))
            if its.one is not None and (its.gained or its.undecided):
                refusing[0].append(its.one)
            if its.other is not None and (its.lost or its.undecided):
                refusing[1].append(its.other)
        first, second = (
            tuple(rule for rule in rules if rule.level == "required") for rules in refusing
        )
        return cls(both, (first, second), tuple(alone))

    def look(self) -> None:
        """Asks about every event day."""
        self.restated = {(number, rule.name) for number, rule in self.alone}
        asked = [self.asked(number) for number in (0, 1)]
        for place, event in enumerate(self.both.questions(asked)):
            if self.settled():
                break
            if place == MOST_QUESTIONS:
                self._reasons = {0: TOO_MANY_DAYS, 1: TOO_MANY_DAYS} | self._reasons
                self.restated.clear()
                break
            space = Space(self.both.on(event), asked, self.both.shared)
            self.lost = self.lost or self.tried(space, 0, 1)
            self.gained = self.gained or self.tried(space, 1, 0)
            for number, rule in self.alone:
                if (number, rule.name) in self.restated and not self.restates(space, number, rule):
                    self.restated.discard((number, rule.name))
            space.circuit.close()

    def settled(self) -> bool:
        """Whether no other event day can change what was found."""
        found = (self.gained, self.lost)
        sides = zip(found, self.suspects, strict=True)
        return not self.restated and all(shown or not suspects for shown, suspects in sides)

    def restated_by(self, one: Rule | None, other: Rule | None) -> bool:
        """Whether a rule that only one of the two has asks nothing new of the other."""
        if one is not None and other is not None:
            return False
        rule = other or one
        return rule is not None and (0 if other is None else 1, rule.name) in self.restated

    @property
    def undecided(self) -> tuple[str, ...]:
        """Why it could not be told, each reason once."""
        found = (self.lost, self.gained)
        open_ways = [way for way in (0, 1) if not found[way] and self.suspects[1 - way]]
        reasons = (self._reasons.get(way) for way in open_ways)
        return tuple(dict.fromkeys(reason for reason in reasons if reason))

    def asked(self, number: int) -> list[Rule]:
        """The rules of a ruleset that are asked about."""
        rules = self.both.rulesets[number].rules
        alone = {rule.name for of, rule in self.alone if of == number}
        return [rule for rule in rules if rule.level == "required" or rule.name in alone]

    def tried(self, space: Space, at: int, not_at: int) -> ReadyAtOne | None:
        if not self.suspects[not_at]:
            return None
        try:
            return self.ready_at_one(space, at, not_at)
        except UndecidedError as why:
            self._reasons[at] = why.reason
            return None

    def ready_at_one(self, space: Space, at: int, not_at: int) -> ReadyAtOne | None:
        """A machine that is ready at one and not ready at the other, or else incomplete there."""
        here, there = space.sides[at], space.sides[not_at]
        facts = _asked_facts((here, there))
        readable = tuple(path for path in facts if path not in self.both.clashing)
        says = [space.rule(not_at, rule) for rule in self.suspects[not_at]]
        refused = space.circuit.any_of([its.refuses for its in says])
        not_let = space.circuit.any_of([-its.lets for its in says])
        said: list[tuple[Verdict, tuple[Status, ...]]] = []

        def agrees(values: Mapping[str, Value], wanted: Verdict) -> bool:
            said[:] = [answers(here, values), answers(there, values)]
            return [verdict for verdict, _ in said] == ["ready", wanted]

        goals = [space.ready(at), refused]
        witness = found(space, goals, readable, lambda values: agrees(values, "not-ready"))
        if witness is None:
            if len(readable) < len(facts):
                raise UndecidedError(UNREADABLE)
            goals = [space.ready(at), not_let, -space.refused(not_at)]
            witness = found(
                space, goals, facts, lambda values: agrees(values, "incomplete"), declared=facts
            )
        if witness is None:
            return None
        verdict, statuses = said[1]
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
