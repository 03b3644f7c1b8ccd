"""What `report.what_would_do()` gives: it shows itself."""

from functools import cached_property
from typing import TYPE_CHECKING, Any

from attrs import define

from trackprep.analysis.would_do import RuleWay, WouldDo

if TYPE_CHECKING:
    from trackprep.analysis.least_changes import Way
    from trackprep.reports.pages.blocks import Page
    from trackprep.reports.report import Report

# Each shape is imported where it is asked for.


@define(eq=False, slots=False, repr=False)
class WouldDoReport:
    """For each rule not met the least that meets it, and the least for the whole verdict.

    It prints as text (`str`), shows itself in a notebook as a table, and gives Markdown, HTML
    and JSON. What is private is named without its value.

    Attributes:
        would_do: What was found.
        report: The check that it belongs to.
    """

    would_do: WouldDo
    report: "Report"

    @property
    def by_rule(self) -> tuple[RuleWay, ...]:
        """For each rule not met, required or recommended, what would do, in report order."""
        return self.would_do.by_rule

    @property
    def whole(self) -> "Way":
        """The way to be ready to present."""
        return self.would_do.whole

    @cached_property
    def page(self) -> "Page":
        """All of it as a page."""
        from trackprep.reports.would_do.page import would_do_page

        return would_do_page(self.would_do, self.report)

    def text(self, width: int = 100) -> str:
        """As plain text, in lines of at most `width` columns."""
        from trackprep.reports.pages.plain import page_text

        return page_text(self.page, width=width)

    def markdown(self) -> str:
        """As Markdown."""
        from trackprep.reports.pages.markdown import page_markdown

        return page_markdown(self.page)

    def html(self) -> str:
        """As one file to open in a browser."""
        from trackprep.reports.pages.html import page_html

        return page_html(self.page)

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `what_would_do` of `grammar/report.schema.json` describes it."""
        from trackprep.reports.would_do.json_form import would_do_form

        return would_do_form(self.would_do, self.report)

    def _repr_html_(self) -> str:
        from trackprep.reports.would_do.page import would_do_summary

        return would_do_summary(self.would_do, self.report)

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        names = ", ".join(repr(one.rule.name) for one in self.by_rule)
        return f"WouldDoReport({names})"
