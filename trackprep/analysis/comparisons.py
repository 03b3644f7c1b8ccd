"""What a comparison of two rulesets says: a kind for each rule, a witness for each difference.

Words are about the second ruleset as seen from the first: *stricter* lets through less.
"""

from collections.abc import Mapping
from typing import Literal, TypeAlias

from trackprep.analysis.periods import Period
from trackprep.analysis.sides import Clash
from trackprep.analysis.witnesses import Witness
from trackprep.frozen import frozen
from trackprep.rules.model import Rule, Rules

Kind: TypeAlias = Literal[
    "same", "reworded", "stricter", "looser", "differs both ways", "asks for more",
    "asks for less", "asks otherwise", "added", "withdrawn", "undecided",
]  # fmt: skip

MIRRORED: Mapping[Kind, Kind] = {
    "same": "same",
    "reworded": "reworded",
    "stricter": "looser",
    "looser": "stricter",
    "differs both ways": "differs both ways",
    "asks for more": "asks for less",
    "asks for less": "asks for more",
    "asks otherwise": "asks otherwise",
    "added": "withdrawn",
    "withdrawn": "added",
    "undecided": "undecided",
}
"""What a difference is called with the two rulesets changed over."""


@frozen(eq=False)
class Shown:
    """A declaration that the two answer differently, with what each answers."""

    witness: Witness
    one: str
    other: str


@frozen(eq=False)
class RuleDifference:
    """How a rule of the second ruleset stands to that of the first.

    Attributes:
        lost: The first lets it through, the second does not.
        gained: The second lets it through, the first does not.
        more: What one lets through and the other leaves open, for facts that the one
            does not ask for.
        restates: An added (or withdrawn) rule that asks nothing which the other ruleset
            does not ask in other rules.
        undecided: Why it could not be told.
    """

    kind: Kind
    one: Rule | None
    other: Rule | None
    lost: Shown | None = None
    gained: Shown | None = None
    more: Shown | None = None
    restates: bool = False
    undecided: str = ""

    @property
    def rule(self) -> Rule:
        """The rule, as the second has it if it has it."""
        rule = self.other or self.one
        assert rule is not None
        return rule

    @property
    def renamed(self) -> bool:
        """Whether the two bear different names."""
        return self.one is not None and self.other is not None and self.one.name != self.other.name


@frozen(eq=False)
class ReadyAtOne:
    """A machine that is ready at one and not at the other, and the rules that make it so."""

    witness: Witness
    verdict: str
    rules: tuple[str, ...]


@frozen(eq=False)
class Comparison:
    """Two rulesets, rule by rule and as a whole.

    Attributes:
        lost: Ready at the first, turned away or left open by the second; None: nothing is.
        gained: The reverse.
        clashes: Facts that no value can be read for by both.
        undecided: Why the whole could not be told, one reason for each direction.
    """

    one: Rules
    other: Rules
    period: Period
    rules: tuple[RuleDifference, ...]
    lost: ReadyAtOne | None
    gained: ReadyAtOne | None
    clashes: tuple[Clash, ...]
    undecided: tuple[str, ...] = ()

    @property
    def differences(self) -> tuple[RuleDifference, ...]:
        """The rules that are not the same, in the order of the second ruleset."""
        return tuple(rule for rule in self.rules if rule.kind != "same")
