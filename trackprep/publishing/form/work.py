"""The work of rules as data: what work.js makes a work list and the road-return lists from."""

from collections import Counter
from collections.abc import Iterable
from typing import Any, TypeAlias

from trackprep.backends.page import PlainRuleset
from trackprep.explanations.mentions import facts_in
from trackprep.explanations.wording import part_label
from trackprep.reports.worklist.road import NOT_LEGAL, NOT_REGISTERED, UNKNOWN
from trackprep.rider.work.jobs import duration
from trackprep.rider.work.road_return import COOL, POINTS, REGISTERED, point_of
from trackprep.rules.model import Asked, Part, Rule, Rules, Work
from trackprep.units import show

Plain: TypeAlias = Any
"""What JSON can say."""

_DAY = 24 * 60 * 60  # seconds


def plain_words() -> dict[str, Plain]:
    """What every road-return list says, whatever the rules.

    `cool` is its first step, `points` are `[name, last look]` in their order.
    """
    ((cool, _),) = COOL.texts
    return {
        "notLegal": NOT_LEGAL,
        "notRegistered": NOT_REGISTERED,
        "unknown": UNKNOWN,
        "registered": REGISTERED,
        "cool": [cool, *COOL.cautions],
        "points": [[point.name, point.look] for point in POINTS],
    }


def plain_work(rules: Rules, plain: PlainRuleset) -> dict[str, Plain]:
    """The work of a ruleset; what is empty is left out.

    Rules, what each asks, and facts stand in the order of `plain`, and are named by their
    places there, conditions by the numbers of their nodes. `base` is the ruleset that a rule
    first stood in, unless the rule has another. `after` are the rules that the work of a rule
    may come after, whichever work is chosen. Equal works are one of `works`, which `fixes` and
    `undos` name by number; `takes` is minutes; a part is its name, the time to allow in words,
    and so many days and months.
    """
    works: list[Plain] = []
    bases = Counter(rule.base for rule in rules.rules).most_common(1)
    base = bases[0][0] if bases else ""
    made = [_rule(rule, base, rules, plain, works) for rule in rules.rules]
    return {"rules": made} | _without_empty(
        base=base,
        brings=rules.brings,
        sections=[
            [one.brings] if one.when is None else [one.brings, plain.condition(one.when)]
            for one in rules.sections
            if one.brings
        ],
        works=works,
    )


def _rule(
    rule: Rule, base: str, rules: Rules, plain: PlainRuleset, works: list[Plain]
) -> dict[str, Plain]:
    own = {} if rule.base == base else {"base": rule.base}
    asked = [_asked(one, rules, plain, works) for one in rule.asked]
    after = _places((name for a in rule.asked for fix in a.fixes for name in fix.after), rules)
    return own | _without_empty(
        cautions=rule.cautions, brings=rule.brings, after=after, asked=asked
    )


def _places(names: Iterable[str], rules: Rules) -> list[int]:
    places = {rule.name: place for place, rule in enumerate(rules.rules)}
    return [places[name] for name in dict.fromkeys(names) if name in places]


def _asked(asked: Asked, rules: Rules, plain: PlainRuleset, works: list[Plain]) -> dict[str, Plain]:
    made = _without_empty(
        label=part_label(asked.part, rules) if asked.part else "",
        fixes=[_number(_work(work, rules, plain), works) for work in asked.fixes],
        undos=[_number(_work(work, rules, plain), works) for work in asked.undos],
    )
    if asked.undos:
        facts = facts_in(asked.demand)
        made["point"] = point_of(facts)
        if any(fix.where == "at home" for fix in asked.fixes):
            made["later"] = True
        # As in the road return: what nobody can change is not told beside what is put back.
        made["facts"] = [plain.facts.index(path) for path in facts if not _fixed(path, rules)]
    return made


def _fixed(path: str, rules: Rules) -> bool:
    return path in rules.here or "unchangeable" in rules.facts[path].marks


def _number(work: Plain, works: list[Plain]) -> int:
    if work not in works:
        works.append(work)
    return works.index(work)


def _work(work: Work, rules: Rules, plain: PlainRuleset) -> dict[str, Plain]:
    made = _without_empty(
        text=work.text,
        parts=[_part(part) for part in work.parts],
        tools=work.tools,
        after=_places(work.after, rules),
        where=work.where,
        cautions=work.cautions,
    )
    if work.takes is not None:
        made["takes"] = str(duration(work.takes).minutes)
    if work.when is not None:
        made["when"] = plain.condition(work.when)
    return made


def _part(part: Part) -> list[Plain]:
    if part.allow is None:
        return [part.name]
    value, unit = part.allow.value, part.allow.unit
    shown = [part.name, show(value, unit)]
    if unit.calendar == "months":
        return [*shown, 0, -(-value.numerator // value.denominator)]
    return [*shown, -(-value.numerator // (value.denominator * _DAY))]


def _without_empty(**members: Plain) -> dict[str, Plain]:
    return {name: member for name, member in members.items() if member}
