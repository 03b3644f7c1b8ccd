"""Small events made by hand, and work lists for them."""

from datetime import date
from typing import Any

import trackprep
from trackprep.published import rulesets_folder
from trackprep.reports.worklist.report import WorklistReport
from trackprep.rider.worklist import Job, Step

EVENT = date(2026, 6, 20)
TODAY = date(2026, 6, 1)
RIDDEN = {"machine.registered": True}

YARD = """
ruleset yard "Yard day"
  bring "A broom."

fact yard.wheel "Wheel" one of round, bent how "Spin it." takes 1/4 h
fact yard.tyre "Tyre" one of fresh, old, absent
fact yard.tape "Lens" one of taped, bare, absent
fact yard.lamp "Lamp" one of unplugged, lit, absent
fact yard.water "Coolant" one of water, glycol
  how "Read the bottle." takes 2 min caution "Never open a hot cap."
fact yard.sticker "Sticker" yes or no
fact yard.seen "Seen" yes or no for the inspector

section "Wheels"
  bring "A pump."

rule tyre "A fresh tyre"
  require yard.tyre is fresh
  caution "Lever away from you."
  fix "Put the old tyre right." takes 5 min when yard.tyre is absent
  fix "Fit a tyre." takes 45 min parts "tyre" allow 1 week, "valve"  tools "lever", "pump"
      after wheel
rule wheel "A round wheel"
  require yard.wheel is round
  fix "True the wheel." takes 1 h 30 min parts "spokes" allow 12 days tools "spoke key"

section "Road things"

rule lens "Lens taped"
  require yard.tape is one of taped, absent
  fix "Tape the lens." takes 10 min parts "tape" tools "knife" after lamp
  undo "Peel the lens." takes 5 min when yard.tape is not absent
rule lamp "Lamp unplugged"
  require yard.lamp is one of unplugged, absent
  fix "Unplug the lamp." takes 5 min
  undo "Plug the lamp in." takes 5 min tools "torch" caution "Ignition off."
rule water "No glycol"
  require yard.water is water
  fix "Fill with water." takes 1 h at home
  undo "Fill with coolant." takes 1 h parts "coolant"
rule sticker "Sticker on"
  recommend yard.sticker
  fix "Stick it on." in the paddock
  bring "The sticker."
rule seen "Seen by the inspector"
  require yard.seen
  fix "Show it."

section "Guests" when yard.sticker is no
  bring "A guest ticket."
""".replace("1 h 30 min", "90 min")

ALL_WRONG = {
    "yard.wheel": "bent",
    "yard.tyre": "old",
    "yard.tape": "bare",
    "yard.lamp": "lit",
    "yard.water": "glycol",
    "yard.sticker": False,
}
ALL_RIGHT = {
    "yard.wheel": "round",
    "yard.tyre": "fresh",
    "yard.tape": "taped",
    "yard.lamp": "unplugged",
    "yard.water": "water",
    "yard.sticker": True,
}
NEXT_DOOR = """
ruleset next-door "Next door"
  bring "A broom."
fact yard.wheel "Wheel" one of round, bent how "Spin it." takes 1/4 h
rule straight "A straight wheel"
  require yard.wheel is round
  caution "Mind the spokes."
  fix "True the wheel." takes 2 h tools "spoke key", "gauge"
rule no-work "Nobody says how"
  require yard.wheel is round
"""


def report(text: str, declared: dict[str, Any]) -> trackprep.Report:
    """What the rules answer; facts that they do not know are left out."""
    ruleset = trackprep.parse_ruleset(text)
    known = {path: value for path, value in declared.items() if path in ruleset.rules.facts}
    return ruleset.check(trackprep.parse_declaration(known, ruleset), on=EVENT)


def made(declared: dict[str, Any], *texts: str, **more: Any) -> WorklistReport:
    """The work list for the yard, or for other events."""
    reports = [report(text, declared) for text in texts or (YARD,)]
    return trackprep.worklist(*reports, **{"today": TODAY, **more})


def text_of(one: Job | Step) -> str:
    """What to do, in the words of the first ruleset."""
    return one.texts[0][0]


def shipped(rider: str, *names: str, **more: Any) -> WorklistReport:
    rulesets = [trackprep.read_ruleset(name) for name in names]
    path = rulesets_folder() / f"{rider}.rider"
    day = more.pop("on", EVENT)
    reports = [one.check(trackprep.read_declaration(path, one), on=day) for one in rulesets]
    return trackprep.worklist(*reports, **{"today": TODAY, **more})


def jobs(found: WorklistReport, spot: str = "") -> list[str]:
    return [text_of(job) for job in found.worklist.jobs if spot in job.spot]


def steps(found: WorklistReport, part: str) -> list[str]:
    listed = getattr(found.worklist.road, part)
    return [text_of(step) for step in listed if step.serves]


def words(found: WorklistReport) -> str:
    return " ".join(found.text().split())
