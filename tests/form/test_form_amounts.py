"""Numbers in the browser: read and ranged as Python does."""

from collections.abc import Sequence
from datetime import date
from itertools import product
from typing import Any

import pytest
from form.measured import fact_in, read
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.problems import Problem
from trackprep.rider.asking_answers import reply
from trackprep.rules.model import Fact
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS

DAY = date(2026, 6, 14)
FEW = settings(max_examples=100 if THOROUGH else 12)


def by_python(text: str, fact: Fact) -> Amount | None:
    said = reply([fact], text, DAY)
    if isinstance(said, Problem):
        return None
    assert isinstance(said.value, Amount)
    return said.value


def assert_alike(call: Any, asked: Sequence[tuple[str, Fact]]) -> int:
    """How many of the texts are amounts, after the two agree on each."""
    count = 0
    for (text, fact), found in zip(asked, read(call, asked), strict=True):
        said = reply([fact], text, DAY)
        if isinstance(said, Problem):
            assert list(found) == ["problem"], (text, fact.type, found, said.message)
            assert found["problem"].endswith("."), found
        else:
            count += 1
            assert isinstance(said.value, Amount)
            wanted = {"plain": str(said.value.value), "written": said.written}
            assert found == wanted, (text, fact.type)
            again = by_python(found["written"], fact)
            assert again is not None
            assert again.value == said.value.value
    return count


FACTS = (
    fact_in("mm", "0", "12"),
    fact_in("mm"),
    fact_in("in", "4", "30"),
    fact_in("psi", "5", "60"),
    fact_in("°C", "-30", "50"),
    fact_in("N*m", "1", "100"),
    fact_in("dB", "40", "140"),
    fact_in("%", "0", "100"),
    fact_in("°", "0", "90"),
    fact_in("rpm", "500", "20000"),
    fact_in("months", "0", "24"),
    fact_in("", "0", "8", whole=True),
    fact_in("", whole=True),
)
NUMBERS = ("0", "3", "007", "3.5", "3.50", "12", "95", "3/32", "1 1/4", "1  1/4", "0 3/2",
           "1 3/2", "1 2/2", "3/0", "1,5", "1,500", "1 500", ".5", "5.", "+5", "1e3",
           "1.2.3", "1/2/3", "3.5/2", "2023-04", "", "1234567890123456789012",
           "12345678901234567890.5", "٣")  # fmt: skip
SIGNS = ("", "-", "−", "- ", "--")
GAPS = ("", " ", "  ", "\t", "\u00a0", "\u2009", "\u3000", "-", ".")
BEHIND = ("", " ", " # by hand", "#", " 3", ",", ".", "s", " mm", '"')


def test_every_number_and_spelling_is_read_as_python_reads_it(call: Any) -> None:
    numbers = list(product(SIGNS, NUMBERS))
    spellings = [*SPELLINGS, "", "lbf·ft", "N⋅m", "μm", "º", "˚", "fl  oz", "MM", "kilo", "foo"]
    asked = [(f"{sign}{number} {name}", FACTS[0]) for sign, number in numbers
             for name in ("mm", "in", "32nds", "", "kg")]  # fmt: skip
    asked += [(f"{sign}{number} mm", FACTS[1]) for sign, number in numbers]
    asked += [(f"{number}{gap}{name}", fact) for name in spellings
              for number, gap, fact in (("25", " ", FACTS[1]), ("6", "", FACTS[1]))]  # fmt: skip
    asked += [(f"20 {name}", fact) for name in spellings for fact in FACTS]
    asked += [(f"{sign}7{gap}mm{end}", FACTS[0]) for sign in SIGNS for gap in GAPS
              for end in BEHIND]  # fmt: skip
    asked += [(f"{sign}{number}{end}", FACTS[-2]) for sign, number in numbers for end in BEHIND]
    assert len(asked) > 3_000
    assert assert_alike(call, asked) > 150  # most are slips


