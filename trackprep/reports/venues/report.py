"""What comparing several rulesets, or one rider at several events, gives: it shows itself."""

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

from attrs import define

from trackprep.reports.pages.blocks import Page
from trackprep.rules.model import Rules

if TYPE_CHECKING:
    from trackprep.analysis.readiness import Readiness
    from trackprep.analysis.venues import Venues
    from trackprep.backends.checks import Verdict
    from trackprep.reports.report import Report

# Each shape is imported where it is asked for.


class _Shown:
    """Something with a page, in its shapes."""

    page: Page

    def text(self, width: int = 100, *, whole: bool = False) -> str:
        """As plain text; what most readers pass over only with `whole`."""
        from trackprep.reports.pages.plain import page_text

        return page_text(self.page, width=width, whole=whole)

    def __str__(self) -> str:
        return self.text()


@define(eq=False, slots=False, repr=False)
class VenuesReport(_Shown):
    """Several rulesets side by side: the table of limits, and what is ready at all.

    It prints as text (`str`), shows itself in a notebook as a table, and gives JSON.
    """

    venues: "Venues"

    @property
    def rulesets(self) -> tuple[Rules, ...]:
        """The rulesets, in the order given."""
        return self.venues.rulesets

    @property
    def outcome(self) -> Literal["same", "differs", "undecided"]:
        """`same`, `differs`, or `undecided` where anything could not be told."""
        return self.venues.outcome

    @cached_property
    def page(self) -> Page:  # type: ignore[override]
        """The comparison as a page."""
        from trackprep.reports.venues.page import venues_page

        return venues_page(self.venues)

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `grammar/venues.schema.json` describes it."""
        from trackprep.reports.venues.json_form import venues_form

        return venues_form(self.venues)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import table_html
        from trackprep.reports.venues.page import whole_table

        return table_html(whole_table(self.venues))

    def __repr__(self) -> str:
        names = ", ".join(repr(rules.name) for rules in self.rulesets)
        return f"VenuesReport({names}, {self.outcome!r})"


@define(eq=False, slots=False, repr=False)
class ReadinessReport(_Shown):
    """One rider at several events: where ready, and the least to change.

    It prints as text (`str`), shows itself in a notebook as a table, and gives JSON.
    """

    readiness: "Readiness"
    reports: Sequence["Report"]

    @cached_property
    def verdict(self) -> "Verdict":
        """The worst verdict as declared: `ready` is ready at all of them."""
        from trackprep.reports.venues.rider_page import worst

        return worst(self.reports)

    @cached_property
    def page(self) -> Page:  # type: ignore[override]
        """Everything as a page."""
        from trackprep.reports.venues.rider_page import RiderPage

        return RiderPage(self.readiness, self.reports).page()

    def to_dict(self) -> dict[str, Any]:
        """For a program, as `grammar/readiness.schema.json` describes it."""
        from trackprep.reports.venues.json_form import readiness_form

        return readiness_form(self.readiness, self.reports)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import table_html
        from trackprep.reports.venues.rider_page import RiderPage

        return table_html(RiderPage(self.readiness, self.reports).summary())

    def __repr__(self) -> str:
        names = ", ".join(repr(rules.name) for rules in self.readiness.rulesets)
        return f"ReadinessReport({names}, {self.verdict!r})"
