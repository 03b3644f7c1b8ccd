"""The evaluator of a page in a real browser: every answer is that of the reference.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from models import conditions, declarations, events, rule, rules_of, rulesets, terms
from strategies import cases
from test_agreement import rider_text
from test_conformance import GOOD, topic

import trackprep
from trackprep import enclosures
from trackprep.backends import checks, page
from trackprep.dates import span_of
from trackprep.published import rulesets_folder
from trackprep.rules import conditions as c
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount, Value
from trackprep.syntax.printer import print_rules
from trackprep.units import ONE

Values: TypeAlias = Mapping[str, Value]
Asked: TypeAlias = tuple[Values, date]
Ask: TypeAlias = Callable[[Rules, Iterable[Asked]], list[Any]]

FEW = settings(max_examples=30, deadline=None)
CHECK = """text => {
  const [rules, asked] = JSON.parse(text);
  const ruleset = new Ruleset(rules);
  return JSON.stringify(asked.map(([values, event]) => ruleset.check(ruleset.read(values, event))));
}"""


@pytest.fixture(scope="module")
def ask(browser: Any) -> Ask:
    """What the script answers in a browser that has nothing else."""
    opened = browser.new_page()
    opened.on("request", lambda asked: pytest.fail(f"the script asks for {asked.url}"))
    opened.set_content(f"<script>{page.script()}</script>")

    def answered(rules: Rules, asked: Iterable[Asked]) -> list[Any]:
        cases = [[page.plain_values(values), page.plain_day(day)] for values, day in asked]
        return json.loads(opened.evaluate(CHECK, json.dumps([page.plain_rules(rules), cases])))

    return answered


def reference(rules: Rules, values: Values, event: date) -> dict[str, Any]:
    """What the reference answers, in the script's form."""
    known, future = checks.prepared(rules, values, event)
    found = checks.outcomes(rules, known, event)
    return {
        "answers": [
            {"status": its.status, "part": its.part, "declare": [*its.declare],
             "narrow": [*its.narrow]}
            for its in found
        ],
        "verdict": checks.verdict(rules, found),
        "future": [*future],
    }  # fmt: skip


def agree(ask: Ask, rules: Rules, asked: Iterable[Asked]) -> None:
    cases = list(asked)
    for (values, event), found in zip(cases, ask(rules, cases), strict=True):
        assert found == reference(rules, values, event), (values, event)


# ---- the language, and what ships -------------------------------------------


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_every_case_of_the_conformance_suite(path: Path, ask: Ask, tmp_path: Path) -> None:
    data = topic(path)
    for name, text in data.get("files", {}).items():
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    folder = tmp_path if "files" in data else None
    ruleset = trackprep.parse_ruleset(data["rules"], name=path.name, folder=folder)
    asked = []
    for case in data["case"]:
        declared = case["data"] if "data" in case else case["declaration"]
        values = trackprep.parse_declaration(declared, ruleset).values
        asked.append((values, case.get("on", data["on"])))
    agree(ask, ruleset.rules, asked)


VENUES = [
    path.stem
    for path in sorted(rulesets_folder().glob("*.trackrules"))
    if re.search(r"^ruleset ", path.read_text(encoding="utf-8"), re.MULTILINE)
]
RIDERS = sorted(rulesets_folder().glob("*.rider"))
DAYS = [date(2026, 6, 14), date(2026, 11, 1), date(2028, 2, 29)]


def readable(ruleset: trackprep.Ruleset) -> Iterator[Values]:
    """What the demo riders declare whom the ruleset can read."""
    for path in RIDERS:
        try:
            yield trackprep.read_declaration(path, ruleset).values
        except trackprep.DeclarationError:
            continue


@pytest.mark.parametrize("name", VENUES)
def test_every_shipped_ruleset_with_each_fact_left_out(name: str, ask: Ask) -> None:
    ruleset = trackprep.read_ruleset(name)
    riders = list(readable(ruleset))
    assert riders
    agree(ask, ruleset.rules, [(values, day) for values in [{}, *riders] for day in DAYS])
    fullest = max(riders, key=len)
    left_out = [{path: fullest[path] for path in fullest if path != one} for one in fullest]
    agree(ask, ruleset.rules, [(values, DAYS[0]) for values in left_out[::3]])


# ---- what is made at random -------------------------------------------------


