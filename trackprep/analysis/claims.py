"""Whether what a rule file claims of its changes is so: `stricter`, `looser`, and `core` kept.

A claim is proved in the finished ruleset against the same rules of the direct base, on the
same event: what the finished ruleset says with `here` counts for the base too.
"""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal, TypeAlias

from attrs import evolve

from trackprep.analysis.comparisons import RuleDifference, Shown
from trackprep.analysis.findings import Finding
from trackprep.analysis.periods import period_of
from trackprep.analysis.rule_pairs import difference
from trackprep.analysis.two_sides import TwoSides
from trackprep.frozen import frozen
from trackprep.rules.model import Origin, Rule, Rules
from trackprep.rules.own_file import Head, OwnFile

Direction: TypeAlias = Literal["stricter", "looser", "core"]


@frozen(eq=False)
class Claim:
    """That no rule of those named lets through more (`looser`: turns away more) than before."""

    about: str
    direction: Direction
    rules: tuple[str, ...]
    origin: Origin

    @property
    def thing(self) -> str:
        """What changed: `rule`, `limit` or `list`."""
        return self.about.split()[0]

    @property
    def name(self) -> str:
        """The name of what changed."""
        return self.about.split()[1]


def on_the_same_event(own: OwnFile) -> Rules | None:
    """The direct base with what the finished ruleset says of the event."""
    if own.base is None:
        return None
    known = {path: value for path, value in own.rules.here.items() if path in own.base.facts}
    return evolve(own.base, here={**own.base.here, **known})


def false_claims(own: OwnFile, *, on: date | None = None) -> tuple[Finding, ...]:
    """What the file claims of its changes and is not so, or cannot be told, or changes nothing."""
    base = on_the_same_event(own)
    if base is None:
        return tuple(_unproved(own))
    claims = tuple(_claims(own, base))
    changed = _differences(base, own.rules, {name for claim in claims for name in claim.rules}, on)
    told = [_Telling(claim, own, changed) for claim in claims]
    return tuple(finding for telling in told if (finding := telling.finding()) is not None)


def _claims(own: OwnFile, base: Rules) -> Iterator[Claim]:
    """Each claim of the file, and then one for each core rule that it makes none about."""
    before = {rule.name: rule for rule in base.rules}
    both = [rule.name for rule in own.rules.rules if rule.name in before]
    claimed: set[str] = set()
    for head in own.of("rule", "limit", "list"):
        if head.strength not in ("stricter", "looser"):
            continue
        concerned = {head.name} if head.kind == "rule" else set(own.users.get(head.name, ()))
        rules = tuple(name for name in both if name in concerned)
        claimed.update(rules if head.strength == "stricter" else ())
        yield Claim(head.about, _direction(head), rules, head.origin)
    for rule in own.rules.rules:
        if rule.name in before and before[rule.name].core and rule.name not in claimed:
            yield Claim(f"rule {rule.name}", "core", (rule.name,), rule.origin)


def _unproved(own: OwnFile) -> Iterator[Finding]:
    """Each claim on a base that cannot stand by itself."""
    for head in own.of("rule", "limit", "list"):
        if head.strength in ("stricter", "looser") and own.rules.base is not None:
            text = f"whether `{head.name}` is {head.strength} cannot be told:"
            text += f" {own.rules.base} has mistakes of its own"
            yield Finding("undecided", head.about, text, head.origin)


def _direction(head: Head) -> Direction:
    return "stricter" if head.strength == "stricter" else "looser"


def _differences(
    one: Rules, other: Rules, names: set[str], on: date | None
) -> dict[str, RuleDifference]:
    """How the named rules changed; one that did not is not there."""
    before = {rule.name: rule for rule in one.rules if rule.name in names}
    both = TwoSides(one, other, period_of(one, other, on=on))
    return {
        rule.name: difference(both, before[rule.name], rule)
        for rule in other.rules
        if rule.name in names and _asks(rule) != _asks(before[rule.name])
    }


def _asks(rule: Rule) -> object:
    """All of a rule that its answers, and what they count, hang on."""
    return rule.level, [(asked.part, asked.when, asked.demand) for asked in rule.asked]


