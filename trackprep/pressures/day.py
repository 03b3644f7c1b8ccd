"""One day of the log: the table in both families of units, what to do, the picture, JSON."""

from typing import Any

from attrs import define, field

from trackprep.dates import long_form
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import InputError
from trackprep.measures.measurement import exact
from trackprep.pressures.advice import Advice, advice
from trackprep.pressures.pages import COLD, WHEN, figures_blocks, road_line
from trackprep.pressures.picture import alternative, drawn, picture
from trackprep.pressures.setting import dangers
from trackprep.pressures.tyres import TYRES, Day, Figures, Reading
from trackprep.pressures.working import WINS, caution_blocks, in_families
from trackprep.problems import Problem
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Heading,
    Page,
    Paragraph,
    Table,
)
from trackprep.reports.pages.columns import page_in_columns
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount
from trackprep.units import from_base, show

SCHEMA = "urn:trackprep:pressures:1"

Form = dict[str, Any]


@define(eq=False, repr=False)
class DayReport:
    """The readings of a day, each with the advice on it."""

    day: Day
    rules: Rules
    problems: tuple[Problem, ...] = ()
    _advice: tuple[tuple[Reading, Advice], ...] = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._advice = tuple(
            (reading, _advised(self.rules, self.day, reading)) for reading in self.day.readings
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """What can hurt somebody, by the figures and by each reading."""
        of_figures = (text for tyre in TYRES for text in dangers(tyre, self.day.figures[tyre]))
        of_readings = (
            f"{reading.at:%H:%M}: {text}"
            for reading, found in self._advice
            for text in found.cautions
        )
        return tuple(dict.fromkeys((*of_figures, *of_readings)))

    @property
    def page(self) -> Page:
        """All of it as a page."""
        blocks: list[Block] = [*caution_blocks(*self.cautions, COLD)]
        if self._advice:
            goals = [(reading, found.goal) for reading, found in self._advice]
            blocks += [Heading("Readings"), self._table(), Heading("The day as a picture"),
                       picture(self.day, goals), Heading("What each reading asked for"),
                       Bullets(tuple(map(_told, self._advice)))]  # fmt: skip
        else:
            blocks.append(Paragraph("No reading is noted for this day."))
        blocks.append(Heading("Figures"))
        blocks += list(figures_blocks(self.day.figures)) or [Paragraph("None is noted.")]
        blocks += [Heading("When to check"), Bullets(WHEN), WINS]
        title = f"Tyre pressures on {long_form(self.day.day)}"
        return Page(title, tuple(blocks), road_line(self.day.figures))

    def _table(self) -> Table:
        head = ("Time", "Tyre", "State", "bar", "psi", "Air °C", "Air °F", "Tyre °C", "Tyre °F",
                "Should show", "Note")  # fmt: skip
        return Table("By the clock", head, tuple(map(_row, self._advice)))

    def text(self, width: int = 100) -> str:
        """All of it as text; the table in columns where `width` has room for them."""
        return page_in_columns(self.page, width)

    def _repr_html_(self) -> str:
        from trackprep.reports.pages.html import page_part

        return page_part(self.page)

    def __str__(self) -> str:
        return self.text()

    def __repr__(self) -> str:
        return f"DayReport({self.day.day.isoformat()}, {len(self.day.readings)} readings)"

    @property
    def svg(self) -> str:
        """The picture alone, as a file.

        Raises:
            InputError: There is nothing to draw.
        """
        goals = [(reading, found.goal) for reading, found in self._advice]
        if not goals:
            raise InputError(
                f"there is no reading on {long_form(self.day.day)} to draw",
                "`trackprep pressures log front 30.5psi cold --air 9C` notes one",
            )
        return drawn(self.day, goals, alternative(self.day, goals), alone=True)

    def to_dict(self) -> Form:
        """All of it for a program, as `grammar/pressures.schema.json` describes it."""
        return {
            "schema": SCHEMA,
            "day": self.day.day.isoformat(),
            "cautions": list(self.cautions),
            "figures": {tyre: _figures_form(self.day.figures[tyre]) for tyre in TYRES},
            "readings": [_reading_form(*one) for one in self._advice],
            "last": road_line(self.day.figures),
            "problems": [problem.to_dict() for problem in self.problems],
        }


def _advised(rules: Rules, day: Day, reading: Reading) -> Advice:
    try:
        return advice(Bench(rules, day.day, {}), day, reading)
    except InputError as why:
        return Advice("nothing known", f"{why.message[0].upper()}{why.message[1:]}.")


def _told(one: tuple[Reading, Advice]) -> tuple[str, str]:
    reading, found = one
    return f"{reading.at:%H:%M}, {reading.tyre}, {found.do}", found.says


def _row(one: tuple[Reading, Advice]) -> tuple[str, ...]:
    reading, found = one
    state = f"{reading.state}, set" if reading.was_set else reading.state
    goal = "-"
    if found.goal is not None:
        goal = show(found.goal.value, found.goal.unit)
    return (
        f"{reading.at:%H:%M}", reading.tyre, state, *_numbers(reading.pressure),
        *_numbers(reading.air), *_numbers(reading.warm), goal, reading.note,
    )  # fmt: skip


def _numbers(quantity: Amount | None) -> tuple[str, str]:
    """The quantity in both families, under heads that name the units."""
    if quantity is None:
        return "-", "-"
    metric, other = in_families(quantity)
    return metric.rpartition(" ")[0], other.rpartition(" ")[0]


# ---- for a program ----------------------------------------------------------------


def _reading_form(reading: Reading, found: Advice) -> Form:
    return {
        "at": f"{reading.at:%H:%M}",
        "tyre": reading.tyre,
        "state": reading.state,
        "was_set": reading.was_set,
        "pressure": _amount_form(reading.pressure),
        "air": _amount_form(reading.air),
        "tyre_temperature": _amount_form(reading.warm),
        "altitude": _amount_form(reading.altitude),
        "note": reading.note or None,
        "do": found.do,
        "should_show": _amount_form(found.goal),
        "says": found.says,
        "cautions": list(found.cautions),
    }


def _figures_form(figures: Figures) -> Form:
    return {
        "track": _amount_form(figures.figure),
        "given_at": _amount_form(figures.given_at),
        "given_altitude": _amount_form(figures.given_altitude),
        "least": _amount_form(figures.least),
        "sidewall_maximum": _amount_form(figures.sidewall),
        "road": _amount_form(figures.road),
        "hot_target": _amount_form(figures.hot_target),
    }


def _amount_form(amount: Amount | None) -> Form | None:
    if amount is None:
        return None
    metric, other = in_families(amount)
    return {
        "exact": exact(from_base(amount.value, amount.unit)),
        "unit": amount.unit.name,
        "shown": [metric, other],
    }
