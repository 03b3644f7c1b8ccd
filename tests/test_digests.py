"""Two files with one meaning share a digest; whatever an answer hangs on changes it."""

import random
import subprocess
import sys
from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from processes import environment
from rewriting import LAW, reordered
from strategies import Case, cases

from trackprep.reading import parse_ruleset, read_ruleset
from trackprep.rules.meaning import canonical_text, meaning_digest
from trackprep.syntax.printer import print_rules

FACTS = """\
vocabulary small "Small"
fact group "Group" one of novice "Novice", fast "Fast"
fact seat "Seat" one of whole "Whole", torn "Torn"
fact tread "Tread" measured in mm from 0 mm to 12 mm
fact built "Built" week code
fact marks "Marks" several of a "A", b "B", c "C"
fact grade "Grade" graded "level 1" < "level 2" < "level 3"
fact rides "Rides" count
fact first "First pressure" measured in kPa
fact second "Second pressure" measured in kPa
fact tied "Tied" yes or no
fact seen "Seen" yes or no for the inspector
fact spare "Spare" yes or no
fact wet "Wet" yes or no
"""
RULES = """\
ruleset field-day "Field day"
  edition "3"
  valid from 2026-03-01 to 2026-10-31
use "small.trackrules"
here wet is no
limit oldest is 5 years
limit least is 2 mm when group is fast, 1.6 mm otherwise
list seats is whole
section "Machine"
rule tread "Enough tread"
  require tread is at least least
  reason "Rubber."
  source house rule
rule age "Young tyres"
  when group is fast and tied
  require age of built is at most oldest
rule seat "Seat"
  require seat is one of seats
  require tied or rides is at least 3
rule pressure "Pressure"
  recommend second - first is at most 34.5 kPa
rule marks "Marks"
  require marks includes any of a, b
rule grade "Grade" unless group is novice
  require grade is at least "level 2"
rule dry "Dry"
  require wet is no and seen
"""
RULES = RULES.replace('"Grade" unless group is novice', '"Grade"\n  unless group is novice')
SAME = {
    "prose": ('"Rubber."', '"The rubber carries you."'),
    "title": ('"Enough tread"', '"Tread enough"'),
    "edition": ('edition "3"', 'edition "4"'),
    "name of the ruleset": ("field-day", "meadow-day"),
    "source": ("source house rule", "source common practice"),
    "section": ('"Machine"', '"The machine"'),
    "no section": ('section "Machine"\n', ""),
    "months": ("5 years", "60 months"),
    "other unit of a limit": ("2 mm when", "0.2 cm when"),
    "other unit": ("34.5 kPa", "0.345 bar"),
    "arithmetic": ("34.5 kPa", "30 kPa + 4.5 kPa"),
    "name of a limit": ("oldest", "oldest-tyre"),
    "name of a list": ("one of seats", "one of whole"),
    "a limit that nobody names": ("list seats", "limit unused is 3 mm\nlist seats"),
    "core": ("rule seat", "core rule seat"),
    "order of and": ("group is fast and tied", "tied and group is fast"),
    "two whens": ("group is fast and tied", "group is fast\n  when tied"),
    "said twice": ("group is fast and tied", "group is fast and tied and tied"),
    "order of or": ("tied or rides is at least 3", "rides is at least 3 or tied"),
    "unless": ("unless group is novice", "when group is not novice"),
    "twice not": ("when group is fast and", "when not (not (group is fast)) and"),
    "order of choices": ("any of a, b", "any of b, a"),
    "an example": (
        'rule dry "Dry"\n  require wet is no and seen\n',
        'rule dry "Dry"\n  require wet is no and seen\n'
        'example "E"\n declare tread is 1 mm\n expect tread is not met\n',
    ),
}
OTHER = {
    "limit": ("5 years", "6 years"),
    "limit by a hair": ("5 years", "61 months"),
    "row of a limit": ("1.6 mm", "1.5 mm"),
    "condition of a row": ("when group is fast,", "when group is novice,"),
    "list": ("seats is whole", "seats is whole, torn"),
    "comparison": ("is at most 34.5 kPa", "is less than 34.5 kPa"),
    "sides of a difference": ("second - first", "first - second"),
    "level": ("recommend second", "require second"),
    "condition": ("group is fast and tied", "group is fast or tied"),
    "no condition": ("  unless group is novice\n", ""),
    "demand": ("require tied or", "require not tied or"),
    "count": ("at least 3", "at least 4"),
    "set": ("includes any of", "includes all of"),
    "grade": ('least "level 2"', 'least "level 3"'),
    "name of a rule": ("rule seat", "rule saddle"),
    "validity": ("2026-10-31", "2026-10-30"),
    "no validity": ("  valid from 2026-03-01 to 2026-10-31\n", ""),
    "what the event settles": ("here wet is no", "here wet is yes"),
    "what the event leaves open": ("here wet is no\n", ""),
    "age to the month": ("age of built is", "age of built to the month is"),
    "a rule less": ('rule marks "Marks"\n  require marks includes any of a, b\n', ""),
}
SAME_FACTS = {
    "labels": ('"Tread" measured', '"Depth of tread" measured'),
    "order of choices": ('whole "Whole", torn "Torn"', 'torn "Torn", whole "Whole"'),
    "shown in another unit": ("in mm from 0 mm to 12 mm", "in in from 0 cm to 12 mm"),
    "facts nobody asks for": ('fact spare "Spare" yes or no\n', 'fact other "Other" date\n'),
    "how to look": ('"Wet" yes or no', '"Wet" yes or no how "Look." takes 5 min'),
    "marks of privacy": ('"Tied" yes or no', '"Tied" yes or no private'),
}  # fmt: skip
OTHER_FACTS = {
    "range": ("to 12 mm", "to 11 mm"),
    "choice": ('torn "Torn"', 'torn "Torn", absent'),
    "order of grades": ('"level 2" < "level 3"', '"level 3" < "level 2"'),
    "kind of date": ('"Built" week code', '"Built" past date'),
    "type": ('"Group" one of novice "Novice", fast', '"Group" graded novice "Novice" < fast'),
    "whose": ("yes or no for the inspector", "yes or no"),
}


