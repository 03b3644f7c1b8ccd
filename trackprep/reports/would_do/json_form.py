"""What would do, as JSON: a part of a report, with its schema in `grammar/`."""

from typing import Any

from trackprep.analysis.would_do import WouldDo
from trackprep.reports.report import Report
from trackprep.reports.venues.json_form import Ways


def would_do_form(would_do: WouldDo, report: Report) -> dict[str, Any]:
    """Lists may be empty, keys are never absent; what is private is named without its value."""
    making = Ways((would_do.rules,), (report,))
    return {
        "rules": [
            {
                "rule": one.rule.name,
                "title": one.rule.title,
                "level": one.rule.level,
                "way": making.way(one.way, (0,)),
                "against": [rule.name for rule in one.against],
            }
            for one in would_do.by_rule
        ],
        "whole": making.way(would_do.whole, (0,)),
    }
