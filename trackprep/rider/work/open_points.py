"""What unsettled rules wait for: what to find out, how, and what to take it for if nobody can."""

from collections.abc import Iterable, Iterator, Sequence

from attrs import define, field

from trackprep.backends.checks import Outcome, outcome, prepared
from trackprep.explanations.findings import Explanation
from trackprep.explanations.reasons import explain
from trackprep.explanations.wording import capitalized, label_of, value_text
from trackprep.rider.work.events import Event, joined
from trackprep.rider.work.jobs import duration
from trackprep.rider.worklist import Duration, OpenPoint, Question, Served
from trackprep.rules.model import Choosing, Fact, Rule, YesOrNo
from trackprep.rules.values import Value


@define(eq=False)
class _Waiting:
    """Rules that wait for the same facts."""

    facts: tuple[str, ...]
    rules: list[tuple[Event, Rule, Outcome]] = field(factory=list)

    @property
    def serves(self) -> tuple[Served, ...]:
        return joined([event.served(rule) for event, rule, _ in self.rules])


def open_points(events: Sequence[Event]) -> tuple[OpenPoint, ...]:
    """What the rules of the events wait for: the required first, each fact once."""
    points: list[OpenPoint] = []
    asked: set[str] = set()
    for waiting in sorted(_waiting(events), key=lambda one: not _required(one)):
        new = [path for path in waiting.facts if path not in asked]
        points.append(_point(waiting, new))
        asked.update(new)
    return tuple(points)


def only_the_inspector(events: Iterable[Event]) -> tuple[Served, ...]:
    """The rules that wait for the inspector alone."""
    return tuple(
        event.served(rule)
        for event in events
        for rule, found in event.answers("unsettled")
        if event.for_inspector(found)
    )


def _waiting(events: Iterable[Event]) -> Iterable[_Waiting]:
    found: dict[tuple[str, ...], _Waiting] = {}
    for event in events:
        facts = event.rules.facts
        for rule, its in event.answers("unsettled"):
            if event.for_inspector(its):
                continue
            paths = tuple(
                path for path in (*its.declare, *its.narrow) if not facts[path].for_the_inspector
            )
            # What waits for no fact cannot be told, each rule for a reason of its own.
            key = paths or (rule.name, str(event.place))
            found.setdefault(key, _Waiting(paths)).rules.append((event, rule, its))
    return found.values()


def _required(waiting: _Waiting) -> bool:
    return any(rule.level == "required" for _, rule, _ in waiting.rules)


def _point(waiting: _Waiting, new: Sequence[str]) -> OpenPoint:
    explained = [explain(rule, its, event.situation) for event, rule, its in waiting.rules]
    rules = waiting.rules[0][0].rules
    return OpenPoint(
        waiting.serves,
        tuple(_question(path, waiting, explained) for path in new),
        tuple(label_of(path, rules) for path in waiting.facts if path not in new),
        tuple(dict.fromkeys(str(one) for each in explained for one in each.undefined)),
        tuple(dict.fromkeys(
            work.text
            for event, rule, _ in waiting.rules
            for _, work in event.chosen(rule, "unsettled")
        )),
    )  # fmt: skip


def _question(path: str, waiting: _Waiting, explained: Iterable[Explanation]) -> Question:
    event = waiting.rules[0][0]
    fact = event.rules.facts[path]
    missing = [one for each in explained for one in each.missing if one.path == path]
    coarse = [one for each in explained for one in each.coarse if one.path == path]
    asked = dict.fromkeys(said for one in missing for said in one.asked)
    return Question(
        path,
        fact.label,
        fact.ask or f"{capitalized(fact.label)}?",
        fact.how,
        # The inspector tells what nothing finer can be declared of.
        Duration() if coarse and not coarse[0].finer else duration(fact.takes),
        tuple(asked),
        coarse[0].value if coarse else "",
        coarse[0].finer if coarse else "",
        "" if coarse else _treat_as(fact, waiting),
        (fact.caution,) if fact.caution else (),
    )


def _treat_as(fact: Fact, waiting: _Waiting) -> str:
    """The one answer that a rule would turn down whatever else is declared; empty if not one."""
    refused = [
        value
        for value in _answers(fact)
        if any(_not_met(event, rule, fact.path, value) for event, rule, _ in waiting.rules)
    ]
    if len(refused) != 1:
        return ""
    return value_text(fact.path, refused[0], waiting.rules[0][0].rules)


def _answers(fact: Fact) -> Iterator[Value]:
    match fact.type:
        case Choosing("one of" | "graded"):
            yield from fact.type.words
        case YesOrNo():
            yield from (False, True)
        case _:
            pass


def _not_met(event: Event, rule: Rule, path: str, value: Value) -> bool:
    situation = event.situation
    declared = {**situation.declared, path: value}
    values, _ = prepared(event.rules, declared, situation.event)
    return outcome(rule, values, situation.event).status == "not-met"
