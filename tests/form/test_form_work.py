"""The work list of the page: what trackprep.rider.work makes is what work.js makes."""

from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from attrs import evolve
from form.conftest import Call
from form.worklists import Case, Declared, agree, takes_form
from hypothesis import given, settings
from hypothesis import strategies as st
from test_worklist_laws import MadeRule, rules
from thorough import THOROUGH
from worklist_made import ALL_RIGHT, ALL_WRONG, NEXT_DOOR, YARD

import trackprep
from trackprep.dates import Span
from trackprep.declarations.several import read_for_all
from trackprep.published import rulesets_folder
from trackprep.reports.worklist import wording
from trackprep.rider.worklist import Duration, total
from trackprep.rules.model import Choosing, Rules, Work, YesOrNo
from trackprep.rules.values import Amount, Value

DAY, TODAY = date(2026, 6, 20), date(2026, 6, 14)
NAMES = ("common-practice", "fenwhistle", "marrowfell", "sallowgate", "tarn-hollow")
SHIPPED = [trackprep.read_ruleset(name).rules for name in NAMES]
RIDERS = sorted(rulesets_folder().glob("*.rider"))
ARRIVALS = (None, "ridden", "carried")


def everything(path: Any) -> dict[str, Value]:
    """What a demo rider declares, for all shipped rulesets."""
    read = read_for_all(path, path.name, SHIPPED)
    return {fact: value for one in read for fact, value in one.values.items()}


DECLARED = [everything(path) for path in RIDERS]
PAIRS = [(4, 2), (1, 3), (2, 4), (0, 4), (3, 0)]
SEVERAL = [*[(place,) for place in range(len(NAMES))], *(PAIRS if THOROUGH else PAIRS[:2])]


# ---- what ships ---------------------------------------------------------------


@pytest.mark.parametrize("rider", range(len(RIDERS)), ids=[path.stem for path in RIDERS])
def test_the_demo_riders_at_one_event_and_at_two(rider: int, call: Call) -> None:
    agree(
        call,
        SHIPPED,
        [
            (places, DECLARED[rider], DAY, arrival, TODAY)
            for places in SEVERAL
            for arrival in ARRIVALS
        ],
    )


def test_nothing_declared_and_three_events(call: Call) -> None:
    agree(call, SHIPPED, [((4, 2, 1), {}, DAY, arrival, TODAY) for arrival in ARRIVALS])


@st.composite
def changed(draw: st.DrawFn) -> dict[str, Value]:
    """What a demo rider declares, with some of it left out and some of it otherwise."""
    declared = draw(st.sampled_from(DECLARED))
    paths = sorted(declared)
    gone = draw(st.sets(st.sampled_from(paths), max_size=25))
    other = draw(st.sets(st.sampled_from(paths), max_size=25))
    facts = {path: fact for its in SHIPPED for path, fact in its.facts.items()}
    left = {path: value for path, value in declared.items() if path not in gone}
    for path in sorted(other & left.keys()):
        left[path] = draw(otherwise(left[path], facts[path].type))
    return left


def otherwise(value: Value, its: Any) -> st.SearchStrategy[Value]:
    """Other values of a fact."""
    match value, its:
        case _, YesOrNo():
            return st.booleans()
        case str(), Choosing():
            return st.sampled_from(its.words)
        case frozenset(), Choosing():
            return st.frozensets(st.sampled_from(its.words))
        case Amount(number, unit), _:
            return st.sampled_from([Amount(number * by / 4, unit) for by in (0, 2, 3, 5, 9)])
        case Span(first, last), _:
            days = st.integers(0, 2000).map(timedelta)
            return st.builds(lambda back, on: Span(first - back, last + on), days, days)
    return st.just(value)


CASES = st.tuples(
    st.sampled_from(SEVERAL),
    changed(),
    st.sampled_from([DAY, date(2026, 3, 1), date(2028, 2, 29)]),
    st.sampled_from(ARRIVALS),
    st.sampled_from([TODAY, date(2026, 2, 1)]),
)


