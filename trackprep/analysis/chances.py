"""What some declaration, on some event day, can do with a rule."""

from attrs import define

from trackprep.analysis.one_side import OneSide
from trackprep.analysis.solving import UndecidedError
from trackprep.analysis.space import Space
from trackprep.analysis.witnesses import possible
from trackprep.rules.model import Rule


@define(eq=False)
class Chances:
    """What was found possible: that a rule is asked, met where it is asked, not met."""

    rule: Rule
    asked: bool = False
    met: bool = False
    failed: bool = False
    undecided: str = ""

    @classmethod
    def of(cls, asking: OneSide, rule: Rule) -> "Chances":
        """What can be done with a rule on any of the event days."""
        chances = cls(rule)
        for space in asking.spaces([rule]):
            try:
                chances.look(space)
            except UndecidedError as why:
                chances.undecided = why.reason
            space.circuit.close()
            if chances.asked and chances.met and chances.failed:
                break
        if chances.asked and chances.met and chances.failed:
            chances.undecided = ""
        return chances

    def look(self, space: Space) -> None:
        """Asks about one event day."""
        says = space.rule(0, self.rule)
        self.asked = self.asked or possible(space, [says.asked])
        self.met = self.met or possible(space, [says.asked, says.lets])
        self.failed = self.failed or possible(space, [says.refuses])
