"""Work lists made by the page's script and by the project, in one form."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, TypeAlias

from form.conftest import Call

from trackprep.backends import checks
from trackprep.backends.page import PlainRuleset, plain_day, plain_values
from trackprep.explanations.situation import Situation, known_text
from trackprep.publishing.form.facts import used_facts
from trackprep.publishing.form.work import plain_words, plain_work
from trackprep.rider.work.events import Event
from trackprep.rider.work.planning import planned
from trackprep.rider.worklist import Duration, Served, Step, Texts
from trackprep.rules.model import Rules
from trackprep.rules.values import Value

Form: TypeAlias = dict[str, Any]
Declared: TypeAlias = Mapping[str, Value]
Case: TypeAlias = tuple[Sequence[int], Declared, date, str | None, date]
"""The places of rulesets among several, a declaration, the event's day, the arrival, today."""


def event_data(its: Rules) -> Form:
    """An event as the page has it, with the facts alone that are looked at."""
    plain = PlainRuleset(its, used_facts(its))
    work = plain_work(its, plain)
    rules = [{"title": rule.title} for rule in its.rules]
    return {"name": its.name, "rules": rules, "plain": plain.data(), "work": work}


LISTS = """(events, words, cases) => {
  const known = events.map((event) => ({ event, ruleset: new Ruleset(event.plain) }));
  return cases.map(([places, values, day, arrival, today]) => {
    const sittings = places.map((place) => {
      const { event, ruleset } = known[place];
      return sittingOf(event, ruleset, values, day);
    });
    return workList(sittings, { arrival, today, words });
  });
}"""


def agree(call: Call, several: Sequence[Rules], cases: Iterable[Case]) -> None:
    """Both make the same lists of all cases."""
    asked = list(cases)
    given = [
        [[*places], plain_values(declared), plain_day(day), arrival, plain_day(today)]
        for places, declared, day, arrival, today in asked
    ]
    found = call(LISTS, [event_data(one) for one in several], plain_words(), given)
    for (places, declared, day, arrival, today), one in zip(asked, found, strict=True):
        events = [event(place, several[its], declared, day) for place, its in enumerate(places)]
        for step in (*one["road"]["leaving"], *one["road"]["later"]):
            step["declared"] = told(step, events)
        assert one == expected(events, arrival, today), (places, arrival)


def event(place: int, its: Rules, declared: Declared, day: date) -> Event:
    own = {path: value for path, value in declared.items() if path in its.facts}
    values, _ = checks.prepared(its, own, day)
    return Event(place, checks.outcomes(its, values, day), Situation(its, values, own, day))


def told(step: Form, events: Sequence[Event]) -> str:
    """What was declared of a step, in words, from the paths of the page."""
    serving = [events[one["event"]].situation for one in step["serves"]]
    firsts = [
        (path, next(one for one in serving if path in one.values)) for path in step["declared"]
    ]
    return known_text([known for path, one in firsts for known in one.known([path])])


def expected(events: Sequence[Event], arrival: Any, today: date) -> Form:
    """What the project itself makes, in the form of the page."""
    made = planned(events, arrival, today)
    jobs = [
        {"number": job.number, "texts": texts_form(job.texts), "level": job.level,
         "serves": [served_form(one, events) for one in job.serves], "spot": job.spot,
         "takes": takes_form(job.takes), "parts": [*job.parts], "tools": [*job.tools],
         "cautions": [*job.cautions], "after": [*job.after]}
        for job in made.jobs
    ]  # fmt: skip
    buy = [
        {"name": one.name, "jobs": [*one.jobs], "by": one.by and plain_day(one.by),
         "allow": one.allow, "late": one.late, "road": one.road}
        for one in made.buy
    ]  # fmt: skip
    return {
        "arrival": made.arrival,
        "jobs": jobs,
        "buy": buy,
        "borrow": [
            {"name": one.name, "jobs": [*one.jobs], "road": one.road} for one in made.borrow
        ],
        "pack": {
            "brings": [*made.pack.brings],
            "tools": [*made.pack.tools],
            "parts": [*made.pack.parts],
        },
        "road": {
            "registered": made.road.registered,
            "leaving": [step_form(step, events) for step in made.road.leaving],
            "later": [step_form(step, events) for step in made.road.later],
        },
        "inspector": [
            {name: served_form(one, events)[name] for name in ("event", "rule")}
            for one in made.inspector
        ],
    }


def texts_form(texts: Texts) -> list[Any]:
    return [[text, [*places]] for text, places in texts]


def takes_form(takes: Duration) -> Form:
    return {"minutes": str(takes.minutes), "untimed": takes.untimed}


def served_form(one: Served, events: Sequence[Event]) -> Form:
    names = [rule.name for rule in events[one.occasion].rules.rules]
    return {"event": one.occasion, "rule": names.index(one.rule), "parts": [*one.parts]}


def step_form(step: Step, events: Sequence[Event]) -> Form:
    return {
        "texts": texts_form(step.texts), "point": step.point,
        "serves": [served_form(one, events) for one in step.serves],
        "takes": takes_form(step.takes), "parts": [*step.parts], "tools": [*step.tools],
        "cautions": [*step.cautions], "declared": step.declared, "jobs": [*step.jobs],
        "onlyIf": step.only_if,
    }  # fmt: skip
