"""Why a rule's answer is what it is."""

from collections.abc import Iterable

from trackprep.backends.checks import Outcome, Status
from trackprep.explanations.findings import Explanation, Shortfall
from trackprep.explanations.mentions import facts_in
from trackprep.explanations.openness import coarse, missing
from trackprep.explanations.situation import Situation
from trackprep.explanations.uncertainty import undefined
from trackprep.explanations.wording import part_label
from trackprep.rules.conditions import All, Condition
from trackprep.rules.model import Asked, Rule


def explain(rule: Rule, outcome: Outcome, situation: Situation) -> Explanation:
    """Why the rule's answer is `outcome`: what decided it, with values, and what would do."""
    asked = answering(rule, outcome.status, situation)
    match outcome.status:
        case "met":
            paths = tuple(dict.fromkeys(path for one in asked for path in facts_in(one.demand)))
            return Explanation("met", known=situation.known(paths))
        case "not-met":
            return Explanation("not-met", _shortfalls(asked, situation))
        case "not-asked":
            lacking = _lacking(asked[0].when, "", situation)
            return Explanation("not-asked", lacking)
        case "unsettled":
            return _unsettled(asked, outcome, situation)


def answering(rule: Rule, status: Status, situation: Situation) -> tuple[Asked, ...]:
    """What the rule asks of those of its parts that have this answer."""
    return tuple(asked for asked in rule.asked if _status(asked, situation) == status)


def _status(asked: Asked, situation: Situation) -> Status:
    applies, met = situation.holds(asked.when), situation.holds(asked.demand)
    if applies is False:
        return "not-asked"
    if met is True:
        return "met"
    return "not-met" if applies is True and met is False else "unsettled"


def _unsettled(asked: tuple[Asked, ...], outcome: Outcome, situation: Situation) -> Explanation:
    whole = All(tuple(part for one in asked for part in (one.when, one.demand)))
    return Explanation(
        "unsettled",
        shortfalls=_shortfalls(asked, situation),
        missing=tuple(missing(path, asked, situation) for path in outcome.declare),
        coarse=tuple(coarse(path, asked, situation) for path in outcome.narrow),
        undefined=undefined(whole, situation),
    )


def _shortfalls(asked: Iterable[Asked], situation: Situation) -> tuple[Shortfall, ...]:
    return tuple(
        shortfall
        for one in asked
        if situation.holds(one.demand) is False
        for shortfall in _lacking(
            one.demand, part_label(one.part, situation.rules) if one.part else "", situation
        )
    )


def _lacking(condition: Condition, part: str, situation: Situation) -> tuple[Shortfall, ...]:
    # A cold-start measure: what is met or waits only to be declared has no use for these.
    from trackprep.explanations.deciding import decisions
    from trackprep.explanations.failures import reason_of

    return tuple(
        Shortfall(
            tuple(reason_of(test, situation) for test in one.tests), one.others, one.tally, part
        )
        for one in decisions(condition, situation)
    )
