"""Tyres: the week they were made, tread, pressure, what the sidewall's symbols mean."""

from datetime import date, timedelta

from trackprep.dates import Span, long_form, week_code
from trackprep.measures.ages import answer_age, stands_to_limit
from trackprep.measures.bench import Bench
from trackprep.measures.figures import both_ways
from trackprep.measures.inputs import ChoiceOf, Input, InputError, Quantity, Text
from trackprep.measures.topic import Topic
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, show

# ---- the week ---------------------------------------------------------------


def _tyre_code(bench: Bench) -> None:
    code = bench.word("code")
    try:
        made = week_code(code)
    except ValueError as why:
        raise InputError(str(why)) from None
    bench.given.append(("week code", code))
    bench.given.append(("day of the event", long_form(bench.day)))
    bench.say(f"Made in week {int(code[:2])} of 20{code[2:]}: {long_form(made)}.")
    answer_age(bench, made)
    stands_to_limit(bench, "oldest-tyre", made)
    if other := _iso_week(code):
        bench.say(
            f"The week runs Sunday to Saturday here. A maker who counts by ISO 8601 means {other}."
        )
    bench.source("tyre-code", "49 CFR 574.5(b)(3)")
    bench.caution(
        "The code tells the age alone. Cracks, cuts or cords end a tyre's life at any age."
    )


def _iso_week(code: str) -> str:
    """The same digits read as a week by ISO 8601, which has no week 53 in most years."""
    try:
        monday = date.fromisocalendar(2000 + int(code[2:]), int(code[:2]), 1)
    except ValueError:
        return ""
    return long_form(Span(monday, monday + timedelta(days=6)))


TYRE_CODE = Topic(
    "tyre-code",
    "When a tyre was made",
    "the days that a tyre's week code means, and the tyre's age",
    _tyre_code,
    Input("code", "the last four digits after DOT on the sidewall", "2319", Text(), "needed"),
    examples=("tyre-code 2319 --on 2026-06-14",),
    dated=True,
)

# ---- tread ------------------------------------------------------------------


def _tread(bench: Bench) -> None:
    depth = bench.amount("depth")
    bench.given.append(("tread depth", depth.text))
    for label, name in (("millimetres", "mm"), ("32nds of an inch", "32nds"), ("inches", "in")):
        bench.answer_in_its_unit(label, Amount(depth.value, SPELLINGS[name]))
    bench.against("tread-depth", depth, at_least=True)
    bench.caution(
        "Measure at the most worn place, away from the wear bars; the shallowest groove counts."
    )


TREAD = Topic(
    "tread",
    "Tread depth",
    "a tread depth in millimetres, inches and 32nds of an inch",
    _tread,
    Input("depth", "what the gauge shows", "3/32in", Quantity("mm"), "needed"),
    examples=("tread 3/32in", "tread 2.5mm", 'tread "4 32nds"'),
    about="Nothing is rounded: 2/32 in is 1.5875 mm, which is less than 1.6 mm.",
)

# ---- pressure ---------------------------------------------------------------


def _pressure(bench: Bench) -> None:
    pressure, then, now = bench.amount("pressure"), bench.amount("set-at"), bench.amount("now")
    bench.given.append(("pressure as set", both_ways(pressure)))
    bench.given.append(("temperature when set", both_ways(then)))
    bench.given.append(("temperature now", both_ways(now)))
    if bench.has("altitude") or bench.has("set-altitude"):
        found = _at_altitudes(bench, pressure, then, now)
    else:
        found = bench.work("pressure-at-sea", set=pressure, set_at=then, now=now)
    thumb = bench.work("pressure-by-thumb", set=pressure, set_at=then, now=now)
    unit = pressure.unit
    change = found.value - pressure.value
    bench.answer("pressure now", Amount(found.value, unit))
    bench.answer("more than set" if change >= 0 else "less than set", Amount(abs(change), unit))
    bench.answer("now, by rule of thumb", Amount(thumb.value, unit))
    bench.caution("Put the road pressures back before the road.")


