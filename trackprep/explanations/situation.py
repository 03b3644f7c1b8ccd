"""What an answer is explained from: the rules, what was declared, and the event's day."""

from collections.abc import Iterable, Sequence
from datetime import date

from trackprep.backends.checks import holds
from trackprep.backends.terms import Values
from trackprep.explanations.wording import inside, label_of, value_text
from trackprep.frozen import frozen
from trackprep.rules.conditions import Condition
from trackprep.rules.model import Rules
from trackprep.truth import Truth

MOST_KNOWN = 4
"""Of how many facts the values are told."""


@frozen
class Known:
    """A fact with a value: its label, and the value as it was written."""

    path: str
    label: str
    value: str

    def __str__(self) -> str:
        return f"{self.label} {self.value}"


def known_text(known: Sequence[Known]) -> str:
    """The facts with their values, the first few of many: `Measured 327 mm; links 20`."""
    said = [str(fact) if not place else inside(str(fact)) for place, fact in enumerate(known)]
    if len(said) > MOST_KNOWN:
        rest = len(said) - MOST_KNOWN
        return f"{'; '.join(said[:MOST_KNOWN])}; and {rest} more"
    return "; ".join(said)


@frozen(eq=False)
class Situation:
    """One declaration at one event.

    Attributes:
        values: What is known on the day, as the checks see it.
        declared: What the rider wrote, days after the event included.
    """

    rules: Rules
    values: Values
    declared: Values
    event: date

    def holds(self, condition: Condition) -> Truth:
        """Whether the condition holds; None where that is not known."""
        return holds(condition, self.values, self.event)

    def written(self, path: str) -> str:
        """What the rider wrote for the fact, or what the event settles; it has a value."""
        value = self.values[path]
        if path not in self.rules.here:
            value = self.declared.get(path, value)
        return value_text(path, value, self.rules)

    def known(self, paths: Iterable[str]) -> tuple[Known, ...]:
        """Those of the facts that have a value."""
        return tuple(
            Known(path, label_of(path, self.rules), self.written(path))
            for path in paths
            if path in self.values
        )

    def fixed(self, path: str) -> bool:
        """Whether nobody can change it: a mark on the fact, or the event itself, says so."""
        fact = self.rules.facts.get(path)
        return path in self.rules.here or (fact is not None and "unchangeable" in fact.marks)
