"""An explanation as lines of text."""

from collections.abc import Sequence
from itertools import groupby

from attrs import evolve

from trackprep.explanations.findings import Coarse, Explanation, Missing, Reason, Shortfall
from trackprep.explanations.situation import Known, known_text
from trackprep.explanations.wording import counted, inside, listed, quoted


def told(explanation: Explanation) -> tuple[str, ...]:
    """The explanation as sentences, one to a line, the most telling first."""
    match explanation.status:
        case "not-met":
            return _shortfall_lines(explanation.shortfalls)
        case "not-asked":
            return (_not_asked(explanation),)
        case "met":
            return (_met(explanation.known),) if explanation.known else ()
        case "unsettled":
            return _unsettled(explanation)


def reason_text(reason: Reason) -> str:
    """One reason as a sentence or two: what was declared, what is asked, how far off it is."""
    value = reason.value
    if reason.converted:
        value += f", that is {reason.converted}"
    if reason.origin != "declared":
        value += f" ({reason.origin})"
    text = f"{reason.subject}: {value}. Asked: {reason.asked}"
    if reason.off:
        text += f"; {reason.off}"
    text += "."
    if reason.nearest and not reason.obvious:
        text += f" What would do: {reason.nearest}."
    if reason.facts:
        text += f" From: {known_text(reason.facts)}."
    if reason.meanings:
        text += f" This decides {listed([quoted(label) for label in reason.meanings], 'and')}."
    return text


# ---- not met ----------------------------------------------------------------


def _shortfall_lines(shortfalls: Sequence[Shortfall]) -> tuple[str, ...]:
    """The reasons of all shortfalls, those that say the same of several facts as one."""
    lines: list[str] = []
    plain: list[Reason] = []
    for shortfall in shortfalls:
        if shortfall.others or shortfall.tally:
            lines.extend(map(reason_text, _merged(plain)))
            plain = []
            lines.extend(_with_other_ways(shortfall))
        else:
            plain.extend(shortfall.reasons)
    lines.extend(map(reason_text, _merged(plain)))
    return tuple(lines)


def _with_other_ways(shortfall: Shortfall) -> list[str]:
    lines = [reason_text(reason) for reason in _merged(shortfall.reasons)]
    if shortfall.tally:
        holding, asked = shortfall.tally
        lines.insert(0, f"{holding} of them {_hold(holding)}; at least {asked} must.")
    if shortfall.others:
        lines[-1] += f" Or {counted(shortfall.others, 'other way')}."
    return lines


def _hold(number: int) -> str:
    return "holds" if number == 1 else "hold"


def _merged(reasons: Sequence[Reason]) -> list[Reason]:
    """Neighbours that differ only in their subject become one reason."""
    merged = []
    for _, group in groupby(reasons, key=lambda reason: evolve(reason, subject="", paths=())):
        alike = list(group)
        subjects = [alike[0].subject, *(inside(reason.subject) for reason in alike[1:])]
        merged.append(evolve(alike[0], subject=listed(subjects, "and")))
    return merged


# ---- the other answers ------------------------------------------------------


def _unsettled(explanation: Explanation) -> tuple[str, ...]:
    lines = [_missing(one) for one in explanation.missing]
    lines.extend(_coarse(one) for one in explanation.coarse)
    lines.extend(map(str, explanation.undefined))
    if explanation.shortfalls:
        lines.append("If it is asked of you, it is not met:")
        lines.extend(_shortfall_lines(explanation.shortfalls))
    return tuple(lines)


def _missing(one: Missing) -> str:
    asked = f" Asked: {'; '.join(one.asked)}." if one.asked else ""
    if one.for_the_inspector:
        return f"{one.label}: only the inspector can say.{asked}"
    return f"{one.label}: not declared ({one.path}).{asked}"


def _coarse(one: Coarse) -> str:
    text = f"{one.label}: {one.value} leaves it open"
    if one.hinges:
        text += f", since the answer turns on {listed(one.hinges, 'and')}"
    if one.finer:
        return f"{text}. Declare {one.finer} ({one.path})."
    return f"{text}. A week code cannot say more: the inspector will tell."


def _not_asked(explanation: Explanation) -> str:
    reasons = [reason for one in explanation.shortfalls for reason in one.reasons]
    said = [f"{reason.subject} {reason.value}" for reason in _merged(reasons)]
    return f"Not asked: {'; '.join(said)}."


def _met(known: Sequence[Known]) -> str:
    return f"{known_text(known)}."
