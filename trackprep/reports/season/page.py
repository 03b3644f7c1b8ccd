"""A season as blocks: the picture, what starts when, and what is not foreseen."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Literal

from trackprep.backends.statuses import Status
from trackprep.dates import Span, long_form
from trackprep.explanations.wording import counted, inside, label_of, listed, quoted
from trackprep.reports.checked import Checked
from trackprep.reports.checks.discreet import (
    discreet_value,
    discreetly_told,
    is_private,
    looks_at_private,
)
from trackprep.reports.notices import PRECEDENCE
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Page, Paragraph, Picture, Table
from trackprep.reports.report import Report
from trackprep.reports.season.bars import ASCII, bar_lines
from trackprep.reports.season.discreet import discreetly_ahead
from trackprep.reports.season.drawing import drawing
from trackprep.reports.season.words import rows_of, starts, verdicts_told, when
from trackprep.rider.lookahead import Change, EventAhead

FORESEEN = (
    "Foreseen is what dates and ages settle, with nothing else changed. Wear, leaks and what works"
    " loose are not: look again before each event."
)
COLUMNS = 92


class SeasonPage:
    """One declaration over a season, for one event or several.

    Attributes:
        reports: A report for each event, of any day: what was declared, and read for it.
        private: Whether it is for the rider alone, so that private dates may turn an answer.
    """

    def __init__(
        self, events: Sequence[EventAhead], reports: Sequence[Report], *,
        columns: int = COLUMNS, signs: Mapping[Status, str] = ASCII, private: bool = False,
    ) -> None:  # fmt: skip
        self.reports, self.private = tuple(reports), private
        self.events = tuple(events) if private else tuple(map(discreetly_ahead, events, reports))
        self.columns, self.signs = columns, dict(signs)

    @property
    def _season(self) -> Span:
        return Span(self.events[0].first, self.events[0].last)

    def page(self) -> Page:
        """The season alone."""
        declaration = self.reports[0].declaration
        rider = declaration.title or declaration.name
        said = f"{rider}: the season, {long_form(self._season)}"
        return Page(said, (*self._inner(), *self._notes(2)), PRECEDENCE)

    def blocks(self) -> tuple[Block, ...]:
        """The season as a part of another page."""
        heading = Heading(f"The season, {long_form(self._season)}")
        return (heading, *self._inner(), *self._notes(3))

    def _inner(self) -> Iterator[Block]:
        season = self._season
        yield Bullets(tuple(
            (ahead.rules.title, f"{verdicts_told(ahead)}.") for ahead in self.events
        ))  # fmt: skip
        yield from self._held()
        rows = rows_of(self.events)
        lines = bar_lines(rows, season.first, season.last, self.columns, self.signs)
        yield Picture(self._alternative(), drawing(rows, season.first, season.last), lines)
        table = self.table()
        if table.rows:
            yield table
        else:
            yield Paragraph(f"No answer turns: each stays as it is on {long_form(season.first)}.")

    def _held(self) -> Iterator[Block]:
        """Which rules a page for others does not follow through the season."""
        for report in () if self.private else self.reports:
            if held := [rule.title for rule in report.rules.rules
                        if looks_at_private(rule, report)]:  # fmt: skip
                several = len(self.reports) > 1
                yield Paragraph(
                    f"{f'{report.rules.title}: ' if several else ''}Rules that look at private"
                    f" facts are taken as they answer on {long_form(report.event)}, since the day"
                    " on which one turns would tell the fact. The season as text, for the rider"
                    f" alone, has it: {listed([quoted(title) for title in held], 'and')}.",
                    "Not foreseen here", "warning",
                )  # fmt: skip

    def _alternative(self) -> str:
        number = sum(len(ahead.changes) for ahead in self.events)
        turning = counted(number, "answer turns", "answers turn") if number else "No answer turns"
        return (
            f"A bar for each event, with a narrower one for each rule whose answer turns."
            f" {turning} in the season."
        )

    def table(self) -> Table:
        """Each day on which something starts, with what."""
        changes = [
            (change, number)
            for number, ahead in enumerate(self.events) for change in ahead.changes
        ]  # fmt: skip
        changes.sort(key=lambda pair: pair[0].day)
        several = len(self.events) > 1
        head = ("From", *(("Event",) if several else ()), "Rule", "What starts", "Why")
        rows = (
            (
                long_form(change.day),
                *((self.events[number].rules.title,) if several else ()),
                f"{change.rule.title} ({change.rule.level})",
                starts(change),
                self.why(change, number),
            )
            for change, number in changes
        )
        return Table("What starts when, with nothing changed:", head, tuple(rows))

    def why(self, change: Change, number: int) -> str:
        """Why the rule answers so from that day on, without what is private."""
        report = self._on(change.day, number)
        answer = next(one for one in report.answers if one.rule == change.rule.name)
        return " ".join(discreetly_told(answer.explanation, report.rules)) or "Nothing is missing."

    def _on(self, day: date, number: int) -> Report:
        given = self.reports[number]
        return Report(Checked.made(given.rules, given.declaration, day))

    def _notes(self, level: Literal[2, 3]) -> Iterator[Block]:
        points = [("", FORESEEN)]
        for number, ahead in enumerate(self.events):
            title = ahead.rules.title
            if ahead.rules.valid and (
                ahead.first < ahead.rules.valid[0] or ahead.last > ahead.rules.valid[1]
            ):
                valid = when(Span(*ahead.rules.valid))
                points.append((title, f"these rules are for events {valid}; the days outside were"
                               " checked by them all the same."))  # fmt: skip
            early = self._on(ahead.first, number)
            for path in (problem.path for problem in early.problems if problem.path):
                if is_private(path, ahead.rules) and not self.private:
                    continue
                label = inside(label_of(path, ahead.rules))
                value = discreet_value(path, early.declaration.values[path], ahead.rules)
                points.append((title, f"{label} ({value}) counts as undeclared on days before"
                               " that."))  # fmt: skip
        yield Heading("What this does not say", level)
        yield Bullets(tuple(points))
