"""How much of its rules a file's examples try, as text; the sides of boundaries in words."""

from collections.abc import Iterable, Iterator
from typing import assert_never

from trackprep.analysis.boundaries import Edge
from trackprep.analysis.coverage import BoundarySide, Coverage, RuleCoverage
from trackprep.analysis.reaching import STATUSES, Case
from trackprep.backends.statuses import Status
from trackprep.dates import Span
from trackprep.explanations.wording import (
    counted,
    inside,
    is_week_code,
    label_of,
    listed,
    value_text,
)
from trackprep.rules.model import Measured, Rules
from trackprep.rules.values import Amount, Value
from trackprep.units import show

SPOKEN: dict[Status, str] = {
    "met": "met", "not-met": "not met", "unsettled": "unsettled", "not-asked": "not asked",
}  # fmt: skip
_LEGEND = (
    "yes: an example expects it. MISSING: none does. -: no declaration leads there."
    " ?: it could not be told."
)
_GAP, _CELL = 2, 9
_DETAIL = 4


# ---- the table ------------------------------------------------------------------


def coverage_lines(coverage: Coverage, columns: int) -> Iterator[tuple[int, str]]:
    """How deep each line stands, and what it says; in columns where these fit."""
    names = max((len(covered.rule.name) for covered in coverage.covered), default=0)
    wide = names + len(STATUSES) * (_GAP + _CELL) <= columns
    if coverage.covered and wide:
        yield 0, _LEGEND
        yield 0, ""
        yield 0, _row("rule", SPOKEN.values(), names)
    for covered in coverage.covered:
        cells = [_cell(status, covered) for status in STATUSES]
        yield 0, _row(covered.rule.name, cells, names) if wide else _sentence(covered)
        for side in covered.lacking:
            assert side.case is not None
            yield _DETAIL, f"no example for {side_words(side, side.case, coverage.rules)}"
        for reason in covered.undecided:
            yield _DETAIL, f"not all of it could be told: {reason}"


def _row(name: str, cells: Iterable[str], names: int) -> str:
    padded = (" " * _GAP + f"{cell:<{_CELL}}" for cell in cells)
    return (f"{name:<{names}}" + "".join(padded)).rstrip()


def _cell(status: Status, covered: RuleCoverage) -> str:
    if status in covered.reached:
        return "yes"
    if status in covered.missing:
        return "MISSING"
    return "?" if status in covered.untold else "-"


def _sentence(covered: RuleCoverage) -> str:
    """A row where columns do not fit."""
    reached = [SPOKEN[status] for status in STATUSES if status in covered.reached]
    text = f"{covered.rule.name}: {', '.join(reached) or 'nothing'}"
    missing = [SPOKEN[status] for status in covered.missing]
    return f"{text}; MISSING {', '.join(missing)}" if missing else text


def coverage_summary(coverage: Coverage) -> str:
    """How much is tried in all."""
    if not coverage.covered:
        return "there is no rule to look at" + _left_out(coverage)
    reached = sum(len(covered.reached) for covered in coverage.covered)
    missing = sum(len(covered.missing) for covered in coverage.covered)
    sides = sum(len(covered.sides) for covered in coverage.covered)
    lacking = sum(len(covered.lacking) for covered in coverage.covered)
    text = (
        f"of {counted(len(coverage.covered), 'rule')}, the examples reach {reached} of"
        f" {counted(reached + missing, 'answer')}"
    )
    if sides:
        text += f", and stand on {sides - lacking} of {counted(sides, 'side')} of boundaries"
    return text + _left_out(coverage)


def _left_out(coverage: Coverage) -> str:
    if not coverage.unasked:
        return ""
    left = counted(coverage.unasked, "inherited rule")
    return f"; {left} that this file leaves alone not counted, but with --all"


# ---- words ----------------------------------------------------------------------


def side_words(side: BoundarySide, case: Case, rules: Rules) -> str:
    """`front tread depth: 1.9 mm, just below 2 mm`."""
    path = side.boundary.path
    label = inside(label_of(path, rules))
    text = f"{label}: {_edge_words(path, case, rules)}"
    if side.boundary.ways:
        return text
    others = [
        f"{inside(label_of(other, rules))} {plain(other, case.values[other], rules)}"
        for other in side.boundary.leaf.open
        if other != path and other in case.values
    ]
    return f"{text}, beside {listed(others, 'and')}" if others else text


def _edge_words(path: str, case: Case, rules: Rules) -> str:
    assert case.edges is not None
    own, other = case.edges
    match own.value:
        case Amount():
            return _amount_words(path, own, rules)
        case Span():
            return _day_words(path, own, rules)
        case str():
            step = "above" if own.upper else "below"
            words = (choice_words(path, edge.value, rules) for edge in (own, other))
            return f", one {step} ".join(words)
        case bool() | frozenset():
            raise AssertionError(own.value)
        case _:
            assert_never(own.value)


def _amount_words(path: str, edge: Edge, rules: Rules) -> str:
    kind = rules.facts[path].type
    assert isinstance(kind, Measured)
    text = plain(path, edge.value, rules)
    if kind.whole:
        return text
    if edge.turn is None:
        return f"exactly {text}"
    return f"{text}, just {'above' if edge.upper else 'below'} {show(edge.turn, kind.unit)}"


def _day_words(path: str, edge: Edge, rules: Rules) -> str:
    unit = "week" if is_week_code(path, rules) else "day"
    where = f"the first {unit} after" if edge.upper else f"the last {unit} before"
    return f"{plain(path, edge.value, rules)}, {where} the answer turns"


def fact_words(path: str, value: Value, rules: Rules) -> str:
    """`machine style: mini`, as it stands inside a sentence."""
    return f"{inside(label_of(path, rules))}: {choice_words(path, value, rules)}"


def plain(path: str, value: Value, rules: Rules) -> str:
    """A value in words, without quotation marks, so that it may stand between such."""
    return value_text(path, value, rules).replace("“", "").replace("”", "")


def choice_words(path: str, value: Value, rules: Rules) -> str:
    """A value as it stands inside a sentence; a mark of one letter stays as it is."""
    text = plain(path, value, rules)
    return inside(text) if len(text) > 1 else text
