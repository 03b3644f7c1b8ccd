"""The facts of the form as data: what riders are asked, in the order to ask it.

Many texts stand at several facts: those of the front and the rear, and lists of choices. In
place of such a value stands the number of the first fact in the list that has it; `heading`
is left out where it is the fact's section, and what people read for a choice where it is the
word itself with spaces for hyphens. `expandedFacts` of questions.js fills all of it in.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any

from trackprep.explanations.mentions import conditions_of, facts_in
from trackprep.rider.asking_order import ELSEWHERE, Asked, in_order
from trackprep.rider.work.road_return import REGISTERED
from trackprep.rules.model import Choice, Choosing, Dated, Fact, FreeText, Measured, Rules, YesOrNo

_MINUTE = 60
_SHARED = ("ask", "how", "caution", "heading", "section", "choices")
"""What stands once where several facts have it."""
_WORDS_OF_MARKS = {
    "for the inspector": "inspector",
    "private": "private",
    "check again": "again",
    "unchangeable": "unchangeable",
}


def used_facts(rules: Rules) -> tuple[str, ...]:
    """The facts that the rules, their work and the headings over them go by, in their order.

    With `machine.registered` where the vocabulary has it: the road-return list hangs on it.
    """
    named = {path for condition in conditions_of(rules) for path in facts_in(condition)}
    return tuple(path for path in rules.facts if path in named or path == REGISTERED)


def plain_facts(rulesets: Sequence[Rules]) -> list[dict[str, Any]]:
    """What can be asked for some events together, as JSON takes it.

    Riders' facts come in the order in which they are asked, then the inspector's. What every
    event settles itself, where its rules name it, is marked `here` and is no question.
    """
    used_by = [(rules, frozenset(used_facts(rules))) for rules in rulesets]
    used = {path for _, its in used_by for path in its}
    asked = [asked for asked in in_order(rulesets) if asked.fact.path in used]
    riders = {one.fact.path for one in asked}
    known = {path: fact for rules in reversed(rulesets) for path, fact in rules.facts.items()}
    rest = [Asked(its, its.section or ELSEWHERE) for path, its in known.items()
            if path in used and path not in riders]  # fmt: skip
    made = [_plain(one, here=_settled(one.fact.path, used_by)) for one in (*asked, *rest)]
    return list(_each_once(made))


def _settled(path: str, used_by: Iterable[tuple[Rules, Collection[str]]]) -> bool:
    """Whether each event that goes by the fact settles it itself."""
    return all(path in rules.here for rules, used in used_by if path in used)


def _plain(asked: Asked, *, here: bool) -> dict[str, Any]:
    fact = asked.fact
    texts = {"ask": fact.ask, "how": fact.how, "caution": fact.caution, "section": fact.section}
    marks = {word: mark in fact.marks for mark, word in _WORDS_OF_MARKS.items()}
    takes = "" if fact.takes is None else str(fact.takes.value / _MINUTE)
    heading = "" if asked.heading == fact.section else asked.heading
    found = {"path": fact.path, "label": fact.label, **_of_type(fact), **texts,
             "heading": heading, "takes": takes, "here": here, **marks}  # fmt: skip
    return {key: value for key, value in found.items() if value not in ("", 0, None)}


def _of_type(fact: Fact) -> dict[str, Any]:
    match fact.type:
        case Choosing(how, choices):
            return {"kind": how, "choices": [_choice(choice) for choice in choices]}
        case Measured(unit, low, high, whole):
            ends = {"low": low, "high": high}
            texts = {key: str(end) for key, end in ends.items() if end is not None}
            return {"kind": "number", "unit": unit.name, **texts, "whole": whole}
        case Dated(how):
            return {"kind": how}
        case YesOrNo():
            return {"kind": "yes or no"}
        case FreeText():
            return {"kind": "text"}


def _choice(choice: Choice) -> str | list[Any]:
    """The word alone where nothing else is said of it."""
    spoken = "" if choice.spoken == Choice(choice.word).spoken else choice.spoken
    if choice.also:
        return [choice.word, spoken, [*choice.also]]
    return [choice.word, spoken] if spoken else choice.word


def _each_once(facts: Iterable[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """The facts with the number of an earlier one in place of what that one has too."""
    places: dict[tuple[str, str], int] = {}
    for number, fact in enumerate(facts):
        shared = {key: fact[key] for key in _SHARED if key in fact}
        first = {key: places.setdefault((key, repr(value)), number)
                 for key, value in shared.items()}  # fmt: skip
        yield {**fact, **{key: place for key, place in first.items() if place < number}}