class _Telling:
    """One claim, and what is said of it."""

    def __init__(self, claim: Claim, own: OwnFile, changed: dict[str, RuleDifference]) -> None:
        self.claim = claim
        self.here = own.rules.name
        self.base = own.base.name if own.base is not None else ""
        self.differences = [changed[name] for name in claim.rules if name in changed]

    def finding(self) -> Finding | None:
        """What there is to say; None of a claim that is so."""
        against = [(d, shown) for d in self.differences if (shown := self.against(d)) is not None]
        if against:
            return self.untrue(against)
        unsure = next((d for d in self.differences if d.undecided), None)
        if unsure is not None:
            what = "keeps" if self.claim.direction == "core" else "is"
            said = "its core" if self.claim.direction == "core" else self.claim.direction
            text = f"whether `{self.claim.name}` {what} {said} cannot be told: {unsure.undecided}"
            return self.made("undecided", text)
        return None if self.claim.direction == "core" or self.changes() else self.same()

    def against(self, difference: RuleDifference) -> Shown | None:
        """What shows that the claim is not true of a rule."""
        if self.claim.direction != "looser":
            return difference.gained
        asks_more = difference.kind in ("asks for more", "asks otherwise")
        return difference.lost or (difference.more if asks_more else None)

    def untrue(self, against: list[tuple[RuleDifference, Shown]]) -> Finding:
        """Says what shows that the claim is not true, a core rule first."""
        (first, shown), *others = sorted(against, key=lambda pair: not self.is_core(pair[0]))
        claim, rule = self.claim, first.rule.name
        name, said = f"not-{claim.direction}", f"`{claim.name}` is not {claim.direction}"
        does = f"{self.here} lets through what {self.base} {_verb(shown.one)}"
        if claim.direction == "looser":
            does = f"{self.here} {_verb(shown.other)} what {self.base} lets through"
        elif self.is_core(first):
            name, weakens = "core-weakened", f"the core rule `{rule}`"
            said = f"{said}, and weakens {weakens}"
            if claim.thing == "rule":
                said = f"{weakens} is weakened"
        where = f", in the rule `{rule}`" if claim.thing != "rule" else ""
        if others:
            where += f" and in {_listed(d.rule.name for d, _ in others)}"
        text = f"{said}: {does}{where}"
        return self.made(name, text, shown=self.answers(first, shown), witness=shown)

    def is_core(self, difference: RuleDifference) -> bool:
        """Whether the base insists on the rule."""
        return difference.one is not None and difference.one.core

    def answers(self, difference: RuleDifference, shown: Shown) -> str:
        """What both answer to the witness; and of which level, where that is the difference."""
        one, other = difference.one, difference.other
        said = [shown.one.replace("-", " "), shown.other.replace("-", " ")]
        if one is not None and other is not None and one.level != other.level:
            said = [f"{said[0]} ({one.level})", f"{said[1]} ({other.level})"]
        name = difference.rule.name
        return f"`{name}`: {self.base} answers {said[0]}, {self.here} {said[1]}"

    def changes(self) -> bool:
        """Whether any rule answers otherwise, or counts otherwise, than in the base."""
        return any(
            d.kind not in ("same", "reworded")
            or (d.one and d.other and d.one.level != d.other.level)
            for d in self.differences
        )

    def same(self) -> Finding:
        claim = self.claim
        if claim.thing != "rule" and not claim.rules:
            text = (
                f"`{claim.name}` is said to be {claim.direction}, and no rule of the base uses it"
            )
        else:
            text = f"`{claim.name}` is said to be {claim.direction}, and asks what the base asks"
        return self.made("same-as-base", text)

    def made(
        self, name: str, text: str, *, shown: str = "", witness: Shown | None = None
    ) -> Finding:
        return Finding(
            name, self.claim.about, text, self.claim.origin,
            None if witness is None else witness.witness, shown,
        )  # fmt: skip


def _verb(status: str) -> str:
    return "leaves open" if status == "unsettled" else "turns away"


def _listed(names: Iterable[str]) -> str:
    quoted = [f"`{name}`" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}"
