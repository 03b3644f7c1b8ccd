"""For each rule not met the least that meets it, and the least for the whole verdict.

A rule on its own is asked of the same engine as a whole ruleset (`least_changes`): the ruleset
with this rule alone, as if it were required. What it finds is put through the ordinary check
of the whole ruleset, which also tells what would be against it then.
"""

from collections.abc import Mapping
from datetime import date
from typing import TypeAlias

from attrs import evolve

from trackprep.analysis.least_changes import Plan, Undecided, Way, least_changes
from trackprep.analysis.replaying import RuleOf
from trackprep.backends.checks import Outcome, outcomes, prepared, waits_for_inspector
from trackprep.frozen import frozen
from trackprep.rules.model import Rule, Rules
from trackprep.rules.values import Value

NOT_CONFIRMED = "the ordinary check does not confirm what was found"

Values: TypeAlias = Mapping[str, Value]


@frozen(eq=False)
class RuleWay:
    """What would do for one rule that is not met, whatever the others ask.

    Attributes:
        against: Rules that are not met then, and are not against the rider as declared.
    """

    rule: Rule
    way: Way
    against: tuple[Rule, ...] = ()


@frozen(eq=False)
class WouldDo:
    """What would do.

    Attributes:
        by_rule: For each rule not met, required or recommended, in report order.
        whole: The way to be ready to present.
    """

    rules: Rules
    event: date
    by_rule: tuple[RuleWay, ...]
    whole: Way


def would_do(rules: Rules, declared: Values, event: date) -> WouldDo:
    """What would do for a declaration, for an event on a day."""
    return _Asking(rules, declared, event).would_do()


class _Asking:
    """One declaration, asked about rule by rule."""

    def __init__(self, rules: Rules, declared: Values, event: date) -> None:
        self.rules, self.declared, self.event = rules, declared, event
        self.before = self.outcomes(declared)

    def would_do(self) -> WouldDo:
        """What would do for each rule not met, and for the whole."""
        whole = least_changes([self.rules], [self.declared], self.event)
        by_rule = (
            self.rule_way(rule, whole)
            for rule, said in zip(self.rules.rules, self.before, strict=True)
            if said.status == "not-met"
        )
        return WouldDo(self.rules, self.event, tuple(by_rule), whole)

    def rule_way(self, rule: Rule, whole: Way) -> RuleWay:
        """The least for one rule; where the whole takes another way that is as short, that."""
        alone = evolve(self.rules, rules=(evolve(rule, level="required"),))
        way = least_changes([alone], [self.declared], self.event)
        if not isinstance(way, Plan):
            return RuleWay(rule, way)
        if isinstance(whole, Plan) and (shared := self.as_in(whole, rule, way)) is not None:
            way = shared
        after = self.outcomes({**self.declared, **way.values})
        # It is not asked any more only where nothing else would do, and the way says so.
        if not (self.lets(rule, after) or way.fallen_away):
            return RuleWay(rule, Undecided(NOT_CONFIRMED))
        against = tuple(
            other
            for other, old, new in zip(self.rules.rules, self.before, after, strict=True)
            if new.status == "not-met" != old.status
        )
        return RuleWay(rule, way, against)

    def as_in(self, whole: Plan, rule: Rule, way: Plan) -> Plan | None:
        """The part of the whole that is for a rule, if it changes other facts, and no more."""
        mine = RuleOf(0, rule.name)
        changes, to_find_out = (
            tuple(evolve(one, rules=(mine,)) for one in several if mine in one.rules)
            for several in (whole.changes, whole.to_find_out)
        )
        if {one.path for one in changes} == {one.path for one in way.changes} or (
            len(changes) > len(way.changes) or len(to_find_out) > len(way.to_find_out)
        ):
            return None
        done = {**self.declared, **{one.path: one.new for one in (*changes, *to_find_out)}}
        if not self.lets(rule, self.outcomes(done)):
            return None
        return Plan(changes, to_find_out, done, (), way.exact)

    def lets(self, rule: Rule, after: tuple[Outcome, ...]) -> bool:
        """Whether a rule is met, or waits for the inspector alone."""
        said = after[self.rules.rules.index(rule)]
        waits = said.status == "unsettled" and waits_for_inspector(self.rules, said)
        return said.status == "met" or waits

    def outcomes(self, values: Values) -> tuple[Outcome, ...]:
        """What the ordinary check answers."""
        return outcomes(self.rules, prepared(self.rules, values, self.event)[0], self.event)
