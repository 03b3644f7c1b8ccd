"""Which rules of two rulesets are about the same."""

from trackprep.explanations.mentions import facts_in
from trackprep.rules.model import Rule, Rules


def pairs(one: Rules, other: Rules) -> list[tuple[Rule | None, Rule | None]]:
    """The rules of both, those together that are about the same: by name, then by their facts."""
    by_name = {rule.name: rule for rule in one.rules}
    taken = {rule.name for rule in other.rules if rule.name in by_name}
    left = [rule for rule in one.rules if rule.name not in taken]
    found: list[tuple[Rule | None, Rule | None]] = []
    for rule in other.rules:
        mate = by_name.get(rule.name)
        if mate is None:
            alike = [r for r in left if _subject(r) == _subject(rule) and _subject(rule)]
            mate = alike[0] if len(alike) == 1 else None
            if mate is not None:
                left.remove(mate)
        found.append((mate, rule))
    return [*found, *((rule, None) for rule in left)]


def _subject(rule: Rule) -> frozenset[str]:
    """The facts that a rule demands something of."""
    return frozenset(path for asked in rule.asked for path in facts_in(asked.demand))
