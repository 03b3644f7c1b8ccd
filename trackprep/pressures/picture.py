"""A day's readings drawn: by the clock from left to right, by the gauge from bottom to top.

A tyre is told by its sign and its line, and cold from hot by whether the sign is filled, so that
no colour is needed. The same is drawn in characters for a terminal, and said in sentences.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from html import escape
from math import ceil, floor

from trackprep.dates import long_form
from trackprep.explanations.wording import counted
from trackprep.frozen import frozen
from trackprep.pressures.tyres import TYRES, Day, Reading, Tyre
from trackprep.pressures.working import said
from trackprep.reports.pages.blocks import Picture
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, Unit, from_base, show, to_base

WIDE, HIGH = 720, 400
LEFT, RIGHT, TOP, BOTTOM = 70, 640, 40, 340
LINE_HIGH = 18
STRIP = 26
"""Characters of a line of the drawing in text."""
_COLOURS: dict[Tyre, str] = {"front": "#3579b8", "rear": "#bf5f0b"}
"""Both at least 3 to 1 on a white and on a dark ground (WCAG 2.2, 1.4.11)."""
_STEPS = tuple(Fraction(one) for one in ("1/20", "1/10", "1/5", "1/2", "1", "2", "5", "10", "20",
                                         "50", "100"))  # fmt: skip
_MOST_LINES = 8

Goals = Sequence[tuple[Reading, Amount | None]]


@frozen
class _Scale:
    """Pressures on a scale in the unit that the rider reads."""

    unit: Unit
    low: Fraction
    high: Fraction
    step: Fraction

    def height(self, pressure: Amount) -> int:
        """Where a pressure stands in the drawing."""
        return self.height_of(from_base(pressure.value, self.unit))

    def height_of(self, number: Fraction) -> int:
        """Where a number of the scale stands."""
        return round(BOTTOM - (number - self.low) * (BOTTOM - TOP) / (self.high - self.low))

    def column(self, pressure: Amount) -> int:
        """Where a pressure stands on a line of text."""
        number = from_base(pressure.value, self.unit)
        return round((number - self.low) * (STRIP - 1) / (self.high - self.low))

    def marks(self) -> Iterator[Fraction]:
        """The numbers at the lines of the drawing."""
        mark = self.low
        while mark <= self.high:
            yield mark
            mark += self.step


def picture(day: Day, goals: Goals) -> Picture:
    """The readings of a day, each with what the gauge should have shown."""
    scale = _scale(day, goals)
    told = alternative(day, goals)
    return Picture(told, drawn(day, goals, told), tuple(_strips(scale, goals)))


def _scale(day: Day, goals: Goals) -> _Scale:
    unit = goals[0][0].pressure.unit
    shown = [reading.pressure for reading, _ in goals] + [goal for _, goal in goals if goal]
    shown += [limit for _, limit in _limits(day)]
    numbers = [from_base(one.value, unit) for one in shown]
    low, high = min(numbers), max(numbers)
    step = next((one for one in _STEPS if (high - low) / one <= _MOST_LINES - 2), _STEPS[-1])
    low, high = floor(low / step) * step, ceil(high / step) * step
    if low == high:
        low, high = low - step, high + step
    return _Scale(unit, low, high, step)


def _limits(day: Day) -> Iterator[tuple[str, Amount]]:
    """The least and the greatest that were typed, of the tyres that were read."""
    for tyre in TYRES:
        if not day.of(tyre):
            continue
        figures = day.figures[tyre]
        if figures.least is not None:
            yield f"{tyre} least", figures.least
        if figures.sidewall is not None:
            yield f"{tyre} sidewall maximum", figures.sidewall


# ---- in words -------------------------------------------------------------------


def alternative(day: Day, goals: Goals) -> str:
    """What the drawing shows, for who does not see it."""
    sentences = [f"Tyre pressures on {long_form(day.day)}."]
    for tyre in TYRES:
        readings = day.of(tyre)
        if not readings:
            continue
        told = [
            f"{one.state} {'set to ' if one.was_set else ''}{_short(one.pressure)}"
            f" at {one.at:%H:%M}"
            for one in readings
        ]
        sentences.append(
            f"{tyre.capitalize()} tyre, {counted(len(readings), 'reading')}: {', '.join(told)}."
        )
    for name, limit in _limits(day):
        sentences.append(f"{name.capitalize()}: {said(limit)}.")
    if any(goal for _, goal in goals):
        sentences.append("A short bar shows what the gauge should have shown.")
    return " ".join(sentences)


def _short(pressure: Amount) -> str:
    return show(pressure.value, pressure.unit)


# ---- in characters ----------------------------------------------------------------


def _strips(scale: _Scale, goals: Goals) -> Iterator[str]:
    indent = " " * 17
    low, high = (_number(scale, number) for number in (scale.low, scale.high))
    yield f"{indent}{low}{high:>{max(1, STRIP + 1 - len(low))}}"
    for reading, goal in goals:
        strip = ["."] * STRIP
        if goal is not None:
            strip[scale.column(goal)] = "|"
        strip[scale.column(reading.pressure)] = "o" if reading.state == "cold" else "#"
        head = f"{reading.at:%H:%M} {reading.tyre:<5} {reading.state:<4}"
        yield f"{head} {''.join(strip)} {_short(reading.pressure)}"
    yield "o cold  # hot  | what the gauge should show"


def _number(scale: _Scale, number: Fraction) -> str:
    return show(to_base(number, scale.unit), scale.unit)


# ---- as SVG -----------------------------------------------------------------------


def drawn(day: Day, goals: Goals, told: str, *, alone: bool = False) -> str:
    """The drawing as SVG; `alone` with its own ground, else on that of a page."""
    scale = _scale(day, goals)
    ground = f'<rect width="{WIDE}" height="{HIGH}" fill="#ffffff"/>' if alone else ""
    ink = ' color="#1c2127"' if alone else ""
    return "".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" role="img"'
        f' aria-labelledby="day-title day-words"{ink} font-family="sans-serif" font-size="14">',
        f'<title id="day-title">Tyre pressures on {escape(long_form(day.day))}</title>',
        f'<desc id="day-words">{escape(told)}</desc>',
        ground,
        *_grid(scale),
        *_limit_lines(day, scale),
        *_hours(day),
        *(line for tyre in TYRES for line in _course(day, tyre, scale, goals)),
        *_legend(day),
        "</svg>\n",
    ])  # fmt: skip


def _grid(scale: _Scale) -> Iterator[str]:
    other = SPELLINGS["psi" if scale.unit.name != "psi" else "bar"]
    for mark in scale.marks():
        y = scale.height_of(mark)
        yield _line(LEFT, y, RIGHT, y, "currentColor", 'opacity="0.2"')
        yield _text(LEFT - 8, y + 5, show(to_base(mark, scale.unit), scale.unit), "end")
        beside = from_base(to_base(mark, scale.unit), other)
        digits = 2 if other.name == "bar" else 1
        yield _text(RIGHT + 8, y + 5, f"{_decimal(beside, digits)} {other.name}", "start")


def _decimal(number: Fraction, digits: int) -> str:
    scaled = f"{round(number * 10**digits):0{digits + 1}}"
    return f"{scaled[:-digits]}.{scaled[-digits:]}"


def _limit_lines(day: Day, scale: _Scale) -> Iterator[str]:
    """Each limit by name; names that would stand on each other stand in one line."""
    named: dict[int, list[str]] = {}
    for y, name in sorted((scale.height(limit), name) for name, limit in _limits(day)):
        near = next((place for place in named if y - place < LINE_HIGH), y)
        named.setdefault(near, []).append(name)
        yield _line(LEFT, y, RIGHT, y, "currentColor", 'stroke-width="2" stroke-dasharray="2 4"')
    for y, names in named.items():
        yield _text(RIGHT - 4, y - 5, ", ".join(names), "end")


def _hours(day: Day) -> Iterator[str]:
    first, last = _span(day)
    step = max(1, -(-(last - first) // 60 // 8)) * 60
    for minute in range(-(-first // step) * step, last + 1, step):
        x = _across(day, minute)
        yield _line(x, BOTTOM, x, BOTTOM + 6, "currentColor")
        yield _text(x, BOTTOM + 22, f"{minute // 60:02}:{minute % 60:02}", "middle")
    yield _line(LEFT, BOTTOM, RIGHT, BOTTOM, "currentColor")


def _minutes(reading: Reading) -> int:
    return reading.at.hour * 60 + reading.at.minute


def _span(day: Day) -> tuple[int, int]:
    """From the full hour before the first reading to the one after the last."""
    minutes = [_minutes(reading) for reading in day.readings]
    return min(minutes) // 60 * 60, (max(minutes) // 60 + 1) * 60


def _across(day: Day, minute: int) -> int:
    first, last = _span(day)
    return round(LEFT + Fraction(minute - first, last - first) * (RIGHT - LEFT))


def _course(day: Day, tyre: Tyre, scale: _Scale, goals: Goals) -> Iterator[str]:
    """The readings of one tyre, joined, and a bar where each should have been."""
    colour = _COLOURS[tyre]
    points = [
        (_across(day, _minutes(one)), scale.height(one.pressure), one) for one in day.of(tyre)
    ]
    if len(points) > 1:
        path = " ".join(f"{x},{y}" for x, y, _ in points)
        dashes = ' stroke-dasharray="8 5"' if tyre == "rear" else ""
        yield (
            f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="2"{dashes}/>'
        )
    for reading, goal in goals:
        if reading.tyre == tyre and goal is not None:
            x, y = _across(day, _minutes(reading)), scale.height(goal)
            yield _line(x - 12, y, x + 12, y, "currentColor", 'stroke-width="3"')
    for x, y, reading in points:
        yield _sign(x, y, tyre, filled=reading.state == "hot")


def _sign(x: int, y: int, tyre: Tyre, *, filled: bool) -> str:
    colour = _COLOURS[tyre]
    fill = colour if filled else "none"
    style = f'fill="{fill}" stroke="{colour}" stroke-width="3"'
    if tyre == "front":
        return f'<circle cx="{x}" cy="{y}" r="7" {style}/>'
    return f'<rect x="{x - 6}" y="{y - 6}" width="12" height="12" {style}/>'


def _legend(day: Day) -> Iterator[str]:
    x, y = LEFT, HIGH - 14
    for tyre in TYRES:
        if day.of(tyre):
            for state in ("cold", "hot"):
                yield _sign(x + 8, y - 5, tyre, filled=state == "hot")
                yield _text(x + 22, y, f"{tyre} {state}", "start")
                x += 115
    yield _line(x, y - 5, x + 24, y - 5, "currentColor", 'stroke-width="3"')
    yield _text(x + 32, y, "should show", "start")


def _line(x: int, y: int, to_x: int, to_y: int, colour: str, more: str = "") -> str:
    return f'<line x1="{x}" y1="{y}" x2="{to_x}" y2="{to_y}" stroke="{colour}" {more}/>'


def _text(x: int, y: int, text: str, anchor: str) -> str:
    return f'<text x="{x}" y="{y}" text-anchor="{anchor}" fill="currentColor">{escape(text)}</text>'
