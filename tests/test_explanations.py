"""What is said about a rule, and why its answer is what it is: golden messages, and laws."""

import re
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from explained import EVENT, answer, ruleset
from hypothesis import given
from hypothesis import strategies as st
from rewriting import LAW
from strategies import Case, cases
from test_agreement import rider_text

import trackprep
from trackprep.dates.spans import MONTHS
from trackprep.explanations.sentences import rule_sentence
from trackprep.syntax.printer import print_rules

# ---- what a rule says ------------------------------------------------------------


@pytest.mark.parametrize(("body", "sentence"), [
    ("require lid.shell is full-face",
     "Required: helmet shell is “Full face”."),
    ("recommend lid.shell is not open-face",
     "Recommended: helmet shell is not “Open face”."),
    ("require lid.shell is none of modular, open-face",
     "Required: helmet shell is neither “Flip-front” nor “Open face”."),
    ("when pilot.group is novice require grip.snaps",
     "Required, if group is “Novice”: “Throttle snaps back” is answered yes."),
    ("unless pilot.group is fast require grip.ends is ball",
     "Required, unless group is “Fast”: lever ends are “Ball”."),
    ("when motor.style is mini unless pilot.group is fast or grip.snaps is no "
     "require grip.ends is ball",
     "Required, if style is “Mini”, unless (group is “Fast”, or “Throttle snaps back” is "
     "answered no): lever ends are “Ball”."),
    ("require rubber.front.depth is at least tread",
     "Required: front tread is at least 2 mm (limit “Least tread”)."),
    ("require each of rubber.front.depth, rubber.rear.depth is at least 2 mm",
     "Required: each of front tread and rear tread is at least 2 mm."),
    ("require some of glass.front, glass.tail, glass.side is one of taped, absent",
     "Required: at least one of headlamp glass, tail lamp glass and indicators is “Taped” or "
     "“Not on the machine”."),
    ("require none of glass.front, glass.tail is bare",
     "Required: none of headlamp glass and tail lamp glass is “Bare”."),
    ("require at least 2 of glass.front, glass.tail, glass.side is taped",
     "Required: at least 2 of headlamp glass, tail lamp glass and indicators are “Taped”."),
    ("require link.slack is between 20 mm and 45 mm",
     "Required: chain slack is between 20 mm and 45 mm."),
    ("require link.slack is at most slack",
     "Required: chain slack is at most 25 mm if style is “Mini”, otherwise 45 mm "
     "(limit “Greatest slack”)."),
    ("require link.slack is between least-slack and 45 mm",
     "Required: chain slack is at least 10 mm if style is “Mini”, otherwise 20 mm "
     "(limit “Least slack”), and at most 45 mm."),
    ("require cover.kind is one-piece or cover.kind is two-piece and cover.zip is full",
     "Required: suit is “One piece”, or both suit is “Two pieces” and joining zip is "
     "“All the way round”."),
    ("require not (grip.snaps is no or grip.ends is broken)",
     "Required: it is not so that (“Throttle snaps back” is answered no, or lever ends are "
     "“Broken off”)."),
    ("require lid.marks includes any of marks",
     "Required: marks on the helmet include something on the list “Marks admitted” "
     "(“ECE 22.06” and “Snell M2020D”)."),
    ("require motor.filter is none of refused",
     "Required: oil filter is not on the list “Filters not admitted” "
     "(“Relief valve in the dome”)."),
    ("require age of lid.made to the month is at most oldest",
     "Required: helmet made is at most 5 years before the event, counted to the month "
     "(limit “Oldest helmet admitted”)."),
    ("require rubber.front.age is less than 6 years",
     "Required: front tyre age is less than 6 years. "
     "Front tyre age is the time from front tyre built to the event."),
    ("require permit.until is on or after event.date",
     "Required: licence valid until is on or after the day of the event."),
    ("require permit.until is on or after 2026-07-01",
     "Required: licence valid until is on or after 1 July 2026."),
    ("require link.each is at most 16 mm",
     "Required: length of a link is at most 16 mm. "
     "Length of a link is worked out as length measured divided by links measured."),
    ("require heat.oil - heat.air is at most 60 K",
     "Required: oil temperature minus air temperature is at most 60 K."),
    ("require pilot.minor is no",
     "Required: “Under age” is not so. “Under age” is so if number of whole years from "
     "date of birth to the day of the event is less than 18."),
    ("require rubber.front.symbol is at least \"U\"",
     "Required: speed symbol is “U” or higher, that is “U”, “H”, “V” or “W”."),
    ("require rubber.rear.symbol is at least rubber.front.symbol",
     "Required: rear speed symbol is as high as speed symbol or higher."),
])  # fmt: skip
def test_a_rule_reads_back_as_a_sentence(body: str, sentence: str) -> None:
    rules = ruleset(f'rule tried "Tried"\n{body}').rules
    assert rule_sentence(rules.rules[0], rules) == sentence


