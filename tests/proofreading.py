"""Small rule files to proofread: a vocabulary, a base, and what changes it."""

from pathlib import Path

from trackprep.reading import compiled_file
from trackprep.rules.own_file import OwnFile, own_file

GEAR = """\
vocabulary gear "Gear"

fact shell "Helmet shell" one of full-face, motocross, modular, open-face
fact made "Helmet made" past date
fact front "Front tread" measured in mm from 0 mm to 12 mm
fact rear "Rear tread" measured in mm from 0 mm to 12 mm
fact tyre "Tyre" one of road, race, wet
fact style "Machine" one of mini, road
fact sound "Sound level" measured in dB from 60 dB to 140 dB
fact mirror "Mirror" one of absent, taped, bare
fact leaks "Leaks" yes or no
fact born "Born" past date unchangeable
fact air "Air" measured in °C from -20 °C to 60 °C
"""

BASE = """\
ruleset base "Base"
  valid from 2026-01-01 to 2026-12-31
use "gear.trackrules"

limit tread "Least tread" is 2 mm
limit oldest "Oldest helmet" is 5 years
limit inner "Worn tread" is 1.5 mm when style is mini, 2 mm otherwise
limit spare "Used by nothing" is 3 mm
limit loudest "Loudest" is 95 dB
list shells "Helmet shells" is full-face, motocross
list covered "Mirror" is absent, taped

derived worn "Worn" means some of front, rear is less than inner

core rule shell "Helmet with a chin bar"
  require shell is one of shells

rule deep "Front tread of 2 mm"
  require front is at least tread

rule behind "Rear tread"
  require rear is at least tread or tyre is wet

rule whole "Not worn"
  require not worn

rule age "Helmet not too old"
  require age of made is at most oldest

rule loud "Not too loud"
  require sound is at most loudest

core rule dry "No leaks"
  require leaks is no

rule mirror "Mirror"
  recommend mirror is one of covered
"""

HEADING = 'ruleset own "Own"\n  valid from 2026-01-01 to 2026-12-31\n'


def read(folder: Path, text: str, name: str = "own.trackrules") -> OwnFile:
    """A rule file with the text, beside the vocabulary and the base."""
    for other, content in (("gear", GEAR), ("base", BASE)):
        path = folder / f"{other}.trackrules"
        if not path.exists():
            path.write_text(content, encoding="utf-8")
    (folder / name).write_text(text, encoding="utf-8")
    made = compiled_file(folder / name)
    assert made.rules is not None, "\n".join(map(str, made.problems))
    assert made.loaded is not None
    return own_file(made.loaded, made.rules)


def alone(folder: Path, statements: str) -> OwnFile:
    """A ruleset of its own with the statements."""
    return read(folder, f'{HEADING}use "gear.trackrules"\n\n{statements}')


def supplement(folder: Path, statements: str) -> OwnFile:
    """A supplement of the base with the statements."""
    return read(folder, f'{HEADING}supplements "base.trackrules"\n\n{statements}')