@settings(max_examples=100 if THOROUGH else 8)
@given(st.lists(CASES, min_size=1, max_size=4))
def test_declarations_in_part_and_otherwise(call: Call, cases: list[Case]) -> None:
    agree(call, SHIPPED, cases)


# ---- made by hand -------------------------------------------------------------


def rules_of(text: str) -> Rules:
    return trackprep.parse_ruleset(text).rules


def declared_for(its: Rules, declared: Mapping[str, Any]) -> Declared:
    known = {path: value for path, value in declared.items() if path in its.facts}
    return trackprep.parse_declaration(known, trackprep.Ruleset(its)).values


ODD = """
ruleset odd "Odd day"
fact odd.one "One" one of good, bad, absent
rule slow "Slow"
  require odd.one is good
  fix "Wait." parts "seal" allow 10 h, "seal" allow 2 months, "oil"
  undo "Undo it." takes 1 day
rule short "Short"
  require odd.one is good
  fix "Wait." takes 0 min after slow parts "seal" allow 1 week, "oil" allow 1 year
  undo "Undo it." takes 90 s
rule part "Part of a minute"
  recommend odd.one is good
  fix "Do it twice." when odd.one is absent
  fix "Do it." takes 80 s
  undo "Undo it." takes 5 min
"""

# Two jobs that serve two rules each would have to come before each other.
SHARED = """
ruleset shared "Shared day"
fact s.one "One" one of good, bad, absent
fact s.two "Two" one of good, bad, absent
fact lamp.own "Lamp" one of good, bad, absent
fact left.side "Left side" one of good, bad, absent
fact right.side "Right side" one of good, bad, absent
rule z "Last" require s.one is good fix "Z." after b, d undo "Back Z."
rule b "B" require s.one is good caution "Of the rule."
  fix "Y." after a undo "Back X."
rule d "D" require s.two is good fix "X." after c undo "Back Y."
rule a "A" require s.one is good fix "X." undo "Back X." caution "Hot."
rule c "C" require s.one is good fix "Y." undo "Back Y."
rule later "Later" require s.one is good fix "L." after z undo "Back L." when s.two is good
rule there "There" recommend s.one is good fix "There." in the paddock
rule home "Home" recommend s.one is good fix "Home." after there
rule either "Either" require s.one is good or lamp.own is good
  fix "E." at home undo "Back E." parts "bulb", "seal"
rule both "Both" require s.one is good fix "Both." undo "Back E."
rule two "Two ways" require lamp.own is good when s.two is not absent
  fix "First." when s.two is bad fix "Second." when s.two is good
  undo "Back First." undo "Back Second." takes 1 h bring "A bulb."
rule free "Free" require s.one is good fix "F." undo "Back F."
rule unsure "Unsure" require s.one is good when s.two is good undo "Back F."
rule sides "Sides" for each of left, right
  require it.side is good when it.side is not absent undo "Back side." when it.side is good
rule sides-too "Sides too" for each of right, left
  require it.side is good when it.side is not absent fix "Side." when it.side is bad
  undo "Back sides."
"""
SHARED_FACTS = ("s.one", "s.two", "lamp.own", "left.side", "right.side")
SAID = [
    (*first, *sides)
    for first in product(("bad", None), ("good", "bad", "absent", None), ("good", "bad"))
    for sides in (("bad", "bad"), ("absent", "good"))
]


def reworded(its: Rules, base: str, **words: str) -> Rules:
    """The ruleset with rules from a base, and with other words for some works."""

    def of(works: tuple[Work, ...]) -> tuple[Work, ...]:
        return tuple(
            evolve(work, text=words.get(work.text.strip("."), work.text)) for work in works
        )

    return evolve(its, rules=tuple(
        evolve(rule, base=base, asked=tuple(
            evolve(asked, fixes=of(asked.fixes), undos=of(asked.undos)) for asked in rule.asked
        ))
        for rule in its.rules
    ))  # fmt: skip


