"""Several riders at one or more events: the answers, and their shapes."""

from typing import Any

from attrs import define

from trackprep.reports.club.json_form import club_form
from trackprep.reports.club.page import club_page, club_text
from trackprep.reports.pages.blocks import Page
from trackprep.rider.club import Club


@define(eq=False)
class ClubReport:
    """What the rules of events answer to several riders."""

    club: Club

    @property
    def page(self) -> Page:
        """All of it as a page."""
        return club_page(self.club)

    def text(self, width: int = 100) -> str:
        """All of it as plain text, the riders in columns where `width` has room for them."""
        return club_text(self.club, width)

    def to_dict(self) -> dict[str, Any]:
        """All of it for a program, as `grammar/riders.schema.json` describes it."""
        return club_form(self.club)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import page_part

        return page_part(self.page)

    def __str__(self) -> str:
        return self.text()
