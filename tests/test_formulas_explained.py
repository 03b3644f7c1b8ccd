"""What is said about formulas, tables and functions: golden texts, met or not, and laws."""

from decimal import Decimal
from fractions import Fraction

import pytest
from explained import FORMULAS, report, ruleset
from hypothesis import given
from hypothesis import strategies as st
from rewriting import LAW

import trackprep
from trackprep.explanations.definitions import untold
from trackprep.explanations.sentences import rule_sentence

STRETCH = (
    "Chain stretch is worked out from length, pitch and pitches: "
    "length divided by (pitch times pitches), minus 1."
)
SPEEDS = (
    "Speed that a letter stands for, by the table: “P” is 150 km/h; “Q” is 160 km/h; "
    "“R” is 170 km/h; “slow” has no value."
)
LOADS = "Load of an index, by the table: 58 is 236 kg; 59 is 243 kg; any other number has no value."
ALLOWANCES = "Allowance for the sound meter, by the table: “Class 1” is 1 dB; “Class 2” is 2 dB."
FENCE = (
    "Sound level at the fence is worked out from level, near and far: "
    "level minus (20 dB times the decimal logarithm of (far divided by near))."
)
TEST_SPEED = (
    "Engine speed of the sound test is worked out from rated: rated divided by 2, where rated is "
    "more than 5000 rpm; otherwise rated times 3 divided by 4."
)


def answer(body: str, declared: str = "") -> trackprep.Answer:
    """The answer of one rule with this body, the formulas at hand."""
    (only,) = report(f'{FORMULAS}\nrule tried "Tried"\n{body}', declared).answers
    return only


# ---- what a rule says --------------------------------------------------------------


@pytest.mark.parametrize(("body", "sentence"), [
    # formulas, by their labels and what they are worked out from; a constant by its parameter
    ("require stretch(link.length, 15.875 mm, link.number) is at most 2 %",
     "Required: chain stretch (from length measured, pitch 15.875 mm and links measured) "
     f"is at most 2 %. {STRETCH}"),
    ("require link.stretch is at most 2 %",
     "Required: stretch of this chain is at most 2 %. Stretch of this chain is worked out as "
     f"chain stretch (from length measured, pitch 15.875 mm and links measured). {STRETCH}"),
    ("require motor.heard is at most test-speed(motor.rated)",
     "Required: engine speed at the test is at most engine speed of the sound test "
     f"(from rated engine speed). {TEST_SPEED}"),
    ("when fence(noise, 0.5 m, 15 m) is more than 70 dB require grip.snaps",
     "Required, if sound level at the fence (from sound level, near 0.5 m and far 15 m) "
     f"is more than 70 dB: “Throttle snaps back” is answered yes. {FENCE}"),
    # tables, by what is looked up
    ("require letter-speed(hoop.front.letter) is at least 160 km/h",
     f"Required: speed that the front hoop letter stands for is at least 160 km/h. {SPEEDS}"),
    ("require index-load(hoop.front.index) is at least 240 kg",
     f"Required: load of the front hoop index is at least 240 kg. {LOADS}"),
    ("require index-load(hoop.front.index + 1) is at least 240 kg",
     f"Required: load of an index (by front hoop index plus 1) is at least 240 kg. {LOADS}"),
    ("require noise - allowance(gauge) is at most 95 dB",
     "Required: sound level minus allowance for the sound meter (by meter class) "
     f"is at most 95 dB. {ALLOWANCES}"),
    # rounding
    ("require noise rounded down to 1 dB is at most 95 dB",
     "Required: sound level rounded down to whole dB is at most 95 dB."),
    ("require link.slack rounded to 0.5 mm is at most 30 mm",
     "Required: chain slack rounded to a multiple of 0.5 mm is at most 30 mm."),
    ("require [pilot.days / 2] rounded to 1 is at least 3",
     "Required: (track days ridden divided by 2) rounded to a whole number is at least 3."),
    ("require noise-counted is at most 95 dB",
     "Required: level that counts is at most 95 dB. Level that counts is worked out as "
     "(sound level rounded down to whole dB) minus allowance for the sound meter "
     f"(by meter class). {ALLOWANCES}"),
    # the least and the greatest
    ("require minimum(rubber.front.depth, rubber.rear.depth) is at least 2 mm",
     "Required: the smaller of front tread and rear tread is at least 2 mm."),
    ("require maximum(rubber.front.depth, rubber.rear.depth + 1 mm, 3 mm) is at most 6 mm",
     "Required: the greatest of front tread, (rear tread plus 1 mm) and 3 mm is at most 6 mm."),
    # functions
    ("require sqrt(plate.wide * plate.high) is at least 200 mm",
     "Required: the square root of (width of the plate times height of the plate) "
     "is at least 200 mm."),
    ("require noise + 20 dB * log10(link.length / 500 mm) is at most 70 dB",
     "Required: sound level plus (20 dB times the decimal logarithm of "
     "(length measured divided by 500 mm)) is at most 70 dB."),
    ("require ten-to(pilot.days / 10) is at least 2",
     "Required: 10 to the power of (track days ridden divided by 10) is at least 2."),
    # a number of the file is never rounded
    ("require link.slack * 0.7853981634 is at most 50/9 mm",
     "Required: chain slack times 0.7853981634 is at most 50/9 mm."),
    # what is read from left to right needs no brackets
    ("require link.length - link.slack + 2 mm is at least 2 mm",
     "Required: length measured minus chain slack plus 2 mm is at least 2 mm."),
    ("require link.length - [link.slack + 2 mm] is at least 2 mm",
     "Required: length measured minus (chain slack plus 2 mm) is at least 2 mm."),
    ("require link.length / 2 * pilot.days is at least 2 mm",
     "Required: (length measured divided by 2) times track days ridden is at least 2 mm."),
])  # fmt: skip
def test_a_rule_reads_back_as_a_sentence(body: str, sentence: str) -> None:
    rules = ruleset(f'{FORMULAS}\nrule tried "Tried"\n{body}').rules
    assert rule_sentence(rules.rules[0], rules) == sentence


