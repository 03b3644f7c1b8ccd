"""What was typed at the bench: which tyre, its figures, a reading."""

from argparse import Namespace
from collections.abc import Sequence
from datetime import datetime, time

from attrs import evolve

from trackprep.cli.calls import CallError, day_of
from trackprep.cli.pressures_call import OF_FIGURE
from trackprep.measures.inputs import Input, InputError
from trackprep.pressures.log import Log, clock_in
from trackprep.pressures.tyres import (
    AIR,
    ALTITUDE,
    FIGURE,
    PRESSURE,
    TYRES,
    WARM,
    Figures,
    Reading,
    State,
    Tyre,
    amount,
)
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount


def tyre_in(words: Sequence[str]) -> tuple[Tyre, str]:
    """Which tyre, and what stands behind it."""
    first, *rest = words
    for tyre in TYRES:
        if first.casefold() == tyre:
            return tyre, " ".join(rest)
    raise CallError(f"`{first}` is no tyre", f"`front` or `rear`: `front {' '.join(words)}`"[:80])


def figures_in(call: Namespace, text: str, rules: Rules) -> Figures:
    """The figures of a call."""
    figure = amount(FIGURE, text, "FIGURE", rules) if text else None
    given = {asked.name.replace("-", "_"): optional(call, asked, rules) for asked in OF_FIGURE}
    if figure is None and (given["given_at"] or given["given_altitude"]):
        raise CallError(
            "--given-at and --given-altitude belong to the figure, and that is missing",
            "`figure front 31psi --given-at 20C`",
        )
    return Figures(figure=figure, **given)


def over(known: Figures, typed: Figures) -> Figures:
    """What is known, and what was typed in its place."""
    if typed.figure is not None:  # its temperature and altitude come and go with it
        known = evolve(known, given_at=None, given_altitude=None)
    names = ("figure", "given_at", "given_altitude", "least", "sidewall", "road", "hot_target")
    changed = {name: value for name in names if (value := getattr(typed, name)) is not None}
    return evolve(known, **changed)


def refuse_figures(call: Namespace) -> None:
    """Raises `CallError` where something is said of a tyre that is not named."""
    for asked in OF_FIGURE:
        if getattr(call, asked.name) is not None:
            raise CallError(
                f"--{asked.name} belongs to one tyre",
                f"name the tyre and its figure too: `now front 31psi --{asked.name} …`",
            )


def optional(call: Namespace, asked: Input, rules: Rules) -> Amount | None:
    """The value of an option, where it is given."""
    value = getattr(call, asked.name)
    return None if value is None else amount(asked, value, f"--{asked.name}", rules)


def reading_in(call: Namespace, rules: Rules) -> Reading:
    """The reading of a call; its time is the clock's unless it is said."""
    tyre, text = tyre_in(call.words)
    *words, last = text.split() or [""]
    states: dict[str, State] = {"cold": "cold", "hot": "hot"}
    state = states.get(last.casefold())
    if state is None:
        raise CallError(
            "it is not said whether the tyre is cold or hot",
            f"`log {tyre} 30.5psi cold`; a tyre that is still warmer than the air is hot",
        )
    was_set = bool(words) and words[0].casefold() == "set"
    moment = datetime.now()
    return Reading(
        moment.date() if call.on is None else day_of(call.on),
        moment.time().replace(second=0, microsecond=0) if call.at is None else _clock(call.at),
        tyre, amount(PRESSURE, " ".join(words[was_set:]), "PRESSURE", rules), state, was_set,
        optional(call, AIR, rules), optional(call, WARM, rules),
        optional(call, ALTITUDE, rules),
        "".join(sign if sign.isprintable() else " " for sign in call.note).strip(),
    )  # fmt: skip


def altitude_before(known: Log, reading: Reading) -> Amount | None:
    """That of an earlier reading of the day: the paddock stays where it is."""
    said = [one.altitude for one in known.day(reading.day).readings if one.altitude is not None]
    return said[-1] if said else None


def _clock(text: str) -> time:
    try:
        return clock_in(text)
    except InputError as why:
        raise CallError(f"--at: {why.message}", why.suggestion) from None