def digest(tmp_path: Path, rules: str = RULES, facts: str = FACTS, **more: str) -> str:
    files = {"small": facts, "field": rules, **more}
    for name, text in files.items():
        (tmp_path / f"{name}.trackrules").write_text(text)
    last = list(files)[-1]
    return meaning_digest(read_ruleset(tmp_path / f"{last}.trackrules").rules)


def changed(text: str, change: tuple[str, str]) -> str:
    assert change[0] in text
    return text.replace(*change)


@pytest.mark.parametrize("change", SAME.values(), ids=SAME)
def test_one_meaning_has_one_digest(tmp_path: Path, change: tuple[str, str]) -> None:
    assert digest(tmp_path, changed(RULES, change)) == digest(tmp_path)


@pytest.mark.parametrize("change", OTHER.values(), ids=OTHER)
def test_another_meaning_has_another(tmp_path: Path, change: tuple[str, str]) -> None:
    assert digest(tmp_path, changed(RULES, change)) != digest(tmp_path)


@pytest.mark.parametrize("change", SAME_FACTS.values(), ids=SAME_FACTS)
def test_how_a_fact_is_told_is_no_meaning(tmp_path: Path, change: tuple[str, str]) -> None:
    assert digest(tmp_path, facts=changed(FACTS, change)) == digest(tmp_path)


@pytest.mark.parametrize("change", OTHER_FACTS.values(), ids=OTHER_FACTS)
def test_what_a_fact_is_is_meaning(tmp_path: Path, change: tuple[str, str]) -> None:
    assert digest(tmp_path, facts=changed(FACTS, change)) != digest(tmp_path)


