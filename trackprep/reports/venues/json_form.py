"""Several rulesets, and one rider at several events, as JSON with its schemas in `grammar/`."""

from collections.abc import Mapping, Sequence
from typing import Any

from trackprep.analysis.common_set import CommonRule, CommonSet, NobodyReady, ReadyAtAll
from trackprep.analysis.demands import Demand
from trackprep.analysis.least_changes import Change, Obstacle, Plan, Undecided, Way
from trackprep.analysis.limits_table import Row
from trackprep.analysis.readiness import Readiness
from trackprep.analysis.replaying import RuleOf
from trackprep.analysis.venues import Venues
from trackprep.analysis.witnesses import spelled, text_of
from trackprep.dates import long_form
from trackprep.explanations.wording import label_of
from trackprep.reports.checks.discreet import bound_to_private
from trackprep.reports.report import Report
from trackprep.reports.venues.jobs import Job, jobs
from trackprep.reports.venues.naming import called
from trackprep.reports.venues.page import about, plain_demand
from trackprep.rules.model import Fact, Rules
from trackprep.rules.values import Value

VENUES = "urn:trackprep:venues:1"
READINESS = "urn:trackprep:readiness:1"

Form = dict[str, Any]


# ---- several rulesets -------------------------------------------------------


def venues_form(venues: Venues) -> Form:
    """The whole comparison; lists may be empty, keys are never absent."""
    names = called(venues.rulesets)
    period = venues.period
    return {
        "schema": VENUES,
        "rulesets": _rulesets(venues.rulesets),
        "period": {
            "first": period.first.isoformat(), "last": period.last.isoformat(), "why": period.why,
        },
        "outcome": venues.outcome,
        "rows": [_row(row, names) for row in venues.rows],
        "common": _common(venues.common, venues, names),
        "clashes": [clash.path for clash in venues.clashes],
    }  # fmt: skip


def _rulesets(rulesets: Sequence[Rules]) -> list[Form]:
    return [
        {
            "called": name,
            "name": rules.name,
            "title": rules.title,
            "edition": rules.edition or None,
            "file": rules.files[0].name if rules.files else None,
            "valid": [day.isoformat() for day in rules.valid] if rules.valid else None,
        }
        for name, rules in zip(called(rulesets), rulesets, strict=True)
    ]


def _row(row: Row, names: Sequence[str]) -> Form:
    return {
        "about": about(row),
        "section": row.section,
        "agree": row.agree,
        "unsure": row.unsure,
        "strictest": [names[number] for number in sorted(row.strictest)],
        "asked": {
            name: [_demand(demand) for demand in cell]
            for name, cell in zip(names, row.cells, strict=True)
        },
    }


def _demand(demand: Demand) -> Form:
    return {
        "rule": demand.rule.name,
        "level": demand.rule.level,
        "text": demand.text,
        "when": demand.when or None,
    }


def _common(common: CommonSet, venues: Venues, names: Sequence[str]) -> Form:
    """What is ready at all of them, or why nothing is, or why that could not be told."""
    form: Form = {
        "answer": "undecided", "why": None, "rules": [], "implied": 0, "facts": [],
        "witness": None,
    }  # fmt: skip
    match common:
        case ReadyAtAll(witness, rules, implied):
            facts = {path: fact for each in venues.rulesets for path, fact in each.facts.items()}
            title = f"Ready at all of them, for an event on {long_form(witness.event)}"
            form |= {
                "answer": "ready at all",
                "rules": [_asked(each, venues.rulesets, names) for each in rules],
                "implied": implied,
                "witness": {
                    "event_date": witness.event.isoformat(),
                    "values": _spelled(witness.values, facts),
                    "rider": text_of(witness, facts, title),
                },
            }
        case NobodyReady(core, facts, event):
            form |= {
                "answer": "nobody",
                "why": f"shown for an event on {long_form(event)}",
                "rules": [_asked(each, venues.rulesets, names) for each in core],
                "facts": list(facts),
            }
        case Undecided(reason):
            form["why"] = reason
    return form


def _asked(each: CommonRule, rulesets: Sequence[Rules], names: Sequence[str]) -> Form:
    return {
        "rule": each.rule.name,
        "title": each.rule.title,
        "section": each.rule.section,
        "text": plain_demand(each.rule, rulesets[each.ruleset]),
        "asked_by": [names[one.ruleset] for one in each.asked_by],
    }