UNIT_TEXTS = st.sampled_from([*SPELLINGS, "", "", "mm", "mm", "MM", "lb", "c", '"'])
NUMBER_TEXTS = st.one_of(
    st.integers(-200, 30_000).map(str),
    st.decimals(-100, 1000, places=3).map(str),
    st.tuples(st.integers(0, 12), st.integers(0, 40), st.integers(0, 64)).map(
        lambda parts: "{} {}/{}".format(*parts)
    ),
    st.sampled_from(NUMBERS),
)
TYPED = st.one_of(
    st.tuples(
        st.sampled_from(("", "", "", *SIGNS)),
        NUMBER_TEXTS,
        st.sampled_from((" ", " ", *GAPS)),
        UNIT_TEXTS,
        st.sampled_from(("", "", "", *BEHIND)),
    ).map("".join),
    st.text("0123456789/.-, #\"mNkPaibrlfnd°CF*·²'–−\\", max_size=12),
    st.text(st.characters(exclude_characters="\r\n\ufeff", codec="utf-8"), max_size=8),
)


@FEW
@given(asked=st.lists(st.tuples(TYPED, st.sampled_from(FACTS)), min_size=40, max_size=120))
def test_whatever_is_typed_means_the_same_in_both(call: Any, asked: list[tuple[str, Fact]]) -> None:
    assert_alike(call, asked)


def test_what_is_written_reads_back_to_the_same_value(call: Any) -> None:
    """As a field does with what it shows, where nothing was rounded."""
    fact = FACTS[1]
    texts = ["1 3/32 in", "−0.25 mm", "2  1/2   in # cold", "3/32 in", "17 32nds", "25.4mm"]
    first = read(call, [(text, fact) for text in texts])
    again = read(call, [(one["written"], fact) for one in first])
    assert again == first


# ---- what a rider is told ---------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "typed", "problem"),
    [
        ("mm", "5", "The unit is missing: write `5 mm`, `5 cm`, `5 in` or `5 32nds`."),
        ("mm", "5 kg", "`kg` is a mass, and this is a length: write it in `mm`, `cm`, `in` or "
                       "`32nds`."),
        ("mm", "5 foo", "`foo` is no unit for a length: write it in `mm`, `cm`, `in` or `32nds`."),
        ("mm", "5 Millimeters", "`Millimeters` is not read here: write `5 mm`."),
        ("mm", '2"', "`\"` is not read here: write `2 in`."),
        ("mm", "2,5 mm", "Numbers are written without a comma here: write `2.5 mm` or `25 mm`."),
        ("rpm", "12,500.5 rpm", "Numbers are written without a comma here: write `12500.5 rpm`."),
        ("mm", ".5 mm", "Write `0.5 mm`."),
        ("mm", "+5 mm", "Write `5 mm`."),
        ("mm", "1 3/2 in", "`1 3/2` is no mixed fraction: its second part must be below 1."),
        ("mm", "50 mm", "`50 mm` cannot be right: this is a number and its unit, from 0 mm to "
                        "40 mm. Measure once more, or mend the unit."),
        ("mm", "", "Write a number and its unit, from 0 mm to 40 mm."),
        ("mm", "thick", "`thick` is not a number that is read here: write a number and its unit, "
                        "from 0 mm to 40 mm."),
        ("psi", "2 kg", "A gauge in kg reads kgf to the square centimetre: write `2 kgf/cm^2`."),
        ("N*m", "20 ft-lbs", "`ft-lbs` is not read here: write `20 lbf*ft`."),
        ("%", "30", "`30` cannot be right: this is a number and its unit, from 0 % to 40 %. If you "
                    "mean `30 %`, write that."),
    ],
)  # fmt: skip
def test_a_problem_says_what_to_write(call: Any, unit: str, typed: str, problem: str) -> None:
    assert read(call, [(typed, fact_in(unit, "0", "40"))]) == [{"problem": problem}]


def test_a_count_is_whole_and_has_no_unit(call: Any) -> None:
    fact = fact_in("", "0", "8", whole=True)
    found = read(call, [(typed, fact) for typed in ("2.5", "4/2", "9", "2 mm", "3")])
    assert found == [
        {"problem": "`2.5` is no whole number: write a whole number from 0 to 8."},
        {"problem": "`4/2` is no whole number: write a whole number from 0 to 8."},
        {"problem": "`9` cannot be right: this is a whole number from 0 to 8. Count once more."},
        {"problem": "Write the number alone, without `mm`."},
        {"plain": "3", "written": "3"},
    ]