def test_each_of_several_that_are_worked_out_stands_apart() -> None:
    rules = ruleset(
        f"{FORMULAS}\nderived one.high in mm as link.slack + 1 mm\n"
        "derived other.high in mm as link.slack rounded to 5 mm\n"
        'rule tried "Tried" require each of one.high, other.high is at least 20 mm'
    ).rules
    assert rule_sentence(rules.rules[0], rules) == (
        "Required: each of one high and other high is at least 20 mm. "
        "One high is worked out as chain slack plus 1 mm. "
        "Other high is worked out as chain slack rounded to a multiple of 5 mm."
    )


def test_a_parameter_is_no_fact_of_the_same_name() -> None:
    rules = ruleset(
        'formula louder(noise in dB) "Level and a margin" in dB as noise + 3 dB source "invented"\n'
        'rule tried "Tried" require louder(noise) is at most 100 dB'
    ).rules
    assert rule_sentence(rules.rules[0], rules) == (
        "Required: level and a margin (from sound level) is at most 100 dB. "
        "Level and a margin is worked out from noise: noise plus 3 dB."
    )


def test_a_derived_fact_named_like_its_formula_is_told_as_one() -> None:
    rules = ruleset(
        f'{FORMULAS}derived link.worn "Chain stretch" in %\n'
        "  as stretch(link.length, 15.875 mm, link.number)\n"
        'rule tried "Tried" require link.worn is at most 2 %'
    ).rules
    assert rule_sentence(rules.rules[0], rules) == (
        "Required: chain stretch is at most 2 %. Chain stretch is worked out as length measured "
        "divided by (15.875 mm times links measured), minus 1."
    )


def test_a_long_table_is_said_by_its_ends_after_a_rule_and_in_full_for_itself() -> None:
    rows = "\n".join(f"row {number} is {number * 5} kg" for number in range(1, 11))
    text = f'table big "Weight of a size" from count to kg\n{rows}\nsource "invented"\n'
    rules = ruleset(f'{text}rule tried "Tried" require big(pilot.days) is at least 20 kg').rules
    assert rule_sentence(rules.rules[0], rules) == (
        "Required: weight of a size (by track days ridden) is at least 20 kg. Weight of a size, "
        "by a table of 10 rows: from 1 is 5 kg to 10 is 50 kg; any other number has no value."
    )
    (whole,) = untold(rules)
    assert whole.startswith("Weight of a size, by the table: 1 is 5 kg; 2 is 10 kg; 3 is 15 kg; ")


