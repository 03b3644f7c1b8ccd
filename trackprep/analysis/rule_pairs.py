"""How a rule of one ruleset stands to that of another, on every event day."""

from collections.abc import Callable, Mapping
from datetime import date

from attrs import define

from trackprep.analysis.comparisons import Kind, RuleDifference, Shown
from trackprep.analysis.sides import Side
from trackprep.analysis.solving import YES, UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import UNREADABLE, TwoSides, status
from trackprep.analysis.witnesses import Witness, found
from trackprep.backends.statuses import Status
from trackprep.frozen import frozen
from trackprep.rules.model import Rule
from trackprep.rules.values import Value


def difference(both: TwoSides, one: Rule | None, other: Rule | None) -> RuleDifference:
    """How the second rule stands to the first, either of which may be missing."""
    found_out = _Pair(both, one, other)
    if not found_out.said_alike():
        for event in both.questions(found_out.asked()):
            found_out.look(event)
            if found_out.lost and found_out.gained:
                break
    return RuleDifference(
        found_out.kind(), one, other, found_out.lost, found_out.gained,
        found_out.more or found_out.less, undecided=found_out.undecided,
    )  # fmt: skip


@frozen(eq=False)
class _Answers:
    """What one ruleset's rule answers, as literals; a missing or a weaker rule lets all through."""

    side: Side
    rule: Rule | None
    facts: tuple[str, ...] = ()
    lets: int = YES
    refuses: int = -YES

    @classmethod
    def of(cls, space: Space, number: int, rule: Rule | None, mate: Rule | None) -> "_Answers":
        """A rule's answers; a recommended one refuses nothing beside one that is required."""
        side = space.sides[number]
        if rule is None:
            return cls(side, None)
        facts = side.open_facts(rule)
        if rule.level == "recommended" and mate is not None and mate.level == "required":
            return cls(side, rule, facts)
        literals = space.rule(number, rule)
        return cls(side, rule, facts, literals.lets, literals.refuses)

    def status(self, values: Mapping[str, Value]) -> Status | None:
        """What the ordinary check answers; None where there is no rule."""
        return None if self.rule is None else status(self.side, self.rule, values)

    def let_through(self, values: Mapping[str, Value]) -> bool:
        """Whether the ordinary check lets the values through."""
        return self.lets == YES or self.status(values) in ("met", "not-asked")


@define(eq=False)
class _Pair:
    """A rule of each, and what was found of them so far."""

    both: TwoSides
    one: Rule | None
    other: Rule | None
    lost: Shown | None = None
    gained: Shown | None = None
    more: Shown | None = None
    less: Shown | None = None
    undecided: str = ""

    @property
    def rules(self) -> tuple[Rule | None, Rule | None]:
        return self.one, self.other

    def asked(self) -> list[list[Rule]]:
        """The rules that are there, for each ruleset."""
        return [[rule] if rule else [] for rule in self.rules]

    def said_alike(self) -> bool:
        """Whether both ask the same in the same words, so that there is nothing to find out."""
        if self.one is None or self.other is None or self.one.level != self.other.level:
            return False
        if _asked_in_words(self.one) != _asked_in_words(self.other):
            return False
        first, second = (
            list(side.leaves(rules))
            for side, rules in zip(self.both.first, self.asked(), strict=True)
        )
        facts = {path for leaf in first for path in leaf.open}
        here = [rules.here for rules in self.both.rulesets]
        return (
            first == second
            and self.both.clashing.isdisjoint(facts)
            and all(here[0][path] == here[1][path] for leaf in first for path, _ in leaf.here)
        )

    def look(self, event: date) -> None:
        """Asks about one event day."""
        space = Space(self.both.on(event), self.asked(), self.both.shared)
        one = _Answers.of(space, 0, self.one, self.other)
        other = _Answers.of(space, 1, self.other, self.one)
        if self.other is not None:
            self.lost = self.lost or self.tried(_turned_away, space, one, other)
        if self.one is not None:
            self.gained = self.gained or self.tried(_turned_away, space, other, one)
        if self.one is not None and self.other is not None and not (self.lost or self.gained):
            self.more = self.more or self.tried(_left_open, space, one, other)
            self.less = self.less or self.tried(_left_open, space, other, one)
        space.circuit.close()

    def tried(
        self,
        ask: "Callable[[Space, _Answers, _Answers], Witness | None]",
        space: Space,
        one: _Answers,
        other: _Answers,
    ) -> Shown | None:
        try:
            if not self.both.clashing.isdisjoint((*one.facts, *other.facts)):
                raise UndecidedError(UNREADABLE)
            witness = ask(space, one, other)
        except UndecidedError as why:
            self.undecided = why.reason
            return None
        if witness is None:
            return None
        first, second = sorted((one, other), key=lambda answers: space.sides.index(answers.side))
        said = [answers.status(witness.values) or "" for answers in (first, second)]
        return Shown(witness, *said)

    def kind(self) -> Kind:
        if self.one is None:
            return "added"
        if self.other is None:
            return "withdrawn"
        if self.lost and self.gained:
            return "differs both ways"
        if self.undecided:
            return "undecided"
        if self.lost or self.gained:
            return "stricter" if self.lost else "looser"
        if self.more or self.less:
            if self.more and self.less:
                return "asks otherwise"
            return "asks for more" if self.more else "asks for less"
        return "same" if _prose(self.one) == _prose(self.other) else "reworded"


def _turned_away(space: Space, one: _Answers, other: _Answers) -> Witness | None:
    """What `one` lets through and `other` turns away, or else leaves open."""
    facts = (*one.facts, *other.facts)

    def refused(values: Mapping[str, Value]) -> bool:
        return one.let_through(values) and other.status(values) == "not-met"

    def left_open(values: Mapping[str, Value]) -> bool:
        return one.let_through(values) and other.status(values) == "unsettled"

    witness = found(space, [one.lets, other.refuses], facts, refused)
    if witness is not None:
        return witness
    goals = [one.lets, -other.lets, -other.refuses]
    return found(space, goals, facts, left_open, declared=facts)


def _left_open(space: Space, one: _Answers, other: _Answers) -> Witness | None:
    """What `one` lets through and `other` leaves open, all that `one` asks for declared."""

    def left_open(values: Mapping[str, Value]) -> bool:
        return one.let_through(values) and other.status(values) == "unsettled"

    goals = [one.lets, -other.lets, -other.refuses]
    return found(space, goals, (*one.facts, *other.facts), left_open, declared=one.facts)


def _asked_in_words(rule: Rule) -> object:
    """The conditions of a rule, as they are said."""
    return [(part.when, part.demand) for part in rule.asked]


def _prose(rule: Rule) -> object:
    """All that a rule says beside its conditions."""
    work = [(part.fixes, part.undos) for part in rule.asked]
    return (
        rule.title, rule.level, rule.reason, rule.inspect, rule.cautions, rule.notes, rule.brings,
        str(rule.source or ""), work,
    )  # fmt: skip
