"""What somebody must meet to be ready at all of some events, or why nobody can."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import TypeAlias

from trackprep.analysis.least_changes import Undecided
from trackprep.analysis.minimal import conflict
from trackprep.analysis.replaying import RuleOf
from trackprep.analysis.sides import Side
from trackprep.analysis.solving import YES, UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.two_sides import UNREADABLE, answers
from trackprep.analysis.witnesses import Witness, found
from trackprep.frozen import frozen
from trackprep.rules.model import Rule
from trackprep.rules.values import Value


@frozen(eq=False)
class CommonRule:
    """A rule that matters, and all the rulesets that ask just this.

    Attributes:
        ruleset: The number of the one whose words are shown.
    """

    rule: Rule
    ruleset: int
    asked_by: tuple[RuleOf, ...]


@frozen(eq=False)
class ReadyAtAll:
    """What is ready by all rulesets.

    Attributes:
        witness: One that is, with what riders declare in it; the inspector's word is open.
        rules: Those that have to be met; each asks something that the others do not.
        implied: How many more are met with them, each counted once.
    """

    witness: Witness
    rules: tuple[CommonRule, ...]
    implied: int


@frozen(eq=False)
class NobodyReady:
    """Rules of which each is needed for nobody to be ready by all rulesets.

    Attributes:
        rules: Each with all the rulesets that ask just this.
        facts: What they quarrel about.
        event: The day for which it is shown; on the others of the period nobody is ready either.
    """

    rules: tuple[CommonRule, ...]
    facts: tuple[str, ...]
    event: date


CommonSet: TypeAlias = ReadyAtAll | NobodyReady | Undecided


def common_set(spaces: Sequence[Space]) -> CommonSet:
    """What all rulesets ask together; one space for each question that the event days make."""
    try:
        witness = next(filter(None, map(_ready_at_all, spaces)), None)
        if witness is None:
            return _nobody(spaces[0])
        return _what_matters(spaces, witness)
    except UndecidedError as why:
        return Undecided(why.reason)


def _ready_at_all(space: Space) -> Witness | None:
    """A machine, rider and gear that are ready by all rulesets."""

    def ready(values: Mapping[str, Value]) -> bool:
        return all(answers(side, _read_by(side, values))[0] == "ready" for side in space.sides)

    goals = [space.ready(number) for number in range(len(space.sides))]
    facts = dict.fromkeys(path for _, _, paths in _required(space) for path in paths)
    witness = found(space, goals, facts, ready)
    if witness is None:
        return None
    declared = {
        path: value for path, value in witness.values.items()
        if not space.facts[path].for_the_inspector
    }  # fmt: skip
    return Witness(declared, witness.event) if ready(declared) else witness


def _read_by(side: Side, values: Mapping[str, Value]) -> dict[str, Value]:
    return {path: value for path, value in values.items() if path in side.rules.facts}


def _required(space: Space) -> Iterator[tuple[int, Rule, tuple[str, ...]]]:
    for number, side in enumerate(space.sides):
        for rule in side.rules.rules:
            if rule.level == "required":
                yield number, rule, side.open_facts(rule)


def _what_matters(spaces: Sequence[Space], witness: Witness) -> ReadyAtAll:
    """The rules that are left when those go that the others ask already."""
    gathered: dict[tuple[int, ...], list[tuple[int, Rule]]] = {}
    for number, rule, _ in _required(spaces[0]):
        literals = tuple(space.rule(number, rule).lets for space in spaces)
        if any(literal != YES for literal in literals):
            gathered.setdefault(literals, []).append((number, rule))
    left = dict(gathered)
    # What more rulesets ask is kept where two ask the same in other words.
    for literals in sorted(gathered, key=lambda literals: len(gathered[literals])):
        others = [other for other in left if other != literals]
        if all(
            not space.circuit.possible(-literals[place], *(other[place] for other in others))
            for place, space in enumerate(spaces)
        ):
            del left[literals]
    rules = tuple(map(_common, left.values()))
    return ReadyAtAll(witness, rules, len(gathered) - len(left))


def _common(members: Sequence[tuple[int, Rule]]) -> CommonRule:
    """Rules that come to the same, in the words of the first."""
    number, rule = members[0]
    return CommonRule(rule, number, tuple(RuleOf(n, one.name) for n, one in members))


def _nobody(space: Space) -> NobodyReady:
    """The smallest reason why nobody is ready, as far as leaving out rules one by one tells.

    Raises:
        UndecidedError: It is only that the rulesets do not read the same values of a fact.
    """
    by_literal: dict[int, list[tuple[int, Rule]]] = {}
    facts: dict[int, tuple[str, ...]] = {}
    for number, rule, asked in _required(space):
        literal = space.rule(number, rule).lets
        by_literal.setdefault(literal, []).append((number, rule))
        facts[literal] = (*facts.get(literal, ()), *asked)
    core = conflict(space.circuit, list(by_literal))
    clashing = {clash.path for clash in space.clashes}
    if any(clashing.intersection(facts[literal]) for literal in core):
        raise UndecidedError(UNREADABLE)
    named = dict.fromkeys(path for literal in core for path in facts[literal])
    shared = [path for path in named if sum(path in facts[literal] for literal in core) > 1]
    rules = tuple(_common(by_literal[literal]) for literal in core)
    return NobodyReady(rules, tuple(shared or named), space.event)
