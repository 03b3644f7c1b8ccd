"""Slips in formulas, tables, calls and rounding, each with its own message."""

from trackprep.problems import Problem
from trackprep.syntax.spot import COMMAS, Spot
from trackprep.syntax.words import RESERVED
from trackprep.units import unit

_BEHIND_EXPRESSIONS = frozenset(
    {"is", "includes", "when", "unless", "otherwise", "as", "and", "or", "in"}
)
_FUNCTIONS = frozenset({"log10", "ten-to", "sqrt", "minimum", "maximum"})
_ENDS = frozenset({"NUMBER", "QUANTITY", "PATH", "RPAR", "RSQB"})


def formula_slip(spot: Spot) -> Problem | None:
    """The message for a slip that people make with formulas, tables, calls or rounding."""
    if spot.rider:
        return None
    slips = (
        _bracket_open, _no_parameters, _dotted_name, _parameter, _rounding, _age_rounded,
        _no_brackets, _no_argument, _comma_between_rows, _row_of_several, _table_nameless,
        _as_missing,
    )  # fmt: skip
    return next((found for slip in slips if (found := slip(spot)) is not None), None)


def _name(spot: Spot, index: int) -> bool:
    return spot.kind(index) == "WORD" and spot.word(index) not in RESERVED


def _bracket_open(spot: Spot) -> Problem | None:
    """`f(a is at least 3`: what cannot stand in brackets, and a bracket is open."""
    bracket = spot.open_bracket()
    if bracket is None or not (spot.word(bracket) == "[" or _name(spot, bracket - 1)):
        return None
    at = spot.reached
    label = spot.kind(at) == "STRING" and spot.in_parameters(at) and not spot.is_parameter(at)
    if not label and spot.word(at) not in _BEHIND_EXPRESSIONS:
        return None
    return spot.made(
        "unfinished", f"this `{spot.word(bracket)}` is never closed", spot.place(bracket),
        spot.form, "write its other half",
    )  # fmt: skip


def _no_parameters(spot: Spot) -> Problem | None:
    """`formula f in mm as …`, `formula f() as …`."""
    if spot.keyword != "formula" or not _name(spot, spot.head + 1):
        return None
    behind = spot.reached - spot.head
    if behind == 2:
        end = spot.reached
        while _name(spot, end) and spot.word(end) not in ("in", "as"):
            end += 1
        if end > spot.reached and spot.kind(end) == "LPAR":
            return None  # a name in pieces
    elif behind != 3 or spot.kind(spot.reached) != "RPAR" or spot.word(spot.reached - 1) != "(":
        return None
    name = spot.word(spot.head + 1)
    return spot.made(
        "parameters-missing", "this formula has no parameters",
        spot.place(spot.head + 1, spot.reached if behind == 3 else None), spot.form,
        f"put what it is worked out from in brackets: `{name}(length in mm)`",
    )  # fmt: skip


def _dotted_name(spot: Spot) -> Problem | None:
    """`formula chain.stretch(…)`."""
    at = spot.reached
    if spot.keyword not in ("formula", "table") or spot.kind(at) != "PATH" or at != spot.head + 1:
        return None
    return spot.made(
        "bad-name", f"the name of a {spot.keyword} has no dots", spot.place(at),
        "lower-case words and digits joined by hyphens",
        f"write `{spot.word(at).replace('.', '-')}`",
    )  # fmt: skip


def _parameter(spot: Spot) -> Problem | None:
    """`formula f(tyre.front.tread in mm)`, `formula f(length mm)`, `formula f(chain length)`."""
    at = spot.reached
    if spot.is_parameter(at) and spot.kind(at) == "PATH":
        return spot.made(
            "bad-name", "a parameter is a name of its own, not a fact", spot.place(at),
            spot.form, f"write `{spot.word(at).rpartition('.')[2]}`",
        )  # fmt: skip
    if not (spot.is_parameter(at - 1) and _name(spot, at - 1) and _name(spot, at)):
        return None
    before, word = spot.word(at - 1), spot.word(at)
    if unit(spot.tokens[at].text) is not None:
        return spot.made(
            "in-missing", "`in` is missing in front of this unit", spot.place(at),
            suggestion=f"write `{before} in {spot.tokens[at].text}`",
        )  # fmt: skip
    return spot.made(
        "name-in-pieces", "the name of a parameter is one word", spot.place(at - 1, at),
        "lower-case words and digits joined by hyphens",
        f"write `{before}-{word}`, or a comma between two parameters",
    )  # fmt: skip