def test_all_others_differ_from_each_other(tmp_path: Path) -> None:
    found = [digest(tmp_path, changed(RULES, change)) for change in OTHER.values()]
    assert len(set(found)) == len(found)


def test_rules_in_another_order(tmp_path: Path) -> None:
    head, *rules = RULES.split("\nrule ")
    rules = [rule.rstrip("\n") for rule in rules]
    for seed in range(5):
        random.Random(seed).shuffle(rules)
        assert digest(tmp_path, "\nrule ".join([head, *rules]) + "\n") == digest(tmp_path)


def test_a_base_and_its_supplement_are_one_meaning(tmp_path: Path) -> None:
    base = changed(changed(RULES, ("5 years", "7 years")), ("34.5 kPa", "50 kPa"))
    base += 'rule extra "Extra" require tied\n'
    supplement = """\
ruleset club-day "Club day"
supplements "field.trackrules"
stricter limit oldest is 5 years
stricter rule pressure
  recommend second - first is at most 34.5 kPa
withdraw rule extra
  reason "Not here."
"""
    whole = digest(tmp_path)
    assert digest(tmp_path, base) != whole
    assert digest(tmp_path, base, club=supplement) == whole


def test_a_derived_fact_and_a_formula_are_what_they_are_worked_out_from(tmp_path: Path) -> None:
    facts = (
        f'{FACTS}derived rise "Rise" in kPa as second - first\n'
        'derived quick "Quick" means group is fast and tied\n'
    )
    rules = changed(changed(RULES, ("second - first", "rise")), ("group is fast and tied", "quick"))
    assert digest(tmp_path, rules, facts) == digest(tmp_path)


def test_a_row_of_a_limit_has_its_place(tmp_path: Path) -> None:
    """The first row that holds decides: their order is no accident."""
    rows = ("2 mm when group is fast, 3 mm when tied,", "3 mm when tied, 2 mm when group is fast,")
    one, other = (
        digest(tmp_path, changed(RULES, ("2 mm when group is fast,", each))) for each in rows
    )
    assert one != other


@LAW
@given(reordered())
def test_a_section_in_another_order_is_the_same(pair: tuple[Case, Case]) -> None:
    one, other = (parse_ruleset(print_rules(case.rules)).rules for case in pair)
    assert meaning_digest(one) == meaning_digest(other)


@LAW
@given(cases(), st.randoms(use_true_random=False))
def test_order_never_counts(case: Case, chance: random.Random) -> None:
    rules = parse_ruleset(print_rules(case.rules), name="made").rules
    shuffled = {}
    for name in ("facts", "derived", "limits", "lists", "here"):
        items = list(getattr(rules, name).items())
        chance.shuffle(items)
        shuffled[name] = dict(items)
    order = list(rules.rules)
    chance.shuffle(order)
    other = evolve(rules, rules=tuple(order), **shuffled)
    assert canonical_text(other) == canonical_text(rules)


def test_the_digest_is_the_one_that_was_published(tmp_path: Path) -> None:
    """Who changes this line changes digests on sheets that hang at gates: raise the version."""
    kind, _, told = digest(tmp_path).partition(":")
    assert kind == "sha256/meaning-1"
    assert told == "e946764c13680f954ccd63118a12119b558d03e5f47c51ce084eb0470c8eb0ac"


@pytest.mark.parametrize("seed", ["0", "1", "77"])
def test_no_hash_seed_shows(tmp_path: Path, seed: str) -> None:
    here = digest(tmp_path)
    program = (
        "from trackprep.reading import read_ruleset as r\n"
        "from trackprep.rules.meaning import meaning_digest as m\n"
        "print(m(r('field.trackrules').rules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], check=True, cwd=tmp_path, capture_output=True, text=True,
        env=environment(PYTHONHASHSEED=seed),
    )  # fmt: skip
    assert done.stdout.strip() == here
