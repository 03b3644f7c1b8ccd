"""The formulas and tables that ship, against what standards and rule books print.

A row's figures are as the source prints them; `within` is half of the last digit that it
prints, or what the source itself says of its rounding.
"""

from fractions import Fraction
from functools import cache
from math import pi

import pytest

from trackprep.measures.working import worked_out
from trackprep.published import rulesets_folder
from trackprep.reading import read_ruleset
from trackprep.rules.model import Rules
from trackprep.rules.values import Amount
from trackprep.units import (
    ONE,
    from_base,
    from_base_difference,
    read_number,
    read_quantity,
    to_base,
)

MA_2007 = "Motorcycling Australia, Manual of Motorcycle Sport 2007, GCR 12.10.2.3"
R41 = "UNECE R41, Annex 3"
GAY_LUSSAC = "Law of Gay-Lussac, sea level at 101.325 kPa (NIST SP 811)"
AMA = "AMA rule book, appendix 5.2"
B29 = "ASME B29.1, pitches by ISO 606"
ISO_3744 = "ISO 3744, from memory; table of ISO 1996-1 and JIS Z 8731"
FIM = "FIM technical rules, sound control"
CUT = "Construction and Use Regulations 1986, regulation 27(1)(d)"
DESIGN = "Mechanical Engineering Design, chapter 8"
ISA = "ISO 2533, from memory"
STOPS = "COMAR 11.14.03.04 A; 15 NYCRR 79.28; mean deceleration of v²/2s"

