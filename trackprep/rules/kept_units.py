"""Whether the value that a supplement gives a limit has a unit where the base's has one."""

from trackprep.rules.reporting import Reporter
from trackprep.syntax import tree
from trackprep.units import NUMBER, unit


def keeps_units(changed: tree.Limit, base: tree.Limit, reporter: Reporter) -> bool:
    """Whether each new value has a unit, or none, as the base's has; if not, after a problem.

    It is told at the new value: what uses the limit may stand in a file of somebody else.
    """
    sorts = {_sort(value): value for value in reversed(_values(base))}
    if len(sorts) != 1:
        return True
    kept = True
    for value in _values(changed):
        match value, sorts:
            case tree.Number(text), {"quantity": tree.Quantity(unit=name)}:
                known = unit(name)
                assert known is not None, name
                code, suggestion = "unit-missing", f"write `{text} {name}`"
                what = f"is {known.dimension.words}, and `{text}` has no unit"
            case tree.Quantity(number), {"number": tree.Number()} if _sort(value) == "quantity":
                code, suggestion = "wrong-dimension", f"write `{number}`"
                what = f"is a number, and `{value.place.text}` has a unit"
            case _:
                continue
        reporter.report(code, f"`{changed.name}` {what}", value.place, suggestion=suggestion)
        kept = False
    return kept


def _values(limit: tree.Limit) -> list[tree.Value]:
    if isinstance(limit.value, tuple):
        return [row.value for row in limit.value]
    return [] if limit.value is None else [limit.value]


def _sort(value: tree.Value) -> str:
    """`%` is no unit here: `0.5` is `50 %`."""
    match value:
        case tree.Number():
            return "number"
        case tree.Quantity(unit=name):
            known = unit(name)
            return "percent" if known is None or known.dimension == NUMBER else "quantity"
        case _:
            return "other"
