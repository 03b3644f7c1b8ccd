"""`trackprep measure`: each of the trade's numbers on its own.

`tests/measures/` has the calls, each with what it prints. The worked rows of standards are in
`tests/published/`; here stands what a call adds: reading, rounding for people, the messages.
"""

import json
import shlex
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path

import jsonschema
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from processes import call

import trackprep
from trackprep.cli.main import main
from trackprep.dates import Span, age_holds, three_digit_weeks
from trackprep.measures import TOPICS
from trackprep.measures.ages import last_days
from trackprep.measures.figures import beside
from trackprep.measures.labels import span_on_label
from trackprep.published import grammar_folder
from trackprep.units import SPELLINGS, from_base, show

GOLDEN = sorted((Path(__file__).parent / "measures").glob("*.txt"))
EVENT = date(2026, 6, 14)


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["measure", *words]) == 0
    return capsys.readouterr().out


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """The message, its line breaks taken out."""
    assert main(["measure", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    return " ".join(captured.err.split())


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_a_call_prints_just_this(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first, _, expected = path.read_text("utf-8").partition("\n")
    words = shlex.split(first.removeprefix("$ trackprep measure"))
    assert printed(capsys, *words) == expected


def test_every_topic_has_such_a_call() -> None:
    firsts = [path.read_text("utf-8").split()[3] for path in GOLDEN]
    assert set(firsts) == set(TOPICS)


@pytest.mark.parametrize("topic", TOPICS.values(), ids=lambda topic: topic.name)
def test_the_examples_of_the_help_work(topic: object, capsys: pytest.CaptureFixture[str]) -> None:
    name = topic.name  # type: ignore[attr-defined]
    for example in topic.examples:  # type: ignore[attr-defined]
        assert example.split()[0] == name
        out = printed(capsys, *shlex.split(example))
        assert out.endswith("qualified mechanic come first.\n")
        form = json.loads(printed(capsys, *shlex.split(example), "--as", "json"))
        schema = json.loads((grammar_folder() / "measurement.schema.json").read_text())
        jsonschema.validate(form, schema)


@pytest.mark.parametrize("topic", TOPICS.values(), ids=lambda topic: topic.name)
def test_the_help_shows_an_example_of_every_option(
    topic: object, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["measure", topic.name, "--help"])  # type: ignore[attr-defined]
    help_text = " ".join(capsys.readouterr().out.split())
    for option in topic.options:  # type: ignore[attr-defined]
        assert f"--{option.name} {option.example}" in help_text


def test_a_figure_is_held_against_each_row_of_a_limit(capsys: pytest.CaptureFixture[str]) -> None:
    """The machine is not known here, so that no row may be left out, nor one be chosen."""
    out = " ".join(printed(capsys, "sound", "93dB", "--for", "tarn-hollow").split())
    limit = "Tarn Hollow mini-moto day, limit “Sound limit”"
    mini = "if style of machine is “Mini-moto or pit bike”"
    assert f"{limit}, 92 dB {mini}: 93 dB is 1 dB more, outside it." in out
    assert f"{limit}, 95 dB otherwise: 93 dB is 2 dB less, within it." in out


def test_without_a_topic_every_topic_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    listed = [line.split()[0] for line in printed(capsys).splitlines() if line]
    assert listed[: len(TOPICS)] == list(TOPICS)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        # 64 FR 36807: three digits; the weeks by the rule of 49 CFR 574.5(b)(3), computed.
        ("tyre-code 319", "30 July to 5 August 1989 or 1 to 7 August 1999"),
        ("tyre-code 5320", "2020 has weeks 01 to 52"),
        ("pressure 31 --set-at 20C --now 9C", "PRESSURE: `31` has no unit"),
        ("pressure 31 --set-at 20C --now 9C", "write `31 psi`"),
        ("pressure 31psi --set-at 20 --now 9C", "write `20 °C`"),
        (
            "pressure 31psi --set-at 20mm --now 9C",
            "`--set-at` is a temperature; `20mm`",
        ),
        ("pressure 31psi --set-at -300C --now 9C", "`-300 °C` is no plausible value of `--set-at`"),
        ("pressure 31psi --set-at 20C", "--now"),
        ("pressure --set-at 20C --now 9C", "PRESSURE"),
        ("pressure 31psi --set-at 20C --now 9C --altitude 50km", "`outside-pressure` has no value"),
        ("chain 999", "`999` is no choice of `SIZE`"),
        ("chain 219", "no pitch is known here for 219 try: ask the chain's maker"),
        ("chain 520 --length 321mm", "--links is missing"),
        ("chain 520 --length 321mm --links 0", "try: a value from 1"),
        ("chain 520 --length 321mm --links 20.5", "`20.5` is no whole number"),
        (
            "sound-speed",
            "or `--displacement` is asked for, and one is missing",
        ),
        ("sound-speed --rated 9000rpm --stroke 66mm", "and 2 are given"),
        ("sound-speed --stroke 0mm", "`0mm` is nothing"),
        ("sound 98dB --distance 2m", "--distance and --at belong together"),
        ("speed-symbol", "one of SYMBOL or `--top-speed` is asked for"),
        ("speed-symbol H --top-speed 99mph", "one of SYMBOL or `--top-speed` is asked for"),
        ("torque M8", "--class is missing"),
        ("torque M7 --class 8.8", "`M7` is no choice of `BOLT`"),
        ("torque 22mm", "`22mm` is a length, not a torque"),
        ("helmet 04/23", "could be April 2023 or 23 April of a year that is not told"),
        ("helmet 06/10", "June 2010 or October 2006: write `2010-06` or `2006-10`"),
        ("helmet Jux 2021", "names no month"),
        ("helmet 13/2021", "has no month from 1 to 12"),
        ("helmet 2021-06 --on 2026-06", "`2026-06` is not one day"),
        ("units 3 furlongs", "`furlongs` is not a unit that is read here"),
        ("units 3", "`3` has no unit"),
        ("tread 3/32in --for nowhere", "no ruleset called `nowhere`"),
        ("tyre 2319", "tyre-code"),
    ],
)
def test_what_cannot_be_read_is_one_message(
    words: str, message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert message in refused(capsys, *words.split())


def test_declarations_name_the_same_weeks_as_measuring() -> None:
    ruleset = trackprep.read_ruleset("tarn-hollow")
    with pytest.raises(trackprep.DeclarationError) as wrong:
        trackprep.parse_declaration('tyre.front.built is "319"', ruleset)
    with pytest.raises(ValueError) as refused:
        trackprep.measure("tyre-code", "319", on=EVENT)
    assert str(refused.value) == wrong.value.problems[0].message


@pytest.mark.parametrize(
    ("code", "first_days"),
    [
        # Computed from 49 CFR 574.5(b)(3) for each decade before the four digits.
        ("031", ["1971-01-17", "1981-01-18", "1991-01-20"]),
        ("324", ["1974-08-11", "1984-08-05", "1994-08-07"]),
        ("529", ["1979-12-30", "1989-12-24", "1999-12-26"]),
        ("539", ["1989-12-31"]),  # 53 Sundays in 1989 alone
        ("549", []),
        ("009", []),
        ("2319", []),
    ],
)
def test_three_digits_are_a_week_of_some_decade(code: str, first_days: list[str]) -> None:
    assert [str(week.first) for week in three_digit_weeks(code)] == first_days


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        # FMVSS 218 S5.6.1, from memory: the month may be spelled or in numerals.
        ("06/2021", "2021-06-01", "2021-06-30"),
        ("6/2021", "2021-06-01", "2021-06-30"),
        ("2021-06", "2021-06-01", "2021-06-30"),
        ("2021/06", "2021-06-01", "2021-06-30"),
        ("Jun 2021", "2021-06-01", "2021-06-30"),
        ("June, 2021", "2021-06-01", "2021-06-30"),
        ("SEPT. 2021", "2021-09-01", "2021-09-30"),
        ("2021", "2021-01-01", "2021-12-31"),
        ("2021-06-09", "2021-06-09", "2021-06-09"),
    ],
)
def test_a_label_is_read_as_makers_print_it(text: str, first: str, last: str) -> None:
    assert span_on_label(text) == Span(date.fromisoformat(first), date.fromisoformat(last))