@FEW
@given(cases())
def test_typed_rule_files(ask: Ask, case: Any) -> None:
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="agreement")
    values = trackprep.parse_declaration(rider_text(case.declaration), ruleset).values
    fewer = [{path: values[path] for path in values if path != one} for one in values]
    days = [case.day, case.day + timedelta(days=200)]
    agree(ask, ruleset.rules, [(values, days[1]), *((its, days[0]) for its in [values, *fewer])])


ASKED = st.lists(st.tuples(declarations, events), min_size=3, max_size=6)


@FEW
@given(rulesets(), ASKED)
def test_rulesets_of_any_conditions(ask: Ask, rules: Rules, asked: list[Asked]) -> None:
    agree(ask, rules, asked)


@FEW
@given(st.lists(conditions, min_size=8, max_size=8), ASKED)
def test_conditions_alone(ask: Ask, some: list[c.Condition], asked: list[Asked]) -> None:
    agree(ask, rules_of(*(rule((c.ALWAYS, condition)) for condition in some)), asked)


@FEW
@given(st.lists(st.tuples(terms, terms), min_size=8, max_size=8), ASKED)
def test_numbers_alone(ask: Ask, pairs: list[tuple[c.Term, c.Term]], asked: list[Asked]) -> None:
    some = [
        c.NumberTest(left, comparison, right)
        for left, right in pairs
        for comparison in ("at least", "equal")
    ]
    agree(ask, rules_of(*(rule((c.ALWAYS, test)) for test in some)), asked)


# ---- what chance seldom makes -----------------------------------------------

DAY = c.DayOf("day.any")
THOUSANDS = 12 * 7973  # months, from 2026 into the year 9999
X, ONCE = c.NumberOf("number.a"), c.Constant(Fraction(1), ONE)


def cubed(term: c.Term, times: int) -> c.Term:
    """A power so high that only a few more steps leave every bound."""
    for _ in range(times):
        term = c.Arithmetic("*", term, c.Arithmetic("*", term, term))
    return term


def of_size(number: str) -> dict[str, Value]:
    return {"number.a": Amount(Fraction(number))}


@pytest.mark.parametrize(
    ("test", "values"),
    [
        (c.DayTest(c.EventDay(), "equal", DAY), {"day.any": span_of("2026")}),
        (c.DayTest(DAY, "not equal", c.EventDay()), {"day.any": span_of("2026")}),
        (c.DayTest(c.Shifted(DAY, THOUSANDS), "equal", c.FixedDay(date(9998, 12, 31))),
         {"day.any": span_of("2026-06")}),
        (c.DayTest(c.Shifted(DAY, -THOUSANDS), "equal", c.FixedDay(date.min)),
         {"day.any": span_of("2026-06")}),
        (c.AgeTest(DAY, c.EventDay(), "at least", THOUSANDS, None), {"day.any": span_of("2026")}),
        (c.AgeTest(DAY, DAY, "at most", None, 0), {"day.any": span_of("2026")}),
        (c.DayTest(DAY, "at most", c.Shifted(c.DayOf("day.past"), 12)),
         {"day.any": span_of("2026"), "day.past": span_of("2025")}),
        (c.Between(c.DayTest(DAY, "at least", c.DayOf("day.past")),  # too many pairs of days
                   c.DayTest(DAY, "at most", c.Shifted(c.DayOf("day.past"), 48))),
         {"day.any": span_of("2026"), "day.past": span_of("2025")}),
        *((c.NumberTest(cubed(X, times), "more than", ONCE), of_size("1e400"))
          for times in range(6)),
        *((c.NumberTest(c.Called(name, X), "less than", ONCE), of_size(number))
          for name in ("sqrt", "log10", "ten-to")
          for number in ("-1", "0", "-1000", "-1001", "1000", "1001", "1/3")),
        *((c.NumberTest(c.Rounded(X, ONCE, down), "equal", ONCE), of_size(number))
          for down in (True, False)
          for number in ("1/2", "-1/2", "3/2", "-3/2", "1", "2", "199/100", "1499/1000")),
        *((c.NumberTest(c.Rounded(X, ONCE, down), "equal",
                        c.Constant(Fraction(-1), ONE)), of_size(number))
          for down in (True, False)
          for number in ("-1/2", "-3/2", "-1", "-1/10", "-2")),
        (c.NumberTest(c.Arithmetic("/", ONCE, c.Arithmetic(
            "-", c.Arithmetic("*", c.Called("sqrt", X), c.Called("sqrt", X)), X)),
            "at most", c.Constant(Fraction(10**100), ONE)), of_size("2")),
    ],
)  # fmt: skip
def test_edges(ask: Ask, test: c.Test, values: dict[str, Value]) -> None:
    agree(ask, rules_of(rule((c.ALWAYS, test))), [(values, day) for day in DAYS])


