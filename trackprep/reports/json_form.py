"""A report as the JSON that `grammar/report.schema.json` describes."""

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING, Any

from trackprep.explanations.findings import Coarse, Explanation, Missing, Reason, Shortfall
from trackprep.explanations.situation import Known
from trackprep.explanations.telling import told
from trackprep.problems import Problem
from trackprep.reports.verdicts import verdict_lines
from trackprep.reports.works import place_of
from trackprep.rules.model import Work
from trackprep.rules.values import Amount
from trackprep.units import show

if TYPE_CHECKING:
    from trackprep.declarations.declaration import Declaration
    from trackprep.reports.answer import Answer
    from trackprep.reports.report import Report
    from trackprep.rules.model import Rules

SCHEMA = "urn:trackprep:report:1"

Form = dict[str, Any]


def report_form(report: "Report") -> Form:
    """The whole report; lists may be empty, keys are never absent."""
    return {
        "schema": SCHEMA,
        "ruleset": _ruleset(report.rules),
        "edition": report.rules.edition or None,
        "declaration": _declaration(report.declaration),
        "event_date": report.event.isoformat(),
        "verdict": report.verdict,
        "until": _day(report.until) if report.until else None,
        "summary": list(verdict_lines(report)),
        "problems": [problem.to_dict() for problem in report.problems],
        "notices": [{"code": notice.code, "text": notice.text} for notice in report.notices],
        "rules": [_answer(answer) for answer in report.answers],
    }


def problems_form(problems: Iterable[Problem]) -> Form:
    """What there is instead of a report, where there is none."""
    return {"schema": SCHEMA, "problems": [problem.to_dict() for problem in problems]}


def _ruleset(rules: "Rules") -> Form:
    return {
        "name": rules.name,
        "title": rules.title,
        "edition": rules.edition or None,
        "organizer": rules.organizer or None,
        "venue": rules.venue or None,
        "contact": rules.contact or None,
        "valid": [_day(day) for day in rules.valid] if rules.valid else None,
        "base": rules.base,
    }


def _declaration(declaration: "Declaration") -> Form:
    return {
        "title": declaration.title,
        "file": declaration.name,
        "declared_on": _day(declaration.declared_on) if declaration.declared_on else None,
    }


def _answer(answer: "Answer") -> Form:
    explanation = answer.explanation
    return {
        "rule": answer.rule,
        "title": answer.title,
        "section": answer.section,
        "level": answer.level,
        "status": answer.status,
        "part": answer.part,
        "until": _day(until) if (until := answer.until) else None,
        "declare": list(answer.declare),
        "narrow": list(answer.narrow),
        "why": list(told(explanation)),
        **_explanation(explanation),
        "check_again": list(answer.check_again),
        "reason": answer.reason or None,
        "fixes": [_work(work, answer) for work in answer.fixes],
        "cautions": list(answer.cautions),
        "inspect": answer.inspect or None,
        "source": answer.source or None,
    }


def _explanation(explanation: Explanation) -> Form:
    return {
        "shortfalls": [_shortfall(one) for one in explanation.shortfalls],
        "undeclared": [_missing(one) for one in explanation.missing],
        "coarse": [_coarse(one) for one in explanation.coarse],
        "undefined": [one.subject for one in explanation.undefined],
        "known": [_known(one) for one in explanation.known],
    }


def _shortfall(shortfall: Shortfall) -> Form:
    tally = shortfall.tally
    return {
        "part": shortfall.part or None,
        "tests": [_reason(reason) for reason in shortfall.reasons],
        "other_ways": shortfall.others,
        "tally": {"hold": tally[0], "asked": tally[1]} if tally else None,
    }


def _reason(reason: Reason) -> Form:
    return {
        "subject": reason.subject,
        "paths": list(reason.paths),
        "value": reason.value,
        "converted": reason.converted or None,
        "origin": reason.origin,
        "asked": reason.asked,
        "off": reason.off or None,
        "nearest": reason.nearest or None,
        "facts": [_known(fact) for fact in reason.facts],
        "decides": list(reason.meanings),
    }


def _missing(missing: Missing) -> Form:
    return {
        "path": missing.path,
        "label": missing.label,
        "asked": list(missing.asked),
        "for_the_inspector": missing.for_the_inspector,
    }


def _coarse(coarse: Coarse) -> Form:
    return {
        "path": coarse.path,
        "label": coarse.label,
        "value": coarse.value,
        "finer": coarse.finer or None,
    }


def _known(known: Known) -> Form:
    return {"path": known.path, "label": known.label, "value": known.value}


def _work(work: Work, answer: "Answer") -> Form:
    return {
        "text": work.text,
        "takes": _amount(work.takes),
        "parts": [{"name": part.name, "allow": _amount(part.allow)} for part in work.parts],
        "tools": list(work.tools),
        "after": list(work.after),
        "where": place_of(work, answer),
        "cautions": list(work.cautions),
    }


def _amount(amount: Amount | None) -> str | None:
    return None if amount is None else show(amount.value, amount.unit)


def _day(day: date) -> str:
    return day.isoformat()
