"""The rider's pressure log: lines of text, to read, to correct by hand, and to add to.

    front figure is 31 psi at 20 °C
    front least is 26 psi
    on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C altitude 600 m
    on 2026-06-14 at 08:12 front set to 29.6 psi cold air 9 °C  # before the first ride

Of two lines that say the same of a tyre the later one counts. A line that cannot be read is
told, stays as it is, and takes nothing from the others.
"""

import re
from collections.abc import Iterator
from datetime import date, time

from attrs import evolve

from trackprep.dates import span_of
from trackprep.frozen import frozen
from trackprep.measures.inputs import Input, InputError
from trackprep.pressures.tyres import (
    AIR,
    ALTITUDE,
    FIGURE,
    GIVEN_ALTITUDE,
    GIVEN_AT,
    KEPT,
    PRESSURE,
    TYRES,
    WARM,
    Day,
    Figures,
    Reading,
    Tyre,
    amount,
    spelled,
)
from trackprep.problems import Problem
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount
from trackprep.source import Place, Source

HEAD = """\
# Tyre pressures, kept by `trackprep pressures`. Lines are only ever added at the end; you may
# correct one by hand. Of two that say the same of a tyre, the later one counts.
"""
_KEPT = {asked.name.replace("-", " "): asked for asked in KEPT}
_SETTING = re.compile(rf"(front|rear) ({'|'.join(_KEPT)}) is (.+)")
_READING = re.compile(
    r"on (\d{4}-\d\d-\d\d) at (\d\d?:\d\d) (front|rear) (is|set to) (.+?) (cold|hot)(?: (.+))?"
)
_FIGURE_DETAILS = {"at": GIVEN_AT, "altitude": GIVEN_ALTITUDE}
_DETAILS = {"air": AIR, "tyre": WARM, "altitude": ALTITUDE}
_EXPECTED = (
    "such as `front figure is 31 psi at 20 °C`, or"
    " `on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C`"
)


@frozen
class Log:
    """What stands in a log.

    Attributes:
        figures: What is known of each tyre by its last line.
        readings: In the order of the file, each with what was known then.
        problems: The lines that cannot be read, and a last line that has no end.
    """

    figures: dict[Tyre, Figures]
    readings: tuple[Reading, ...]
    problems: tuple[Problem, ...]

    def days(self) -> tuple[date, ...]:
        """The days with a reading, from the earliest."""
        return tuple(sorted({reading.day for reading in self.readings}))

    def hottest(self, tyre: Tyre) -> Amount | None:
        """The highest temperature at which a tyre was ever read."""
        warm = [one.warm for one in self.readings if one.tyre == tyre and one.warm is not None]
        return max(warm, key=lambda one: one.value, default=None)

    def day(self, day: date) -> Day:
        """The readings of one day by the clock; with the figures that held on it last."""
        found = sorted(
            (reading for reading in self.readings if reading.day == day),
            key=lambda reading: reading.at,
        )
        held = dict(self.figures)
        if any(reading.day > day for reading in self.readings):
            held |= {reading.tyre: reading.figures for reading in found}
        return Day(day, held, tuple(found))


# ---- reading --------------------------------------------------------------------


def read_log(text: str, name: str, rules: Rules) -> Log:
    """The log in a text; whatever is damaged becomes a problem."""
    # What steers terminals is no text either; it is shown as what it is not, sign by sign.
    text = "".join(
        sign if sign.isprintable() or sign in "\n\t" else "\N{REPLACEMENT CHARACTER}"
        for sign in text.replace("\r\n", "\n")
    )
    source = Source(name, text)
    figures: dict[Tyre, Figures] = {tyre: Figures() for tyre in TYRES}
    readings: list[Reading] = []
    problems: list[Problem] = []
    for start, line in _lines(text):
        said, _, note = line.partition("#")
        if not (words := " ".join(said.split())):
            continue
        place = Place(source, start, start + len(line))
        try:
            _take(words, note.strip(), figures, readings, rules)
        except InputError as why:
            problems.append(Problem("unreadable-line", why.message, place, expected=why.suggestion))
    if text and not text.endswith("\n"):
        problems.append(_no_end(source))
    return Log(figures, tuple(readings), tuple(problems))


def _no_end(source: Source) -> Problem:
    start = source.text.rfind("\n") + 1
    return Problem(
        "line-without-end",
        "the last line has no line break at its end, so that something of it may be missing",
        Place(source, start, len(source.text)),
        suggestion="see whether it says all that it should, and end it with a line break;"
        " what is added begins on a line of its own",
    )


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """Each line that says something, with where it starts."""
    start = 0
    for line in text.split("\n"):
        if line.strip():
            yield start + len(line) - len(line.lstrip()), line.strip()
        start += len(line) + 1


