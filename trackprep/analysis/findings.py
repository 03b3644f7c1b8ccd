"""What a proof or a doubt about a ruleset is called, and what it says."""

from attrs import field

from trackprep.analysis.witnesses import Witness
from trackprep.frozen import frozen
from trackprep.rules.acceptances import WEIGHTS, Weight
from trackprep.rules.model import Origin


@frozen
class Finding:
    """Something that proofreading found.

    Attributes:
        name: One of `trackprep.rules.acceptances.WEIGHTS`.
        about: The rule, limit, list, fact or example that it is about, as `rule tread`.
        text: What was found, a sentence.
        witness: A declaration that shows it, where there is one.
        shown: What that declaration shows, a sentence.
    """

    name: str
    about: str
    text: str
    origin: Origin
    witness: Witness | None = field(default=None, eq=False)
    shown: str = ""

    @property
    def weight(self) -> Weight:
        """How much it weighs."""
        return WEIGHTS[self.name]