def _spelled(values: Mapping[str, Value], facts: Mapping[str, Fact]) -> Form:
    return {path: spelled(value, facts[path]) for path, value in values.items()}


# ---- one rider --------------------------------------------------------------


def readiness_form(readiness: Readiness, reports: Sequence[Report]) -> Form:
    """Where a rider is ready, and the ways; what is private is named without its value."""
    making = Ways(readiness.rulesets, reports)
    every = tuple(range(len(reports)))
    to_all = readiness.way_to_all
    return {
        "schema": READINESS,
        "declaration": {
            "title": reports[0].declaration.title, "name": reports[0].declaration.name,
        },
        "event_date": readiness.event.isoformat(),
        "rulesets": _rulesets(readiness.rulesets),
        "events": [
            {
                "called": name,
                "verdict": report.verdict,
                "problems": [problem.to_dict() for problem in report.problems],
                "way": making.way(way, (number,)),
            }
            for number, (name, report, way) in enumerate(
                zip(making.names, reports, readiness.ways, strict=True)
            )
        ],
        "way_to_all": None if to_all is None else making.way(to_all, every),
        "notices": [
            {"code": notice.code, "text": notice.text}
            for notice in dict.fromkeys(one for report in reports for one in report.notices)
        ],
    }  # fmt: skip


class Ways:
    """Ways as JSON, with the facts and rules looked up."""

    def __init__(self, rulesets: Sequence[Rules], reports: Sequence[Report]) -> None:
        self.rulesets, self.reports = rulesets, reports
        self.names = called(rulesets)

    def way(self, way: Way, numbers: Sequence[int]) -> Form:
        """A way to be ready by the rulesets of these numbers."""
        form: Form = {
            "answer": "undecided", "why": None, "least": None, "jobs": [], "find_out": [],
            "fallen_away": [], "in_the_way": {"rules": [], "facts": []},
        }  # fmt: skip
        match way:
            case Plan():
                found = jobs(way, [self.reports[number] for number in numbers])
                form |= {
                    "answer": "way",
                    "least": way.exact,
                    "jobs": [self.job(job, numbers) for job in found],
                    "find_out": [self.change(change, numbers) for change in way.to_find_out],
                    "fallen_away": [self.rule(one, numbers) for one in way.fallen_away],
                }
            case Obstacle(rules, facts):
                form |= {
                    "answer": "no way",
                    "in_the_way": {
                        "rules": [self.rule(one, numbers) for one in rules], "facts": list(facts),
                    },
                }  # fmt: skip
            case Undecided(reason):
                form["why"] = reason
        return form

    def job(self, job: Job, numbers: Sequence[int]) -> Form:
        """A piece of work."""
        return {
            "fixes": [
                {
                    "text": fix.text,
                    "by": [self.names[numbers[number]] for number in fix.by],
                    "needs": [{"what": label, "text": text} for label, text in fix.details],
                }
                for fix in job.fixes
            ],
            "cautions": list(job.cautions),
            "changes": [self.change(change, numbers) for change in job.changes],
        }

    def change(self, change: Change, numbers: Sequence[int]) -> Form:
        """A fact to change or to find out; a private one without its values."""
        several = (self.rulesets[number] for number in numbers)
        rules = next(rules for rules in several if change.path in rules.facts)
        fact = rules.facts[change.path]
        shown = not fact.private
        told = not bound_to_private(change.path, rules)
        return {
            "fact": change.path,
            "label": label_of(change.path, rules),
            "private": fact.private,
            "old": spelled(change.old, fact) if shown and change.old is not None else None,
            "new": spelled(change.new, fact) if told else None,
            "others": [spelled(value, fact) for value in change.others] if told else [],
            "further": (change.further or None) if told else None,
            "rules": [self.rule(one, numbers) for one in change.rules],
        }

    def rule(self, one: RuleOf, numbers: Sequence[int]) -> Form:
        """A rule, and whose it is."""
        number = numbers[one.ruleset]
        rule = next(rule for rule in self.rulesets[number].rules if rule.name == one.rule)
        return {"ruleset": self.names[number], "rule": rule.name, "title": rule.title}