@pytest.mark.parametrize("declared", [{}, {"day.any": span_of("2026")}])
def test_who_waits_for_the_inspector(ask: Ask, declared: dict[str, Value]) -> None:
    """Alone, a fact of the inspector's leaves it ready; beside a coarse date it does not."""
    inspected = c.FlagTest("flag.inspector")
    coarse = c.DayTest(DAY, "at least", c.FixedDay(DAYS[0]))
    for demand in (inspected, c.All((inspected, coarse))):
        agree(ask, rules_of(rule((c.ALWAYS, demand))), [(declared, DAYS[0])])


# ---- numbers that are enclosed ----------------------------------------------

LARGE = 10**40
sizes = st.one_of(
    st.fractions(min_value=0, max_value=1000, max_denominator=10**6),
    st.fractions(min_value=0, max_value=2, max_denominator=LARGE),
    st.builds(
        lambda top, scale, sign: top * Fraction(10) ** (scale * sign),
        st.fractions(min_value=1, max_value=10, max_denominator=1000),
        st.integers(0, 400),
        st.sampled_from([1, -1]),
    ),
    st.builds(lambda places, sign: 1 + sign * Fraction(1, 10**places), st.integers(1, 90),
              st.sampled_from([1, -1])),
)  # fmt: skip
FUNCTIONS: dict[c.Function, Callable[[Fraction], enclosures.Real | None]] = {
    "sqrt": enclosures.sqrt,
    "log10": enclosures.log10,
    "ten-to": enclosures.ten_to,
}


def around(number: enclosures.Real) -> Iterator[Fraction]:
    """Both ends, and numbers past them that are nearer than an enclosure's own width."""
    for end in enclosures.ends_of(number):
        hair = abs(end) / 10**64
        yield from (end - hair, end, end + hair)


@FEW
@given(st.lists(sizes, min_size=5, max_size=5))
def test_functions_are_enclosed_by_the_same_ends(ask: Ask, numbers: list[Fraction]) -> None:
    """A limit at an end leaves the test unknown; a hair outside of it the test is settled."""
    tests = []
    for number in numbers:
        for function, work in FUNCTIONS.items():
            called = c.Called(function, c.Constant(number, ONE))
            worth = work(number)
            limits = [Fraction(0)] if worth is None else around(worth)
            tests += [c.NumberTest(called, "at least", c.Constant(its, ONE)) for its in limits]
    agree(ask, rules_of(*(rule((c.ALWAYS, test)) for test in tests)), [({}, DAYS[0])])


# ---- what goes into a page --------------------------------------------------


@pytest.mark.parametrize("name", VENUES)
def test_script_and_ruleset_leave_room_in_a_page(name: str) -> None:
    """A whole page is to stay under 300 kB; what the words of a ruleset need is the most of it."""
    plain = json.dumps(page.plain_rules(trackprep.read_ruleset(name).rules), separators=(",", ":"))
    assert len(plain) + len(page.script()) < 75_000


def test_the_script_can_stand_in_a_page() -> None:
    assert page.script().replace("\n", "").isprintable()
    assert not re.search(r"</|<!--|\bimport\b|\bfetch\b|\beval\b|https?:", page.script())


def test_words_that_a_script_knows_are_words(ask: Ask) -> None:
    words = ["</script><script>Ruleset = null</script>", "__proto__", "constructor", "plain"]
    choices = ", ".join(f'"{word}"' for word in words)
    rules = trackprep.parse_ruleset(
        f'''ruleset day "Day"
kind words one of {choices}
fact prototype "Words" words
table worth "Worth" from words
  row "{words[0]}" is none
  row "__proto__" is 1
  row "constructor" is 0
  row "plain" is none
rule named "Named"
  require prototype is one of "__proto__", "{words[0]}"
rule worth-one "Worth one"
  require worth(prototype) is at least 1
'''
    ).rules
    asked: list[Asked] = [({"prototype": word}, DAYS[0]) for word in words]
    agree(ask, rules, [({}, DAYS[0]), *asked])
