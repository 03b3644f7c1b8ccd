"""Facts that are measured, in the form of the page, and the amounts that it reads of them."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from trackprep.publishing.form.units import plain_units
from trackprep.rules.model import Fact, Measured
from trackprep.units import ONE, SPELLINGS, to_base

UNITS = sorted(set(SPELLINGS.values()), key=lambda unit: unit.name)
PLAIN_UNITS = plain_units(UNITS)

READ = """(asked, units) =>
  asked.map(([text, fact]) => readAmount(text, fact, units))"""


def fact_in(
    unit: str, low: str | None = None, high: str | None = None, *, whole: bool = False
) -> Fact:
    ends = [None if end is None else Fraction(end) for end in (low, high)]
    its = ONE if whole else SPELLINGS[unit]
    ends = [None if end is None else to_base(end, its) for end in ends]
    return Fact("a.fact", "A fact", Measured(its, *ends, whole=whole))


def plain_fact(fact: Fact) -> dict[str, Any]:
    its = fact.type
    assert isinstance(its, Measured)
    ends = {"low": its.low, "high": its.high}
    found = {"path": fact.path, "kind": "number", "unit": its.unit.name, "whole": its.whole}
    texts = {key: str(end) for key, end in ends.items() if end is not None}
    return {key: value for key, value in {**found, **texts}.items() if value}


def read(call: Any, asked: Iterable[tuple[str, Fact]]) -> list[Any]:
    given = [(text, plain_fact(fact)) for text, fact in asked]
    found = call(READ, given, PLAIN_UNITS)
    assert isinstance(found, list)
    return found
