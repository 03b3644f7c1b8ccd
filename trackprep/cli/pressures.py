"""`trackprep pressures`: the tyre pressures of a track day, from the cold morning to the road."""

import sys
from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from attrs import evolve

from trackprep.cli.appending import append
from trackprep.cli.calls import CallError, day_of
from trackprep.cli.failures import print_failure
from trackprep.cli.pages import marked_up
from trackprep.cli.pressures_call import ENDINGS, EXAMPLES, LOG, arguments
from trackprep.cli.pressures_typed import (
    altitude_before,
    figures_in,
    optional,
    over,
    reading_in,
    refuse_figures,
    tyre_in,
)
from trackprep.cli.rulesets import for_riders
from trackprep.cli.terminal import PLAIN_WIDTH, note, say, width
from trackprep.cli.writing import STANDARD_OUTPUT, json_text, write_new
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import InputError
from trackprep.pressures.log import HEAD, Log, figure_lines, read_log, reading_line
from trackprep.pressures.tyres import AIR, ALTITUDE, HOT_AT, TYRES, Tyre, amount
from trackprep.rules.files import UnreadableFileError, read_damaged_text
from trackprep.rules.model import Rules

if TYPE_CHECKING:
    from trackprep.pressures.day import DayReport
    from trackprep.reports.pages.blocks import Page

__all__ = ["arguments", "run"]

WITH_PROBLEMS = 2


def run(call: Namespace) -> int:
    """Does the step; 0, or 2 where a line of the log cannot be read."""
    if call.verb is None:
        print(EXAMPLES, end="")
        say("`trackprep pressures STEP --help` shows one step: figure, now, log, show.")
        return 0
    rules = for_riders("standard").rules
    steps = {"figure": _figure, "now": _now, "log": _log, "show": _show}
    try:
        return steps[call.verb](call, rules)
    except InputError as why:
        raise CallError(why.message, why.suggestion) from None


# ---- the steps --------------------------------------------------------------------


def _figure(call: Namespace, rules: Rules) -> int:
    """Notes what is known of a tyre."""
    tyre, text = tyre_in(call.words)
    typed = figures_in(call, text, rules)
    lines = figure_lines(tyre, typed)
    if not lines:
        raise CallError(
            f"nothing is said of the {tyre} tyre",
            f"`trackprep pressures figure {tyre} 31psi --given-at 20C`",
        )
    known = _read(call, rules, must_be=False)
    if text and typed.figure is not None and typed.given_at is None:
        note("No temperature is given for it, so it holds for the tyre as it stands, cold.")
    _keep(call, lines)
    from trackprep.pressures.pages import figure_page

    figures = {**known.figures, tyre: over(known.figures[tyre], typed)}
    _print(figure_page(tyre, figures))
    return 0


def _now(call: Namespace, rules: Rules) -> int:
    """Prints what the figures equal."""
    from trackprep.pressures.pages import now_page
    from trackprep.pressures.setting import setting

    air = amount(AIR, getattr(call, AIR.name), "--air", rules)
    altitude, hot_at = (optional(call, asked, rules) for asked in (ALTITUDE, HOT_AT))
    bench = Bench(rules, date.today(), {})
    code = 0
    if call.words:
        tyre, text = tyre_in(call.words)
        known = _read(call, rules, must_be=False) if call.log else read_log("", LOG, rules)
        typed = figures_in(call, text, rules)
        figures = {**known.figures, tyre: over(known.figures[tyre], typed)}
        tyres: tuple[Tyre, ...] = (tyre,)
    else:
        known = _read(call, rules, must_be=True)
        figures = known.figures
        refuse_figures(call)
        tyres = tuple(tyre for tyre in TYRES if figures[tyre].figure is not None)
        tyres = tyres or ("front",)
    code = WITH_PROBLEMS if known.problems else 0
    settings = [
        setting(bench, tyre, figures[tyre], air, altitude, hot_at or known.hottest(tyre))
        for tyre in tyres
    ]
    _print(now_page(bench, settings, figures, altitude))
    return code


def _log(call: Namespace, rules: Rules) -> int:
    """Keeps a reading, and prints what it asks for."""
    from trackprep.pressures.advice import advice
    from trackprep.pressures.pages import reading_page

    reading = reading_in(call, rules)
    known = _read(call, rules, must_be=False)
    altitude = reading.altitude or altitude_before(known, reading)
    reading = evolve(reading, figures=known.figures[reading.tyre], altitude=altitude)
    _keep(call, [reading_line(reading)])
    day = evolve(known, readings=(*known.readings, reading)).day(reading.day)
    bench = Bench(rules, reading.day, {})
    _print(reading_page(bench, reading, advice(bench, day, reading), known.figures))
    return 0


def _show(call: Namespace, rules: Rules) -> int:
    """Prints or writes a day."""
    known = _read(call, rules, must_be=True)
    days = known.days()
    day = day_of(call.on) if call.on else max(days, default=date.today())
    if call.on and day not in days:
        there = ", ".join(one.isoformat() for one in days[-8:]) or "none"
        raise CallError(f"no reading is noted on {call.on}", f"days with one: {there}")
    from trackprep.pressures.day import DayReport

    report = DayReport(known.day(day), rules, known.problems)
    form = call.form or ENDINGS.get(Path(call.output).suffix.lower())
    if form is None and call.output != STANDARD_OUTPUT:
        raise CallError(
            f"the ending of `{call.output}` does not say what to write",
            f"one of {', '.join(ENDINGS)}, or `--as html`",
        )
    text = _shaped(report, form or "text", call.output == STANDARD_OUTPUT)
    if write_new(call.output, text, overwrite=call.overwrite):
        note(f"{call.output} is written.")
    return WITH_PROBLEMS if known.problems else 0


def _shaped(report: "DayReport", form: str, printed: bool) -> str:
    match form:
        case "html" | "markdown":
            return marked_up(report.page, form)
        case "json":
            return json_text(report.to_dict())
        case "svg":
            return report.svg
        case _:
            return report.text(width() if printed else PLAIN_WIDTH)


# ---- the log ----------------------------------------------------------------------


def _read(call: Namespace, rules: Rules, *, must_be: bool) -> Log:
    """The log; its damaged lines are told on standard error, and stay."""
    path = Path(call.log or LOG)
    if not path.exists() and not path.is_symlink():
        if must_be:
            raise CallError(
                f"there is no log `{path}` here",
                "`trackprep pressures figure front 31psi --given-at 20C` begins one; `--log` names"
                " another",
            )
        return read_log("", str(path), rules)
    try:
        text = read_damaged_text(path)
    except UnreadableFileError as why:
        raise CallError(f"`{path}`: {why}", "another file with `--log`") from None
    log = read_log(text, str(path), rules)
    if log.problems:
        print_failure(log.problems, as_json=False)
        sys.stderr.flush()
    return log


def _keep(call: Namespace, lines: Sequence[str]) -> None:
    """Adds lines to the log; if that fails, they are told so that nobody loses them."""
    path = Path(call.log or LOG)
    try:
        append(path, "".join(f"{line}\n" for line in lines), head=HEAD)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise CallError(
            f"`{path}` cannot be written ({reason}), and is as it was; not kept is:"
            f" {'; '.join(lines)}",
            "note it down, or name a file elsewhere with `--log`",
        ) from None
    for line in lines:
        note(f"{path}: {line}")


def _print(page: "Page") -> None:
    from trackprep.reports.pages.columns import page_in_columns

    print(page_in_columns(page, width()), end="")