def test_what_no_rule_names_is_told_for_itself() -> None:
    rules = ruleset(f'{FORMULAS}\nrule tried "Tried" require link.stretch is at most 2 %').rules
    assert untold(rules) == [
        TEST_SPEED,
        FENCE,
        "Ratio of the two is worked out from one and other: "
        "the decimal logarithm of (one divided by other).",
        SPEEDS,
        LOADS,
        ALLOWANCES,
    ]


# ---- not met -----------------------------------------------------------------------


@pytest.mark.parametrize(("body", "declared", "why"), [
    ("require stretch(link.length, 15.875 mm, link.number) is at most 2 %",
     "link.length is 327 mm; link.number is 20",
     "Chain stretch: about 2.992 % (worked out). Asked: at most 2 %; over by about 0.9921 %. "
     "From: Length measured 327 mm; links measured 20."),
    ("require link.stretch is at most 2 %", "link.length is 327 mm; link.number is 20",
     "Stretch of this chain: about 2.992 % (worked out). Asked: at most 2 %; "
     "over by about 0.9921 %. From: Length measured 327 mm; links measured 20."),
    # UNECE R75: P is 150 km/h
    ("require letter-speed(hoop.front.letter) is at least 160 km/h", "hoop.front.letter is P",
     "Speed that the front hoop letter stands for: 150 km/h (worked out). "
     "Asked: at least 160 km/h; short by 10 km/h. From: Front hoop letter “P”."),
    ("require letter-speed(hoop.front.letter) is at least 100 mph", "hoop.front.letter is P",
     "Speed that the front hoop letter stands for: about 93.21 mph (worked out). "
     "Asked: at least 100 mph; short by about 6.794 mph. From: Front hoop letter “P”."),
    # UNECE R75, Annex 4: 58 is 236 kg
    ("require hoop.front.load is at least 240 kg", "hoop.front.index is 58",
     "Load the front hoop is made for: 236 kg (worked out). Asked: at least 240 kg; "
     "short by 4 kg. From: Front hoop index 58."),
    # FIM technical rules, 2.15.9: 98.7 dB counts as 98 dB, less 2 dB for a class 2 meter
    ("require noise-counted is at most 95 dB", "noise is 98.7 dB; gauge is coarse",
     "Level that counts: 96 dB (worked out). Asked: at most 95 dB; over by 1 dB. "
     "From: Sound level 98.7 dB; meter class “Class 2”."),
    ("require noise is at most 95 dB + allowance(gauge)", "noise is 98.7 dB; gauge is coarse",
     "Sound level: 98.7 dB. Asked: at most 95 dB plus allowance for the sound meter "
     "(97 dB, from meter class “Class 2”); over by 1.7 dB."),
    ("require link.slack rounded to 0.5 mm is at most 30 mm", "link.slack is 30.25 mm",
     "Chain slack rounded to a multiple of 0.5 mm: 30.5 mm (worked out). Asked: at most 30 mm; "
     "over by 0.5 mm. From: Chain slack 30.25 mm."),
    ("require minimum(rubber.front.depth, rubber.rear.depth) is at least 2 mm",
     "rubber.front.depth is 1.5 mm; rubber.rear.depth is 3 mm",
     "The smaller of front tread and rear tread: 1.5 mm (worked out). Asked: at least 2 mm; "
     "short by 0.5 mm. From: Front tread 1.5 mm; rear tread 3 mm."),
    ("require sqrt(plate.wide * plate.high) is at least 200 mm",
     "plate.wide is 190 mm; plate.high is 200 mm",
     "The square root of (width of the plate times height of the plate): about 194.9 mm "
     "(worked out). Asked: at least 200 mm; short by about 5.064 mm. "
     "From: Width of the plate 190 mm; height of the plate 200 mm."),
    # a root that is rational is exact
    ("require sqrt(plate.wide * plate.high) is at least 200 mm",
     "plate.wide is 100 mm; plate.high is 225 mm",
     "The square root of (width of the plate times height of the plate): 150 mm "
     "(worked out). Asked: at least 200 mm; short by 50 mm. "
     "From: Width of the plate 100 mm; height of the plate 225 mm."),
    # 10 to the power of 0.3 is 1.9952623…
    ("require ten-to(pilot.days / 10) is at least 2", "pilot.days is 3",
     "10 to the power of (track days ridden divided by 10): about 1.995 (worked out). "
     "Asked: at least 2; short by about 0.004738. From: Track days ridden 3."),
    # ISO 9613-2: thirty times as far is 29.54 dB less
    ("require fence(noise, 0.5 m, 15 m) is at most 70 dB", "noise is 102 dB",
     "Sound level at the fence: about 72.46 dB (worked out). Asked: at most 70 dB; "
     "over by about 2.458 dB. From: Sound level 102 dB."),
    # a bound that is worked out says from what
    ("require motor.heard is at most test-speed(motor.rated)",
     "motor.heard is 4500 rpm; motor.rated is 8000 rpm",
     "Engine speed at the test: 4500 rpm. Asked: at most engine speed of the sound test "
     "(4000 rpm, from rated engine speed 8000 rpm); over by 500 rpm."),
    ("require motor.heard is between motor.test - 100 rpm and motor.test + 100 rpm",
     "motor.heard is 3000 rpm; motor.rated is 4800 rpm",
     "Engine speed at the test: 3000 rpm. Asked: at least speed for this sound test minus "
     "100 rpm (3500 rpm, from rated engine speed 4800 rpm); short by 500 rpm."),
    ("require ratio(plate.wide, plate.high) is at least ratio(plate.high, plate.wide)",
     "plate.wide is 30 mm; plate.high is 31 mm",
     "Ratio of the two: about -0.01424 (worked out). Asked: at least ratio of the two "
     "(about 0.01424); short by about 0.02848. "
     "From: Width of the plate 30 mm; height of the plate 31 mm."),
    # points stay points, and twice a difference is a difference
    ("require heat.oil is at most heat.air - 5 K", "heat.oil is 80 °C; heat.air is 20 °C",
     "Oil temperature: 80 °C. Asked: at most air temperature minus 5 K "
     "(15 °C, from air temperature 20 °C); over by 65 K."),
    ("require heat.oil - heat.air is at most 2 * [heat.air - 10 °C]",
     "heat.oil is 80 °C; heat.air is 20 °C",
     "Oil temperature minus air temperature: 60 K (worked out). Asked: at most 2 times "
     "(air temperature minus 10 °C) (20 K); over by 40 K. "
     "From: Oil temperature 80 °C; air temperature 20 °C."),
])  # fmt: skip
def test_why_a_rule_is_not_met(body: str, declared: str, why: str) -> None:
    came = answer(body, declared)
    assert (came.status, list(came.why)) == ("not-met", [why])


