"""What a reading asks for: to leave it, to add, to bleed, or to keep the hands off.

The maker's cold figure decides, at the temperature of the tyre. A hot reading is held against
nothing but a hot target that the rider typed, and nothing is bled below the maker's least.
"""

from collections.abc import Iterator
from typing import Literal, TypeAlias

from trackprep.frozen import frozen
from trackprep.measures.bench import Bench
from trackprep.measures.figures import by_instrument
from trackprep.pressures.tyres import Day, Reading
from trackprep.pressures.working import became, difference, said, to_set
from trackprep.rules.values import Amount

Do: TypeAlias = Literal["leave", "add", "bleed", "hands off", "nothing known"]


@frozen
class Advice:
    """What to do after a reading.

    Attributes:
        goal: What the gauge should show then; None where nothing says so.
        says: In sentences, why too.
    """

    do: Do
    says: str
    goal: Amount | None = None
    cautions: tuple[str, ...] = ()


def advice(bench: Bench, day: Day, reading: Reading) -> Advice:
    """The advice on one reading of the day, after those before it.

    Raises:
        InputError: Its temperatures allow no pressure.
    """
    found = (_hot if reading.state == "hot" else _cold)(bench, day, reading)
    return Advice(found.do, found.says, found.goal, (*found.cautions, *_dangers(reading)))


def _dangers(reading: Reading) -> Iterator[str]:
    least, sidewall = reading.figures.least, reading.figures.sidewall
    if least is not None and reading.pressure.value < least.value:
        yield (
            f"The {reading.tyre} tyre, {said(reading.pressure)}, is below the least that its maker"
            f" allows, {said(least)}: do not ride on it; add air."
        )
    if sidewall is not None and reading.pressure.value >= sidewall.value:
        advised = (
            "let it cool, check it cold, and ask the tyre's maker"
            if reading.state == "hot"
            else "bleed it before you ride"
        )
        yield (
            f"The {reading.tyre} tyre, {said(reading.pressure)}, reaches the maximum on its"
            f" sidewall, {said(sidewall)}: {advised}."
        )


# ---- cold -----------------------------------------------------------------------


def _cold(bench: Bench, day: Day, reading: Reading) -> Advice:
    figures = reading.figures
    if figures.figure is None:
        return Advice(
            "nothing known",
            f"The tyre maker's track figure of the {reading.tyre} tyre is not noted:"
            f" `trackprep pressures figure {reading.tyre} …`.",
        )
    equals, why = _equals(bench, day, reading, figures.figure)
    if equals is None:
        return Advice("nothing known", why)
    goal = to_set(equals, figures.least)
    if figures.least is not None and equals.value < figures.least.value:
        why = f"{why} That is below the least that the maker allows, so the least counts."
    pressure = reading.pressure
    if by_instrument(pressure.value, pressure.unit) == by_instrument(goal.value, pressure.unit):
        return Advice("leave", f"{why} Leave it.", goal)
    gap = said(difference(pressure, goal))
    if pressure.value > goal.value:
        return Advice(
            "bleed", f"{why} Bleed {gap}, cold, to {said(goal)}, and read it again.", goal
        )
    lost = _lost(bench, day, reading)
    return Advice("add", f"{why} Add {gap}, to {said(goal)}, and read it again.{lost}", goal)


def _equals(bench: Bench, day: Day, reading: Reading, figure: Amount) -> tuple[Amount | None, str]:
    """What the figure equals at this temperature, and the sentence that says so."""
    figures, now = reading.figures, reading.temperature
    if figures.given_at is not None:
        if now is None:
            return None, (
                "Without the temperature of the air nobody can tell what the figure equals now:"
                " read again with `--air`."
            )
        equals = became(
            bench, figure, figures.given_at, now, figures.given_altitude, reading.altitude
        )
        return equals, (
            f"The figure, {said(figure)} at {said(figures.given_at)}, equals {said(equals)} at"
            f" {said(now)}."
        )
    anchor = _set_before(day, reading)
    if anchor is None or now is None or anchor.temperature is None:
        return figure, (
            f"The figure is {said(figure)}, cold; its maker gives no temperature for it, so it"
            " holds for the tyre as it stands."
        )
    equals = became(
        bench, anchor.pressure, anchor.temperature, now, anchor.altitude, reading.altitude
    )
    return equals, (
        f"What was set at {anchor.at:%H:%M}, {said(anchor.pressure)} at"
        f" {said(anchor.temperature)}, shows {said(equals)} at {said(now)} if no air was lost."
    )


