"""What a report may tell others than the rider: what follows from private facts, not what they are.

Pages, which are handed on, are discreet; text on the rider's own terminal and JSON are not.
What follows is what each test of a private fact answers on the day of the event. No page tells
more: neither a value nor how far off it is, nor the day on which the answer would turn.
"""

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

from attrs import evolve

from trackprep.explanations.findings import Coarse, Explanation, Reason, Shortfall, Undefined
from trackprep.explanations.mentions import facts_in, tests_in
from trackprep.explanations.situation import Known
from trackprep.explanations.telling import told
from trackprep.explanations.wording import capitalized, label_of, value_text
from trackprep.problems import Problem
from trackprep.rules.model import Rule, Rules
from trackprep.rules.values import Value

if TYPE_CHECKING:
    from trackprep.reports.report import Report

KEPT = "kept private"
HANGS_ON_PRIVATE = "hangs on what is kept private"
UNTOLD = Undefined("what is worked out from private facts", "leaves it open", "kept-private")


def discreetly_told(explanation: Explanation, rules: Rules) -> tuple[str, ...]:
    """The explanation in sentences, without the value of any private fact."""
    return told(evolve(
        explanation,
        shortfalls=tuple(_shortfall(one, rules) for one in explanation.shortfalls),
        coarse=tuple(_coarse(one, rules) for one in explanation.coarse),
        undefined=tuple(dict.fromkeys(_undefined(one, rules) for one in explanation.undefined)),
        known=_known(explanation.known, rules),
    ))  # fmt: skip


def discreet_value(path: str, value: Value, rules: Rules) -> str:
    """A declared value in words, unless it is private."""
    return KEPT if is_private(path, rules) else value_text(path, value, rules)


def discreet_problem(problem: Problem, rules: Rules) -> str:
    """What is wrong with a declared date for the event, without the date where it is private."""
    if problem.path is not None and is_private(problem.path, rules):
        said = f"{label_of(problem.path, rules)}: the declared date lies after the event"
    else:
        said = problem.message
    tried = f" {capitalized(problem.suggestion)}." if problem.suggestion else ""
    return f"{capitalized(said)}.{tried}"


def discreet_notices(report: "Report") -> tuple[str, ...]:
    """What there is to know, but why a number of private facts has no value: its rule tells."""
    return tuple(
        notice.text
        for notice in report.notices
        if notice.code != "precedence" and not _any_private(notice.paths, report.rules)
    )


def discreet_until(report: "Report") -> date | None:
    """The first day on which the answer of some rule is worse that looks at nothing private."""
    days = (
        answer.until
        for rule, answer in zip(report.rules.rules, report.answers, strict=True)
        if not looks_at_private(rule, report)
    )
    return min((day for day in days if day is not None), default=None)


def is_private(path: str, rules: Rules) -> bool:
    """Whether the value of a fact is for its rider alone."""
    return path in rules.facts and rules.facts[path].private


def looks_at_private(rule: Rule, report: "Report") -> bool:
    """Whether a rule asks for a private fact that is declared: the day it turns would tell it."""
    declared, rules = report.declaration.values, report.rules
    paths = (path for one in rule.asked for part in (one.when, one.demand)
             for path in facts_in(part))  # fmt: skip
    return any(path in declared and is_private(path, rules) for path in paths)


def bound_to_private(path: str, rules: Rules) -> bool:
    """Whether a test holds the fact against a private one, or against one that is held so.

    What would do for it is then worked out from the private value.
    """
    tests = [
        {*facts_in(test)} - rules.here.keys()
        for rule in rules.rules for one in rule.asked for part in (one.when, one.demand)
        for test in tests_in(part)
    ]  # fmt: skip
    bound = {path}
    while more := {other for test in tests if test & bound for other in test} - bound:
        bound |= more
    return _any_private(bound, rules)


def _any_private(paths: Iterable[str], rules: Rules) -> bool:
    return any(is_private(path, rules) for path in paths)


def _shortfall(shortfall: Shortfall, rules: Rules) -> Shortfall:
    return evolve(shortfall, reasons=tuple(_reason(one, rules) for one in shortfall.reasons))


def _reason(reason: Reason, rules: Rules) -> Reason:
    """How far off it is would tell the value too; what would do only where it is counted so."""
    if not _any_private(reason.paths, rules):
        return reason
    tells = reason.nearest_tells or reason.asked_in_words
    return evolve(
        reason, value=KEPT, converted="", off="", obvious=False,
        nearest="" if tells else reason.nearest, asked=reason.asked_in_words or reason.asked,
        facts=_known(reason.facts, rules),
    )  # fmt: skip


def _coarse(coarse: Coarse, rules: Rules) -> Coarse:
    if not _any_private((coarse.path, *coarse.hangs_on), rules):
        return coarse
    value = f"the declared date ({KEPT})" if is_private(coarse.path, rules) else coarse.value
    return evolve(coarse, value=value, hinges=(), finer="it to the day")


def _undefined(undefined: Undefined, rules: Rules) -> Undefined:
    """Why a number has no value tells what it is worked out from."""
    return UNTOLD if _any_private(undefined.paths, rules) else undefined


def _known(known: Iterable[Known], rules: Rules) -> tuple[Known, ...]:
    return tuple(evolve(one, value=KEPT) if is_private(one.path, rules) else one for one in known)
