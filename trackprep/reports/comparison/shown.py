"""A machine and gear that two rulesets answer differently, in words and as a declaration."""

from collections.abc import Collection, Mapping

from trackprep.analysis.comparisons import Comparison, ReadyAtOne, RuleDifference, Shown
from trackprep.analysis.witnesses import Witness, spelled, text_of
from trackprep.dates import Span, long_form
from trackprep.explanations.mentions import facts_in, tests_in
from trackprep.explanations.wording import capitalized, label_of, value_text
from trackprep.reports.comparison.naming import Names, answer_words
from trackprep.reports.pages.blocks import Facts
from trackprep.rules.conditions import AgeTest, DayTest
from trackprep.rules.model import Fact, Rule, Rules


def known_facts(comparison: Comparison) -> Mapping[str, Fact]:
    """Every fact that one of the two knows."""
    return {**comparison.one.facts, **comparison.other.facts}


def shown_facts(difference: RuleDifference, shown: Shown, comparison: Comparison) -> Facts:
    """What shows the difference of two rules, and what each says of it."""
    names = Names.of(comparison)
    one, other = difference.one, difference.other
    first = f"{names.one} {answer_words(one, other, shown.one)}"
    second = f"{names.other} {answer_words(other, one, shown.other)}"
    said = f"{first}; {second}"
    if difference.kind == "added":
        said = second
    elif difference.kind == "withdrawn":
        said = first
    day = _day(shown.witness) if _counts_days(difference, shown.witness) else ""
    if not shown.witness.values:
        return Facts(f"With nothing declared{day}: {said}.", ())
    rows = fact_rows(shown.witness, comparison)
    return Facts(f"Shown by this{day} ({said}):", rows, rider_text(shown.witness, comparison))


def fact_rows(
    witness: Witness, comparison: Comparison, only: Collection[str] | None = None
) -> tuple[tuple[str, str, str], ...]:
    """Label, value and line of each fact, or of some of them."""
    facts = known_facts(comparison)
    rows = []
    for path, value in witness.values.items():
        if only is None or path in only:
            rules = _knows(path, comparison)
            label = capitalized(label_of(path, rules))
            line = f"{path} is {spelled(value, facts[path])}"
            rows.append((label, value_text(path, value, rules), line))
    return tuple(rows)


def rider_text(witness: Witness, comparison: Comparison) -> str:
    """The whole declaration as a `.rider` file."""
    title = f"Shows a difference, for an event on {long_form(witness.event)}"
    return text_of(witness, known_facts(comparison), title)


def deciding(found: ReadyAtOne, there: Rules) -> frozenset[str]:
    """The facts that the rules which do it ask about."""
    named = (rule for rule in there.rules if rule.name in found.rules)
    return frozenset(path for rule in named for path in asked_facts(rule))


def asked_facts(rule: Rule) -> tuple[str, ...]:
    """What a rule asks for, each fact once."""
    parts = (part for asked in rule.asked for part in (asked.when, asked.demand))
    return tuple(dict.fromkeys(path for part in parts for path in facts_in(part)))


def _knows(path: str, comparison: Comparison) -> Rules:
    return comparison.other if path in comparison.other.facts else comparison.one


def _day(witness: Witness) -> str:
    return f", on {long_form(witness.event)}"


def _counts_days(difference: RuleDifference, witness: Witness) -> bool:
    """Whether the day of the event has a part in it."""
    if any(isinstance(value, Span) for value in witness.values.values()):
        return True
    rules = (rule for rule in (difference.one, difference.other) if rule is not None)
    tests = (
        test
        for rule in rules
        for asked in rule.asked
        for part in (asked.when, asked.demand)
        for test in tests_in(part)
    )
    return any(isinstance(test, AgeTest | DayTest) for test in tests)