@given(
    st.dates(date(1990, 1, 1), date(2030, 1, 1)),
    st.integers(1, 150),
    st.sampled_from(["day", "month"]),
)
def test_the_last_day_of_a_limit_is_the_last(made: date, months: int, grain: str) -> None:
    last = last_days(Span.of_day(made), months, grain).first  # type: ignore[arg-type]
    for day, holds in ((last, True), (last.fromordinal(last.toordinal() + 1), False)):
        found = age_holds(
            Span.of_day(made), Span.of_day(day), "at most", months=months,
            grain=grain,  # type: ignore[arg-type]
        )  # fmt: skip
        assert found is holds


@pytest.mark.parametrize("unit", sorted({unit.name for unit in SPELLINGS.values()}))
def test_units_beside_each_other_measure_the_same(unit: str) -> None:
    units = beside(SPELLINGS[unit])
    assert units[0].name == unit
    assert {one.dimension for one in units} == {SPELLINGS[unit].dimension}
    assert len(set(units)) == len(units)


def test_from_python_a_result_is_exact() -> None:
    found = trackprep.measure("chain", "520", length="321 mm", links=20)
    assert found["elongation"].value == Fraction(321_000, 20 * 15_875) - 1
    quantity = pint.application_registry.Quantity(Fraction(31), "psi")
    by_text = trackprep.measure("pressure", "31 psi", set_at="20 °C", now="80 °C")
    by_pint = trackprep.measure("pressure", quantity, set_at="68 °F", now="176 °F")
    assert by_text["pressure now"].value == by_pint["pressure now"].value
    # Law of Gay-Lussac with 101.325 kPa outside: 31 psi, 20 to 80 °C, 40.3527 psi, computed.
    shown = show(by_text["pressure now"].value, SPELLINGS["psi"])
    assert shown == "about 40.35 psi"
    assert str(by_text).startswith("Tyre pressure at another temperature\n")
    with pytest.raises(KeyError):
        _ = by_text["pressure tomorrow"]


