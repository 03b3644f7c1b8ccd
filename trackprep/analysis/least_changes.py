"""The least that one rider has to change to be ready at some rulesets' events, exactly.

A change never touches what is unchangeable or the inspector's. Nor is it an escape: a rule
that is not met as declared stays asked, and is met. Only where that cannot be, because another
rule asks for a change of what it hangs on, does it fall away with that change.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import TypeAlias

from trackprep.analysis.changing import Changing
from trackprep.analysis.minimal import conflict, few_given_up, fewest_given_up
from trackprep.analysis.nearest import Does, Further, further, nearest
from trackprep.analysis.replaying import Replay, RuleOf
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.two_sides import UNREADABLE
from trackprep.analysis.witnesses import TOO_MANY, found
from trackprep.frozen import frozen
from trackprep.rules.model import Rules
from trackprep.rules.values import Value

MOST_ROUNDS = 20
"""How often what arithmetic rules out may make the search begin again."""


@frozen(eq=False)
class Change:
    """A fact to change, or to find out where it is not declared or not finely enough.

    Attributes:
        old: What is declared; None: nothing.
        others: What would do as well, of few choices.
        further: Whether more of a number, or less, does as well.
        rules: Those that would not let the rider through if it were not done.
    """

    path: str
    old: Value | None
    new: Value
    others: tuple[Value, ...] = ()
    further: Further = ""
    rules: tuple[RuleOf, ...] = ()


@frozen(eq=False)
class Plan:
    """The least to do.

    Attributes:
        changes: What is declared and has to be otherwise.
        to_find_out: What is not declared, or not finely enough, and what it has to be.
        values: The declaration with all of it done, as the ordinary check finds it ready.
        fallen_away: Rules asked as declared that are no longer asked then.
        exact: Whether it is proved that no fewer changes will do.
    """

    changes: tuple[Change, ...]
    to_find_out: tuple[Change, ...]
    values: Mapping[str, Value]
    fallen_away: tuple[RuleOf, ...] = ()
    exact: bool = True


@frozen(eq=False)
class Obstacle:
    """Why there is no way: rules that cannot all be met as long as these facts stay.

    Attributes:
        facts: Unchangeable ones, and the inspector's; none where the rules contradict each other.
    """

    rules: tuple[RuleOf, ...]
    facts: tuple[str, ...]


@frozen
class Undecided:
    """Why it could not be told."""

    reason: str


Way: TypeAlias = Plan | Obstacle | Undecided


def least_changes(
    rulesets: Sequence[Rules], declared: Sequence[Mapping[str, Value]], event: date
) -> Way:
    """The way to be ready by all the rulesets on one day.

    Args:
        declared: What is declared, as each of the rulesets reads it.
    """
    try:
        return _Search(rulesets, declared, event).way(exact=True)
    except UndecidedError:
        pass
    try:
        return _Search(rulesets, declared, event).way(exact=False)
    except UndecidedError as why:
        return Undecided(why.reason)


class _Search:
    """The search for the least changes of one declaration."""

    def __init__(
        self, rulesets: Sequence[Rules], declared: Sequence[Mapping[str, Value]], event: date
    ) -> None:
        self.rulesets, self.event = rulesets, event
        self.changing = Changing(rulesets, declared, event)
        self.space = self.changing.space
        self.old = self.changing.values
        self.replay = Replay(self.changing)

    def way(self, *, exact: bool) -> Way:
        for _ in range(MOST_ROUNDS):
            assumed = self.least(exact=exact)
            if assumed is None:
                return self.obstacle()
            witness = found(
                self.space, assumed, self.changing.facts, self.replay.ready, declared=list(self.old)
            )
            if witness is not None:
                return self.plan(witness.values, exact=exact)
        raise UndecidedError(TOO_MANY)

    def least(self, *, exact: bool) -> list[int] | None:
        """Literals that leave as much as can be as it is; None where there is no way."""
        minimize = fewest_given_up if exact else few_given_up
        circuit, changing = self.space.circuit, self.changing
        circuit.prefer(changing.kept.values())
        goals = [*changing.fixed, *changing.goals, *changing.only_where_needed()]
        for wishes in (
            [stay.literal for stay in changing.stays if stay.needy],
            changing.changeable(),
            [stay.literal for stay in changing.stays],
            list(changing.kept.values()),
        ):
            granted = minimize(circuit, goals, wishes)
            if granted is None:
                return None
            goals += granted
        return goals

    # ---- what was found ----

    def plan(self, values: Mapping[str, Value], *, exact: bool) -> Plan:
        moved = [path for path, value in values.items() if value != self.old.get(path)]
        does = self.replay.still_does(self.changing.staying(values))
        done = nearest(self.space, values, self.old, moved, does)
        changes: list[Change] = []
        to_find_out: list[Change] = []
        for path in moved:
            change = self.change(path, done, does)
            looked_up = change.old is None or self.changing.is_within(path, change.new)
            (to_find_out if looked_up else changes).append(change)
        return Plan(tuple(changes), tuple(to_find_out), done, tuple(self.fallen_away(done)), exact)

    def change(self, path: str, done: Mapping[str, Value], does: Does) -> Change:
        """A change with the rules that it is for: those that stand in the way without it."""
        old, new = self.old.get(path), done[path]
        undone = {p: value for p, value in done.items() if p != path}
        if old is not None:
            undone[path] = old
        others = tuple(
            value for value in self.changing.alike(path, new)
            if value not in (old, "absent") and does({**done, path: value}, path)
        )  # fmt: skip
        beyond = further(
            new, self.space.facts[path], lambda other: does({**done, path: other}, path)
        )
        return Change(path, old, new, others, beyond, tuple(self.replay.in_the_way(undone, path)))

    def fallen_away(self, done: Mapping[str, Value]) -> Iterator[RuleOf]:
        """The rules asked as declared that are not asked any more."""
        for number, rule, outcome in self.replay.outcomes(done):
            if outcome.status == "not-asked" and self.changing.is_asked(number, rule):
                yield RuleOf(number, rule.name)

    def obstacle(self) -> Obstacle:
        """The smallest reason why there is no way.

        Raises:
            UndecidedError: The rulesets do not even read the same values.
        """
        changing = self.changing
        given = changing.given()
        claims = [*given.values(), *changing.by_rule]
        always = [*changing.left_alone(), *changing.only_where_needed()]
        core = frozenset(conflict(self.space.circuit, claims, always))
        rules = [RuleOf(number, rule.name) for claim, of in changing.by_rule.items()
                 if claim in core for number, rule in of]  # fmt: skip
        facts = tuple(path for path, claim in given.items() if claim in core)
        for number, rule in (of for claim in core for of in changing.by_rule.get(claim, ())):
            if not self.changing.readable(number, rule):
                raise UndecidedError(UNREADABLE)
        return Obstacle(tuple(dict.fromkeys(rules)), facts)
