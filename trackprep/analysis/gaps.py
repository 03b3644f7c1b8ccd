"""What a careful organizer would add to a rule file: fixes, sources, examples that tell."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import TypeAlias

from trackprep.analysis.findings import Finding
from trackprep.backends.checks import Outcome, Verdict, outcomes, prepared, verdict
from trackprep.explanations.mentions import facts_in
from trackprep.rules.model import Example, Rule, Rules
from trackprep.rules.own_file import Head, OwnFile
from trackprep.rules.values import Value


def gaps(own: OwnFile) -> Iterator[Finding]:
    """What is missing in the file."""
    rules = {rule.name: rule for rule in own.rules.rules}
    yield from (finding for head in own.heads if (finding := _without_source(head)) is not None)
    for head in own.of("rule"):
        rule = rules.get(head.name)
        if rule is not None and head.new and not _has_fix(rule) and _can_be_mended(rule, own.rules):
            text = f"`{rule.name}` does not say what a rider can do to meet it"
            yield Finding("without-fix", head.about, text, head.origin)
    yield from _about_examples(own, rules)


def _has_fix(rule: Rule) -> bool:
    return any(asked.fixes for asked in rule.asked)


def _can_be_mended(rule: Rule, rules: Rules) -> bool:
    """Whether something that the rule demands can be changed at all."""
    demanded = (path for asked in rule.asked for path in facts_in(asked.demand))
    return any("unchangeable" not in rules.facts[path].marks for path in demanded)


_SOURCED = frozenset({"rule", "limit", "list", "formula", "table"})


def _without_source(head: Head) -> Finding | None:
    if head.kind not in _SOURCED or "source" in head.clauses:
        return None
    if head.new:
        text = f"`{head.name}` does not say where it comes from"
    elif head.clauses & {"value", "demand"}:
        text = f"`{head.name}` is changed, and does not say where what it asks now comes from"
    elif "when" in head.clauses:
        text = f"`{head.name}` is changed, and its source is still that of the base"
    else:
        return None
    return Finding("without-source", head.about, text, head.origin)


# ---- examples ---------------------------------------------------------------

Came: TypeAlias = Mapping[str | None, Outcome | Verdict]
"""What comes of each rule, and under None of the whole."""


def _about_examples(own: OwnFile, rules: Mapping[str, Rule]) -> Iterator[Finding]:
    examples = own.rules.examples
    came = [_came(example.values, example.on, own.rules) for example in examples]
    for head in own.of("rule"):
        asks = head.new or head.clauses & {"demand", "when"}
        if head.name in rules and asks and (finding := _without_example(head, came)) is not None:
            yield finding
    nothing = {day: _came({}, day, own.rules) for day in {example.on for example in examples}}
    for example, its in zip(examples, came, strict=True):
        if _tells_nothing(example, its, nothing[example.on]):
            text = f'all that "{example.title}" expects comes with nothing declared, too'
            about = f'example "{example.title}"'
            yield Finding("example-tells-nothing", about, text, example.origin)


def _came(values: Mapping[str, Value], day: date, rules: Rules) -> Came:
    known, _ = prepared(rules, values, day)
    said = outcomes(rules, known, day)
    came: dict[str | None, Outcome | Verdict] = {None: verdict(rules, said)}
    for rule, outcome in zip(rules.rules, said, strict=True):
        came[rule.name] = outcome
    return came


def _without_example(head: Head, came: Iterable[Came]) -> Finding | None:
    """Says where no example meets a rule, or none misses it."""
    reached = {_spoken(each[head.name]) for each in came}
    met, missed = "met" in reached, "not-met" in reached
    if met and missed:
        return None
    which = "meets" if missed else "does not meet"
    neither = "" if met or missed else ", and none shows one that does"
    text = f"no example shows a machine that {which} `{head.name}`{neither}"
    return Finding("without-example", head.about, text, head.origin)


def _tells_nothing(example: Example, came: Came, nothing: Came) -> bool:
    """Whether all that an example expects would come with nothing declared.

    What is left open because it is declared too coarsely tells something.
    """
    return bool(example.values) and all(
        nothing[expectation.rule] == came[expectation.rule]
        and _spoken(came[expectation.rule]) == expectation.outcome
        for expectation in example.expectations
    )


def _spoken(came: Outcome | Verdict) -> str:
    return came.status if isinstance(came, Outcome) else came
