"""Several riders as the JSON that `grammar/riders.schema.json` describes."""

from typing import Any

from trackprep.problems import Problem
from trackprep.reports.club.page import told
from trackprep.reports.venues.naming import called
from trackprep.rider.club import Club, EventAnswer, Row

SCHEMA = "urn:trackprep:riders:1"

Form = dict[str, Any]


def club_form(club: Club) -> Form:
    """All of it; lists may be empty, keys are never absent, nothing private is there."""
    names = called(club.rulesets)
    return {
        "schema": SCHEMA,
        "event_date": club.event.isoformat(),
        "rulesets": [
            {
                "called": name,
                "name": rules.name,
                "title": rules.title,
                "edition": rules.edition or None,
            }
            for name, rules in zip(names, club.rulesets, strict=True)
        ],
        "worst": club.worst,
        "riders": [_row(row, names, club) for row in club.rows],
    }


def _row(row: Row, names: tuple[str, ...], club: Club) -> Form:
    return {
        "title": row.title,
        "files": list(row.files),
        "worst": row.worst,
        "events": [_answer(name, answer) for name, answer in zip(names, row.answers, strict=False)],
        "problems": [_problem(problem, club) for problem in row.problems],
    }


def _answer(name: str, answer: EventAnswer) -> Form:
    facts = answer.rules.facts
    declare = [path for path in answer.declare if not facts[path].private]
    narrow = [path for path in answer.narrow if not facts[path].private]
    every = (*answer.declare, *answer.narrow)
    return {
        "called": name,
        "verdict": answer.verdict,
        "not_met": [{"rule": rule.name, "title": rule.title} for rule in answer.not_met],
        "recommended_not_met": answer.not_heeded,
        "declare": declare,
        "narrow": narrow,
        "private": len({path for path in every if facts[path].private}),
        "for_inspector": answer.for_inspector,
    }


def _problem(problem: Problem, club: Club) -> Form:
    """Where it stands, and what may be said of it; never the value."""
    return {
        "code": problem.code,
        "file": problem.file,
        "line": problem.line,
        "path": problem.path,
        "text": told(problem, club.rulesets),
    }
