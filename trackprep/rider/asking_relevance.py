"""Whether declaring one more fact can still change what a rule answers.

By Kleene's logic an unsettled rule waits for every undeclared fact of its unknown parts. Some
of these make no difference whatever the others are, as the second one in `a or a and b`. That
is told here, exactly, by trying the regions of a rule's facts, as long as that is little work;
past it, a fact counts as making a difference.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import date
from itertools import chain, combinations
from typing import TypeAlias

from attrs import define

from trackprep.analysis.domains import Domains, answer, domains
from trackprep.analysis.leaves import LeafOf, Settled, leaf_of, leaves
from trackprep.backends.checks import Outcome
from trackprep.backends.connectives import truth_of
from trackprep.backends.statuses import BY_WEIGHT, Status
from trackprep.backends.terms import Values, named
from trackprep.rules.conditions import Between, SetTest, Test
from trackprep.rules.model import Asked, Fact, Rule, Rules
from trackprep.rules.values import Value
from trackprep.truth import Truth

MOST_TRIED = 1_500
"""The most answers of a rule that are worked out for one fact."""
MOST_MEMBERS = 5
"""The most choices of a set that are tried in all combinations."""

Pick: TypeAlias = "int | frozenset[str]"
"""Where among a fact's regions it is declared to be, or which choices of a set it has."""


def can_change(
    rules: Rules,
    outcomes: Iterable[Outcome],
    path: str,
    values: Values,
    unknown: Collection[str],
    event: date,
) -> bool:
    """Whether some value of an undeclared fact may settle a rule that is unsettled.

    `met` and `not-asked` count as one: neither asks anything of the rider.

    Args:
        outcomes: What every rule answers to `values`.
        values: The prepared values.
        unknown: Undeclared facts that stay so, as the rider does not know them.
    """
    settled: dict[str, Value | None] = {**dict.fromkeys(unknown), **values}
    return any(
        outcome.status == "unsettled"
        and path in outcome.declare
        and _can_settle(rule, path, rules.facts, settled, event)
        for rule, outcome in zip(rules.rules, outcomes, strict=True)
    )


def _can_settle(
    rule: Rule, path: str, facts: Mapping[str, Fact], settled: Settled, event: date
) -> bool:
    found = dict.fromkeys(
        leaf
        for asked in rule.asked
        for condition in (asked.demand, asked.when)
        for leaf in leaves(condition, settled)
    )
    never = {leaf for leaf in found if _stays_unknown(leaf)}
    known = [leaf for leaf in found if leaf not in never]
    if any(None in dict(leaf.here).values() for leaf in known):
        return True  # a formula whose row may be known without the fact
    made = domains(facts, known, event)
    sets = _members_of(known)
    if made.free or any(len(words) > MOST_MEMBERS for words in sets.values()):
        return True
    trial = _Trial(rule, settled, made, never)
    options: dict[str, Sequence[Pick]] = {
        **{other: range(len(domain.regions)) for other, domain in made.by_path.items()},
        **{other: _subsets(words) for other, words in sets.items()},
    }
    own = options.pop(path, ())
    return _some_settles(trial.status, path, own, list(options.items()))


def _stays_unknown(leaf: LeafOf) -> bool:
    """Whether the test names a fact that stays undeclared, and is unknown for it."""
    return not leaf.by_rows and any(value is None for _, value in leaf.here)


def _members_of(leaves: Iterable[LeafOf]) -> dict[str, tuple[str, ...]]:
    """The choices that tests of open sets name."""
    words: dict[str, set[str]] = {}
    for leaf in leaves:
        if isinstance(leaf.test, SetTest) and leaf.open:
            words.setdefault(leaf.test.path, set()).update(leaf.test.words)
    return {path: tuple(sorted(its)) for path, its in words.items()}


def _subsets(words: Sequence[str]) -> list[frozenset[str]]:
    sizes = range(len(words) + 1)
    return [frozenset(some) for some in chain.from_iterable(combinations(words, n) for n in sizes)]


Picked: TypeAlias = Mapping[str, Pick]


def _some_settles(
    status: Callable[[Picked], Status],
    path: str,
    own: Sequence[Pick],
    others: list[tuple[str, Sequence[Pick]]],
) -> bool:
    """Whether, with some of the others declared, the fact settles what is not settled yet.

    What is settled once stays so, so nothing is added to it.
    """
    tried = 0
    waiting: list[tuple[dict[str, Pick], int]] = [({}, 0)]
    while waiting:
        picked, start = waiting.pop()
        tried += 1 + len(own)
        if tried > MOST_TRIED:
            return True
        if status(picked) != "unsettled":
            continue
        if any(status({**picked, path: pick}) != "unsettled" for pick in own):
            return True
        for number in range(start, len(others)):
            other, options = others[number]
            waiting += [({**picked, other: pick}, number + 1) for pick in options]
    return False


@define(eq=False)
class _Trial:
    """A rule, tried on regions of its facts."""

    rule: Rule
    settled: Settled
    domains: Domains
    never: Collection[LeafOf]

    def status(self, picked: Picked) -> Status:
        """What the rule answers where facts are declared to lie in these regions."""
        return max((self.of_part(asked, picked) for asked in self.rule.asked), key=BY_WEIGHT.index)

    def of_part(self, asked: Asked, picked: Picked) -> Status:
        def told(test: Test | Between) -> Truth:
            return self.told(leaf_of(test, self.settled), picked)

        applies = truth_of(asked.when, told)
        if applies is False:
            return "not-asked"
        met = truth_of(asked.demand, told)
        if met is True:
            return "met"
        return "not-met" if applies is True and met is False else "unsettled"

    def told(self, leaf: LeafOf, picked: Picked) -> Truth:
        """What a test answers; None where it is not known."""
        if leaf in self.never:
            return None
        if leaf in self.domains.constant:
            return self.domains.constant[leaf]
        if isinstance(leaf.test, SetTest):
            return self.of_set(leaf, picked)
        places = tuple(self.place(path, picked) for path in leaf.open)
        if leaf not in self.domains.joint:
            return self.domains.by_path[leaf.open[0]].answers[leaf][places[0]]
        return self.domains.joint[leaf].get(places)

    def of_set(self, leaf: LeafOf, picked: Picked) -> Truth:
        values: dict[str, Value] = {}
        for path in named(leaf.test):
            pick = picked.get(path)
            if isinstance(pick, frozenset):
                values[path] = pick
        return answer(leaf, values, self.domains.event)

    def place(self, path: str, picked: Picked) -> int:
        """The number of a region; the one past the last is that nothing is declared."""
        pick = picked.get(path)
        return pick if isinstance(pick, int) else len(self.domains.by_path[path].regions)
