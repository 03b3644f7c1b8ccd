"""The order in which riders are asked: what decides most first, then part by part."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import define, field

from trackprep.explanations.mentions import facts_in
from trackprep.frozen import frozen
from trackprep.rules.conditions import All, AnyOf, AtLeast, ByRows, Condition, Meaning, Not
from trackprep.rules.model import Fact, Rules

FIRST = "First, what decides which rules apply"
"""The heading over what reaches beyond its own part of the machine."""
ELSEWHERE = "Other"
"""The heading over facts that no section of a vocabulary has."""


@frozen
class Asked:
    """A fact that some rule may ask for, and the heading it is asked under."""

    fact: Fact
    heading: str


def in_order(rulesets: Sequence[Rules]) -> tuple[Asked, ...]:
    """All facts of the rulesets that riders can be asked for, in the order to ask.

    A fact is *decisive* for those that some rule only asks for where it has a certain value.
    One that is decisive for other parts than its own is asked first, the more rules hang on
    it the earlier; any other is asked directly before what it is decisive for.
    """
    facts = _facts(rulesets)
    decisions = _decisions(rulesets, facts)
    place = {path: number for number, path in enumerate(facts)}
    far = [path for path, decision in decisions.items() if decision.reaches_beyond(facts)]
    far.sort(key=lambda path: (-decisions[path].rules, place[path]))
    hanging: dict[str, list[str]] = {}
    for path, decision in decisions.items():
        for decided in decision.facts:
            hanging.setdefault(decided, []).append(path)
    parts = dict.fromkeys(fact.section for fact in facts.values())
    by_part = [path for part in parts for path, fact in facts.items() if fact.section == part]
    first = dict.fromkeys(far)
    order = [*far, *_decisive_first(by_part, hanging, place, first)]
    return tuple(
        Asked(facts[path], FIRST if path in first else facts[path].section or ELSEWHERE)
        for path in order
    )


def _facts(rulesets: Iterable[Rules]) -> dict[str, Fact]:
    """What riders can be asked for, as the first ruleset that knows it says it."""
    facts: dict[str, Fact] = {}
    for rules in rulesets:
        for path, fact in rules.facts.items():
            if not fact.for_the_inspector:
                facts.setdefault(path, fact)
    return facts


@define
class _Decision:
    """How much hangs on a fact."""

    path: str
    rules: int = 0
    facts: dict[str, None] = field(factory=dict)

    def reaches_beyond(self, facts: Mapping[str, Fact]) -> bool:
        """Whether it is decisive for facts of other parts than its own."""
        own = facts[self.path].section
        return any(facts[path].section != own for path in self.facts)


def _decisions(rulesets: Iterable[Rules], facts: Mapping[str, Fact]) -> dict[str, _Decision]:
    """The facts that are decisive for others, with those."""
    found: dict[str, _Decision] = {}
    for rules in rulesets:
        for rule in rules.rules:
            decided: dict[str, dict[str, None]] = {}
            for asked in rule.asked:
                demanded = facts_in(asked.demand)
                for path in (*facts_in(asked.when), *_choosing_rows(asked.demand)):
                    decided.setdefault(path, {}).update(dict.fromkeys(demanded))
            for path, others in decided.items():
                if path in facts:
                    decision = found.setdefault(path, _Decision(path))
                    decision.rules += 1
                    decision.facts |= {o: None for o in others if o in facts and o != path}
    return found


def _choosing_rows(condition: Condition) -> Iterator[str]:
    """The facts that choose the row of a limit."""
    match condition:
        case Not(inner) | Meaning(_, inner):
            yield from _choosing_rows(inner)
        case All(parts) | AnyOf(parts) | AtLeast(_, parts):
            for part in parts:
                yield from _choosing_rows(part)
        case ByRows(_, rows):
            for row in rows:
                if row.condition is not None:
                    yield from facts_in(row.condition)
        case _:
            return


def _decisive_first(
    paths: Iterable[str],
    hanging: Mapping[str, Sequence[str]],
    place: Mapping[str, int],
    done: Iterable[str],
) -> Iterator[str]:
    """The paths, each once and after those that are decisive for it, where they are no circle."""
    seen = set(done)
    for path in paths:
        waiting = [(path, False)]
        while waiting:  # no recursion: rule files are not ours
            one, others_done = waiting.pop()
            if others_done:
                yield one
            elif one not in seen:
                seen.add(one)
                waiting.append((one, True))
                before = sorted(hanging.get(one, ()), key=place.__getitem__, reverse=True)
                waiting += [(other, False) for other in before]
