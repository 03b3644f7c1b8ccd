"""A day of a pressures log, from a file: the door for programs."""

from datetime import date
from pathlib import Path

from trackprep.pressures.day import DayReport
from trackprep.pressures.log import read_log
from trackprep.reading import read_ruleset
from trackprep.rules.files import read_damaged_text


def read_pressures(path: str | Path, *, on: date | None = None) -> DayReport:
    """The readings of one day of a log that `trackprep pressures` keeps, with what each asks for.

    Args:
        path: The log; its damaged lines are told in `.problems`, and the rest is read.
        on: The day; if None the last one with a reading.

    Raises:
        UnreadableFileError: The file cannot be read.
        ValueError: There is no reading, or none on that day.
    """
    rules = read_ruleset("standard").rules
    log = read_log(read_damaged_text(Path(path)), str(path), rules)
    days = log.days()
    day = max(days, default=None) if on is None else on
    if day is None or day not in days:
        there = ", ".join(one.isoformat() for one in days[-8:]) or "none"
        asked = "in this log" if on is None else f"on {on.isoformat()}"
        raise ValueError(f"no reading is noted {asked}; days with one: {there}")
    return DayReport(log.day(day), rules, log.problems)