def test_a_wrong_call_from_python_is_refused() -> None:
    with pytest.raises(ValueError, match="did you mean `tyre-code`"):
        trackprep.measure("tyre-codes", "2319")
    with pytest.raises(TypeError, match="takes no `links`"):
        trackprep.measure("tread", "3 mm", links=3)
    with pytest.raises(TypeError, match="by name"):
        trackprep.measure("belly-pan", "3 L")
    with pytest.raises(TypeError, match="date"):
        trackprep.measure("tyre-code", "2319", on=datetime(2026, 6, 14))
    with pytest.raises(ValueError, match="PRESSURE"):
        trackprep.measure("pressure", set_at="20 °C", now="9 °C")


def test_the_limits_are_those_of_the_ruleset_that_is_asked_for(
    capsys: pytest.CaptureFixture[str],
) -> None:
    ruleset = trackprep.parse_ruleset(
        'ruleset strict "Strict day" limit tread-depth "Least tread" is 3 mm source house rule'
        ' rule tread "Tread" require tyre.front.tread is at least tread-depth'
    )
    found = trackprep.measure("tread", "2.5 mm", limits_of=ruleset)
    assert "Strict day, limit “Least tread”, 3 mm: 2.5 mm is 0.5 mm" in " ".join(found.says)
    assert "outside it" in found.says[0]
    assert "within it" in printed(capsys, "tread", "2.5mm")


@pytest.mark.parametrize(
    "words",
    [
        ("torque", "M8", "--class", "8.8", "--thread", "dry"),
        ("torque", "M10 x 1.25", "--class", "10.9"),
        ("torque", "22 N*m"),
    ],
)
def test_a_torque_never_comes_without_the_manual(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert "The figure in the machine's manual always wins." in printed(capsys, *words)


def test_an_irrational_result_is_known_to_forty_digits(
    capsys: pytest.CaptureFixture[str],
) -> None:
    words = ("sound", "98dB", "--distance", "1m", "--at", "2m", "--as", "json")
    results = json.loads(printed(capsys, *words))["results"]
    exact = next(result["exact"] for result in results if "open" in result["label"])
    # 98 - 20 lg 2; lg 2 = 0.30102999566398119521373889472449302676818988146210854131 (OEIS A007524)
    assert exact == "91.97940008672037609572522210551013946464"


@pytest.mark.parametrize("name", ["2.1 bar", "31 psi", "210 kPa"])
def test_the_answer_comes_in_the_unit_that_was_given(name: str) -> None:
    unit = name.split()[1]
    found = trackprep.measure("pressure", name, set_at="20 °C", now="20 °C")
    assert found["pressure now"].unit.name == unit
    assert from_base(found["pressure now"].value, SPELLINGS[unit]) == Fraction(name.split()[0])


def test_a_process_prints_what_a_person_asked(folder: Path) -> None:
    """A value of several words needs no quotes, and one below zero no equals sign."""
    result = call(folder, "measure", "pressure", "31", "psi", "--set-at", "20C", "--now", "-5C")
    assert (result.code, result.err) == (0, "")
    assert "about 27.1 psi (1.87 bar, 187 kPa)" in result.out
    result = call(folder, "measure", "tyre-code", "319", "--as", "json")
    assert result.code == 2
    assert "1979" in json.loads(result.out)["problems"][0]["message"]
