"""What `trackprep.compare` gives: a comparison that shows itself."""

from functools import cached_property
from typing import Any

from attrs import define

from trackprep.analysis.comparisons import Comparison, RuleDifference
from trackprep.reports.comparison.outcome import Outcome, outcome_of
from trackprep.reports.pages.blocks import Page
from trackprep.rules.model import Rules

# Each shape is imported where it is asked for.


@define(eq=False, slots=False, repr=False)
class ComparisonReport:
    """How the second of two rulesets differs from the first.

    It prints as text (`str`), shows itself in a notebook as a table, and gives JSON.
    """

    comparison: Comparison

    @property
    def one(self) -> Rules:
        """The first ruleset."""
        return self.comparison.one

    @property
    def other(self) -> Rules:
        """The second ruleset."""
        return self.comparison.other

    @property
    def rules(self) -> tuple[RuleDifference, ...]:
        """How each rule stands, in the order of the second ruleset."""
        return self.comparison.rules

    @property
    def differences(self) -> tuple[RuleDifference, ...]:
        """The rules that are not the same."""
        return self.comparison.differences

    @property
    def outcome(self) -> Outcome:
        """`same`, `differs`, or `undecided` where anything could not be told."""
        return outcome_of(self.comparison)

    @cached_property
    def page(self) -> Page:
        """The comparison as a page."""
        from trackprep.reports.comparison.page import comparison_page

        return comparison_page(self.comparison)

    @cached_property
    def changes(self) -> Page:
        """The change log, for an edition of a ruleset and the one before it."""
        from trackprep.reports.comparison.log import change_log

        return change_log(self.comparison)

    def text(self, width: int = 100, *, whole: bool = False) -> str:
        """As plain text; long declarations in full only with `whole`."""
        from trackprep.reports.pages.plain import page_text

        return page_text(self.page, width=width, whole=whole)

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `grammar/comparison.schema.json` describes it."""
        from trackprep.reports.comparison.json_form import comparison_form

        return comparison_form(self.comparison)

    def _repr_html_(self) -> str:
        from trackprep.reports.comparison.table import comparison_table
        from trackprep.reports.pages.html import table_html

        return table_html(comparison_table(self.comparison))

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"ComparisonReport({self.one.name!r}, {self.other.name!r}, {self.outcome!r})"