def _at_altitudes(bench: Bench, pressure: Amount, then: Amount, now: Amount) -> Amount:
    """The pressure where the air outside differs; of two altitudes, one may be left out."""
    here = bench.inputs.get("altitude", bench.inputs.get("set-altitude"))
    there = bench.inputs.get("set-altitude", here)
    assert isinstance(here, Amount)
    assert isinstance(there, Amount)
    bench.given.append(("altitude when set", both_ways(there)))
    bench.given.append(("altitude now", both_ways(here)))
    return bench.work(
        "pressure-now",
        set=pressure,
        set_at=then,
        outside_then=bench.work("outside-pressure", altitude=there),
        now=now,
        outside_now=bench.work("outside-pressure", altitude=here),
    )


PRESSURE = Topic(
    "pressure",
    "Tyre pressure at another temperature",
    "what a tyre's pressure becomes as it warms or cools, or at another altitude",
    _pressure,
    Input("pressure", "the pressure as set, by the gauge", '"31 psi"', Quantity("psi"), "needed"),
    (
        Input("set-at", "the tyre's temperature then", "20C", Quantity("°C"), "needed"),
        Input("now", "the tyre's temperature now", "9C", Quantity("°C"), "needed"),
        Input("altitude", "how high the place is; else at the sea, or as high as it was set",
              "600m", Quantity("m", low=None)),
        Input("set-altitude", "how high it was set; else as high as now",
              "50m", Quantity("m", low=None)),
    ),
    (
        "pressure 31psi --set-at 20C --now 9C",
        "pressure 2.1bar --set-at 68F --now 176F",
        "pressure 31psi --set-at 20C --now 20C --set-altitude 50m --altitude 600m",
    ),
    about="Give the temperature of the tyre: of a cold one that is the air's, out of the sun.",
)  # fmt: skip

# ---- symbols ----------------------------------------------------------------


def _speed_symbol(bench: Bench) -> None:
    if bench.has("symbol") == bench.has("top-speed"):
        raise InputError("one of SYMBOL or `--top-speed` is asked for", "`speed-symbol W`")
    table = bench.table("speed-of")
    assert table.choices is not None
    if bench.has("symbol"):
        symbol = bench.word("symbol")
        bench.given.append(("symbol", table.choices.spoken(symbol)))
        speed = bench.look_up("speed-of", symbol)
        if speed is None:
            bench.say(f"The standard gives no speed for {table.choices.spoken(symbol)}.")
        else:
            bench.answer("speed", speed, rounded=False)
    else:
        top = bench.amount("top-speed")
        bench.given.append(("top speed of the machine", both_ways(top)))
        enough = [word for word, speed in table.rows if speed >= top.value]
        by_speed = dict(table.rows)
        if enough:
            least = min(enough, key=lambda word: by_speed[word])
            bench.say(f"The least symbol that does is {table.choices.spoken(str(least))}.")
            speed = bench.look_up("speed-of", str(least))
            assert speed is not None
            bench.answer("its speed", speed, rounded=False)
        else:
            fastest = max(by_speed.values())
            bench.cite(table)
            bench.say(
                f"No symbol of the table stands for more than {show(fastest, table.unit)}:"
                " ask the tyre's maker."
            )
    bench.say(table.reason)
    bench.caution("The speed holds at the load and the pressure that the tyre's maker gives.")


SPEED_SYMBOL = Topic(
    "speed-symbol",
    "Speed symbol of a tyre",
    "the speed that a tyre's symbol stands for, or the least symbol for a speed",
    _speed_symbol,
    Input("symbol", "the letter behind the load index, with its brackets", '"(W)"',
          ChoiceOf("speed-of")),
    (Input("top-speed", "the machine's top speed: the least symbol that does", "240km/h",
           Quantity("km/h")),),
    ("speed-symbol H", 'speed-symbol "(W)"', "speed-symbol --top-speed 149mph"),
)  # fmt: skip


def _load_index(bench: Bench) -> None:
    index = bench.amount("index")
    bench.given.append(("load index", show(index.value, index.unit)))
    load = bench.look_up("load-of", index)
    if load is None:
        rows = [int(key) for key, _ in bench.table("load-of").rows]
        bench.say(f"The table here goes from {min(rows)} to {max(rows)}.")
    else:
        bench.answer("load of one tyre", load, rounded=False)
    bench.say(bench.table("load-of").reason)


LOAD_INDEX = Topic(
    "load-index",
    "Load index of a tyre",
    "the load that a tyre's index stands for",
    _load_index,
    Input("index", "the number in front of the speed symbol", "58", Quantity("", whole=True),
          "needed"),
    examples=("load-index 58",),
)  # fmt: skip
