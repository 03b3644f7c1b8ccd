"""What an inspector looks at closely, by what a rider declared, and why."""

from collections.abc import Iterator
from datetime import timedelta

from attrs import evolve

from trackprep.dates import long_form
from trackprep.explanations.findings import Coarse, Explanation, Shortfall
from trackprep.explanations.measures import Measure
from trackprep.explanations.phrases import NUMBERS
from trackprep.explanations.terms import term_text
from trackprep.explanations.wording import counted, inside, listed
from trackprep.publishing.margins import ends_soon, how_near, kept_by_little
from trackprep.reports.answer import Answer
from trackprep.reports.checks.discreet import discreetly_told, is_private
from trackprep.reports.report import Report
from trackprep.rules.conditions import Constant, NumberOf
from trackprep.rules.model import Rule, Rules
from trackprep.units import show_apart

NEAR = "Near a limit: "


def closely(rule: Rule, answer: Answer, report: Report) -> tuple[str, ...]:
    """The reasons as sentences, the weightiest first; none where nothing stands out.

    Of private facts they say no value, and nothing that would tell one.
    """
    return (
        *_against(answer.explanation, report.rules),
        *_open(answer.explanation, report.rules),
        *_near(rule, answer, report),
    )


def _against(explanation: Explanation, rules: Rules) -> Iterator[str]:
    """What does not meet the rule, or would not if it were asked."""
    if explanation.status not in ("not-met", "unsettled") or not explanation.shortfalls:
        return
    alone = Explanation("not-met", shortfalls=tuple(map(_without_help, explanation.shortfalls)))
    opening = "Not met" if explanation.status == "not-met" else "Not met, if it is asked,"
    yield " ".join([f"{opening} as declared.", *discreetly_told(alone, rules)])


def _without_help(shortfall: Shortfall) -> Shortfall:
    """What would do helps the rider; the inspector sees what is asked."""
    return evolve(
        shortfall, reasons=tuple(evolve(reason, nearest="") for reason in shortfall.reasons)
    )


# ---- what is not known ------------------------------------------------------


def _open(explanation: Explanation, rules: Rules) -> Iterator[str]:
    missing = explanation.missing
    if seen := [inside(one.label) for one in missing if one.for_the_inspector]:
        yield f"Only the inspector can say: {'; '.join(seen)}."
    if undeclared := [inside(one.label) for one in missing if not one.for_the_inspector]:
        yield f"Not declared: {'; '.join(undeclared)}."
    for one in explanation.coarse:
        yield _too_coarse(one, rules)
    for undefined in explanation.undefined:
        # Why not would tell what it is worked out from.
        yield f"Cannot be worked out from what was declared: {inside(undefined.subject)}."


def _too_coarse(one: Coarse, rules: Rules) -> str:
    said = f"Declared too coarsely: {inside(one.label)}"
    if is_private(one.path, rules):
        return f"{said}."
    turns = f"; it turns on {listed(one.hinges, 'and')}" if one.hinges else ""
    return f"{said}, {one.value}{turns}."


# ---- what is near a limit ---------------------------------------------------


def _near(rule: Rule, answer: Answer, report: Report) -> Iterator[str]:
    if answer.status == "not-asked":
        return
    situation = report.situation
    asked = [one for one in rule.asked if situation.holds(one.when) is not False]
    measures = (each for one in asked for each in kept_by_little(one.demand, situation))
    yield from (_near_limit(each, report) for each in dict.fromkeys(measures))
    until = answer.until if answer.status == "met" else None
    if until is not None and ends_soon(rule, until, situation):
        last = until - timedelta(days=1)
        left = counted((last - report.event).days, "day")
        yield f"{NEAR}met up to {long_form(last)}, {left} after the event."


def _near_limit(measure: Measure, report: Report) -> str:
    """`Near a limit: front tread depth 1.7 mm, asked is at least 1.6 mm: 0.1 mm away, …`."""
    rules, test = report.rules, measure.test
    value, bound = show_apart(
        measure.value, measure.bound, measure.unit, difference=measure.difference
    )
    if isinstance(test.left, NumberOf):
        value = report.situation.written(test.left.path)
    subject = term_text(test.left, rules, short=True)
    said = term_text(test.right, rules, short=True)
    if not isinstance(test.right, Constant):
        said += f" ({bound})"
    asked = f"{NUMBERS[test.comparison].removeprefix('is ')} {said}"
    return f"{NEAR}{subject} {value}, asked {asked}: {how_near(measure)}."