def test_what_is_asked_of_parts_alike_is_said_once() -> None:
    rules = ruleset(
        'rule tried "Tried" for each of rubber.front, rubber.rear\n'
        "  require it.depth is at least 2 mm"
    ).rules
    assert rule_sentence(rules.rules[0], rules) == (
        "Required of the front rubber and likewise of the rear rubber: "
        "front tread is at least 2 mm."
    )


@pytest.mark.parametrize("name", ["common-practice", "tarn-hollow", "marrowfell", "fenwhistle"])
def test_no_syntax_shows_in_what_is_read_back(name: str) -> None:
    rules = trackprep.read_ruleset(name).rules
    for rule in rules.rules:
        said = rule_sentence(rule, rules)
        assert said.endswith("."), said
        assert not re.search(r"[<>=\[\]{}]|\b[a-z]+\.[a-z]|[0-9]{4}-[0-9]{2}|  ", said), said


# ---- why a rule is not met ---------------------------------------------------------


@pytest.mark.parametrize(("body", "declared", "why"), [
    ("require lid.shell is full-face", "lid.shell is modular",
     ["Helmet shell: “Flip-front”. Asked: “Full face”."]),
    ("require lid.shell is not modular", "lid.shell is modular",
     ["Helmet shell: “Flip-front”. Asked: not “Flip-front”. "
      "What would do: “Full face” or “Open face”."]),
    ("require motor.filter is none of refused", "motor.filter is dome",
     ["Oil filter: “Relief valve in the dome”. Asked: not on the list “Filters not admitted” "
      "(“Relief valve in the dome”). What would do: “Plain” or “Welded nut”."]),
    ("require grip.snaps", "grip.snaps is no",
     ["Throttle snaps back: no. Asked: yes."]),
    # the unit of the rider and the unit of the rule
    ("require rubber.front.depth is at least tread", "rubber.front.depth is 1.5 mm",
     ["Front tread: 1.5 mm. Asked: at least 2 mm (limit “Least tread”); short by 0.5 mm."]),
    ("require rubber.front.depth is at least tread", "rubber.front.depth is 2/32 in",
     ["Front tread: 2/32 in, that is 1.5875 mm. Asked: at least 2 mm (limit “Least tread”); "
      "short by 0.4125 mm."]),
    ("require plug.torque is at most 45 N*m", "plug.torque is 34 lbf*ft",
     ["Drain plug torque: 34 lbf*ft, that is about 46.1 N*m. Asked: at most 45 N*m; "
      "over by about 1.098 N*m."]),
    # never rounded into a contradiction
    ("require rubber.front.depth is at least 3/32 in", "rubber.front.depth is 2.38 mm",
     ["Front tread: 2.38 mm, that is about 0.0937 in. Asked: at least 0.09375 in; "
      "short by about 0.00004921 in."]),
    ("require noise is at most 95 dB", "noise is 95.0000001 dB",
     ["Sound level: 95.0000001 dB. Asked: at most 95 dB; over by about 0.0000001 dB."]),
    ("require noise is less than 95 dB", "noise is 95 dB",
     ["Sound level: 95 dB. Asked: less than 95 dB; it is exactly that."]),
    # temperatures are points, and what lies between them is a difference
    ("require heat.oil is at most 90 °C", "heat.oil is 212 °F",
     ["Oil temperature: 212 °F, that is 100 °C. Asked: at most 90 °C; over by 10 K."]),
    ("require heat.oil - heat.air is at most 60 K", "heat.oil is 95 °C; heat.air is 68 °F",
     ["Oil temperature minus air temperature: 75 K (worked out). Asked: at most 60 K; "
      "over by 15 K. From: Oil temperature 95 °C; air temperature 68 °F."]),
    ("require pilot.days is at least 3", "pilot.days is 1",
     ["Track days ridden: 1. Asked: at least 3; short by 2."]),
    # ages
    ("require age of lid.made is at most oldest", "lid.made is 2021-06-04",
     ["Helmet made: 4 June 2021. Asked: at most 5 years before the event "
      "(limit “Oldest helmet admitted”); too old since 5 June 2026, by 10 days. "
      "What would do: 14 June 2021 or later."]),
    ("require age of lid.made to the month is at most 5 years", "lid.made is 2021-05",
     ["Helmet made: May 2021. Asked: at most 5 years before the event, counted to the month; "
      "too old since 1 June 2026, by 14 days. What would do: 1 June 2021 or later."]),
    ("require age of lid.made is at most 5 years", "lid.made is 2019",
     ["Helmet made: 2019. Asked: at most 5 years before the event; "
      "too old since 1 January 2025, by over 1 year. What would do: 14 June 2021 or later."]),
    # 49 CFR 574.5: week 23 of 2020 began on Sunday 7 June.
    ("require rubber.front.age is at most 6 years", "rubber.front.code is 2320",
     ["Front tyre age: week code 2320 (7 to 13 June 2020). Asked: at most 6 years; "
      "too old since 14 June 2026, by 1 day. "
      "What would do: week code 2420 or later (14 June 2020 or later)."]),
    # nobody changes a date of birth
    ("require age of pilot.born is at least 18 years", "pilot.born is 2008-07-04",
     ["Date of birth: 4 July 2008. Asked: at least 18 years before the event; "
      "too recent by 20 days: old enough from 4 July 2026 on."]),
    ("require pilot.minor is no", "pilot.born is 2010-06-15",
     ["Number of whole years from date of birth to the day of the event: 15 (worked out). "
      "Asked: at least 18; short by 3. From: Date of birth 15 June 2010. "
      "This decides “Under age”."]),
    ("require permit.until is on or after event.date", "permit.until is 2026-06-13",
     ["Licence valid until: 13 June 2026. "
      "Asked: on or after the day of the event (14 June 2026); 1 day too early."]),
    # sets and grades
    ("require lid.marks includes all of \"ECE 22.05\", \"ECE 22.06\"", "lid.marks is \"ECE 22.05\"",
     ["Marks on the helmet: “ECE 22.05”. Asked: “ECE 22.05” and “ECE 22.06”; "
      "“ECE 22.06” is missing."]),
    ("require lid.marks includes none of \"ECE 22.05\"",
     "lid.marks is \"ECE 22.05\", \"ECE 22.06\"",
     ["Marks on the helmet: “ECE 22.05” and “ECE 22.06”. Asked: not “ECE 22.05”; "
      "“ECE 22.05” is not admitted."]),
    ("require lid.marks includes any of marks", "lid.marks is none",
     ["Marks on the helmet: none. Asked: something on the list “Marks admitted” "
      "(“ECE 22.06” and “Snell M2020D”); none of them is there."]),
    # by speed, not by the alphabet: H stands above U (UNECE R75, speed categories)
    ("require rubber.front.symbol is at least \"H\"", "rubber.front.symbol is \"U\"",
     ["Speed symbol: “U”. Asked: “H” or higher, that is “H”, “V” or “W”; 1 step too low."]),
    ("require rubber.rear.symbol is at least rubber.front.symbol",
     "rubber.front.symbol is \"V\"; rubber.rear.symbol is \"K\"",
     ["Rear speed symbol: “K”. Asked: as high as speed symbol (“V”) or higher; "
      "3 steps too low."]),
    # limits by rows
    ("require link.slack is at most slack", "motor.style is mini; link.slack is 30 mm",
     ["Chain slack: 30 mm. Asked: at most 25 mm (limit “Greatest slack”, if style is “Mini”); "
      "over by 5 mm."]),
    ("require link.slack is at most slack", "motor.style is road; link.slack is 50 mm",
     ["Chain slack: 50 mm. Asked: at most 45 mm (limit “Greatest slack”, unless style is "
      "“Mini”); over by 5 mm."]),
    ("require link.slack is between least-slack and slack",
     "motor.style is road; link.slack is 15 mm",
     ["Chain slack: 15 mm. Asked: at least 20 mm (limit “Least slack”, unless style is “Mini”); "
      "short by 5 mm."]),
    # what is worked out
    ("require link.each is at most 16 mm", "link.length is 327 mm; link.number is 20",
     ["Length of a link: 16.35 mm (worked out). Asked: at most 16 mm; over by 0.35 mm. "
      "From: Length measured 327 mm; links measured 20."]),
    ("require rubber.front.depth is at least rubber.rear.depth",
     "rubber.front.depth is 2 mm; rubber.rear.depth is 3 mm",
     ["Front tread: 2 mm. Asked: at least rear tread (3 mm); short by 1 mm."]),
    # several at once
    ("require each of glass.front, glass.tail, glass.side is taped",
     "glass.front is bare; glass.tail is bare; glass.side is taped",
     ["Headlamp glass and tail lamp glass: “Bare”. Asked: “Taped”."]),
    ("require none of glass.front, glass.tail is bare", "glass.front is taped; glass.tail is bare",
     ["Tail lamp glass: “Bare”. Asked: not “Bare”. What would do: “Taped” or "
      "“Not on the machine”."]),
    ("require at least 2 of glass.front, glass.tail, glass.side is taped",
     "glass.front is taped; glass.tail is bare; glass.side is absent",
     ["1 of them holds; at least 2 must.",
      "Tail lamp glass: “Bare”. Asked: “Taped”. Or 1 other way."]),
    ("require not (grip.snaps is no or grip.ends is broken)",
     "grip.snaps is yes; grip.ends is broken",
     ["Lever ends: “Broken off”. Asked: not “Broken off”. What would do: “Ball”."]),
    # of an `or`, the branch that its deciding fact chose, else the nearest
    ("require cover.kind is one-piece or cover.kind is two-piece and cover.zip is full",
     "cover.kind is two-piece; cover.zip is short",
     ["Joining zip: “Part of the way”. Asked: “All the way round”. Or 1 other way."]),
    ("require lid.shell is full-face and grip.snaps or rubber.front.depth is at least 2 mm or "
     "rubber.rear.depth is at least 2 mm",
     "lid.shell is modular; grip.snaps is no; rubber.front.depth is 1 mm; "
     "rubber.rear.depth is 1.9 mm",
     ["Rear tread: 1.9 mm. Asked: at least 2 mm; short by 0.1 mm. Or 2 other ways."]),
    # what nobody can change is no way out, however near
    ("require age of pilot.born is at least 18 years or lid.shell is full-face and grip.snaps",
     "pilot.born is 2008-06-15; lid.shell is modular; grip.snaps is no",
     ["Helmet shell: “Flip-front”. Asked: “Full face”.",
      "Throttle snaps back: no. Asked: yes. Or 1 other way."]),
    ("require ground is damp", "",
     ["Track surface: “Dry” (set by the event). Asked: “Damp”."]),
])  # fmt: skip
def test_why_a_rule_is_not_met(body: str, declared: str, why: list[str]) -> None:
    came = answer(body, declared)
    assert (came.status, list(came.why)) == ("not-met", why)