def _lost(bench: Bench, day: Day, reading: Reading) -> str:
    """That air was lost since the tyre was last set cold on that day, where it was."""
    anchor = _set_before(day, reading)
    now = reading.temperature
    if anchor is None or anchor.temperature is None or now is None:
        return ""
    let_out = any(
        one.was_set and anchor.at < one.at <= reading.at
        for one in day.of(reading.tyre)
        if one not in (anchor, reading)
    )
    kept = became(
        bench, anchor.pressure, anchor.temperature, now, anchor.altitude, reading.altitude
    )
    unit = reading.pressure.unit
    if let_out or by_instrument(kept.value, unit) <= by_instrument(reading.pressure.value, unit):
        return ""
    return (
        f" It has lost air since {anchor.at:%H:%M}, when it was set to {said(anchor.pressure)}:"
        " find out why before you ride."
    )


def _set_before(day: Day, reading: Reading) -> Reading | None:
    """The last time that this tyre was set cold, on the same day."""
    before = (
        one for one in day.of(reading.tyre)
        if one.was_set and one.state == "cold" and one.at <= reading.at and one != reading
    )  # fmt: skip
    return next(reversed(list(before)), None)


# ---- hot ------------------------------------------------------------------------


def _hot(bench: Bench, day: Day, reading: Reading) -> Advice:
    target, pressure = reading.figures.hot_target, reading.pressure
    if target is None:
        return Advice(
            "leave",
            "Noted. The maker's figure is a cold one, and no hot target was typed: bleed and add"
            " nothing hot, and check it cold.",
        )
    if by_instrument(pressure.value, pressure.unit) == by_instrument(target.value, pressure.unit):
        return Advice("leave", f"That is the hot target, {said(target)}. Leave it.", target)
    gap = said(difference(pressure, target))
    if pressure.value < target.value:
        return Advice(
            "add",
            f"That is {gap} less than the hot target, {said(target)}. Add that much only if it was"
            " read right after riding; a tyre that has begun to cool says less.",
            target,
        )
    return _bled(bench, day, reading, target, gap)


def _bled(bench: Bench, day: Day, reading: Reading, target: Amount, gap: str) -> Advice:
    """Whether bleeding to a hot target leaves enough for the cold tyre."""
    over = f"That is {gap} more than the hot target, {said(target)}."
    least = reading.figures.least
    if least is None:
        return Advice(
            "hands off",
            f"{over} Do not bleed yet: the least that the tyre's maker allows is not noted"
            f" (`trackprep pressures figure {reading.tyre} … --least …`).",
        )
    cold = _coldest(day, reading)
    if reading.warm is None or cold is None:
        missing = "`--tyre`, the tyre's temperature" if reading.warm is None else "a cold reading"
        return Advice(
            "hands off",
            f"{over} Do not bleed yet: without {missing}, nobody can tell what would be left of it"
            " cold.",
        )
    left = became(bench, target, reading.warm, cold, reading.altitude, reading.altitude)
    leaves = f"Bled to it, the tyre shows {said(left)} cold, at {said(cold)}"
    if left.value < least.value:
        return Advice(
            "hands off",
            f"{over} Do not bleed: {leaves[0].lower()}{leaves[1:]}, which is below the least that"
            f" the maker allows, {said(least)}.",
        )
    return Advice(
        "bleed", f"{over} Bleed that much. {leaves}, which is not below the least.", target
    )


def _coldest(day: Day, reading: Reading) -> Amount | None:
    """The lowest temperature at which it was read cold that day; else the figure's own."""
    cold = [
        one.temperature for one in day.of(reading.tyre)
        if one.state == "cold" and one.at <= reading.at and one.temperature is not None
    ]  # fmt: skip
    if reading.figures.given_at is not None:
        cold.append(reading.figures.given_at)
    return min(cold, key=lambda one: one.value, default=None)
