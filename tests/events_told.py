"""Small events that ask of the same few facts, and riders for them."""

from datetime import date

import trackprep

EVENT = date(2026, 6, 14)
FACTS = """\
fact style "Style of machine" one of mini, road unchangeable
fact group "Group" one of novice, fast
fact tread "Tread depth" measured in mm from 0 mm to 12 mm
  caution "Turn the wheel by hand."
  how "Shallowest groove."
fact slick "Slick tyre" yes or no
fact sound "Sound level" measured in dB from 60 dB to 140 dB
fact shell "Helmet shell" one of full-face, modular, open-face
fact made "Helmet made" past date
fact built "Tyre built" week code
fact marks "Helmet marks" several of gold, silver, bronze
fact camera "Camera" one of bolted, taped, absent
fact mount "Camera mount" one of sound, loose
fact plate "Plate" one of fitted, absent
fact carrier "Plate carrier" one of secure, loose
fact licence "Licence" one of full, lapsed private
fact born "Rider born" past date unchangeable private
fact accepted "Machine accepted" yes or no for the inspector
fact oil "Oil" measured in L from 0 L to 10 L
fact pan "Belly pan" measured in L from 0 L to 10 L

"""
HEAD = 'ruleset {name} "{title}"\n  edition "1"\n  valid from 2026-06-01 to 2026-06-30\n\n'

NORTH = """\
limit least "Least tread" is 1.6 mm
list shells "Shells" is full-face, modular

section "Gear"

rule shell "A closed helmet"
  require shell is one of shells
  fix "Bring a closed helmet." takes 10 min

rule age "Helmet not too old"
  require age of made is at most 5 years
  fix "Replace the helmet."

section "Machine"

rule tread "Enough tread"
  require tread is at least least
  fix "Replace the tyre." takes 1 h  parts "tyre" allow 1 week
  caution "Never work under a machine on a jack alone."

rule quiet "Not too loud"
  require sound is at most 95 dB
  fix "Fit the baffle." takes 30 min
"""
SOUTH = """\
limit least "Least tread" is 2 mm when group is novice, 3 mm otherwise
list shells "Shells" is full-face

section "Gear"

rule shell "A full-face helmet"
  require shell is one of shells
  fix "Bring a full-face helmet." takes 10 min

rule age "Helmet not too old"
  require age of made is at most 5 years
  fix "Replace the helmet."

section "Machine"

rule tread "Enough tread"
  require tread is at least least
  fix "Replace the tyre." takes 1 h

rule quiet "Not too loud"
  require sound is at most 92 dB
  fix "Fit the baffle." takes 30 min

rule seen "Accepted"
  require accepted
"""
WEST = """\
section "Machine"

rule tread "Enough tread"
  recommend tread is at least 4 mm

rule mini "Minis alone"
  require style is mini

rule camera "Camera held"
  when camera is not absent
  require mount is sound
  fix "Bolt the camera on."
"""


def text(rules: str, name: str, facts: str = FACTS) -> str:
    """The text of a ruleset with the rules."""
    return HEAD.format(name=name, title=f"{name.capitalize()} day") + facts + rules


def ruleset(rules: str, name: str = "north", facts: str = FACTS) -> trackprep.Ruleset:
    """The same, read."""
    return trackprep.parse_ruleset(text(rules, name, facts), name=f"{name}.trackrules")


def three() -> tuple[trackprep.Ruleset, trackprep.Ruleset, trackprep.Ruleset]:
    """Three events."""
    return ruleset(NORTH), ruleset(SOUTH, "south"), ruleset(WEST, "west")