def _take(
    words: str, note: str, figures: dict[Tyre, Figures], readings: list[Reading], rules: Rules
) -> None:
    if "\N{REPLACEMENT CHARACTER}" in words:
        raise InputError("this line is damaged: it holds bytes that are no text", _EXPECTED)
    if found := _SETTING.fullmatch(words):
        tyre = _tyre(found[1])
        figures[tyre] = _with_setting(figures[tyre], found[2], found[3], rules)
    elif found := _READING.fullmatch(words):
        readings.append(_reading(found, note, figures[_tyre(found[3])], rules))
    else:
        raise InputError("this is no line of a pressure log", _EXPECTED)


def _tyre(word: str) -> Tyre:
    return "front" if word == "front" else "rear"


def _with_setting(figures: Figures, word: str, text: str, rules: Rules) -> Figures:
    asked = _KEPT[word]
    details = _FIGURE_DETAILS if asked is FIGURE else {}
    first, more = _details(text, details, rules)
    value = amount(asked, first, word, rules)
    if asked is FIGURE:
        return evolve(
            figures, figure=value, given_at=more.get("at"), given_altitude=more.get("altitude")
        )
    return evolve(figures, **{word.replace(" ", "_"): value})


def _reading(found: "re.Match[str]", note: str, figures: Figures, rules: Rules) -> Reading:
    day, clock, tyre, verb, pressure, state, rest = found.groups()
    nothing, more = _details(rest or "", _DETAILS, rules)
    if nothing:
        raise InputError(f"`{nothing}` is not understood here", _EXPECTED)
    return Reading(
        day_in(day), clock_in(clock), _tyre(tyre), amount(PRESSURE, pressure, "pressure", rules),
        "cold" if state == "cold" else "hot", verb == "set to", more.get("air"), more.get("tyre"),
        more.get("altitude"), note, figures,
    )  # fmt: skip


def _details(text: str, known: dict[str, Input], rules: Rules) -> tuple[str, dict[str, Amount]]:
    """What stands before the first of the known words, and the quantity behind each of them."""
    first: list[str] = []
    said: dict[str, list[str]] = {}
    into = first
    for word in text.split():
        if word in known:
            if word in said:
                raise InputError(f"`{word}` stands here twice", "keep one of the two")
            into = said[word] = []
        else:
            into.append(word)
    return " ".join(first), {
        word: amount(known[word], " ".join(value), word, rules) for word, value in said.items()
    }


def day_in(text: str) -> date:
    """The day that a text names.

    Raises:
        InputError: It names none.
    """
    try:
        span = span_of(text)
    except ValueError as why:
        raise InputError(str(why), "a date: `2026-06-14`") from None
    if not span.exact:
        raise InputError(f"`{text}` is not one day", "a date: `2026-06-14`")
    return span.first


def clock_in(text: str) -> time:
    """The time of day that a text names, by the 24-hour clock.

    Raises:
        InputError: It names none.
    """
    hour, _, minute = text.strip().partition(":")
    if not (hour.isdecimal() and minute.isdecimal() and len(minute) == 2 and len(hour) <= 2):
        raise InputError(f"`{text}` is no time of day", "hours and minutes: `08:10`, `14:35`")
    if int(hour) > 23 or int(minute) > 59:
        raise InputError(f"`{text}` is no time of day", "`00:00` to `23:59`")
    return time(int(hour), int(minute))


# ---- writing --------------------------------------------------------------------


def figure_lines(tyre: Tyre, figures: Figures) -> list[str]:
    """The lines of what was typed of a tyre."""
    lines = []
    for words, asked in _KEPT.items():
        value: Amount | None = getattr(figures, asked.name.replace("-", "_"))
        if value is None:
            continue
        line = f"{tyre} {words} is {spelled(value)}"
        if asked is FIGURE:
            line += _said("at", figures.given_at) + _said("altitude", figures.given_altitude)
        lines.append(line)
    return lines


def reading_line(reading: Reading) -> str:
    """The line of a reading."""
    verb = "set to" if reading.was_set else "is"
    line = (
        f"on {reading.day.isoformat()} at {reading.at:%H:%M} {reading.tyre} {verb}"
        f" {spelled(reading.pressure)} {reading.state}"
    )
    line += _said("air", reading.air) + _said("tyre", reading.warm)
    line += _said("altitude", reading.altitude)
    note = " ".join(reading.note.split())
    return f"{line}  # {note}" if note else line


def _said(word: str, value: Amount | None) -> str:
    return f" {word} {spelled(value)}" if value is not None else ""