@pytest.mark.parametrize(("body", "declared", "nearest"), [
    ("require rubber.front.depth is at least 2 mm", "rubber.front.depth is 1.5 mm",
     "at least 2 mm: 0.5 mm more"),
    ("require lid.marks includes none of \"ECE 22.05\"", "lid.marks is \"ECE 22.05\"",
     "without “ECE 22.05”"),
    ("require lid.shell is one of full-face, open-face", "lid.shell is modular",
     "“Full face” or “Open face”"),
    ("require motor.style is mini", "motor.style is road", ""),
    ("require age of pilot.born is at least 18 years", "pilot.born is 2010-01-01", ""),
    ("require ground is damp", "", ""),
])  # fmt: skip
def test_the_nearest_way_leaves_alone_what_nobody_can_change(
    body: str, declared: str, nearest: str
) -> None:
    (shortfall,) = answer(body, declared).explanation.shortfalls
    assert [reason.nearest for reason in shortfall.reasons] == [nearest]


# ---- the other answers -------------------------------------------------------------


@pytest.mark.parametrize(("body", "declared", "status", "why"), [
    ("require rubber.front.depth is at least tread", "", "unsettled",
     ["Front tread: not declared (rubber.front.depth). Asked: at least 2 mm "
      "(limit “Least tread”)."]),
    ("require cover.kind is one-piece or cover.zip is full", "", "unsettled",
     ["Suit: not declared (cover.kind).", "Joining zip: not declared (cover.zip)."]),
    ("require link.slack is between least-slack and slack", "motor.style is road", "unsettled",
     ["Chain slack: not declared (link.slack). Asked: between 20 mm (limit “Least slack”) "
      "and 45 mm (limit “Greatest slack”)."]),
    ("require seen", "", "unsettled",
     ["Machine accepted: only the inspector can say. Asked: yes."]),
    ("require age of lid.made is at most oldest", "lid.made is 2021", "unsettled",
     ["Helmet made: 2021 leaves it open, since the answer turns on 14 June 2021. "
      "Declare the month, and the day too if it is June (lid.made)."]),
    ("require age of lid.made to the month is at most oldest", "lid.made is 2021", "unsettled",
     ["Helmet made: 2021 leaves it open, since the answer turns on 1 June 2021. "
      "Declare the month (lid.made)."]),
    ("require age of lid.made is at most oldest", "lid.made is 2021-06", "unsettled",
     ["Helmet made: June 2021 leaves it open, since the answer turns on 14 June 2021. "
      "Declare the day (lid.made)."]),
    ("require link.each is at most 16 mm", "link.length is 300 mm; link.number is 0", "unsettled",
     ["Length of a link has no value: it divides by zero."]),
    ("when pilot.group is fast require grip.snaps", "grip.snaps is no", "unsettled",
     ["Group: not declared (pilot.group).", "If it is asked of you, it is not met:",
      "Throttle snaps back: no. Asked: yes."]),
    ("when pilot.group is fast require grip.snaps", "pilot.group is novice", "not-asked",
     ["Not asked: Group “Novice”."]),
    ("require rubber.front.depth is at least tread", "rubber.front.depth is 1/8 in", "met",
     ["Front tread 1/8 in."]),
])  # fmt: skip
def test_why_another_answer_came(body: str, declared: str, status: str, why: list[str]) -> None:
    came = answer(body, declared)
    assert (came.status, list(came.why)) == (status, why)


