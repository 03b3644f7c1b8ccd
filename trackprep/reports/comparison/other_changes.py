"""What differs between two rulesets beside their rules."""

from collections.abc import Iterator

from trackprep.analysis.comparisons import Comparison
from trackprep.explanations.sentences import applies_clause
from trackprep.explanations.wording import capitalized, listed, quoted
from trackprep.reports.comparison.changes import (
    Change,
    event_changes,
    limit_changes,
    list_changes,
)
from trackprep.rules.model import (
    Choice,
    Choosing,
    Dated,
    Fact,
    FreeText,
    Measured,
    Rules,
    Section,
    Type,
    YesOrNo,
)
from trackprep.units import NUMBER


def other_changes(comparison: Comparison) -> list[tuple[str, list[Change]]]:
    """Changes of each sort, under what to call them."""
    first, second = comparison.one, comparison.other
    return [
        ("Limits with other values", list(limit_changes(first, second, second.limits))),
        ("Lists with other words", list(list_changes(first, second, second.lists))),
        (
            "What the event itself settles",
            list(event_changes(first, second, dict.fromkeys([*second.here, *first.here]))),
        ),
        ("Facts that are declared in another way", list(_fact_changes(comparison))),
        ("Sections that are asked in other cases", list(_section_changes(first, second))),
    ]


def _fact_changes(comparison: Comparison) -> Iterator[Change]:
    clashing = {clash.path for clash in comparison.clashes}
    first, second = comparison.one.facts, comparison.other.facts
    for path, other in second.items():
        one = first.get(path)
        if one is not None and one.type != other.type:
            clash = ", which no value fits" if path in clashing else ""
            label = f"{capitalized(other.label)} [{path}]{clash}"
            yield Change(
                "fact", path, label, _type_text(one, other), _type_text(other, one),
                one.origin, other.origin,
            )  # fmt: skip


def _type_text(fact: Fact, beside: Fact) -> str:
    """How a fact is declared."""
    match fact.type:
        case Choosing(how, choices):
            return f"{how} {listed(_spoken(choices, beside.type), 'and')}"
        case YesOrNo():
            return "yes or no"
        case Dated(how):
            return f"a {how}"
        case Measured() as measured:
            unit = "a number" if measured.unit.dimension == NUMBER else measured.unit.name
            return f"{unit}, {measured.range_in_words}"
        case FreeText():
            return "words"


def _spoken(choices: tuple[Choice, ...], beside: Type) -> list[str]:
    """The choices as people read them, and which of them the other does not have."""
    others = beside.words if isinstance(beside, Choosing) else ()
    return [
        quoted(choice.spoken) + ("" if choice.word in others else " (only here)")
        for choice in choices
    ]


def _section_changes(first: Rules, second: Rules) -> Iterator[Change]:
    before = {section.title: section for section in first.sections}
    for section in second.sections:
        was = before.get(section.title)
        if was is not None and was.when != section.when:
            yield Change(
                "section", section.title, section.title, _when(was, first), _when(section, second)
            )


def _when(section: Section, rules: Rules) -> str:
    return applies_clause(section.when, rules) if section.when is not None else "always"
