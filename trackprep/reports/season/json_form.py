"""A season as the part of the JSON that `grammar/report.schema.json` calls `season`."""

from collections.abc import Sequence
from typing import Any

from trackprep.reports.json_form import SCHEMA, report_form
from trackprep.reports.report import Report
from trackprep.rider.lookahead import EventAhead


def season_form(ahead: EventAhead) -> dict[str, Any]:
    """One event over the season."""
    return {
        "first": ahead.first.isoformat(),
        "last": ahead.last.isoformat(),
        "worst": ahead.worst,
        "verdicts": [
            {
                "first": stretch.first.isoformat(),
                "last": stretch.last.isoformat(),
                "verdict": stretch.verdict,
            }
            for stretch in ahead.stretches
        ],
        "changes": [
            {
                "day": change.day.isoformat(),
                "rule": change.rule.name,
                "level": change.rule.level,
                "before": change.before,
                "after": change.after,
                "worse": change.worse,
            }
            for change in ahead.changes
        ],
    }


def seasons_form(events: Sequence[EventAhead], reports: Sequence[Report]) -> dict[str, Any]:
    """A report with its season; of several events, the reports with theirs."""
    forms = [
        {**report_form(report), "season": season_form(ahead)}
        for ahead, report in zip(events, reports, strict=True)
    ]
    return forms[0] if len(forms) == 1 else {"schema": SCHEMA, "reports": forms}
