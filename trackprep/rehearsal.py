"""A rule file's own examples: what was expected, what comes, and why."""

from collections.abc import Iterator, Mapping

from trackprep.backends.checks import Outcome, Verdict, outcomes, prepared, verdict
from trackprep.explanations.findings import Explanation
from trackprep.explanations.reasons import explain
from trackprep.explanations.situation import Situation
from trackprep.frozen import frozen
from trackprep.rules.model import Example, Expectation, Rule, Rules


@frozen
class Cause:
    """The answer of a rule that led to something else than was expected."""

    rule: Rule
    explanation: Explanation


@frozen
class Surprise:
    """An expectation that does not come true.

    Attributes:
        came: What came in its place: a rule's status, or the verdict.
        causes: The rule that was meant; of a verdict, the rules that decide it.
    """

    expectation: Expectation
    came: str
    causes: tuple[Cause, ...]


@frozen(eq=False)
class Rehearsed:
    """An example that was run, with what of it does not come true."""

    example: Example
    surprises: tuple[Surprise, ...]


def rehearse(rules: Rules) -> tuple[Rehearsed, ...]:
    """Runs every example of the ruleset's file, in their order."""
    return tuple(
        Rehearsed(example, tuple(_surprises(example, rules))) for example in rules.examples
    )


def _surprises(example: Example, rules: Rules) -> Iterator[Surprise]:
    values, _ = prepared(rules, example.values, example.on)
    situation = Situation(rules, values, example.values, example.on)
    came = outcomes(rules, values, example.on)
    whole = verdict(rules, came)
    answers = {rule.name: (rule, outcome) for rule, outcome in zip(rules.rules, came, strict=True)}
    for expectation in example.expectations:
        if expectation.rule is not None:
            rule, outcome = answers[expectation.rule]
            if outcome.status != expectation.outcome:
                cause = Cause(rule, explain(rule, outcome, situation))
                yield Surprise(expectation, outcome.status, (cause,))
        elif whole != expectation.outcome:
            causes = tuple(
                Cause(rule, explain(rule, outcome, situation))
                for rule, outcome in _deciding(whole, answers)
            )
            yield Surprise(expectation, whole, causes)


def _deciding(
    whole: Verdict, answers: Mapping[str, tuple[Rule, Outcome]]
) -> Iterator[tuple[Rule, Outcome]]:
    """The required rules that keep a declaration from being ready; none where it is."""
    status = {"not-ready": "not-met", "incomplete": "unsettled"}.get(whole)
    for rule, outcome in answers.values():
        if rule.level == "required" and outcome.status == status:
            yield rule, outcome
