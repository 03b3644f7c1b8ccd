"""The ordinary check asked again and again, of all rules or of those that one fact is asked by."""

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from trackprep.backends.checks import Outcome, outcome, prepared, waits_for_inspector
from trackprep.frozen import frozen
from trackprep.rules.model import Rule
from trackprep.rules.values import Value

if TYPE_CHECKING:
    from trackprep.analysis.changing import Changing
    from trackprep.analysis.nearest import Does


@frozen
class RuleOf:
    """A rule of one of the rulesets, by its number among them."""

    ruleset: int
    rule: str


class Replay:
    """The required rules of some rulesets, and what the ordinary check answers for them."""

    def __init__(self, changing: "Changing") -> None:
        self.changing = changing
        self.required = [
            (number, rule)
            for number, rules in enumerate(changing.rulesets)
            for rule in rules.rules if rule.level == "required"
        ]  # fmt: skip
        self._asking: dict[str, list[tuple[int, Rule]]] = {}
        for number, rule in self.required:
            for path in changing.space.sides[number].open_facts(rule):
                self._asking.setdefault(path, []).append((number, rule))

    def outcomes(
        self, values: Mapping[str, Value], rules: Iterable[tuple[int, Rule]] | None = None
    ) -> Iterator[tuple[int, Rule, Outcome]]:
        """What the rules answer; all required ones unless others are given."""
        known: dict[int, Mapping[str, Value]] = {}
        for number, rule in self.required if rules is None else rules:
            if number not in known:
                of = self.changing.rulesets[number]
                own = {path: value for path, value in values.items() if path in of.facts}
                known[number] = prepared(of, own, self.changing.event)[0]
            yield number, rule, outcome(rule, known[number], self.changing.event)

    def ready(self, values: Mapping[str, Value]) -> bool:
        """Whether the values are ready by all rulesets."""
        return all(self._lets(*each) for each in self.outcomes(values))

    def in_the_way(self, values: Mapping[str, Value], path: str) -> Iterator[RuleOf]:
        """The rules asking for a fact that do not let the values through."""
        for number, rule, said in self.outcomes(values, self._asking.get(path, ())):
            if not self._lets(number, rule, said):
                yield RuleOf(number, rule.name)

    def still_does(self, staying: frozenset[int]) -> "Does":
        """Whether values that did still do where one fact is changed: ready, and asked the same.

        Args:
            staying: What decides what is asked, and has to stay as it was declared.
        """

        def does(values: Mapping[str, Value], path: str) -> bool:
            asking = self._asking.get(path, ())
            return all(self._lets(*each) for each in self.outcomes(values, asking)) and (
                staying <= self.changing.staying(values)
            )

        return does

    def _lets(self, number: int, _rule: Rule, said: Outcome) -> bool:
        if said.status == "unsettled":
            return waits_for_inspector(self.changing.rulesets[number], said)
        return said.status != "not-met"
