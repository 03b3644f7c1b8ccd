"""Federations' figures for the circuit, as shipped clubs ask for them.

Each row is a machine just at the figure, which is met, and one just past it, which is not.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pytest
from doors import club_says, met

EVENT = date(2026, 6, 13)
ACU = "ACU Handbook 2020, p. 267"
SUPERSTOCK = "FIM Superstock technical rules, as reprinted in the NW200 2012 regulations, p. 39"
NW200 = "NW200 2012 regulations, p. 4"
FMAE = "FMAE student motorcycle rule book, v5.1 (4 April 2026)"
FIM = "FIM circuit technical rules, from memory"
MMRS = "MMRS equipment standards"
MOTOCROSS = "FIM motocross technical rules, 55.05"

LEVERS = {
    "lever.front-brake.end": "ball", "lever.clutch.end": "ball",
    "lever.front-brake.ball-diameter": "20 mm", "lever.clutch.ball-diameter": "20 mm",
    "lever.front-brake.length": "180 mm", "lever.clutch.length": "180 mm",
}  # fmt: skip
ROOM = {"bars.width": "700 mm", "steering.angle": "30 °", "bars.tank-clearance": "40 mm"}
LEAN = {"clearance.lean": "55 °", "clearance.ground": "120 mm"}
DIGITS = {
    "start-number.front.digit-height": "170 mm", "start-number.front.digit-width": "90 mm",
    "start-number.front.stroke": "30 mm", "start-number.side.digit-height": "130 mm",
    "start-number.side.digit-width": "70 mm", "start-number.side.stroke": "30 mm",
    "start-number.gap": "15 mm",
}  # fmt: skip
TANKS = {
    "machine.electric": False, "engine.cycle": "four-stroke",
    "breather.engine": "catch-tank", "breather.gearbox": "catch-tank",
    "breather.fuel": "catch-tank", "fuel.breather-valve": True, "catch-tank.fuel": "300 mL",
}  # fmt: skip
RIMS = {
    "wheel.front.rim-sideways": "0 mm", "wheel.front.rim-round": "0 mm",
    "wheel.rear.rim-sideways": "0 mm", "wheel.rear.rim-round": "0 mm",
    "wheel.front.rim-material": "aluminium", "wheel.rear.rim-material": "steel",
}  # fmt: skip
MOT = "MOT inspection manual for motorcycles, 5.2.2"

FIGURES = [
    # club, rule, the rest of the machine, fact, just at it, just past it, source
    ("fenwhistle", "lever-span", LEVERS, "lever.clutch.length", "200 mm", "200.1 mm", ACU),
    ("fenwhistle", "lever-span", LEVERS, "lever.front-brake.length", "20 cm", "201 mm", ACU),
    ("fenwhistle", "lever-balls", LEVERS, "lever.clutch.ball-diameter", "16 mm", "15.9 mm", FIM),
    ("sallowgate", "lever-balls", LEVERS, "lever.clutch.ball-diameter", "12.7 mm", "12.69 mm",
     f"{MMRS}: 1/2 in"),
    ("sallowgate", "lever-balls", LEVERS, "lever.clutch.ball-diameter", "1/2 in", "15/32 in", MMRS),
    ("fenwhistle", "peg-ends", {}, "pegs.end-radius", "8 mm", "7.9 mm", f"{SUPERSTOCK}, 2.6.10.8"),
    ("fenwhistle", "steering-room", ROOM, "bars.width", "450 mm", "449 mm",
     f"{FMAE}; FIM, from memory"),
    ("fenwhistle", "steering-room", ROOM, "steering.angle", "15 °", "14.9 °",
     f"{FMAE}; FIM, from memory"),
    ("fenwhistle", "steering-room", ROOM, "bars.tank-clearance", "30 mm", "29 mm", FIM),
    ("fenwhistle", "clearances", LEAN, "clearance.lean", "50 °", "49.9 °",
     f"{FMAE}; FIM, from memory"),
    ("fenwhistle", "clearances", LEAN, "clearance.ground", "100 mm", "99 mm", FMAE),
    ("fenwhistle", "fairing-edges", {}, "bodywork.edge-radius", "1 mm", "0.9 mm", FMAE),
    ("fenwhistle", "number-size", DIGITS, "start-number.front.digit-height", "160 mm", "159 mm",
     FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.front.digit-width", "80 mm", "79 mm", FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.front.stroke", "25 mm", "24 mm", FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.side.digit-height", "120 mm", "119 mm",
     FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.side.digit-width", "60 mm", "59 mm", FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.side.stroke", "25 mm", "24 mm", FIM),
    ("fenwhistle", "number-size", DIGITS, "start-number.gap", "10 mm", "9 mm", FIM),
    ("sallowgate", "number-size", DIGITS, "start-number.front.digit-height", "140 mm", "139 mm",
     MOTOCROSS),
    ("sallowgate", "number-size", DIGITS, "start-number.front.digit-width", "70 mm", "69 mm",
     MOTOCROSS),
    ("sallowgate", "number-size", DIGITS, "start-number.front.stroke", "25 mm", "24 mm", MOTOCROSS),
    ("fenwhistle", "tank-catch", TANKS, "catch-tank.fuel", "250 cm^3", "249 cm^3",
     f"{SUPERSTOCK}, 2.6.10.9"),
    ("fenwhistle", "engine-catch", TANKS, "catch-tank.engine", "0.5 L", "499 cm^3",
     "FIM technical rules, from memory"),
    ("fenwhistle", "gearbox-catch", TANKS, "catch-tank.gearbox", "250 mL", "249 cm^3",
     "FIM technical rules, from memory"),
    ("sallowgate", "engine-breather", TANKS, "catch-tank.engine", "500 cc", "499 cc",
     "FIM technical rules, from memory"),
    ("fenwhistle", "rims", RIMS, "wheel.front.rim-sideways", "2 mm", "2.1 mm",
     f"{MOT}: aluminium alloy"),
    ("fenwhistle", "rims", RIMS, "wheel.rear.rim-sideways", "4 mm", "4.1 mm", f"{MOT}: steel"),
    ("fenwhistle", "rims", RIMS, "wheel.front.rim-round", "3 mm", "3.1 mm", MOT),
    ("fenwhistle", "rims", RIMS, "wheel.rear.rim-round", "3 mm", "3.1 mm", MOT),
]  # fmt: skip

STATES = [
    # club, rule, the rest of the machine, fact, as it may be, as it may not be, source
    ("common-practice", "throttle", {"grips.fixed": True}, "throttle.snaps-back", True, False, ACU),
    ("common-practice", "levers", {"lever.clutch.end": "absent"}, "lever.front-brake.end", "ball",
     "broken", ACU),
    ("fenwhistle", "lever-guards", {}, "lever.front-brake.guard", "fitted", "absent", ACU),
    ("common-practice", "pegs", {}, "pegs.ends", "plugged", "hollow", f"{SUPERSTOCK}, 2.6.10.8"),
    ("sallowgate", "pegs-fold", {}, "pegs.fold", "springs-back", "rigid", MMRS),
    ("fenwhistle", "tank-catch", TANKS, "fuel.breather-valve", True, False,
     f"{SUPERSTOCK}, 2.6.10.9"),
    ("fenwhistle", "steering-damper", {"steering.damper": "smooth"}, "steering.damper-as-stop",
     False, True, "FIM Superbike and Supersport technical rules, about 2013, 2.4.10.2, p. 76"),
    ("fenwhistle", "case-covers", {"case-cover.right": "guard"}, "case-cover.left", "second-cover",
     "bare", "FIM Superbike technical rules, about 2013, p. 68"),
    ("common-practice", "coolant", {"engine.cooling": "liquid"}, "coolant.kind", "water", "glycol",
     "FIM technical rules, 01.63, from memory"),
    ("common-practice", "coolant", {"engine.cooling": "liquid"}, "coolant.kind", "alcohol",
     "glycol-free", "FIM technical rules, 01.63, from memory"),
    ("fenwhistle", "plugs-held", {"retained.filler-cap": "lock-wired",
     "retained.oil-filter": "lock-wired", "retained.oil-lines": "lock-wired"},
     "retained.drain-plug", "lock-wired", "tight", "FIM and national rules, from memory"),
    ("common-practice", "bearings", {"bearings.swingarm": "smooth"}, "bearings.head", "smooth",
     "notchy", "COMAR 11.14.03.02 B: any noticeable roughness"),
    ("common-practice", "bearings", {"bearings.swingarm": "smooth"}, "bearings.head", "smooth",
     "loose", "COMAR 11.14.03.02 B: any noticeable play"),
    ("common-practice", "wheels", {"wheel.front.spokes": "absent", "wheel.rear.spokes": "absent",
     "wheel.rear.bearings": "smooth"}, "wheel.front.bearings", "smooth", "play",
     "MOT inspection manual for motorcycles, 5.1.3"),
    ("common-practice", "wheels", {"wheel.front.spokes": "absent", "wheel.rear.spokes": "absent",
     "wheel.rear.bearings": "smooth"}, "wheel.front.bearings", "smooth", "rough",
     "MOT inspection manual for motorcycles, 5.1.3"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("club", "rule", "machine", "fact", "may", "may_not", "source"), [*FIGURES, *STATES]
)
def test_a_machine_is_met_at_the_figure_and_not_past_it(
    club: str, rule: str, machine: Mapping[str, Any], fact: str, may: Any, may_not: Any, source: str
) -> None:
    for value, answer in ((may, "met"), (may_not, "not-met")):
        assert club_says(club, rule, {**machine, fact: value}, EVENT) == answer, source


@pytest.mark.parametrize(
    ("displacement", "oil", "coolant", "volume", "answer", "source"),
    [
        (400, "7 L", "4.2 L", "5.6 L", "met", f"{NW200}: half of oil and coolant"),
        (400, "7 L", "4.2 L", "5.59 L", "not-met", f"{NW200}: half of oil and coolant"),
        (1000, "3.4 L", "2.3 L", "5 L", "met", "FIM, from memory: 5 L at least"),
        (1000, "3.4 L", "2.3 L", "4.9 L", "not-met", "FIM, from memory: 5 L at least"),
        (399, "7 L", "4.2 L", "0 L", "not-asked", f"{NW200}: four-strokes from 400 cc"),
    ],
)
def test_the_lower_fairing_holds_half_of_oil_and_coolant(
    displacement: int, oil: str, coolant: str, volume: str, answer: str, source: str
) -> None:
    declared = {
        "engine.cycle": "four-stroke", "engine.displacement": f"{displacement} cc",
        "engine.oil-capacity": oil, "coolant.capacity": coolant,
        "belly-pan.kind": "oil-retaining", "belly-pan.volume": volume,
    }  # fmt: skip
    assert club_says("fenwhistle", "belly-pan", declared, EVENT) == answer, source


@pytest.mark.parametrize(
    ("width", "in_millimetres", "in_inches", "source"),
    [
        ("760 mm", "met", "met", "ANDRA rule book 2019-20, p. 116: 760 mm (30 in)"),
        ("30 in", "not-met", "met", "ANDRA rule book 2019-20, p. 116: 30 in are 762 mm"),
        ("762 mm", "not-met", "met", "ANDRA rule book 2019-20, p. 116: 30 in are 762 mm"),
        ("763 mm", "not-met", "not-met", "ANDRA rule book 2019-20, p. 116"),
    ],
)
def test_a_book_that_prints_both_units_sets_two_limits(
    width: str, in_millimetres: str, in_inches: str, source: str
) -> None:
    declared = {"bars.width": width}
    assert met("bars.width is at most 760 mm", declared) == in_millimetres, source
    assert met("bars.width is at most 30 in", declared) == in_inches, source