def test_of_two_formulas_with_one_label_each_says_what_it_is_from() -> None:
    both = " and ".join(
        f"stretch({length}, 15.875 mm, 20) is at most 1 %"
        for length in ("link.length", "plate.wide")
    )
    assert list(answer(f"require {both}", "link.length is 327 mm; plate.wide is 327 mm").why) == [
        "Chain stretch: about 2.992 % (worked out). Asked: at most 1 %; over by about 1.992 %. "
        "From: Length measured 327 mm.",
        "Chain stretch: about 2.992 % (worked out). Asked: at most 1 %; over by about 1.992 %. "
        "From: Width of the plate 327 mm.",
    ]


# ---- met, and unsettled ------------------------------------------------------------


@pytest.mark.parametrize(("body", "declared", "status", "why"), [
    ("require stretch(link.length, 15.875 mm, link.number) is at most 3 %",
     "link.length is 327 mm; link.number is 20", "met",
     "Length measured 327 mm; links measured 20."),
    ("require letter-speed(hoop.front.letter) is at least 160 km/h", "hoop.front.letter is Q",
     "met", "Front hoop letter “Q”."),
    ("require stretch(link.length, 15.875 mm, link.number) is at most 2 %",
     "link.length is 327 mm", "unsettled", "Links measured: not declared (link.number)."),
    ("when letter-speed(hoop.front.letter) is at least 160 km/h require grip.snaps",
     "hoop.front.letter is P; grip.snaps is no", "not-asked",
     "Not asked: Speed that the front hoop letter stands for 150 km/h."),
    ("require stretch(link.length, 15.875 mm, link.number) is at most 2 %",
     "link.length is 327 mm; link.number is 0", "unsettled",
     "Chain stretch (from length measured, pitch 15.875 mm and links measured) has no value: "
     "it divides by zero."),
    ("require letter-speed(hoop.front.letter) is at least 160 km/h", "hoop.front.letter is slow",
     "unsettled",
     "Speed that the front hoop letter stands for has no value: "
     "the table “Speed that a letter stands for” has no value for “slow”."),
    ("require hoop.front.load is at least 240 kg", "hoop.front.index is 41", "unsettled",
     "Load the front hoop is made for has no value: "
     "the table “Load of an index” has no row for 41."),
    ("require index-load(hoop.front.index / 2) is at least 240 kg", "hoop.front.index is 117",
     "unsettled",
     "Load of an index (by front hoop index divided by 2) has no value: "
     "the table “Load of an index” has no row for 58.5."),
    ("require ratio(plate.wide, plate.high) is at most 0.1",
     "plate.wide is 0 mm; plate.high is 201 mm", "unsettled",
     "Ratio of the two (from width of the plate and height of the plate) has no value: "
     "it takes the logarithm of 0, which is not above zero."),
    ("require sqrt(pilot.days - 7) is at least 3", "pilot.days is 3", "unsettled",
     "The square root of (track days ridden minus 7) has no value: "
     "it takes the square root of -4, which is below zero."),
    ("require ten-to(pilot.days) is at least 2", "pilot.days is 2000", "unsettled",
     "10 to the power of track days ridden has no value: it takes 10 to the power of 2000, "
     "and only powers from -1000 to 1000 are worked out."),
    ("require ten-to(log10(pilot.days)) is at least 3", "pilot.days is 3", "unsettled",
     "10 to the power of (the decimal logarithm of track days ridden) is too close to 3 to tell: "
     "of its endless digits some 40 are worked out, and they agree."),
    ("require 1 / [ten-to(log10(pilot.days)) - 3] is at least 3", "pilot.days is 3", "unsettled",
     "1 divided by ((10 to the power of (the decimal logarithm of track days ridden)) minus 3) "
     "has no value: it divides by what is too close to zero to tell."),
    # no row that cannot be the one is spoken of
    ("require quarter(pilot.days) is at least 3", "pilot.days is 0", "not-met",
     "A quarter: 1 (worked out). Asked: at least 3; short by 2. From: Track days ridden 0."),
])  # fmt: skip
def test_why_another_answer_came(body: str, declared: str, status: str, why: str) -> None:
    quarter = (
        'formula quarter(days) "A quarter" as 1 when days is at most 0 as 4 / days otherwise '
        'source "invented"\n'
    )
    (came,) = report(f'{FORMULAS}{quarter}rule tried "Tried"\n{body}', declared).answers
    assert (came.status, list(came.why)) == (status, [why])


# ---- laws --------------------------------------------------------------------------

TENTHS = st.integers(1, 9_000).map(lambda tenths: Decimal(tenths) / 10)


@LAW
@given(TENTHS, TENTHS, st.integers(0, 15), st.sampled_from(["at least", "at most"]))
def test_no_rounded_root_reads_as_if_it_met_the_limit(
    wide: Decimal, high: Decimal, digits: int, comparison: str
) -> None:
    """The limit is the root cut after so many digits, on either side of it."""
    cut = Decimal(10) ** -digits
    limit = ((wide * high).sqrt() / cut).to_integral_value() * cut
    limit += cut if comparison == "at least" else -cut
    body = f"require sqrt(plate.wide * plate.high) is {comparison} {limit:f} mm"
    if limit <= 0:
        return
    came = answer(body, f"plate.wide is {wide} mm; plate.high is {high} mm")
    assert came.status == "not-met"
    ((reason,),) = (shortfall.reasons for shortfall in came.explanation.shortfalls)
    value, bound = (number(text) for text in (reason.value, reason.asked))
    assert value < bound if comparison == "at least" else value > bound, reason


def number(text: str) -> Fraction:
    """The number before `mm`."""
    return Fraction(text.removesuffix(" mm").split()[-1])
