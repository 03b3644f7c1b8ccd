"""Measuring from Python: a topic by its name, its inputs by theirs."""

from datetime import date, datetime
from functools import lru_cache
from typing import Any

from trackprep.measures import TOPICS
from trackprep.measures.measurement import Measurement
from trackprep.reading import read_ruleset
from trackprep.rules.model import Rules
from trackprep.rules.reporting import nearest
from trackprep.ruleset import Ruleset


def measure(
    topic: str,
    value: Any = None,
    /,
    *,
    on: date | None = None,
    limits_of: Ruleset | None = None,
    **options: Any,
) -> Measurement:
    """One of the trade's numbers, with the working: as `trackprep measure` gives it.

    `measure("pressure", "31 psi", set_at="20 °C", now="9 °C")["pressure now"]` is exact.

    Args:
        topic: Its name, such as `tyre-code`; `trackprep measure` lists them.
        value: What stands first in a call: text, or a quantity of Pint.
        on: The day of the event; today unless it is given.
        limits_of: Whose limits to hold it against; else those of common practice.
        options: What a call gives by name, with `_` for `-`.

    Raises:
        ValueError: There is no such topic, or an input is missing or cannot be read.
        TypeError: The topic has no such option, or `on` is no date.
    """
    known = TOPICS.get(topic)
    if known is None:
        near = nearest(topic, tuple(TOPICS))
        advice = f"did you mean `{near}`?" if near else f"there are {', '.join(TOPICS)}"
        raise ValueError(f"there is no topic `{topic}`: {advice}")
    if on is not None and (not isinstance(on, date) or isinstance(on, datetime)):
        raise TypeError("`on` is the day of the event, a datetime.date")
    values = {name.replace("_", "-"): option for name, option in options.items()}
    for name in values:
        if name not in {asked.name for asked in known.options}:
            raise TypeError(f"`{topic}` takes no `{name}`")
    if known.first:
        values[known.first.name] = value
    elif value is not None:
        raise TypeError(f"`{topic}` takes its values by name")
    event = _shipped("common-practice") if limits_of is None else limits_of.rules
    return known.measured(values, on or date.today(), _shipped("standard"), event)


@lru_cache(maxsize=2)
def _shipped(name: str) -> Rules:
    return read_ruleset(name).rules