def test_a_week_code_cannot_be_finer() -> None:
    # 49 CFR 574.5: week 24 of 2020 began on Sunday 14 June.
    came = answer(
        "require rubber.front.age is at most 6 years", "rubber.front.code is 2420",
        on=date(2026, 6, 17),
    )  # fmt: skip
    assert (came.status, came.narrow) == ("unsettled", ("rubber.front.code",))
    assert list(came.why) == [
        "Front tyre built: week code 2420 (14 to 20 June 2020) leaves it open, since the answer "
        "turns on 17 June 2020. A week code cannot say more: the inspector will tell."
    ]


# ---- laws --------------------------------------------------------------------------

THOUSANDTHS = st.integers(0, 12_000).map(lambda thousandths: Fraction(thousandths, 1000))
LENGTHS = ("mm", "in", "cm")


@LAW
@given(THOUSANDTHS, THOUSANDTHS, st.sampled_from(LENGTHS), st.sampled_from(LENGTHS),
       st.sampled_from(["at least", "at most", "more than", "less than"]),
       st.integers(min_value=0, max_value=9))  # fmt: skip
def test_no_message_contradicts_itself(
    value: Fraction, limit: Fraction, one: str, other: str, comparison: str, digits: int
) -> None:
    """A value that failed never reads like the limit, unless it is the limit."""
    declared = limit + (value - limit) / 10**digits if one == other else value
    body = f"require link.length is {comparison} {decimal(limit)} {other}"
    came = answer(body, f"link.length is {decimal(declared)} {one}")
    if came.status == "met":
        return
    ((reason,),) = (shortfall.reasons for shortfall in came.explanation.shortfalls)
    bound = reason.asked.removeprefix(f"{comparison} ")
    alike = (reason.converted or reason.value) == bound
    assert alike <= (reason.off == "it is exactly that"), reason