FORMULAS = [
    # formula, arguments, what is printed, within, source
    ("absolute", "0 °C", "273.15 K", 0, "NIST SP 811, appendix B.8, from memory"),
    ("absolute", "70 °F", "294.261 K", "0.0005", "NIST SP 811, appendix B.8, from memory"),
    ("outside-pressure", "0 m", "101.325 kPa", 0, ISA),
    ("outside-pressure", "1000 m", "89.874 kPa", "0.001", ISA),
    ("outside-pressure", "1500 m", "84.556 kPa", "0.001", ISA),
    ("pressure-at-sea", "30 psi, 70 °F, 80 °F", "30.8438 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "30 psi, 60 °F, 100 °F", "33.4403 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "32 psi, 70 °F, 60 °F", "31.1184 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "32 psi, 70 °F, 180 °F", "41.6977 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "36 psi, 41 °F, 77 °F", "39.6452 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "31 psi, 20 °C, 80 °C", "40.3527 psi", "0.00005", GAY_LUSSAC),
    ("pressure-at-sea", "2.1 bar, 20 °C, 80 °C", "2.73720 bar", "0.000005", GAY_LUSSAC),
    ("pressure-at-sea", "2.5 bar, 20 °C, 0 °C", "2.26031 bar", "0.000005", GAY_LUSSAC),
    ("pressure-at-sea", "1.9 bar, 25 °C, 75 °C", "2.38855 bar", "0.000005", GAY_LUSSAC),
    ("pressure-now", "30 psi, 20 °C, 101.325 kPa, 20 °C, 89.874 kPa", "31.661 psi", "0.0005", ISA),
    ("pressure-now", "30 psi, 20 °C, 101.325 kPa, 20 °C, 84.556 kPa", "32.432 psi", "0.0005", ISA),
    ("pressure-by-thumb", "33 psi, 60 °F, 90 °F", "36 psi", 0, "common practice: 3 psi for 30 °F"),
    ("elongation", "258.0 mm, 12.7 mm, 20", "1.5748 %", "0.00005", B29),
    ("elongation", "256.5 mm, 15.875 mm, 16", "0.9843 %", "0.00005", B29),
    ("elongation", "321.0 mm, 15.875 mm, 20", "1.1024 %", "0.00005", B29),
    ("elongation", "327.1 mm, 15.875 mm, 20", "3.0236 %", "0.00005", B29),
    ("elongation", "321.0 mm, 15.875 mm, 21", "-3.712 %", "0.0005", "21 pins taken for pitches"),
    ("wear-limit", "45", "3 %", 0, "ASME B29.1; notes of chain makers: 200 % over the teeth"),
    ("wear-limit", "67", "2.985 %", "0.0005", "notes of chain makers: 200 % over the teeth"),
    ("wear-limit", "70", "2.857 %", "0.0005", "notes of chain makers: 200 % over the teeth"),
    ("cold-allowance", "-0.1 °C", "2 dB", 0, f"{FIM}, 2.15.10"),
    ("cold-allowance", "0 °C", "1 dB", 0, f"{FIM}, 2.15.10"),
    ("cold-allowance", "9.9 °C", "1 dB", 0, f"{FIM}, 2.15.10"),
    ("cold-allowance", "10 °C", "0 dB", 0, f"{FIM}, 2.15.10"),
    ("rated-test-speed", "3000 rpm", "2250 rpm", 0, R41),
    ("rated-test-speed", "4999 rpm", "3749.25 rpm", 0, R41),
    ("rated-test-speed", "5000 rpm", "3750 rpm", 0, R41),
    ("rated-test-speed", "5001 rpm", "2500.5 rpm", 0, R41),
    ("rated-test-speed", "13500 rpm", "6750 rpm", 0, R41),
    *(
        ("circuit-test-speed", f"{stroke} mm", f"{speed} rpm", "0.5", MA_2007)
        for stroke, speed in ((40, 8250), (50, 6600), (54, 6111), (60, 5500), (66, 5000),
                              (70, 4714), (75, 4400), (80, 4125))
    ),
    ("piston-test-speed", "54 mm, 13 m/s", "7222 rpm", "0.5", f"{FIM}, 13 m/s from memory"),
    ("piston-test-speed", "60 mm, 13 m/s", "6500 rpm", 0, f"{FIM}, 13 m/s from memory"),
    ("mean-piston-speed", "66 mm, 5000 rpm", "11 m/s", 0, MA_2007),
    ("ama-test-speed", "85 cc", "6000 rpm", 0, AMA),
    ("ama-test-speed", "125 cc", "6000 rpm", 0, AMA),
    ("ama-test-speed", "126 cc", "5000 rpm", 0, AMA),
    ("ama-test-speed", "250 cc", "5000 rpm", 0, AMA),
    ("ama-test-speed", "251 cc", "4500 rpm", 0, AMA),
    ("ama-test-speed", "500 cc", "4500 rpm", 0, AMA),
    ("ama-test-speed", "501 cc", "4000 rpm", 0, AMA),
    ("level-at", "100 dB, 0.5 m, 1 m", "93.979 dB", "0.0005", "ISO 9613-2, 7.1"),
    ("level-at", "100 dB, 0.5 m, 2 m", "87.959 dB", "0.0005", "ISO 9613-2, 7.1"),
    ("level-at", "100 dB, 0.5 m, 7.5 m", "76.478 dB", "0.0005", "ISO 9613-2, 7.1"),
    ("level-at", "100 dB, 0.5 m, 15.24 m", "70.320 dB", "0.0005", "ISO 9613-2, 7.1"),
    ("level-at", "100 dB, 0.5 m, 20 in", "99.862 dB", "0.0005", "ISO 9613-2, 7.1"),
    ("background-correction", "98 dB, 92 dB", "1.25 dB", "0.1", ISO_3744),
    ("background-correction", "98 dB, 91 dB", "0.95 dB", "0.1", ISO_3744),
    ("background-correction", "98 dB, 90 dB", "0.75 dB", "0.1", ISO_3744),
    ("background-correction", "98 dB, 89 dB", "0.60 dB", "0.1", ISO_3744),
    ("background-correction", "98 dB, 88 dB", "0.45 dB", "0.1", ISO_3744),
    ("background-correction", "70 dB, 63 dB", "0.967 dB", "0.0005", ISO_3744),
    ("background-correction", "98 dB, 93 dB", "1.3 dB", 0, "ISO 3744, from memory: upper bound"),
    ("background-correction", "98 dB, 82.9 dB", "0 dB", 0, "ISO 3744, from memory: above 15 dB"),
    ("level-sum", "80 dB, 80 dB", "83.010 dB", "0.0005", "sum of energies; 83 dB in handbooks"),
    ("level-sum", "85 dB, 87 dB", "89.124 dB", "0.0005", "sum of energies"),
    ("level-sum", "89 dB, 89.124 dB", "92.073 dB", "0.0005", "sum of energies; 92 dB in handbooks"),
    ("brake-efficiency", "980.665 N, 200 kg", "50 %", 0, "MOT manual: force over weight"),
    ("stopping-deceleration", "20 mph, 30 ft", "4.374 m/s^2", "0.005", f"{STOPS}: 0.446 g"),
    ("stopping-deceleration", "20 mph, 25 ft", "5.247 m/s^2", "0.005", f"{STOPS}: 0.535 g"),
    ("swept-volume", "67 mm, 42.5 mm, 4", "599.4 cc", "0.05", "volume of a cylinder"),
    ("belly-pan-needed", "7 L, 4.2 L", "5.6 L", 0, "NW200 2012 regulations, p. 4: half"),
    ("belly-pan-needed", "3.4 L, 2.3 L", "5 L", 0, "FIM, from memory: 5 L at least"),
    ("tyre-cut-limit", "120 mm", "25 mm", 0, CUT),
    ("tyre-cut-limit", "180 mm", "25 mm", 0, CUT),
    ("tyre-cut-limit", "260 mm", "26 mm", 0, CUT),
    ("preload", "580 MPa, 20.1 mm^2", "8743.5 N", 0, DESIGN),
    ("preload", "580 MPa, 36.6 mm^2", "15921 N", 0, DESIGN),
    ("preload", "830 MPa, 58 mm^2", "36105 N", 0, DESIGN),
    ("preload", "830 MPa, 84.3 mm^2", "52476.8 N", "0.05", DESIGN),
    ("torque", "0.2, 8743.5 N, 6 mm", "10.49 N*m", "0.005", DESIGN),
    ("torque", "0.15, 15921 N, 8 mm", "19.11 N*m", "0.005", DESIGN),
    ("torque", "0.12, 36105 N, 10 mm", "43.33 N*m", "0.005", DESIGN),
    ("torque", "0.2, 52476.8 N, 12 mm", "125.94 N*m", "0.005", DESIGN),
    ("torque", "0.2, 25000 N, 10 mm", "50 N*m", 0, DESIGN),
]  # fmt: skip

R75 = "UNECE R75, speed categories"
LOADS = "UNECE R75, Annex 4"
TABLES = [
    # table, what is looked up, what is printed, source
    *(("speed-of", symbol, f"{speed} km/h", R75) for symbol, speed in {
        "B": 50, "F": 80, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150, "Q": 160,
        "R": 170, "S": 180, "T": 190, "U": 200, "H": 210, "V": 240, "ZR": 240, "W": 270,
        "(W)": 270}.items()),
    ("speed-of", "G", "90 km/h", f"{R75}, from memory"),
    ("speed-of", "(V)", "240 km/h", f"{R75}, from memory"),
    ("speed-of", "unmarked", None, "no symbol, no speed"),
    *(("load-of", Fraction(index), f"{load} kg", LOADS) for index, load in {
        40: 140, 45: 165, 50: 190, 52: 200, 54: 212, 55: 218, 57: 230, 58: 236, 60: 250, 63: 272,
        65: 290, 66: 300, 69: 325, 71: 345, 73: 365, 75: 387, 76: 400, 77: 412, 78: 425,
        80: 450}.items()),
    *(("load-of", Fraction(index), f"{load} kg", f"{LOADS}, from memory") for index, load in {
        41: 145, 42: 150, 43: 155, 44: 160, 46: 170, 47: 175, 48: 180, 49: 185, 51: 195, 53: 206,
        56: 224, 59: 243, 61: 257, 62: 265, 64: 280, 67: 307, 68: 315, 70: 335, 72: 355, 74: 375,
        79: 437}.items()),
    *(("pitch-of", size, f"{pitch} mm", "ISO 606 and ASME B29.1: eighths of an inch")
      for size, pitch in {"415": "12.7", "420": "12.7", "428": "12.7", "520": "15.875",
                          "525": "15.875", "530": "15.875", "630": "19.05"}.items()),
    ("pitch-of", "219", None, "ask the chain's maker"),
    ("pitch-of", "25H", None, "ask the chain's maker"),
    ("meter-allowance", "class-1", "1 dB", f"{FIM}, 2.15.9"),
    ("meter-allowance", "class-2", "2 dB", f"{FIM}, 2.15.9"),
    *(("dry-boiling-point", grade, f"{degrees} °F", "49 CFR 571.116, S5.1.1")
      for grade, degrees in {"DOT 3": 401, "DOT 4": 446, "DOT 5": 500}.items()),
    *(("wet-boiling-point", grade, f"{degrees} °F", "49 CFR 571.116, S5.1.2")
      for grade, degrees in {"DOT 3": 284, "DOT 4": 311, "DOT 5": 356}.items()),
    ("dry-boiling-point", "DOT 5.1", "260 °C", "49 CFR 571.116, from memory"),
    ("wet-boiling-point", "DOT 5.1", "180 °C", "49 CFR 571.116, from memory"),
    ("dry-boiling-point", "mineral-oil", None, "its maker says"),
    ("limb-force", "level 1", "35 kN", "EN 1621-1:2012"),
    ("limb-force", "level 2", "20 kN", "EN 1621-1:2012"),
    ("back-force", "level 1", "18 kN", "EN 1621-2:2014"),
    ("back-force", "level 2", "9 kN", "EN 1621-2:2014"),
    *(("proof-stress", grade, f"{stress} MPa", "ISO 898-1:2013, table 3")
      for grade, stress in {"8.8": 580, "8.8 over M16": 600, "9.8": 650, "10.9": 830,
                            "12.9": 970}.items()),
    *(("stress-area", size, f"{area} mm^2", "ISO 898-1:2013") for size, area in {
        "M6 x 1": "20.1", "M8 x 1.25": "36.6", "M10 x 1.5": "58.0", "M12 x 1.75": "84.3",
        "M10 x 1.25": "61.2", "M12 x 1.25": "92.1"}.items()),
    ("nominal-diameter", "M10 x 1.25", "10 mm", "ISO 261"),
    *(("nut-factor", state, factor, "engineering handbooks, as makers of fasteners quote them")
      for state, factor in {"dry": "0.20", "zinc": "0.20", "oiled": "0.15", "cadmium": "0.15",
                            "anti-seize": "0.12"}.items()),
]  # fmt: skip


@cache
def shipped() -> Rules:
    """All that the standard vocabulary has."""
    return read_ruleset("standard").rules


def amount(text: str) -> Amount:
    """`30 psi`, or the plain number `20`, in base units."""
    try:
        return Amount(read_number(text), ONE)
    except ValueError:
        value, its_unit = read_quantity(text)
        return Amount(to_base(value, its_unit), its_unit)


@pytest.mark.parametrize(("name", "given", "printed", "within", "source"), FORMULAS)
def test_a_formula_gives_what_is_printed(
    name: str, given: str, printed: str, within: str | int, source: str
) -> None:
    formula = shipped().formulas[name]
    arguments = [amount(text.strip()) for text in given.split(",")]
    names = [parameter.name for parameter in formula.parameters]
    found, _ = worked_out(formula, dict(zip(names, arguments, strict=True)), shipped())
    wanted = amount(printed)
    back = from_base_difference if formula.difference else from_base
    off = abs(back(found.value, wanted.unit) - back(wanted.value, wanted.unit))
    assert off <= Fraction(within), f"{float(back(found.value, wanted.unit))}, {source}"


@pytest.mark.parametrize(("name", "key", "printed", "source"), TABLES)
def test_a_table_has_what_is_printed(
    name: str, key: str | Fraction, printed: str | None, source: str
) -> None:
    found = dict(shipped().tables[name].rows).get(key)
    assert found == (None if printed is None else amount(printed).value), source


def test_every_formula_and_table_that_ships_is_held_against_a_source() -> None:
    assert {row[0] for row in FORMULAS} == set(shipped().formulas)
    assert {row[0] for row in TABLES} == set(shipped().tables)


def test_every_formula_and_table_that_ships_says_where_it_comes_from() -> None:
    rules = shipped()
    without = [formula.name for formula in rules.formulas.values() if not formula.source]
    assert without + [table.name for table in rules.tables.values() if not table.source] == []


def test_speed_symbols_stand_in_order_of_speed() -> None:
    """Not of the alphabet: H lies between U and V."""
    table = shipped().tables["speed-of"]
    assert table.choices is not None
    speeds = [dict(table.rows)[symbol] for symbol in table.choices.words if symbol != "unmarked"]
    assert speeds == sorted(speeds)


def test_each_load_index_bears_more_than_the_one_before() -> None:
    loads = dict(shipped().tables["load-of"].rows)
    assert list(loads) == sorted(loads)
    assert list(loads.values()) == sorted(set(loads.values()))


def test_stress_areas_are_those_of_the_formula() -> None:
    """ISO 898-1: pi / 4 (d - 0.9382 P)², printed to three figures."""
    for thread, area in shipped().tables["stress-area"].rows:
        diameter, pitch = (float(part) for part in str(thread).removeprefix("M").split(" x "))
        wanted = pi / 4 * (diameter - 0.9382 * pitch) ** 2
        assert float(area) * 1e6 == pytest.approx(wanted, rel=0.005), thread


def test_proof_loads_are_those_that_the_standard_prints() -> None:
    """ISO 898-1:2013, from memory, for 8.8: its rounding is within 0.6 %."""
    areas = dict(shipped().tables["stress-area"].rows)
    proof = dict(shipped().tables["proof-stress"].rows)["8.8"]
    printed = {"M6 x 1": 11_600, "M8 x 1.25": 21_200, "M10 x 1.5": 33_700, "M12 x 1.75": 48_900}
    for thread, load in printed.items():
        assert float(areas[thread] * proof) == pytest.approx(load, rel=0.006)


def test_a_list_of_dot_4_or_better_leaves_silicone_out() -> None:
    """DOT 5 has the boiling points of DOT 5.1 and mixes with nothing (49 CFR 571.116)."""
    words = read_ruleset("common-practice").rules.lists["dot-4-or-better"].words
    assert set(words) == {"DOT 4", "DOT 5.1"}


def test_every_file_of_the_trades_numbers_is_read_alone() -> None:
    for name in ("standard-formulas", "standard-fasteners", "standard-wheels", "standard-engine"):
        assert read_ruleset(rulesets_folder() / f"{name}.trackrules").rules.vocabulary
