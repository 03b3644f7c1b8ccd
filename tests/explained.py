"""A small ruleset to explain: its own facts, and rules that a test writes into it."""

from datetime import date

import trackprep

EVENT = date(2026, 6, 14)

FACTS = """
ruleset explained "Explained"
  edition "2026.1"
  valid from 2026-03-01 to 2026-11-30

fact lid.shell "Helmet shell"
  one of full-face "Full face", modular "Flip-front", open-face "Open face"
fact lid.made "Helmet made" past date
fact lid.marks "Marks on the helmet" several of "ECE 22.05", "ECE 22.06", "Snell M2020D"
fact rubber.front.depth "Front tread" measured in mm from 0 mm to 12 mm check again
fact rubber.rear.depth "Rear tread" measured in mm from 0 mm to 12 mm check again
fact rubber.front.code "Front tyre built" week code
fact rubber.front.symbol "Speed symbol" graded "J" < "K" < "U" < "H" < "V" < "W"
fact rubber.rear.symbol "Rear speed symbol" graded "J" < "K" < "U" < "H" < "V" < "W"
fact grip.snaps "Throttle snaps back" yes or no
fact grip.ends "Lever ends" one of ball "Ball", broken "Broken off"
fact pilot.born "Date of birth" past date unchangeable private
fact pilot.group "Group" one of novice "Novice", fast "Fast"
fact pilot.days "Track days ridden" count
fact permit.until "Licence valid until" date
fact link.slack "Chain slack" measured in mm
fact link.length "Length measured" measured in mm
fact link.number "Links measured" count
fact heat.oil "Oil temperature" measured in °C
fact heat.air "Air temperature" measured in °C
fact noise "Sound level" measured in dB
fact plug.torque "Drain plug torque" measured in N*m
fact cover.kind "Suit" one of one-piece "One piece", two-piece "Two pieces"
fact cover.zip "Joining zip" one of full "All the way round", short "Part of the way"
fact glass.front "Headlamp glass" one of taped "Taped", bare "Bare", absent "Not on the machine"
fact glass.tail "Tail lamp glass" one of taped "Taped", bare "Bare", absent "Not on the machine"
fact glass.side "Indicators" one of taped "Taped", bare "Bare", absent "Not on the machine"
fact motor.style "Style" one of mini "Mini", road "Road" unchangeable
fact motor.filter "Oil filter"
  one of plain "Plain", dome "Relief valve in the dome", nut "Welded nut"
fact seen "Machine accepted" yes or no for the inspector
fact ground "Track surface" one of dry "Dry", damp "Damp"

limit oldest "Oldest helmet admitted" is 5 years
limit tread "Least tread" is 2 mm
limit slack "Greatest slack" is 25 mm when motor.style is mini, 45 mm otherwise
limit least-slack "Least slack" is 10 mm when motor.style is mini, 20 mm otherwise
list refused "Filters not admitted" is dome
list marks "Marks admitted" is "ECE 22.06", "Snell M2020D"
here ground is dry

derived pilot.minor "Under age" means completed years of pilot.born is less than 18
derived link.each "Length of a link" in mm as link.length / link.number
derived rubber.front.age "Front tyre age" as age of rubber.front.code
"""

FORMULAS = """
kind letter graded slow < "P" < "Q" < "R"
kind meter one of fine "Class 1", coarse "Class 2"
fact hoop.front.letter "Front hoop letter" letter
fact hoop.rear.letter "Rear hoop letter" letter
fact hoop.front.index "Front hoop index" count
fact gauge "Meter class" meter
fact motor.rated "Rated engine speed" measured in rpm
fact motor.heard "Engine speed at the test" measured in rpm
fact plate.wide "Width of the plate" measured in mm
fact plate.high "Height of the plate" measured in mm

formula stretch(length in mm, pitch in mm, pitches) "Chain stretch" in %
  as length / [pitch * pitches] - 1
  source "ASME B29.1, guidance on chain wear"
formula test-speed(rated in rpm) "Engine speed of the sound test" in rpm
  as rated / 2 when rated is more than 5000 rpm
  as rated * 3 / 4 otherwise
  source "UNECE R41, Annex 3"
formula fence(level in dB, near in m, far in m) "Sound level at the fence" in dB
  as level - 20 dB * log10(far / near)
  source "ISO 9613-2, clause 7.1"
formula ratio(one in mm, other in mm) "Ratio of the two"
  as log10(one / other)
  source "invented"

table letter-speed "Speed that a letter stands for" from letter to km/h
  row slow is none
  row "P" is 150 km/h
  row "Q" is 160 km/h
  row "R" is 170 km/h
  source "UNECE R75, speed categories"
table index-load "Load of an index" from count to kg
  row 58 is 236 kg
  row 59 is 243 kg
  source "UNECE R75, Annex 4"
table allowance "Allowance for the sound meter" from meter to dB
  row fine is 1 dB
  row coarse is 2 dB
  source "FIM technical rules, sound control, 2.15.9"

derived link.stretch "Stretch of this chain" in %
  as stretch(link.length, 15.875 mm, link.number)
derived hoop.front.load "Load the front hoop is made for" in kg as index-load(hoop.front.index)
derived noise-counted "Level that counts" in dB
  as noise rounded down to 1 dB - allowance(gauge)
derived motor.test "Speed for this sound test" in rpm as test-speed(motor.rated)
"""


def ruleset(rules: str) -> trackprep.Ruleset:
    """The facts above with these rules."""
    return trackprep.parse_ruleset(FACTS + rules, name="explained")


def report(
    rules: str, declared: str = "", *, on: date = EVENT, dated: str = ""
) -> trackprep.Report:
    """The report on what is declared, a statement a line, `;` between."""
    checked = ruleset(rules)
    head = 'declaration "Sam Ferrow, blue mini"\n' + (f"declared on {dated}\n" if dated else "")
    lines = "\n".join(line.strip() for line in declared.split(";"))
    return checked.check(trackprep.parse_declaration(head + lines, checked), on=on)


def answer(body: str, declared: str = "", *, on: date = EVENT) -> trackprep.Answer:
    """The answer of one rule with this body."""
    (only,) = report(f'rule tried "Tried"\n{body}', declared, on=on).answers
    return only
