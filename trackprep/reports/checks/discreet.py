"""Explanations that tell what follows from a private fact, and not what it is."""

from collections.abc import Iterable

from attrs import evolve

from trackprep.explanations.findings import Coarse, Explanation, Reason, Shortfall
from trackprep.explanations.situation import Known
from trackprep.explanations.telling import told
from trackprep.explanations.wording import capitalized, label_of, value_text
from trackprep.problems import Problem
from trackprep.rules.model import Rules
from trackprep.rules.values import Value

KEPT = "kept private"


def discreetly_told(explanation: Explanation, rules: Rules) -> tuple[str, ...]:
    """The explanation in sentences, without the value of any private fact."""
    return told(evolve(
        explanation,
        shortfalls=tuple(_shortfall(one, rules) for one in explanation.shortfalls),
        coarse=tuple(_coarse(one, rules) for one in explanation.coarse),
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


def is_private(path: str, rules: Rules) -> bool:
    """Whether the value of a fact is for its rider alone."""
    return path in rules.facts and rules.facts[path].private


def _shortfall(shortfall: Shortfall, rules: Rules) -> Shortfall:
    return evolve(shortfall, reasons=tuple(_reason(one, rules) for one in shortfall.reasons))


def _reason(reason: Reason, rules: Rules) -> Reason:
    """How far off it is would tell the value too; what would do only where it is counted so."""
    if not any(is_private(path, rules) for path in reason.paths):
        return reason
    tells = reason.nearest_tells or reason.asked_in_words
    return evolve(
        reason, value=KEPT, converted="", off="", obvious=False,
        nearest="" if tells else reason.nearest, asked=reason.asked_in_words or reason.asked,
        facts=_known(reason.facts, rules),
    )  # fmt: skip


def _coarse(coarse: Coarse, rules: Rules) -> Coarse:
    if not is_private(coarse.path, rules):
        return coarse
    return evolve(coarse, value=f"the declared date ({KEPT})", hinges=(), finer="it to the day")


def _known(known: Iterable[Known], rules: Rules) -> tuple[Known, ...]:
    return tuple(evolve(one, value=KEPT) if is_private(one.path, rules) else one for one in known)
