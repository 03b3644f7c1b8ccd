"""Pressure logs read by the page's script and by the project, in one form; and made at random."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from form.conftest import Call
from hypothesis import strategies as st

import trackprep
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import InputError
from trackprep.pressures.advice import advice
from trackprep.pressures.log import Log, figure_lines, read_log, reading_line
from trackprep.pressures.pages import COLD, road_line
from trackprep.pressures.plain import plain_pressures, pressure_units
from trackprep.pressures.setting import Setting, dangers_now, setting
from trackprep.pressures.tyres import TYRES, Figures, Reading
from trackprep.publishing.form.units import plain_units
from trackprep.rules.values import Amount
from trackprep.units import read_quantity, to_base

STANDARD = trackprep.read_ruleset("standard").rules
FORM = {"units": plain_units(pressure_units()), "pressures": plain_pressures()}
FIGURES = ("figure", "given_at", "given_altitude", "least", "sidewall", "road", "hot_target")

READ = """(form, text, air, altitude) => {
  const plain = (its) => its && [rationalText(its.value), its.unit];
  const plainAll = (figures) => Object.fromEntries(Object.entries(figures)
    .filter(([, its]) => its).map(([name, its]) => [name.replace("-", "_"), plain(its)]));
  const log = readPressureLog(text, form);
  const gauges = new Gauges(form);
  const bench = new PressureBench(gauges);
  const here = ["air", "altitude"].map((name, at) =>
    ([air, altitude][at] ? gauges.read(name, [air, altitude][at]) : undefined));
  const days = [...new Set(log.readings.map(({ day }) => day))].sort();
  const settingOf = (tyre) => {
    try {
      const found = pressureSetting(gauges, tyre, log.figures[tyre], ...here);
      return found && {
        equals: plain(found.equals), goal: plain(found.goal), thumb: plain(found.thumb),
        later: found.later.map((row) => row.map(plain)), cautions: found.cautions,
        said: [found.equals, found.goal].map((one) => bench.said(one)),
        working: found.steps.map(({ text }) => text),
      };
    } catch (why) {
      if (why instanceof PressureFault) return "none";
      throw why;
    }
  };
  return {
    figures: LOG_TYRES.map((tyre) => plainAll(log.figures[tyre])),
    readings: log.readings.map(({ figures, pressure, air, warm, altitude, ...its }) => ({
      ...its, pressure: plain(pressure), air: plain(air), warm: plain(warm),
      altitude: plain(altitude), figures: plainAll(figures),
    })),
    problems: log.problems.map(({ line }) => line),
    lines: [
      ...LOG_TYRES.flatMap((tyre) => figureLines(tyre, log.figures[tyre], gauges)),
      ...log.readings.map((reading) => readingLine(reading, gauges)),
    ],
    advice: days.flatMap((day) => {
      const its = pressureDay(log, day);
      return its.readings.map((reading) => {
        const found = pressureAdvice(gauges, its, reading);
        return {
          do: found.do, says: found.says, goal: plain(found.goal), cautions: found.cautions,
        };
      });
    }),
    road: [roadPressureLine(bench, log.figures),
      ...days.map((day) => roadPressureLine(bench, pressureDay(log, day).figures))],
    settings: LOG_TYRES.map(settingOf),
  };
}"""


def read(call: Call, text: str, air: str = "9 °C", altitude: str = "") -> Any:
    return call(READ, FORM, text, air, altitude)


def of(text: str) -> Amount:
    number, unit = read_quantity(text)
    return Amount(to_base(number, unit), unit, text)


# ---- Python's, in the same form ------------------------------------------------------


def plain(amount: Amount | None) -> list[str] | None:
    return None if amount is None else [str(amount.value), amount.unit.name]


def plain_figures(figures: Figures) -> dict[str, Any]:
    found = {name: plain(getattr(figures, name)) for name in FIGURES}
    return {name: its for name, its in found.items() if its}


def plain_reading(reading: Reading) -> dict[str, Any]:
    found = {
        "day": reading.day.isoformat(), "at": f"{reading.at:%H:%M}", "tyre": reading.tyre,
        "state": reading.state, "set": reading.was_set, "note": reading.note,
        "pressure": plain(reading.pressure), "air": plain(reading.air),
        "warm": plain(reading.warm), "altitude": plain(reading.altitude),
        "figures": plain_figures(reading.figures),
    }  # fmt: skip
    return {name: its for name, its in found.items() if its is not None}


IN_THE_BROWSER = {
    "read again with `--air`.": "note the reading again with it.",
    **{f"`trackprep pressures figure {tyre} …`.": "note it under “Figures”." for tyre in TYRES},
}
"""What a command is called for there, and what is said instead in a page."""


def advised(log: Log) -> Iterator[dict[str, Any] | None]:
    """The advice on every reading by day and clock; None of what is left to the command line."""
    for its_day in log.days():
        day = log.day(its_day)
        for reading in day.readings:
            if reading.state == "hot" and reading.figures.hot_target is not None:
                yield None
                continue
            try:
                found = advice(Bench(STANDARD, its_day, {}), day, reading)
            except InputError:
                yield {"do": "nothing known"}
                continue
            says = found.says
            for words, instead in IN_THE_BROWSER.items():
                says = says.replace(words, instead)
            yield {
                "do": found.do, "says": says, "goal": plain(found.goal),
                "cautions": [*found.cautions],
            }  # fmt: skip


def set_now(figures: Figures, tyre: Any, air: Amount, altitude: Amount | None) -> Any:
    if figures.figure is None:
        return None
    bench = Bench(STANDARD, date(2026, 6, 14), {})
    try:
        return setting(bench, tyre, figures, air, altitude), bench
    except InputError:
        return "none"


def agree_on_setting(told: Any, expected: Any) -> None:
    if not isinstance(expected, tuple):
        assert told == expected
        return
    its, bench = expected
    assert isinstance(its, Setting)
    assert told["equals"] == plain(its.equals)
    assert told["goal"] == plain(its.goal)
    assert told["thumb"] == plain(its.thumb)
    assert told["later"] == [[plain(one) for one in row] for row in its.later]
    assert told["cautions"] == [*dangers_now(its), COLD, *bench.cautions]
    working = [f"{step.numbers} = {step.shown}" for step in bench.steps if step.numbers]
    for line in told["working"]:
        assert any(line.endswith(one) for one in working), line


def agree(call: Call, text: str, air: str = "9 °C", altitude: str = "") -> Any:
    """What the page makes of a log, which is what Python makes of it."""
    found = read(call, text, air, altitude)
    log = read_log(text, "log", STANDARD)
    assert found["figures"] == [plain_figures(log.figures[tyre]) for tyre in TYRES]
    assert [{name: its for name, its in one.items() if its is not None}
            for one in found["readings"]] == [*map(plain_reading, log.readings)]  # fmt: skip
    assert found["problems"] == [problem.place.line for problem in log.problems if problem.place]
    assert found["lines"] == [
        *(line for tyre in TYRES for line in figure_lines(tyre, log.figures[tyre])),
        *map(reading_line, log.readings),
    ]
    for told, expected in zip(found["advice"], advised(log), strict=True):
        assert expected is None or told | expected == told, told
        if expected is None:
            assert (told["do"], told["goal"]) == ("hands off", None)
    days = [log.day(day).figures for day in log.days()]
    assert found["road"] == [*map(road_line, [log.figures, *days])]
    here = of(altitude) if altitude else None
    for told, tyre in zip(found["settings"], TYRES, strict=True):
        agree_on_setting(told, set_now(log.figures[tyre], tyre, of(air), here))
    return found


# ---- logs made at random -------------------------------------------------------------

NUMERALS = st.one_of(
    st.sampled_from(["31", "29.6", "26", "42", "36", "2.1", "200", "1 1/4", "0.001", "0"]),
    st.decimals(min_value="0.01", max_value=400, places=2).map(str),
    st.fractions(min_value=1, max_value=50, max_denominator=64).map(str),
)
PRESSURES = st.builds(
    lambda number, gap, unit: f"{number}{gap}{unit}",
    NUMERALS, st.sampled_from(["", " "]),
    st.sampled_from(["psi", "bar", "kPa", "psi", "kgf/cm²", "mbar", "lbf/in^2", "MPa", "inHg"]),
)  # fmt: skip
DEGREES = st.builds(
    lambda number, unit: f"{number}{unit}",
    st.one_of(st.integers(-30, 120).map(str), st.just("48.2"), st.just("20")),
    st.sampled_from([" °C", "C", "c", " °F", "F", " degC", "℃", " K"]),
)
HEIGHTS = st.builds(
    lambda number, unit: f"{number} {unit}",
    st.sampled_from(["0", "600", "1000", "-50", "1500", "328.5", "60000"]),
    st.sampled_from(["m", "ft", "m"]),
)
TYRE_NAMES = st.sampled_from(TYRES)
FIGURE_LINES = st.builds(
    lambda tyre, figure, at, up: f"{tyre} figure is {figure}{at}{up}",
    TYRE_NAMES, PRESSURES,
    st.one_of(st.just(""), DEGREES.map(" at {}".format)),
    st.one_of(st.just(""), st.just(""), HEIGHTS.map(" altitude {}".format)),
)  # fmt: skip
OTHER_LINES = st.builds(
    lambda tyre, what, figure: f"{tyre} {what} is {figure}",
    TYRE_NAMES, st.sampled_from(["least", "sidewall", "road", "hot target"]), PRESSURES,
)  # fmt: skip
READING_LINES = st.builds(
    lambda day, at, tyre, verb, pressure, state, more, note: (
        f"on 2026-06-{day} at {at} {tyre} {verb} {pressure} {state}{''.join(more)}{note}"
    ),
    st.sampled_from(["13", "14"]), st.sampled_from(["08:10", "8:10", "08:12", "09:00", "23:59"]),
    TYRE_NAMES, st.sampled_from(["is", "set to"]), PRESSURES, st.sampled_from(["cold", "hot"]),
    st.tuples(
        st.one_of(DEGREES.map(" air {}".format), st.just("")),
        st.one_of(st.just(""), DEGREES.map(" tyre {}".format)),
        st.one_of(st.just(""), HEIGHTS.map(" altitude {}".format)),
    ),
    st.sampled_from(["", "  # before the first ride", " #", "# two  spaces, Ä"]),
)  # fmt: skip
ODD_LINES = st.one_of(
    st.text(max_size=12),
    st.sampled_from([
        "# a comment", "", "   ", "front figure is 31", "front least is 26 psi at 20 °C",
        "on 2026-06-31 at 08:10 front is 30 psi cold",
        "on 2026-06-14 at 24:00 front is 30 psi cold",
        "on 2026-06-14 at 08:10 front is 30 psi cold air 9 °C air 10 °C",
        "on 2026-06-14 at 08:10 front is 30 psi cold windy", "rear  figure   is 2 bar",
        "front figure is 31 \x1bpsi", "front figure is - 5 psi", "front figure is 31 kg",
        "front figure is 5 °C", "front figure is 123456789012345678901 psi",
        "front road is 3,1 psi",
        "front figure is at 20 °C", "front figure is 31 psi at", "\tfront least is 26\tpsi",
        "front figure is 1/3 psi at -500 °C", "front figure is 31 psi at 0 K",
    ]),
)  # fmt: skip
LINES = st.one_of(FIGURE_LINES, FIGURE_LINES, OTHER_LINES, READING_LINES, READING_LINES, ODD_LINES)
ENDS = st.sampled_from(["\n", "\n", "\n", "\r\n", ""])
AIRS = st.sampled_from(["9 °C", "-20 °C", "20 °C", "48.2 °F", "5/3 °F", "35 °C", "300 K"])
LOGS = st.builds(lambda lines, end: "\n".join(lines) + end, st.lists(LINES, max_size=9), ENDS)