def decimal(number: Fraction) -> str:
    """The number as a file may spell it; its denominator is a power of ten."""
    return f"{Decimal(number.numerator) / Decimal(number.denominator):f}"


@LAW
@given(
    st.dates(date(2010, 1, 1), date(2026, 6, 1)),
    st.integers(1, 120),
    st.sampled_from(["", " to the month"]),
    st.sampled_from(["at most", "less than"]),
)
def test_the_day_that_would_do_does_and_the_day_before_does_not(
    made: date, months: int, grain: str, comparison: str
) -> None:
    body = f"require age of lid.made{grain} is {comparison} {months} months"
    came = answer(body, f"lid.made is {made}")
    if came.status == "met":
        return
    ((reason,),) = (shortfall.reasons for shortfall in came.explanation.shortfalls)
    enough = day_in(reason.nearest)
    if enough <= EVENT:
        assert answer(body, f"lid.made is {enough}").status == "met"
    assert answer(body, f"lid.made is {enough - timedelta(days=1)}").status == "not-met"
    since = day_in(reason.off.split(" since ")[1])
    assert answer(body, f"lid.made is {made}", on=since).status == "not-met"
    if since > made:
        day_before = since - timedelta(days=1)
        assert answer(body, f"lid.made is {made}", on=day_before).status == "met"


def day_in(text: str) -> date:
    """The first long date in the text."""
    found = re.search(rf"(\d+) ({'|'.join(MONTHS)}) (\d{{4}})", text)
    assert found, text
    return date(int(found[3]), MONTHS.index(found[2]) + 1, int(found[1]))


@LAW
@given(cases())
def test_every_answer_is_explained(case: Case) -> None:
    """Something decided each answer, and no date is told in digits alone."""
    rules = trackprep.parse_ruleset(print_rules(case.rules), name="explained")
    declaration = trackprep.parse_declaration(rider_text(case.declaration), rules)
    for came in rules.check(declaration, on=case.day).answers:
        explanation = came.explanation
        match came.status:
            case "not-met" | "not-asked":
                assert explanation.shortfalls
                assert all(shortfall.reasons for shortfall in explanation.shortfalls)
            case "unsettled":
                assert {one.path for one in explanation.missing} == set(came.declare)
                assert {one.path for one in explanation.coarse} == set(came.narrow)
                assert explanation.missing or explanation.coarse or explanation.undefined
            case "met":
                assert not explanation.shortfalls
        assert all(not re.search(r"\d{4}-\d\d", line) for line in came.why)
