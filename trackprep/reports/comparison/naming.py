"""What the two rulesets are called in a comparison, and what is said of their answers."""

from trackprep.analysis.comparisons import Comparison, Kind, RuleDifference
from trackprep.explanations.wording import capitalized
from trackprep.frozen import frozen
from trackprep.reports.pages.blocks import Tone
from trackprep.rules.model import Rule, Rules

BADGES: dict[Kind, tuple[str, Tone]] = {
    "same": ("same", "quiet"),
    "reworded": ("reworded", "quiet"),
    "stricter": ("stricter", "stricter"),
    "looser": ("looser", "looser"),
    "differs both ways": ("differs both ways", "mixed"),
    "asks for more": ("asks for more", "stricter"),
    "asks for less": ("asks for less", "looser"),
    "asks otherwise": ("asks otherwise", "mixed"),
    "added": ("added", "added"),
    "withdrawn": ("withdrawn", "withdrawn"),
    "undecided": ("undecided", "warning"),
}


@frozen
class Names:
    """How the two are told apart: by name, else by edition, else by file, else by order."""

    one: str
    other: str
    proper: bool = True
    """Whether these are names, which no sentence changes."""

    @classmethod
    def of(cls, comparison: Comparison) -> "Names":
        """Those of a comparison."""
        one, other = comparison.one, comparison.other
        if one.name != other.name:
            return cls(one.name, other.name)
        ways = (
            (
                one.edition and f"edition {one.edition}",
                other.edition and f"edition {other.edition}",
            ),
            (_file(one), _file(other)),
        )
        for first, second in ways:
            if first and second and first != second:
                return cls(first, second, proper=False)
        return cls("the first", "the second", proper=False)

    @property
    def at(self) -> str:
        """How a machine or a rule is said to be there: at a venue, but under an edition."""
        return "at" if self.proper else "under"

    def sentence(self, text: str) -> str:
        """The text as a sentence; a name at its start stays as it is."""
        return text if self.proper else capitalized(text)


def _file(rules: Rules) -> str:
    return rules.files[0].name if rules.files else ""


def kind_sentence(difference: RuleDifference, names: Names) -> str:
    """How the second's rule stands to that of the first, in words."""
    return names.sentence(_kind_words(difference, names))


def _kind_words(difference: RuleDifference, names: Names) -> str:
    one, other = names.one, names.other
    match difference.kind:
        case "same":
            return f"{one} and {other} let through the same."
        case "reworded":
            return "Both let through the same; only the words differ."
        case "stricter":
            return f"{other} {_refuses(difference, 1)} what {one} lets through."
        case "looser":
            return f"{other} lets through what {one} {_refuses(difference, 0)}."
        case "differs both ways":
            return "Each lets through something that the other does not."
        case "asks for more":
            return f"{other} leaves open what {one} lets through, until more is declared."
        case "asks for less":
            return f"{other} lets through what {one} leaves open until more is declared."
        case "asks otherwise":
            return "Each leaves open what the other lets through, for facts of its own."
        case "added":
            return f"Only {other} {_asks(difference.other)} this.{_said_elsewhere(difference, one)}"
        case "withdrawn":
            return f"Only {one} {_asks(difference.one)} this.{_said_elsewhere(difference, other)}"
        case "undecided":
            return f"It cannot be told whether the two differ: {difference.undecided}."


def _refuses(difference: RuleDifference, number: int) -> str:
    """Whether the ruleset of that number turns away or leaves open what was found."""
    shown = difference.lost or difference.gained
    left_open = shown is not None and (shown.one, shown.other)[number] == "unsettled"
    return "leaves open" if left_open else "turns away"


def _asks(rule: Rule | None) -> str:
    return "recommends" if rule is not None and rule.level == "recommended" else "asks"


def _said_elsewhere(difference: RuleDifference, name: str) -> str:
    if not difference.restates:
        return ""
    return f" It says nothing new: other rules of {name} ask it already."


def answer_words(rule: Rule | None, mate: Rule | None, status: str) -> str:
    """What a ruleset says of a machine by one rule: `turns it away`."""
    if rule is None:
        return "has no such rule"
    if rule.level == "recommended" and mate is not None and mate.level == "required":
        return "lets it through: there it is only recommended"
    advises = rule.level == "recommended"
    match status:
        case "met":
            return "lets it through"
        case "not-asked":
            return "lets it through: the rule is not asked of it"
        case "not-met":
            return "only recommends otherwise" if advises else "turns it away"
        case _:
            return "leaves open whether it is as recommended" if advises else "leaves it open"


def whole_words(verdict: str) -> str:
    """What a ruleset says of a machine as a whole."""
    return "turned away" if verdict == "not-ready" else "left open"