@pytest.mark.parametrize("base", ["club", ""])
def test_works_of_one_base_in_other_words(base: str, call: Call) -> None:
    first = reworded(rules_of(SHARED), base)
    other = reworded(first, base, X="Other X.", Z="L.", **{"Back Second": "Back both."})
    third = reworded(first, base, Z="Third Z.", Both="There.", **{"Back First": "Back both."})
    several = [first, other, third, reworded(third, "elsewhere")]
    cases: list[Case] = [
        (places, {path: word for path, word in zip(SHARED_FACTS, said, strict=True) if word},
         DAY, arrival, TODAY)
        for places in ((0,), (0, 1, 2), (2, 0, 1), (0, 3, 1))
        for said in SAID
        for arrival in ("ridden", "carried")
    ]  # fmt: skip
    agree(call, several, cases)


@pytest.mark.parametrize("arrival", ARRIVALS)
def test_the_yard_and_next_door(arrival: str | None, call: Call) -> None:
    several = [rules_of(text) for text in (YARD, NEXT_DOOR, ODD)]
    cases: list[Case] = []
    for wrong in (ALL_WRONG, ALL_RIGHT, {}, {**ALL_WRONG, "yard.tyre": "absent"}):
        for registered in (True, False, None):
            given = {**wrong, "odd.one": "bad"}
            values = {k: v for its in several for k, v in declared_for(its, given).items()}
            if registered is not None:
                values["machine.registered"] = registered
            cases += [
                (places, values, DAY, arrival, TODAY) for places in ((0,), (1, 0), (2,), (0, 2, 1))
            ]
    agree(call, several, cases)


def test_a_part_is_late_the_day_after_it_had_to_be_ordered(call: Call) -> None:
    several = [rules_of(YARD)]
    values = declared_for(several[0], ALL_WRONG)
    days = [TODAY - timedelta(days) for days in range(-10, 15)]
    agree(call, several, [((0,), values, DAY, None, today) for today in days])


@settings(max_examples=100 if THOROUGH else 10)
@given(st.lists(st.tuples(rules(), st.sampled_from(ARRIVALS)), min_size=1, max_size=5))
def test_work_in_any_order_and_in_shared_words(
    call: Call, made: list[tuple[tuple[MadeRule, ...], str | None]]
) -> None:
    several = [
        rules_of("\n".join(['ruleset r "R"', *(rule.text for rule in reversed(of))]))
        for of, _ in made
    ]
    cases: list[Case] = [
        (
            (place,),
            {f"yard.f{rule.number}": rule.value for rule in of if rule.value},
            DAY, arrival, TODAY,
        )
        for place, (of, arrival) in enumerate(made)
    ]  # fmt: skip
    agree(call, several, cases)


# ---- in words -----------------------------------------------------------------

DURATIONS = st.builds(
    Duration, st.fractions(0, 10_000, max_denominator=60) | st.just(Fraction(0)), st.integers(0, 3)
)


@given(st.lists(DURATIONS, max_size=5))
def test_times_in_words(call: Call, several: list[Duration]) -> None:
    jobs = [{"takes": takes_form(one)} for one in several]
    found = call(
        "jobs => [...jobs.map(job => timeText(job.takes.minutes)),"
        " ...jobs.map(job => totalText(job.takes)), totalText(totalTime(jobs))]",
        jobs,
    )
    assert found == [
        *(wording.time_text(one.minutes) for one in several),
        *(wording.total_text(one) for one in several),
        wording.total_text(total(tuple(several))),
    ]


@pytest.mark.parametrize("road", [True, False])
@pytest.mark.parametrize("jobs", [[3], [1, 2], [1, 2, 9], []])
def test_uses_in_words(jobs: list[int], road: bool, call: Call) -> None:
    if jobs or road:
        uses = {"jobs": jobs, "road": road}
        assert call("uses => usesText(uses)", uses) == wording.uses_text(jobs, road)
