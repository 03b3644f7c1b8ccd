"""The pressure log in the browser: the figures, sentences and lines of Python's."""

from fractions import Fraction

import pytest
from form.conftest import Call
from form.pressure_logs import (
    AIRS,
    FIGURE_LINES,
    FORM,
    HEIGHTS,
    LOGS,
    OTHER_LINES,
    READING_LINES,
    STANDARD,
    agree,
    of,
    read,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import THOROUGH

from trackprep.pressures.log import read_log
from trackprep.units import SPELLINGS, from_base

FEW = settings(max_examples=100 if THOROUGH else 25, deadline=None)
LAW = "law of Gay-Lussac with the standard atmosphere of NIST SP 811, computed"
ISA = "ISO 2533, the standard atmosphere, computed"


@FEW
@given(LOGS, AIRS, st.one_of(st.just(""), HEIGHTS))
def test_any_log_is_what_it_is_in_python(call: Call, text: str, air: str, altitude: str) -> None:
    agree(call, text, air, altitude)


SOUND = st.lists(st.one_of(FIGURE_LINES, OTHER_LINES, READING_LINES), min_size=1, max_size=6)


@FEW
@given(SOUND)
def test_python_reads_what_the_page_writes(call: Call, lines: list[str]) -> None:
    """What was typed is written anew by the page, and means the same to Python."""
    text = "".join(f"{line}\n" for line in lines)
    found = read(call, text)
    written = call("(form, lines) => withLogLines('', lines, form)", FORM, found["lines"])
    log = read_log(written, "log", STANDARD)
    assert not log.problems
    before = read_log(text, "log", STANDARD)
    assert log.figures == before.figures
    assert [reading.pressure for reading in log.readings] == [
        reading.pressure for reading in before.readings
    ]


# ---- what is published ---------------------------------------------------------------


@pytest.mark.parametrize(("figure", "given_at", "air", "expected", "source"), [
    ("30 psi", "70 °F", "80 °F", "30.8438", LAW),
    ("32 psi", "70 °F", "60 °F", "31.1184", LAW),
    ("2.1 bar", "20 °C", "80 °C", "2.73720", LAW),
    ("2.5 bar", "20 °C", "0 °C", "2.26031", LAW),
])  # fmt: skip
def test_what_a_figure_equals_now(
    call: Call, figure: str, given_at: str, air: str, expected: str, source: str
) -> None:
    found = read(call, f"front figure is {figure} at {given_at}\n", air)["settings"][0]
    value, unit = found["equals"]
    number = from_base(Fraction(value), SPELLINGS[unit])
    assert abs(number - Fraction(expected)) <= Fraction(
        1, 2 * 10 ** len(expected.partition(".")[2])
    ), source


def test_higher_up_the_same_air_shows_more(call: Call) -> None:
    text = "front figure is 31 psi at 20 °C altitude 0 m\n"
    found = read(call, text, "20 °C", "1000 m")["settings"][0]
    more = from_base(Fraction(found["equals"][0]) - of("31 psi").value, SPELLINGS["psi"])
    assert abs(more - Fraction("1.661")) <= Fraction(1, 2000), ISA


def test_the_day_of_the_readme(call: Call) -> None:
    text = (
        "front figure is 31 psi at 20 °C\nfront least is 26 psi\nfront sidewall is 42 psi\n"
        "front road is 36 psi\n"
        "on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C altitude 600 m\n"
    )
    found = agree(call, text, "9 °C", "600 m")
    assert found["settings"][0]["said"] == [
        "about 29.3 psi (2.02 bar, 202 kPa)", "29.3 psi (about 2.02 bar, 202 kPa)",
    ]  # fmt: skip
    assert found["advice"][0]["do"] == "bleed"
    assert "set the front tyre to 36 psi" in found["road"][0]


# ---- the log stays -------------------------------------------------------------------


@pytest.mark.parametrize("text", ["", "front road is 36 psi\n", "front road is 36 p", "# odd\r\n"])
def test_lines_are_only_added_at_the_end(call: Call, text: str) -> None:
    added = call("(form, text) => withLogLines(text, ['rear road is 2.5 bar'], form)", FORM, text)
    assert added.startswith(text)
    assert added.endswith("\nrear road is 2.5 bar\n")
    assert read_log(added, "log", STANDARD).figures["rear"].road == of("2.5 bar")


def test_a_log_of_another_device_loses_no_line_of_either(call: Call) -> None:
    one = "front road is 36 psi\n"
    both = "(form, one, other) => withLogOf(one, other, form)"
    assert call(both, FORM, "", one) == one
    assert call(both, FORM, one, one) == one
    assert (
        call(both, FORM, one, f"\ufeff{one}rear road is 40 psi\r\n")
        == one + "rear road is 40 psi\n"
    )
    other = "rear road is 40 psi\n# mine\n"
    assert call(both, FORM, one, other + one) == one + other
