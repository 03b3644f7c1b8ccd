"""Declarations as anybody might write them, and the form that is to read them."""

from datetime import date
from typing import Any

from attrs import evolve
from hypothesis import strategies as st

import trackprep
from trackprep.publishing.form.units import plain_units
from trackprep.rules.model import Choosing, Dated, Fact, FreeText, Measured, Rules, YesOrNo

DAY = date(2026, 6, 20)
TARN_HOLLOW = trackprep.read_ruleset("tarn-hollow").rules


def form_of(rules: Rules) -> dict[str, Any]:
    """The form of every fact that the rules know, of which nothing is left out."""
    units = {fact.type.unit for fact in rules.facts.values() if isinstance(fact.type, Measured)}
    return {
        "facts": [plain_fact(fact) for fact in rules.facts.values()],
        "units": plain_units(one for one in units if one.name),
    }


def plain_fact(fact: Fact) -> dict[str, Any]:
    plain: dict[str, Any] = {"path": fact.path, "label": fact.label}
    match fact.type:
        case Choosing(how, choices):
            listed = [[choice.word, choice.spoken, list(choice.also)] for choice in choices]
            plain |= {"kind": how, "choices": listed}
        case Measured(its_unit, low, high, whole):
            ends = {"low": low, "high": high}
            texts = {key: str(end) for key, end in ends.items() if end is not None}
            plain |= {"kind": "number", "unit": its_unit.name, "whole": whole, **texts}
        case Dated(how):
            plain["kind"] = how
        case YesOrNo():
            plain["kind"] = "yes or no"
        case FreeText():
            plain["kind"] = "text"
    return plain


def with_note_fact(rules: Rules) -> Rules:
    """The rules with a fact of free text, which no shipped vocabulary has."""
    free = Fact("rider.note", "Note", FreeText())
    return evolve(rules, facts={**rules.facts, "rider.note": free, "row": evolve(free, path="row")})


RULES = with_note_fact(TARN_HOLLOW)


# ---- made at random --------------------------------------------------------------


WORDS = """
declaration "Somebody" "„quoted“" "a \\"b\\" \\\\ c" "open declared on 2026-06-10 2026-06 2026-13-01
is none yes no YES it , ,\n # helmet.shell helmet.made suit.armour gloves.cuff-overlap
rider.track-days passenger tyre.front.built note.free some.stranger full-face Full Face
shoulders elbows knees "full-face" "ECE 22.06" helmet.labels 62 mm 62mm 6.2 cm 2 1/2 mm 1/0
- 3 -3 −3 3,5 1 000 2323 "2323" 2023-04 2023-4-1 true "Yes" not any rule require and of at least
row 3 m 5 fl. oz °C 20 degC 3 psi ( ) [ = @ é ² a_b a.b. a.* 'x' "" “x” „x“ # not known:
"""
PIECES = [*WORDS.split(), "\n", "\n", "\n", "\r\n", "\t", "\u00a0", "\v", " # said\n", "# c\n",
          "\n# not known: helmet.made\n", "#helmet.made is\n", "\n#helmet.shell is\n"]  # fmt: skip
FACTS = [
    "helmet.shell", "helmet.made", "helmet.labels", "suit.armour", "gloves.cuff-overlap",
    "rider.track-days", "passenger", "tyre.front.built", "rider.note", "some.stranger", "row",
]  # fmt: skip
VALUES = [
    "full-face", "Full-Face", "full face", '"full-face"', "none", "yes", "no", "true", '"no"',
    "2023-04", "2023-04-17", "2023", "2023-4-17", "17.4.2023", "2319", '"2319"', "5419", "-5",
    "shoulders, elbows", "shoulders,\n  elbows  # both\n", "shoulders, shoulders", "shoulders,",
    "62 mm", "62mm", "6.2 cm", "2 1/2 in", "62", "3 psi", "900 km", "7", "7.0", "- 7", "−7 mm",
    '"ECE 22.06"', '"ECE 22.06", "ECE 22.05"', '"a \\"b\\" \\\\"', '"open', "20 °C", "1 000", "any",
    "it", "declared", "2 fl. oz", "2 inches", "", "shoulders,\n\n# c\n elbows", "1/0 mm", "in", "m",
]  # fmt: skip
UNREADABLE = ["Full-Face", "17.4.2023", "shoulders,", '"open', "1 000", "any", "it", "",
              "1/0 mm", "in", "full face", "declared"]  # fmt: skip
LINE_ENDS = ["\n", "\r\n", "  # said\n", "\n\n", " \n"]
ENDS = ["\n", "\r\n", "  # said\n", " ", " , ", "\n\n", "\n\t", "\n\u00a0", "#\r\n"]
HEADS = ['declaration "A"', 'declaration "A" "B"', "declaration A", "declared on 2026-06-10",
         "declared on 2026-06", "declared on 10", "# not known: helmet.made", "#passenger is",
         "rule x", "DECLARED ON 2026-06-10"]  # fmt: skip

entries = st.builds(
    "{}{}{}{}".format,
    st.sampled_from([*FACTS, *(fact.upper() for fact in FACTS[:3])]),
    st.sampled_from([" is ", " is ", " is ", "  IS\t", " is\n", " ", " = "]),
    st.sampled_from(VALUES),
    st.sampled_from(ENDS),
)
heads = st.builds("{}{}".format, st.sampled_from(HEADS), st.sampled_from(ENDS))
declarations = st.lists(entries | entries | entries | heads, max_size=9).map("".join)
jumbles = st.lists(st.sampled_from(PIECES), max_size=25).map(" ".join)
texts = declarations | jumbles | st.builds("{}{}".format, declarations, jumbles) | st.text()
