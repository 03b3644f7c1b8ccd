"""A work list for programs; `grammar/worklist.schema.json` describes it."""

from collections.abc import Sequence
from typing import Any

from trackprep.reports.report import Report
from trackprep.reports.venues.naming import called
from trackprep.rider.worklist import (
    Duration,
    Job,
    OpenPoint,
    Question,
    Served,
    Step,
    Texts,
    ToBuy,
    Worklist,
    total,
)

SCHEMA = "urn:trackprep:worklist:1"

Form = dict[str, Any]


def worklist_form(worklist: Worklist, reports: Sequence[Report]) -> Form:
    """The whole list; lists may be empty, keys are never absent."""
    return WorklistForm(worklist, reports).form()


class WorklistForm:
    """The form in the making; rulesets go by what they are called beside each other."""

    def __init__(self, worklist: Worklist, reports: Sequence[Report]) -> None:
        self.list, self.reports = worklist, reports
        self.names = called([report.rules for report in reports])

    def form(self) -> Form:
        """All of it."""
        declaration, road = self.reports[0].declaration, self.list.road
        return {
            "schema": SCHEMA,
            "declaration": {"title": declaration.title, "name": declaration.name},
            "event_date": self.list.day.isoformat(),
            "arrival": self.list.arrival,
            "rulesets": list(map(self.ruleset, range(len(self.names)))),
            "find_out": list(map(self.point, self.list.points)),
            "jobs": list(map(self.job, self.list.jobs)),
            "time": _time(total(tuple(job.takes for job in self.list.jobs))),
            "time_to_find_out": _time(total(tuple(one.takes for one in self.list.questions))),
            "inspector": self.serves(self.list.inspector),
            "buy": list(map(_buy, self.list.buy)),
            "borrow": [
                {"name": one.name, "jobs": list(one.jobs), "road": one.road}
                for one in self.list.borrow
            ],
            "pack": {
                "bring": list(self.list.pack.brings),
                "tools": list(self.list.pack.tools),
                "parts": list(self.list.pack.parts),
            },
            "road_return": {
                "registered": road.registered,
                "before_leaving": list(map(self.step, road.leaving)),
                "later": list(map(self.step, road.later)),
            },
        }

    def ruleset(self, place: int) -> Form:
        """One event, and what it answers."""
        report = self.reports[place]
        return {
            "called": self.names[place],
            "name": report.rules.name,
            "title": report.rules.title,
            "edition": report.rules.edition or None,
            "verdict": report.verdict,
            "problems": [problem.to_dict() for problem in report.problems],
        }

    def point(self, point: OpenPoint) -> Form:
        """What some unsettled rules wait for."""
        return {
            "level": point.level,
            "serves": self.serves(point.serves),
            "facts": list(map(_question, point.questions)),
            "asked_above": list(point.asked_above),
            "untold": list(point.untold),
            "otherwise": list(point.otherwise),
        }

    def job(self, job: Job) -> Form:
        """Work to do."""
        return {
            "number": job.number,
            "level": job.level,
            "where": job.spot,
            "texts": self.texts(job.texts),
            "time": _time(job.takes),
            "serves": self.serves(job.serves),
            "why": list(job.why),
            "cautions": list(job.cautions),
            "parts": list(job.parts),
            "tools": list(job.tools),
            "after": list(job.after),
        }

    def step(self, step: Step) -> Form:
        """Something to put back, or to look at last."""
        return {
            "texts": self.texts(step.texts),
            "point": step.point or None,
            "time": _time(step.takes),
            "serves": self.serves(step.serves),
            "declared": step.declared or None,
            "only_if_done": step.only_if,
            "undoes": list(step.jobs),
            "cautions": list(step.cautions),
            "parts": list(step.parts),
            "tools": list(step.tools),
        }

    def texts(self, texts: Texts) -> list[Form]:
        """What to do, as each ruleset says it."""
        return [
            {"text": text, "rulesets": [self.names[place] for place in places]}
            for text, places in texts
        ]

    def serves(self, serves: Sequence[Served]) -> list[Form]:
        """The rules that something is for."""
        return [
            {
                "ruleset": self.names[one.occasion],
                "rule": one.rule,
                "title": one.title,
                "level": one.level,
                "parts": list(one.parts),
            }
            for one in serves
        ]


def _question(one: Question) -> Form:
    return {
        "path": one.path,
        "label": one.label,
        "ask": one.ask,
        "how": one.how or None,
        "time": _time(one.takes),
        "asked": list(one.asked),
        "declared": one.declared or None,
        "finer": one.finer or None,
        "treat_as": one.treat_as or None,
        "cautions": list(one.cautions),
    }


def _buy(one: ToBuy) -> Form:
    return {
        "name": one.name,
        "jobs": list(one.jobs),
        "order_by": one.by.isoformat() if one.by else None,
        "allow": one.allow or None,
        "late": one.late,
        "road": one.road,
    }


def _time(takes: Duration) -> Form:
    minutes = takes.minutes
    exact = int(minutes) if minutes.denominator == 1 else float(minutes)
    return {"minutes": exact, "without_a_time": takes.untimed}
