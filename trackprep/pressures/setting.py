"""What a tyre maker's cold figure equals in the paddock now, and what is dangerous about it."""

from collections.abc import Iterator

from attrs import evolve

from trackprep.frozen import frozen
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import InputError
from trackprep.pressures.tyres import Figures, Tyre
from trackprep.pressures.working import became, by_thumb, said, stepped, to_set
from trackprep.rules.values import Amount

MOST_STEPS = 4
"""How many warmer hours are looked at."""


@frozen
class Setting:
    """What to set one tyre to, cold.

    Attributes:
        equals: What the figure equals at the temperature of the air, exactly.
        goal: What to set by the gauge: that, but never less than the least that is allowed.
        thumb: What the rule of thumb gives; None where nothing had to be worked out.
        later: What the same air shows as the day gets warmer, cold and in the shade.
        hot: What it becomes at the temperature that was asked about.
    """

    tyre: Tyre
    figures: Figures
    air: Amount
    equals: Amount
    goal: Amount
    thumb: Amount | None
    later: tuple[tuple[Amount, Amount], ...]
    hot_at: Amount | None
    hot: Amount | None


def setting(
    bench: Bench,
    tyre: Tyre,
    figures: Figures,
    air: Amount,
    altitude: Amount | None = None,
    hot_at: Amount | None = None,
) -> Setting:
    """The setting for a cold tyre as warm as the air.

    Raises:
        InputError: There is no figure, or it has no value there.
    """
    figure = figures.figure
    if figure is None:
        raise InputError(
            f"the tyre maker's track figure of the {tyre} tyre is not known",
            f"`trackprep pressures figure {tyre} 31psi --given-at 20C`",
        )
    thumb = None
    equals = figure
    if figures.given_at is not None:
        equals = became(bench, figure, figures.given_at, air, figures.given_altitude, altitude)
        thumb = by_thumb(bench, figure, figures.given_at, air)
    goal = to_set(equals, figures.least)
    table = evolve(bench, steps=[])  # by the same formula, which need not be told for each row
    later = tuple(
        (warmer, became(table, goal, air, warmer, altitude, altitude))
        for warmer in (stepped(air, times) for times in range(1, MOST_STEPS + 1))
    )
    hot = became(bench, goal, air, hot_at, altitude, altitude) if hot_at is not None else None
    return Setting(tyre, figures, air, equals, goal, thumb, later, hot_at, hot)


def dangers(tyre: Tyre, figures: Figures) -> Iterator[str]:
    """What is wrong with the figures of a tyre, each told apart from the others."""
    figure, least = figures.figure, figures.least
    sidewall, road, target = figures.sidewall, figures.road, figures.hot_target
    if figure is not None and sidewall is not None and figure.value >= sidewall.value:
        yield (
            f"The track figure of the {tyre} tyre, {said(figure)}, reaches the maximum on its"
            f" sidewall, {said(sidewall)}. The maximum is no setting: take the figure that the"
            " tyre's maker gives for the track."
        )
    if figure is not None and least is not None and figure.value < least.value:
        yield (
            f"The track figure of the {tyre} tyre, {said(figure)}, is less than the least that its"
            f" maker allows, {said(least)}. Look up both again; do not go below the least."
        )
    if figure is not None and road is not None and figure.value == road.value:
        yield (
            f"The track figure of the {tyre} tyre is the same as the road figure, {said(road)}:"
            " make sure that it is the tyre maker's figure for the track, and not the one in the"
            " machine's manual."
        )
    if road is not None and sidewall is not None and road.value > sidewall.value:
        yield (
            f"The road figure of the {tyre} tyre, {said(road)}, is more than the maximum on its"
            f" sidewall, {said(sidewall)}: look up both again before you set it."
        )
    if target is not None and sidewall is not None and target.value >= sidewall.value:
        yield (
            f"The hot target of the {tyre} tyre, {said(target)}, reaches the maximum on its"
            f" sidewall, {said(sidewall)}: ask the tyre's maker before you ride so."
        )


def dangers_now(setting: Setting) -> Iterator[str]:
    """The same of what the figure becomes."""
    tyre, figures = setting.tyre, setting.figures
    yield from dangers(tyre, figures)
    least, sidewall = figures.least, figures.sidewall
    if least is not None and setting.equals.value < least.value:
        yield (
            f"At {said(setting.air)} the {tyre} figure equals {said(setting.equals)}, which is less"
            f" than the least that the maker allows: set {said(least)}, no less."
        )
    if sidewall is None:
        return
    figure = figures.figure
    assert figure is not None
    if setting.goal.value >= sidewall.value > figure.value:
        yield (
            f"At {said(setting.air)} the {tyre} setting, {said(setting.goal)}, reaches the maximum"
            f" on the sidewall, {said(sidewall)}: set less, and ask the tyre's maker."
        )
    hot, hot_at = setting.hot, setting.hot_at
    if hot is None or hot_at is None or not hot.value >= sidewall.value > setting.goal.value:
        return
    yield (
        f"At {said(hot_at)} the {tyre} tyre gets to {said(hot)}, which reaches the maximum on the"
        f" sidewall, {said(sidewall)}. Do not bleed it hot because of that: ask the tyre's maker"
        " whether that is allowed for."
    )
