"""What the rules of one ruleset do together: contradict each other, or say a thing twice."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from attrs import define, field

from trackprep.analysis.one_side import OneSide
from trackprep.analysis.sides import Side
from trackprep.analysis.solving import YES, UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.witnesses import possible
from trackprep.explanations.mentions import facts_in
from trackprep.rules.model import Rule

Pair = tuple[Rule, Rule]

# ---- is each rule needed? -----------------------------------------------------


@define(eq=False)
class Needs:
    """Which rules turn somebody away whom all the others let through.

    Attributes:
        never_ready: Rules that cannot all let a declaration through, if nothing is ever ready.
        implied: Rules that are not needed, each with others that ask it already.
        undecided: Rules of which it could not be told, each with the reason.
    """

    never_ready: tuple[str, ...] = ()
    implied: dict[str, tuple[str, ...]] = field(factory=dict)
    undecided: dict[str, str] = field(factory=dict)

    @classmethod
    def of(cls, asking: OneSide, failing: Sequence[Rule]) -> "Needs":
        """Of the rules that can fail, which the others make needless on every event day."""
        required = asking.required
        needs = cls()
        open_rules = [rule for rule in failing if rule.level == "required"]
        ready = not required
        for space in asking.spaces(required):
            looking = _Looking(space, required)
            ready = ready or looking.ready()
            if not ready:
                needs.never_ready = needs.never_ready or looking.guilty()
            else:
                needs.never_ready = ()
            open_rules = [rule for rule in open_rules if not looking.needed(rule, needs)]
            space.circuit.close()
            if ready and not open_rules:
                break
        if needs.never_ready:
            needs.implied.clear()
        return needs


class _Looking:
    """All required rules on one event day."""

    def __init__(self, space: Space, required: Sequence[Rule]) -> None:
        self.space, self.required = space, required
        (self.side,) = space.sides
        self.lets = {rule.name: space.rule(0, rule).lets for rule in required}

    def ready(self) -> bool:
        """Whether anything can be ready; if not, the solver knows the guilty."""
        try:
            return possible(self.space, list(self.lets.values()))
        except UndecidedError:
            return True  # nothing is said of it

    def guilty(self) -> tuple[str, ...]:
        """Rules that cannot all let a declaration through."""
        return self.few(list(self.lets), [])

    def needed(self, rule: Rule, needs: Needs) -> bool:
        """Whether a rule turns somebody away whom all the others let through."""
        others = [other for other in self.lets if other != rule.name]
        fixed = [-self.lets[rule.name], *self.space.complete(self.side.open_facts(rule))]
        try:
            if possible(self.space, [*fixed, *(self.lets[other] for other in others)]):
                needs.implied.pop(rule.name, None)
                needs.undecided.pop(rule.name, None)
                return True
            if rule.name not in needs.implied:
                needs.implied[rule.name] = self.few(others, fixed)
        except UndecidedError as why:
            needs.undecided[rule.name] = why.reason
        return False

    def few(self, names: Sequence[str], fixed: list[int]) -> tuple[str, ...]:
        """Of the rules that cannot all let through what is fixed, a few that cannot either."""
        for name in names:
            if self.lets[name] == -YES:
                return (name,)
        if self.space.circuit.possible(*fixed, *(self.lets[name] for name in names)):
            return tuple(names)  # impossible only by arithmetic
        guilty = self.space.circuit.guilty()
        left = [name for name in names if self.lets[name] in guilty]
        for name in list(left):
            without = [other for other in left if other != name]
            if not self.space.circuit.possible(*fixed, *(self.lets[other] for other in without)):
                left = without
        return tuple(left)


# ---- can two rules both be met? -----------------------------------------------


@define(eq=False)
class Together:
    """Which two rules that can both be asked can never both be met.

    Attributes:
        never: Those.
        undecided: Those of which it could not be told, each with the reason.
    """

    never: list[Pair] = field(factory=list)
    undecided: dict[Pair, str] = field(factory=dict)

    @classmethod
    def of(cls, asking: OneSide, rules: Sequence[Rule]) -> "Together":
        """Of rules that can each be met, on every event day."""
        found = cls()
        pairs = [pair for pair in combinations(rules, 2) if _may_clash(asking.first, *pair)]
        hard = {rule.name for rule in rules if _hard(asking, rule)}
        easy = [pair for pair in pairs if hard.isdisjoint((pair[0].name, pair[1].name))]
        for pair in _never_met(asking, rules, easy):
            found.look(asking, pair)
        for pair in pairs:
            if pair not in easy:
                found.look(asking, pair)
        return found

    def look(self, asking: OneSide, pair: Pair) -> None:
        """Asks about two rules alone, on every event day."""
        one, other = pair
        asked = False
        try:
            for space in asking.spaces(pair):
                says = [space.rule(0, rule) for rule in pair]
                both = [said.asked for said in says]
                asked = asked or possible(space, both)
                found = asked and possible(space, [*both, *(said.lets for said in says)])
                space.circuit.close()
                if found:
                    return
        except UndecidedError as why:
            self.undecided[one, other] = why.reason
            return
        if asked:
            self.never.append(pair)


def _may_clash(side: Side, one: Rule, other: Rule) -> bool:
    """Whether one of two rules has a say in facts that the other is about."""
    its, others = side.open_facts(one), side.open_facts(other)
    if set(its).isdisjoint(others):
        return False
    if len(one.asked) > 1 or len(other.asked) > 1:
        return True
    # Each asks something of facts that stand nowhere else, and so can be met by itself.
    return not (_apart(side, one, others) and _apart(side, other, its))


def _apart(side: Side, rule: Rule, others: Sequence[str]) -> bool:
    """Whether what a rule demands is of facts that stand neither in its `when` nor elsewhere."""
    (part,) = rule.asked
    demanded = {path for path in facts_in(part.demand) if path not in side.here}
    return demanded.isdisjoint(facts_in(part.when)) and demanded.isdisjoint(others)


def _hard(asking: OneSide, rule: Rule) -> bool:
    """Whether it hangs on tests of several facts that no look-up answers."""
    space = asking.space([rule], asking.first.event)
    free = bool(space.clauses.domains.free)
    space.circuit.close()
    return free


def _never_met(asking: OneSide, rules: Sequence[Rule], pairs: Sequence[Pair]) -> Iterator[Pair]:
    """The pairs that may never be met: not on the first day, where many are tried at once."""
    space = asking.space(rules, asking.first.event)
    circuit = space.circuit
    says = {rule.name: space.rule(0, rule) for rule in rules}
    circuit.prefer(-fact.undeclared for fact in space.clauses.facts.values())
    circuit.prefer(says[rule.name].lets for rule in rules)
    met: dict[str, int] = dict.fromkeys(says, 0)  # in which of the ways found, bit by bit
    apart: set[tuple[int, int]] = set()
    ways = 0
    for one, other in pairs:
        if met[one.name] & met[other.name]:
            continue
        first, second = says[one.name], says[other.name]
        asked = (first.asked, second.asked)
        if asked not in apart and circuit.possible(*asked, first.lets, second.lets):
            for name, said in says.items():
                if circuit.true(said.asked) and circuit.true(said.lets):
                    met[name] |= 1 << ways
            ways += 1
        elif asked in apart or not circuit.possible(*asked):
            apart.add(asked)
            if not asking.one_question([one, other]):
                yield one, other
        else:
            yield one, other
    circuit.close()
