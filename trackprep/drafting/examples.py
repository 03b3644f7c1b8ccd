"""The examples that a rule file lacks, as text to paste into it."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from itertools import chain

from attrs import define, field

from trackprep.analysis.coverage import BoundarySide, Coverage, filling, first_day
from trackprep.analysis.reaching import Case
from trackprep.analysis.witnesses import spelled
from trackprep.backends.checks import outcome, prepared
from trackprep.backends.statuses import Status
from trackprep.backends.terms import named
from trackprep.dates import Span
from trackprep.drafting.rule_files import neat
from trackprep.explanations.mentions import facts_in, tests_in
from trackprep.explanations.wording import capitalized, inside
from trackprep.frozen import frozen
from trackprep.reports.coverage import SPOKEN, fact_words, side_words
from trackprep.rules.conditions import AgeTest, DayTest
from trackprep.rules.declaring import declared_values
from trackprep.rules.model import Rule, Rules
from trackprep.rules.reading import Fault
from trackprep.rules.values import Value
from trackprep.source import Source
from trackprep.syntax import tree
from trackprep.syntax.layout import quoted
from trackprep.syntax.parser import parse_rules

NOTHING_DECLARED = "Nothing declared yet"
MOST_FACTS_TOLD = 3
"""In a title; of more it says how many."""
LONGEST_TITLE = 90
"""In characters; a longer one leaves out what stands beside."""


@frozen
class Suggested:
    """Examples as text, and how many.

    Attributes:
        unwritten: How many more there are that a file cannot spell.
    """

    text: str
    count: int
    unwritten: int = 0


def suggested(coverage: Coverage) -> Suggested:
    """Few examples that reach all that is missing; each was read back and tried."""
    rules = coverage.rules
    used = {example.title for example in rules.examples}
    blocks, unwritten = [], 0
    for made in _made(coverage):
        text = _text(made, rules, used)
        if _comes_true(text, made, rules):
            blocks.append(text)
        else:
            unwritten += 1
    return Suggested(neat("\n".join(blocks)) if blocks else "", len(blocks), unwritten)


@define(eq=False)
class _Example:
    """An example in the making: what is declared, and what of it each rule is expected to say."""

    title: str
    values: Mapping[str, Value]
    on: date
    dated: bool
    expected: dict[str, tuple[Rule, Status]] = field(factory=dict)


def _made(coverage: Coverage) -> Iterable[_Example]:
    """What is missing, each with what can be declared together with it."""
    rules = coverage.rules
    made: dict[object, list[_Example]] = {}
    for covered, what, case in filling(coverage):
        rule, dated = covered.rule, _needs_day(covered.rule, case, rules)
        alike = made.setdefault((case.event, dated, not case.values), [])
        if not any(_taken_in(rule, case, example) for example in alike):
            title = _title(what, case, rule, rules)
            example = _Example(title, case.values, case.event, dated)
            example.expected[rule.name] = (rule, case.status)
            alike.append(example)
    return sorted(chain.from_iterable(made.values()), key=lambda example: bool(example.values))


def _taken_in(rule: Rule, case: Case, example: _Example) -> bool:
    """Whether an example can expect this too: one declares all that the other does.

    What the one declares beyond that is of no concern to the rules of the other.
    """
    more, less, concerned = example.values, case.values, [rule]
    if len(more) < len(less):
        more, less = less, more
        concerned = [other for other, _ in example.expected.values()]
    beyond = more.keys() - less.keys()
    if (
        rule.name in example.expected
        or dict(more) != {**more, **less}
        or any(not beyond.isdisjoint(_facts(one)) for one in concerned)
    ):
        return False
    example.values = more
    example.expected[rule.name] = (rule, case.status)
    return True


def _facts(rule: Rule) -> set[str]:
    return {p for part in rule.asked for c in (part.when, part.demand) for p in facts_in(c)}


def _needs_day(rule: Rule, case: Case, rules: Rules) -> bool:
    """Whether the day is part of what the example says."""
    if rules.valid is None or case.event != first_day(rules):
        return True
    if any(isinstance(value, Span) for value in case.values.values()):
        return True
    tests = (test for part in rule.asked for c in (part.when, part.demand) for test in tests_in(c))
    return any(isinstance(test, AgeTest | DayTest) and not tuple(named(test)) for test in tests)


def _title(what: BoundarySide | Status, case: Case, rule: Rule, rules: Rules) -> str:
    if not case.values:
        return NOTHING_DECLARED
    if isinstance(what, BoundarySide):
        text = capitalized(side_words(what, case, rules))
        return text if len(text) <= LONGEST_TITLE else text.partition(", beside ")[0]
    told = [fact_words(path, value, rules) for path, value in case.values.items()]
    if len(told) > MOST_FACTS_TOLD:
        told = [*told[:MOST_FACTS_TOLD], f"{len(told) - MOST_FACTS_TOLD} more"]
    return capitalized("; ".join(told))


# ---- text -----------------------------------------------------------------------


def _text(example: _Example, rules: Rules, used: set[str]) -> str:
    lines = [f"example {quoted(_unused(example, used))}"]
    if example.dated:
        lines[0] += f" on {example.on.isoformat()}"
    for path, value in example.values.items():
        lines.append(f"  declare {path} is {spelled(value, rules.facts[path])}")
    for name, (_, status) in example.expected.items():
        lines.append(f"  expect {name} is {SPOKEN[status]}")
    return "\n".join(lines) + "\n"


def _unused(example: _Example, used: set[str]) -> str:
    """The title, with the rule's name where the title is there already."""
    rule, _ = next(iter(example.expected.values()))
    title = example.title
    if title in used:
        title = f"{title}: {inside(rule.title)}"
    first, number = title, 2
    while title in used:
        title, number = f"{first} ({number})", number + 1
    used.add(title)
    return title


# ---- read back ------------------------------------------------------------------


def _comes_true(text: str, example: _Example, rules: Rules) -> bool:
    """Whether what is written reads back, and the ordinary check answers as expected."""
    parsed = parse_rules(Source("examples.trackrules", text))
    given = [d for d in _details(parsed.tree) if isinstance(d, tree.Given)]
    faults: list[Fault] = []

    def tell(index: int, fault: Fault, *, at_value: bool) -> None:
        faults.append(fault)

    values = declared_values(rules, ((each.path, each.values) for each in given), tell)
    if parsed.problems or faults:
        return False
    known, _ = prepared(rules, values, example.on)
    return all(
        outcome(rule, known, example.on).status == status
        for rule, status in example.expected.values()
    )


def _details(file: tree.RuleFile) -> Iterator[object]:
    for statement in file.statements:
        if isinstance(statement, tree.Example):
            yield from statement.details
