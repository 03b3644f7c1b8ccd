"""The comparison as one table, for a notebook."""

from trackprep.analysis.comparisons import Comparison, RuleDifference
from trackprep.explanations.sentences import asked_sentences
from trackprep.reports.comparison.naming import BADGES, Names
from trackprep.reports.comparison.page import summary
from trackprep.reports.comparison.shown import fact_rows
from trackprep.reports.pages.blocks import SIGNS, Table
from trackprep.rules.model import Rule, Rules


def comparison_table(comparison: Comparison) -> Table:
    """A row for each rule that is not the same."""
    names = Names.of(comparison)
    head = ("Rule", "How it differs", names.one, names.other, "Shown by")
    rows = tuple(_row(each, comparison) for each in comparison.differences)
    return Table(f"{names.other} compared with {names.one}. {summary(comparison)}", head, rows)


def _row(each: RuleDifference, comparison: Comparison) -> tuple[str, ...]:
    badge, tone = BADGES[each.kind]
    again = ", nothing new" if each.restates else ""
    shown = each.lost or each.gained or each.more
    said = "; ".join(
        f"{label}: {value}"
        for label, value, _ in (fact_rows(shown.witness, comparison) if shown else ())
    )
    return (
        f"{each.rule.title} [{each.rule.name}]", f"{SIGNS[tone]} {badge}{again}",
        _asked(each.one, comparison.one), _asked(each.other, comparison.other), said or "–",
    )  # fmt: skip


def _asked(rule: Rule | None, rules: Rules) -> str:
    return asked_sentences(rule, rules) if rule is not None else "–"