def _rounding(spot: Spot) -> Problem | None:
    """`rounded up to 1 mm`, `rounded to the nearest 1 mm`, `rounded 1 mm`."""
    start = spot.reached - 1
    for word in ("to", "down"):
        if spot.word(start) == word and spot.word(start - 1) in ("rounded", "down"):
            start -= 1
    if spot.word(start) != "rounded" or start <= spot.head:
        return None
    if not (
        _name(spot, start - 1) or spot.kind(start - 1) in _ENDS or spot.word(start - 1) == "it"
    ):
        return None
    if spot.word(spot.reached) in ("up", "upwards"):
        return spot.made(
            "rounded-up", "nothing is rounded up here", spot.place(start, spot.reached),
            "rounding to the nearest step, or `down` to the step below",
            "write `rounded to` or `rounded down to`",
        )  # fmt: skip
    said = " ".join(spot.word(index) for index in range(start, spot.reached))
    return spot.made(
        "step-missing", f"no number stands behind `{said}`", spot.place(start, spot.reached - 1),
        "the step to round to, such as `rounded to 1 mm` or `rounded down to 0.5`",
    )  # fmt: skip


def _age_rounded(spot: Spot) -> Problem | None:
    """`age of rain-suit.made rounded to 1 year`."""
    at = spot.reached
    words = [spot.word(index) for index in range(spot.head, at)]
    if spot.word(at) != "rounded" or not ("age" in words[-6:] or "years" in words[-6:]):
        return None
    return spot.made(
        "age-rounded", "an age is not rounded", spot.place(at),
        "an age in whole days, or `age of FACT to the month` or `to the year`",
        "take it out, or count by the calendar: `to the year`",
    )  # fmt: skip


def _no_brackets(spot: Spot) -> Problem | None:
    """`sqrt tyre.front.tread`."""
    at = spot.reached - 1
    if at <= spot.head or spot.word(at) not in _FUNCTIONS:
        return None
    if not (spot.kind(at + 1) in ("NUMBER", "QUANTITY", "PATH", "LSQB") or _name(spot, at + 1)):
        return None
    argument = spot.tokens[at + 1].text
    shown = f": `{spot.word(at)}({argument})`" if argument != "[" else ""
    return spot.made(
        "brackets-missing", f"`{spot.word(at)}` takes its values in brackets", spot.place(at),
        suggestion=f"put `(` and `)` around them{shown}",
    )  # fmt: skip


def _no_argument(spot: Spot) -> Problem | None:
    """`speed-of()`."""
    at = spot.reached
    if spot.kind(at) != "RPAR" or spot.kind(at - 1) != "LPAR" or not _name(spot, at - 2):
        return None
    name = spot.word(at - 2)
    return spot.made(
        "argument-missing", f"`{name}` is given nothing to work with", spot.place(at - 2, at),
        f"`{name}(EXPRESSION)`, with a comma between several",
    )  # fmt: skip


def _comma_between_rows(spot: Spot) -> Problem | None:
    """`as A when …, B otherwise`, and a comma behind the row of a table."""
    if spot.kind(spot.reached) not in COMMAS or spot.open_bracket() is not None:
        return None
    words = [spot.word(index) for index in range(spot.head, spot.reached)]
    if not (spot.keyword == "formula" and "as" in words) and not (
        spot.keyword == "row" and "is" in words
    ):
        return None
    what, word = ("formula", "as") if spot.keyword == "formula" else ("table", "row")
    return spot.made(
        "comma-between-rows", f"no comma stands between the rows of a {what}",
        spot.place(spot.reached),
        suggestion=f"take it out, and begin each row with `{word}` on a line of its own",
    )  # fmt: skip


def _row_of_several(spot: Spot) -> Problem | None:
    """`row "P", "Q" is 150 km/h`."""
    if spot.keyword != "row" or spot.kind(spot.reached) not in COMMAS:
        return None
    return spot.made(
        "row-of-several", "a row is for one choice", spot.place(spot.head, spot.reached),
        spot.form, "write a row for each choice",
    )  # fmt: skip


def _table_nameless(spot: Spot) -> Problem | None:
    """`table from KIND`: `from` would be its name."""
    at = spot.head + 1
    if spot.keyword != "table" or spot.word(at) != "from" or spot.reached != at + 1:
        return None
    return spot.made(
        "name-missing", "this `table` has no name", spot.place(spot.head), spot.form,
        "put a name of one word behind `table`",
    )  # fmt: skip


def _as_missing(spot: Spot) -> Problem | None:
    """`formula f(a in mm) in mm a * 2`, `formula f(a in mm) is …`, or nothing at all."""
    if spot.keyword != "formula" or spot.open_bracket() is not None:
        return None
    behind = range(spot.head, spot.reached)
    if not any(spot.word(index) == ")" for index in behind) or any(
        spot.word(index) == "as" for index in behind
    ):
        return None
    word = spot.word(spot.reached)
    if spot.word(spot.reached - 1) == "in":
        return None  # no unit
    if spot.reached >= len(spot.tokens) or spot.begins_statement(spot.reached):
        place, advice = spot.place(spot.head, spot.reached - 1), "write `as` and an expression"
    elif word in ("is", "means"):
        place, advice = spot.place(spot.reached), "write `as`"
    else:
        place, advice = spot.place(spot.reached), "write `as` in front of the expression"
    return spot.made(
        "as-missing", "this formula does not say how it is worked out", place, spot.form, advice
    )
