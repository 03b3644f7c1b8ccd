"""Helmets: how old one is by its label, as the rule books count it."""

from trackprep.dates import long_form
from trackprep.dates.ages import Grain
from trackprep.measures.ages import answer_age, last_days, limit_in_months, verdict
from trackprep.measures.bench import Bench
from trackprep.measures.inputs import Input, InputError, Text
from trackprep.measures.labels import span_on_label
from trackprep.measures.topic import Topic
from trackprep.units import show

_READINGS: tuple[tuple[Grain, str], ...] = (
    ("day", "counted to the day"),
    ("month", "counted in whole months, or “to the month”"),
    ("year", "counted in calendar years"),
)


def _helmet(bench: Bench) -> None:
    label = bench.word("label")
    try:
        made = span_on_label(label)
    except ValueError as why:
        raise InputError(f"LABEL: {why}") from None
    bench.given.append(("label", label))
    bench.given.append(("day of the event", long_form(bench.day)))
    when = "on" if made.exact else "on some day of"
    bench.say(f"Made {when} {long_form(made)}.")
    answer_age(bench, made)
    limit = bench.limit("oldest-helmet")
    months = limit_in_months(limit)
    if limit is not None and months is not None and made.first <= bench.day:
        shown = show(limit.value, limit.unit)
        bench.say(f"{bench.limit_words('oldest-helmet')}, {shown} ({months} months):")
        for grain, said in _READINGS:
            if grain == "year" and months % 12:
                continue
            bench.say(f"- {said}: {verdict(last_days(made, months, grain), bench.day)};")
        bench.says[-1] = bench.says[-1].removesuffix(";") + "."
        bench.say("Your event's rules say which of these counts.")
        bench.source_of_limit("oldest-helmet")
    bench.caution(
        "Age is not all: a helmet that has had a blow, or whose shell, liner or strap is damaged,"
        " is finished at any age."
    )


HELMET = Topic(
    "helmet",
    "Age of a helmet",
    "how old a helmet is by its label, as the different rule books count",
    _helmet,
    Input("label", "the date on the label inside", "06/2021", Text(), "needed"),
    examples=(
        "helmet 06/2021 --on 2026-06-30",
        "helmet 2021-06",
        'helmet "Jun 2021"',
    ),
    dated=True,
    about="The label is under the lining, mostly at the crown or on a cheek pad.",
)
