"""`trackprep pressures`: published rows through the command, the advice, and a log that stays."""

import json
import os
import resource
import shlex
import subprocess
import sys
import threading
from datetime import date, time
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from processes import call, environment

import trackprep
from trackprep.cli.main import main
from trackprep.measures.bench import Bench
from trackprep.pressures.advice import advice
from trackprep.pressures.day import DayReport
from trackprep.pressures.log import figure_lines, read_log, reading_line
from trackprep.pressures.setting import setting
from trackprep.pressures.tyres import Day, Figures, Reading
from trackprep.published import grammar_folder
from trackprep.rules.values import Amount
from trackprep.units import SPELLINGS, from_base, read_quantity, to_base

STANDARD = trackprep.read_ruleset("standard").rules
GOLDEN = sorted((Path(__file__).parent / "pressures").glob("*.txt"))
LAW = "law of Gay-Lussac with the standard atmosphere of NIST SP 811, computed"
ISA = "ISO 2533, the standard atmosphere, computed"
DAY = date(2026, 6, 14)


def of(text: str) -> Amount:
    number, unit = read_quantity(text)
    return Amount(to_base(number, unit), unit, text)


def bench() -> Bench:
    return Bench(STANDARD, DAY, {})


def printed(capsys: pytest.CaptureFixture[str], words: str, code: int = 0) -> str:
    """What a step prints, its line breaks taken out."""
    assert main(["pressures", *shlex.split(words)]) == code
    return " ".join(capsys.readouterr().out.split())


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to be in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


# ---- what the figure equals -------------------------------------------------------

ROWS = [
    # The maker's figure, given at, the air now, printed, what a ratio of gauge pressures gives.
    ("30 psi", "70 °F", "80 °F", "30.8438", "30.5664", LAW),
    ("30 psi", "60 °F", "100 °F", "33.4403", "32.3092", LAW),
    ("32 psi", "70 °F", "60 °F", "31.1184", "31.3959", LAW),
    ("36 psi", "41 °F", "77 °F", "39.6452", "38.5885", LAW),
    ("31 psi", "20 °C", "80 °C", "40.3527", "37.3449", LAW),
    ("2.1 bar", "20 °C", "80 °C", "2.73720", "2.52981", LAW),
    ("2.5 bar", "20 °C", "0 °C", "2.26031", "2.32944", LAW),
    ("1.9 bar", "25 °C", "75 °C", "2.38855", "2.21863", LAW),
]


@pytest.mark.parametrize(("figure", "given_at", "air", "expected", "wrong", "source"), ROWS)
def test_the_figure_equals_now_what_the_gas_law_says(
    figure: str, given_at: str, air: str, expected: str, wrong: str, source: str
) -> None:
    found = setting(bench(), "front", Figures(of(figure), of(given_at)), of(air))
    number = from_base(found.equals.value, found.equals.unit)
    digits = Fraction(1, 10 ** len(expected.partition(".")[2]))
    assert abs(number - Fraction(expected)) <= digits / 2, source
    assert abs(number - Fraction(wrong)) > digits


@pytest.mark.parametrize(("figure", "given_at", "air", "expected", "wrong", "source"), ROWS)
def test_the_command_prints_the_same(
    figure: str, given_at: str, air: str, expected: str, wrong: str, source: str,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    out = printed(capsys, f'now front "{figure}" --given-at "{given_at}" --air "{air}"')
    unit = figure.split()[1]
    decimals = 1 if unit == "psi" else 2
    shown = f"{float(round(Fraction(expected), decimals)):g} {unit}"
    assert f"Front tyre: set {shown}" in out, source
    # The working has four digits.
    working = f"{float(f'{float(expected):.4g}'):g} {unit}"
    assert working in out.partition("== Working ==")[2], source


# ISO 2533: at the same temperature the gauge of a sealed tyre rises with the altitude.
@pytest.mark.parametrize(("altitude", "rise"), [("1000 m", "1.661"), ("1500 m", "2.432")])
def test_higher_up_the_same_air_shows_more(altitude: str, rise: str) -> None:
    figures = Figures(of("31 psi"), of("20 °C"), of("0 m"))
    found = setting(bench(), "front", figures, of("20 °C"), of(altitude))
    more = from_base(found.equals.value - of("31 psi").value, SPELLINGS["psi"])
    assert abs(more - Fraction(rise)) <= Fraction(1, 2000), ISA


# A vehicle handbook: about 3 psi for a drop of 30 °F.
def test_the_rule_of_thumb_stands_beside_it(capsys: pytest.CaptureFixture[str]) -> None:
    out = printed(capsys, "now front 38psi --given-at 70F --air 40F")
    assert "By rule of thumb: 35 psi" in out


def test_a_figure_without_a_temperature_holds_as_the_tyre_stands(
    capsys: pytest.CaptureFixture[str],
) -> None:
    out = printed(capsys, "now rear 29psi --air 5C")
    assert "Rear tyre: set 29 psi" in out
    assert "no temperature" in out


# ---- what is dangerous ------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "caution"),
    [
        # The maximum on the sidewall taken for a setting, reached exactly, or just not.
        ("front 42psi --sidewall 42psi --air 20C", "is no setting"),
        ("front 43psi --sidewall 42psi --air 20C", "is no setting"),
        ("front 41.9psi --sidewall 42psi --air 20C", None),
        # It is reached by what the figure equals now, and by what it becomes hot.
        ("front 41psi --given-at 0C --sidewall 42psi --air 20C", "set less"),
        ("front 31psi --given-at 20C --sidewall 40psi --air 20C --hot-at 80C",
         "Do not bleed it hot because of that"),
        ("front 31psi --given-at 20C --sidewall 41psi --air 20C --hot-at 80C", None),
        # The road figure taken for the track's.
        ("front 36psi --road 36psi --air 20C", "the same as the road figure"),
        ("front 36psi --road 2.5bar --air 20C", None),
        ("front 31psi --road 43psi --sidewall 42psi --air 20C", "The road figure of the front"),
        # The maker's least.
        ("front 25psi --least 26psi --air 20C", "do not go below the least"),
        ("front 26.5psi --least 26psi --given-at 20C --air 0C", "set 26 psi"),
        ("front 31psi --hot-target 42psi --sidewall 42psi --air 20C", "The hot target of the"),
    ],
)  # fmt: skip
def test_figures_are_told_apart(
    words: str, caution: str | None, capsys: pytest.CaptureFixture[str]
) -> None:
    out = printed(capsys, f"now {words}")
    cautions = out.partition("== Front tyre")[0]
    ours = (
        "no setting", "set less", "because of that", "the same as", "road figure of",
        "do not go below", "hot target",
    )  # fmt: skip
    if caution is None:
        assert not any(said in cautions for said in ours)
    else:
        assert caution in cautions


def test_nothing_is_set_below_the_least(capsys: pytest.CaptureFixture[str]) -> None:
    out = printed(capsys, "now front 26.5psi --least 26.04psi --given-at 20C --air 0C")
    assert "Front tyre: set 26.04 psi" in out


PRESSURES = st.fractions(150_000, 300_000, max_denominator=1000)
WARMTH = st.fractions(263, 323, max_denominator=10)


@given(PRESSURES, PRESSURES, WARMTH, WARMTH)
def test_no_setting_is_below_the_least_and_none_is_far_from_the_figure(
    figure: Fraction, least: Fraction, given_at: Fraction, air: Fraction
) -> None:
    psi, celsius = SPELLINGS["psi"], SPELLINGS["°C"]
    figures = Figures(Amount(figure, psi), Amount(given_at, celsius), least=Amount(least, psi))
    found = setting(bench(), "front", figures, Amount(air, celsius))
    assert found.goal.value >= least
    if found.equals.value >= least:
        assert abs(found.goal.value - found.equals.value) <= to_base(Fraction(1, 20), psi)
    # The other way round it is the figure again.
    back = setting(
        bench(), "front", Figures(found.equals, Amount(air, celsius)), Amount(given_at, celsius)
    )
    assert back.equals.value == figure


# ---- what a reading asks for --------------------------------------------------------

FULL = Figures(of("31 psi"), of("20 °C"), None, of("26 psi"), of("42 psi"), of("36 psi"))
AIMED = Figures(of("31 psi"), of("20 °C"), None, of("26 psi"), of("42 psi"), None, of("34 psi"))


def reading(pressure: str, state: str, figures: Figures = FULL, **more: object) -> Reading:
    given = {"at": time(9, 0), **more}
    return Reading(day=DAY, tyre="front", pressure=of(pressure), state=state, figures=figures,
                   **given)  # type: ignore[arg-type]  # fmt: skip


@pytest.mark.parametrize(
    ("one", "do", "goal"),
    [
        # 31 psi at 20 °C is 29.29 psi at 9 °C (Gay-Lussac, computed).
        (reading("30.2 psi", "cold", air=of("9 °C")), "bleed", "29.3 psi"),
        (reading("29.3 psi", "cold", air=of("9 °C")), "leave", "29.3 psi"),
        (reading("28 psi", "cold", air=of("9 °C")), "add", "29.3 psi"),
        (reading("29.3 psi", "cold"), "nothing known", None),
        # The tyre's own temperature counts before the air's.
        (reading("31 psi", "cold", air=of("9 °C"), warm=of("20 °C")), "leave", "31 psi"),
        # Never below the least: at -25 °C the figure would be 24 psi.
        (reading("26.5 psi", "cold", air=of("-25 °C")), "bleed", "26 psi"),
        # Hot readings bleed nothing without a hot target.
        (reading("38 psi", "hot", air=of("20 °C"), warm=of("70 °C")), "leave", None),
        # With one, only where the least stays: 34 psi at 62 °C is 26.3 psi at 9 °C.
        (reading("35.5 psi", "hot", AIMED, warm=of("62 °C")), "bleed", "34 psi"),
        (reading("35.5 psi", "hot", AIMED, warm=of("90 °C")), "hands off", None),
        (reading("35.5 psi", "hot", AIMED), "hands off", None),
        (reading("34 psi", "hot", AIMED), "leave", "34 psi"),
        (reading("33 psi", "hot", AIMED), "add", "34 psi"),
        (reading("31 psi", "cold", Figures()), "nothing known", None),
    ],
)
def test_a_reading_asks_for(one: Reading, do: str, goal: str | None) -> None:
    found = advice(bench(), Day(DAY, {"front": FULL, "rear": Figures()}, (one,)), one)
    assert found.do == do, found.says
    if goal is None:
        assert found.goal is None
    else:
        assert found.goal is not None
        assert found.goal.value == of(goal).value


def test_bleeding_hot_is_refused_where_the_coldest_reading_would_fall_below_the_least() -> None:
    """34 psi at 75 °C is 26.5 psi at 20 °C, and 24.6 psi at 9 °C (Gay-Lussac, computed)."""
    hot = reading("36 psi", "hot", AIMED, warm=of("75 °C"), at=time(11, 0))
    cold = reading("29.3 psi", "cold", AIMED, air=of("9 °C"), was_set=True)
    without = advice(bench(), Day(DAY, {}, (hot,)), hot)
    after = advice(bench(), Day(DAY, {}, (cold, hot)), hot)
    assert (without.do, after.do) == ("bleed", "hands off")
    assert "below the least" in after.says


def test_without_a_least_nobody_is_told_to_bleed_hot() -> None:
    figures = Figures(of("31 psi"), of("20 °C"), hot_target=of("34 psi"))
    hot = reading("36 psi", "hot", figures, warm=of("75 °C"))
    found = advice(bench(), Day(DAY, {}, (hot,)), hot)
    assert (found.do, "--least" in found.says) == ("hands off", True)


def test_what_was_set_is_followed_where_the_maker_gives_no_temperature() -> None:
    """30 psi set at 70 °F shows 30.8438 psi at 80 °F."""
    figures = Figures(of("30 psi"))
    first = reading("30 psi", "cold", figures, air=of("70 °F"), was_set=True, at=time(8, 0))
    later = reading("30.2 psi", "cold", figures, air=of("80 °F"))
    found = advice(bench(), Day(DAY, {}, (first, later)), later)
    assert found.do == "add"
    assert found.goal is not None
    assert found.goal.value == of("30.8 psi").value
    assert "set at 08:00" in found.says


@pytest.mark.parametrize(("pressure", "lost"), [("26 psi", True), ("31.6 psi", False)])
def test_a_tyre_that_shows_less_than_the_air_set_in_it_has_lost_some(
    pressure: str, lost: bool
) -> None:
    """29.3 psi at 9 °C is 31.6 psi at 24 °C (Gay-Lussac, computed)."""
    first = reading("29.3 psi", "cold", air=of("9 °C"), was_set=True, at=time(8, 12))
    later = reading(pressure, "cold", air=of("24 °C"), at=time(13, 40))
    found = advice(bench(), Day(DAY, {}, (first, later)), later)
    assert ("lost air since 08:12" in found.says) == lost


@pytest.mark.parametrize(
    ("pressure", "state", "caution"),
    [
        ("25.9 psi", "cold", "do not ride on it"),
        ("26 psi", "cold", None),
        ("42 psi", "cold", "bleed it before you ride"),
        ("42 psi", "hot", "let it cool"),
        ("41.9 psi", "hot", None),
    ],
)
def test_a_reading_past_a_bound_is_a_caution(
    pressure: str, state: str, caution: str | None
) -> None:
    one = reading(pressure, state, air=of("20 °C"), warm=of("20 °C"))
    found = advice(bench(), Day(DAY, {"front": FULL}, (one,)), one)
    assert (caution in " ".join(found.cautions)) if caution else not found.cautions


# ---- the log ------------------------------------------------------------------------

QUANTITIES = st.sampled_from(["31 psi", "2.1 bar", "214 kPa", "30.25 psi"])
TEMPERATURES = st.none() | st.sampled_from(["9 °C", "-4.5 °C", "48.2 °F"])
READINGS = st.builds(
    Reading,
    day=st.dates(date(2020, 1, 1), date(2030, 1, 1)),
    at=st.times().map(lambda at: at.replace(second=0, microsecond=0, tzinfo=None)),
    tyre=st.sampled_from(["front", "rear"]),
    pressure=QUANTITIES.map(of),
    state=st.sampled_from(["cold", "hot"]),
    was_set=st.booleans(),
    air=TEMPERATURES.map(lambda text: text and of(text)),
    warm=TEMPERATURES.map(lambda text: text and of(text)),
    altitude=st.none() | st.sampled_from(["600 m", "-3 m", "1000 ft"]).map(of),
    note=st.sampled_from(["", "after session 2", "valve # 2"]),
)


@given(READINGS)
def test_a_reading_reads_back(one: Reading) -> None:
    log = read_log(reading_line(one) + "\n", "a.log", STANDARD)
    assert log.problems == ()
    assert log.readings == (one,)


def test_figures_read_back_and_the_later_line_counts() -> None:
    text = "".join(f"{line}\n" for line in figure_lines("front", FULL))
    log = read_log(text, "a.log", STANDARD)
    assert (log.problems, log.figures["front"]) == ((), FULL)
    again = read_log(text + "front figure is 30 psi\nfront least is 1.9 bar\n", "a.log", STANDARD)
    assert again.figures["front"].figure == of("30 psi")
    assert again.figures["front"].given_at is None
    assert again.figures["front"].least == of("1.9 bar")
    assert again.figures["rear"] == Figures()


@given(
    st.text(st.characters(codec="utf-8"), max_size=200)
    | st.lists(
        st.sampled_from(
            "on 2026-06-14 at 08:10 front rear is set to 30.2 psi cold hot air tyre 9 °C"
            " altitude least # figure - / \n".split(" ")
        ),
        max_size=30,
    ).map(" ".join)
)
def test_whatever_stands_in_a_log_is_read_or_told(text: str) -> None:
    log = read_log(text, "a.log", STANDARD)
    for problem in log.problems:
        assert str(problem).replace("\n", "").isprintable()
    for day in log.days():
        DayReport(log.day(day), STANDARD).text(60)


LINES = """\
front figure is 31 psi at 20 °C
on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C altitude 600 m
on 2026-06-14 at 10:40 front is 35.5 psi hot air 19 °C tyre 62 °C  # fast
"""


@given(st.integers(0, len(LINES.encode())))
def test_a_crash_at_any_byte_loses_no_earlier_line_and_is_told(cut: int) -> None:
    """What a crash leaves is the beginning of what was written."""
    left = LINES.encode()[:cut]
    log = read_log(left.decode(errors="replace"), "a.log", STANDARD)
    whole = left.count(b"\n")
    assert len(log.readings) + bool(log.figures["front"].figure) >= whole
    assert bool(log.problems) == bool(left and not left.endswith(b"\n"))
    # What is added afterwards stands on a line of its own, and is read.
    text = left.decode(errors="replace")
    glue = "" if not text or text.endswith("\n") else "\n"
    again = read_log(f"{text}{glue}rear least is 26 psi\n", "a.log", STANDARD)
    assert again.figures["rear"].least == of("26 psi")


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("front figure is 31", "has no unit"),
        ("front figur is 31 psi", "no line of a pressure log"),
        ("middle least is 26 psi", "no line of a pressure log"),
        ("front is 31 psi cold", "no line of a pressure log"),
        ("on 2026-06-31 at 08:10 front is 31 psi cold", "2026-06-31"),
        ("on 2026-06-14 at 24:10 front is 31 psi cold", "no time of day"),
        ("on 2026-06-14 at 08:10 front is 31 mm cold", "is a length"),
        ("on 2026-06-14 at 08:10 front is 31 psi cold air 9 °C air 9 °C", "twice"),
        ("on 2026-06-14 at 08:10 front is 31 psi cold sunny", "`sunny` is not understood"),
        ("on 2026-06-14 at 08:10 front is 31 psi cold air -400 °C", "plausible"),
        ("front least is 2\ufffd psi", "damaged"),
        ("front least is 26 psi \x1b[2J", "damaged"),
        ("front least is 26 psi\x0brear road is 30 psi", "damaged"),
    ],
)
def test_a_line_that_cannot_be_read_is_told_with_its_place(line: str, message: str) -> None:
    log = read_log(f"rear least is 26 psi\n\n  {line}\nrear road is 36 psi\n", "a.log", STANDARD)
    (problem,) = log.problems
    assert message in problem.message
    assert (problem.file, problem.line, problem.column) == ("a.log", 3, 3)
    assert problem.expected or problem.suggestion
    assert (log.figures["rear"].least, log.figures["rear"].road) == (of("26 psi"), of("36 psi"))


# ---- the command ----------------------------------------------------------------------

START = "figure front 31psi --given-at 20C --least 26psi --sidewall 42psi --road 36psi"
MORNING = "log front 30.2psi cold --air 9C --on 2026-06-14 --at 08:10"


def steps(folder: Path, *calls: str) -> None:
    for words in calls:
        result = call(folder, "pressures", *shlex.split(words))
        assert result.code == 0, result.err


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_a_day_prints_just_this(path: Path, here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The file has the calls, and what the last of them prints."""
    text = path.read_text("utf-8")
    lines = text.splitlines(keepends=True)
    calls = [line for line in lines if line.startswith("$ ")]
    out = ""
    for line in calls:
        main(shlex.split(line)[2:])
        out = capsys.readouterr().out
    assert out == "".join(lines[len(calls) :])


def test_the_log_is_text_that_only_grows(tmp_path: Path) -> None:
    steps(tmp_path, START, MORNING)
    log = tmp_path / "pressures.log"
    before = log.read_text("utf-8")
    assert "front figure is 31 psi at 20 °C\n" in before
    assert before.endswith("on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C\n")
    edited = before.replace("30.2 psi", "30.3 psi  ").replace("\n", "\r\n")
    log.write_bytes(edited.encode())
    steps(tmp_path, "log front set 29.3psi cold --air 9C --on 2026-06-14 --at 08:12 --note 'first'")
    after = log.read_bytes().decode()
    assert after.startswith(edited)
    assert after.endswith("front set to 29.3 psi cold air 9 °C  # first\n")
    shown = call(tmp_path, "pressures", "show")
    assert (shown.code, shown.err) == (0, "")
    assert "30.3" in shown.out


def test_what_a_tyre_was_read_at_hot_is_looked_at_again_next_time(tmp_path: Path) -> None:
    """31 psi at 20 °C is 40.35 psi at 80 °C (Gay-Lussac, computed)."""
    steps(tmp_path, START.replace("42psi", "40psi"), "log front 39psi hot --tyre 80C --air 20C")
    result = call(tmp_path, "pressures", "now", "--air", "20C")
    said = " ".join(result.out.split())
    assert "At 80 °C (176 °F) the front tyre gets to about 40.4 psi" in said
    assert "reaches the maximum on the sidewall" in said


def test_the_clock_is_read_where_no_time_is_said(tmp_path: Path) -> None:
    before = date.today()
    steps(tmp_path, "log front 30psi cold --air 9C --log sam.log")
    line = (tmp_path / "sam.log").read_text("utf-8").splitlines()[-1]
    assert line.split()[1] in {before.isoformat(), date.today().isoformat()}


def test_the_altitude_of_the_paddock_is_kept_for_the_day(tmp_path: Path) -> None:
    steps(tmp_path, MORNING + " --altitude 600m", MORNING.replace("08:10", "09:00"))
    assert (tmp_path / "pressures.log").read_text("utf-8").count("altitude 600 m") == 2


@pytest.mark.parametrize(
    "tail", [b"on 2026-06-14 at 09:00 front is 30", b"on 2026-06-14 at\xc2", b"\0\0"]
)
def test_a_damaged_last_line_is_told_and_kept(tmp_path: Path, tail: bytes) -> None:
    steps(tmp_path, START, MORNING)
    log = tmp_path / "pressures.log"
    damaged = log.read_bytes() + tail
    log.write_bytes(damaged)
    result = call(tmp_path, "pressures", "log", "front", "29.3psi", "cold", "--air", "9C")
    assert result.code == 0
    assert "the last line has no line break" in " ".join(result.err.split())
    assert log.read_bytes().startswith(damaged + b"\non ")
    shown = call(tmp_path, "pressures", "show", "--on", "2026-06-14")
    assert shown.code == 2
    assert "pressures.log:8:1" in shown.err
    assert "30.2" in shown.out


def test_a_log_that_may_not_be_written_stays_and_the_line_is_told(tmp_path: Path) -> None:
    steps(tmp_path, START)
    log = tmp_path / "pressures.log"
    before = log.read_bytes()
    log.chmod(0o444)
    if os.access(log, os.W_OK):
        pytest.skip("this user may write everywhere")
    result = call(tmp_path, "pressures", *shlex.split(MORNING))
    assert (result.code, result.out) == (2, "")
    assert "front is 30.2 psi cold" in " ".join(result.err.split())
    assert log.read_bytes() == before


@pytest.mark.parametrize("more", [0, 1, 20, 50])
def test_a_full_disk_leaves_the_log_as_it_was_and_the_line_is_told(
    tmp_path: Path, more: int
) -> None:
    """The system takes `more` bytes and no further one, as a disk that gets full."""
    steps(tmp_path, START)
    log = tmp_path / "pressures.log"
    before = log.read_bytes()
    bound = len(before) + more

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (bound, bound))

    done = subprocess.run(
        [sys.executable, "-m", "trackprep", "pressures", *shlex.split(MORNING)],
        check=False, cwd=tmp_path, capture_output=True, env=environment(), preexec_fn=limited,
        text=True, timeout=60,
    )  # fmt: skip
    assert done.returncode == 2, done.stderr
    assert "not kept is: on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C" in " ".join(
        done.stderr.split()
    )
    assert log.read_bytes() == before
    steps(tmp_path, MORNING)
    assert log.read_bytes().startswith(before)


def test_two_who_add_at_once_lose_nothing(tmp_path: Path) -> None:
    steps(tmp_path, START)
    calls = [
        threading.Thread(target=steps, args=(tmp_path, MORNING.replace("08:10", f"08:{minute:02}")))
        for minute in range(6)
    ]
    for one in calls:
        one.start()
    for one in calls:
        one.join()
    log = read_log((tmp_path / "pressures.log").read_text("utf-8"), "a", STANDARD)
    assert (len(log.readings), log.problems) == (6, ())


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ("log front 30psi", "cold or hot"),
        ("log frnt 30psi cold", "`frnt` is no tyre"),
        ("log front 30 cold", "has no unit"),
        ("log front cold", "PRESSURE"),
        ("log front 30psi cold --air 9", "write `9 °C`"),
        ("log front 30psi cold --at 25:00", "no time of day"),
        ("log front 30psi cold --on 2026-06", "is not one day"),
        ("now --air 9C", "there is no log `pressures.log`"),
        ("now front 31psi", "--air"),
        ("now front --air 9C", "track figure of the front tyre is not known"),
        ("show", "there is no log"),
        ("show --log .", "folder"),
        ("figure front", "nothing is said"),
        ("figure front --given-at 20C", "belong to the figure"),
        ("figure front 31mm", "is a length"),
    ],
)
def test_a_call_that_cannot_be_says_why_and_keeps_nothing(
    words: str, message: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["pressures", *shlex.split(words)]) == 2
    captured = capsys.readouterr()
    assert message in " ".join(captured.err.split())
    assert "try: " in captured.err
    assert captured.out == ""
    assert list(here.iterdir()) == []


def test_the_help_shows_calls_that_work(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pressures"]) == 0
    calls = [
        line.strip() for line in capsys.readouterr().out.splitlines()
        if line.strip().startswith("trackprep pressures ") and "STEP" not in line
    ]  # fmt: skip
    assert len(calls) >= 8
    for line in calls:
        assert main(shlex.split(line)[1:]) == 0, line
    for step in ("figure", "now", "log", "show"):
        main(["pressures", step, "--help"])
        out = capsys.readouterr().out
        shown = [line.strip() for line in out.splitlines() if line.startswith("  trackprep ")]
        assert len(shown) >= 2
        for line in shown:
            if "--on 2026" not in line:
                assert (
                    main([*shlex.split(line)[1:], *(["--overwrite"] if "-o" in line else [])]) == 0
                )


@pytest.mark.parametrize("step", [START, "now --air 9C", MORNING, "show"])
def test_the_last_line_sets_the_road_pressure_back_cold(
    step: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["pressures", *shlex.split(START)])
    main(["pressures", *shlex.split(MORNING)])
    capsys.readouterr()
    out = printed(capsys, step)
    last = out[out.rindex("Before the road") :]
    assert "cooled down" in last
    assert "front tyre to 36 psi" in last
    assert "cold, by the road figure" in last
    assert "the rear tyre too, whose road figure is not noted" in last


# ---- the day in other shapes ----------------------------------------------------------


@pytest.fixture
def day(here: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    for words in (
        START,
        "figure rear 2bar --given-at 20C --sidewall 2.9bar",
        MORNING,
        "log rear set 1.89bar cold --air 9C --on 2026-06-14 --at 08:13 --note '<b>&\"'",
        "log front 35.5psi hot --air 19C --tyre 62C --on 2026-06-14 --at 10:40",
    ):
        assert main(["pressures", *shlex.split(words)]) == 0
    capsys.readouterr()
    return here


def test_the_json_keeps_to_its_schema(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["pressures", "show", "--as", "json"])
    form = json.loads(capsys.readouterr().out)
    schema = json.loads((grammar_folder() / "pressures.schema.json").read_text())
    jsonschema.validate(form, schema)
    assert [one["at"] for one in form["readings"]] == ["08:10", "08:13", "10:40"]
    assert form["readings"][0]["pressure"] == {
        "exact": "151/5", "unit": "psi", "shown": ["2.08 bar", "30.2 psi"],
    }  # fmt: skip
    assert form["readings"][1]["note"] == '<b>&"'


def test_the_picture_is_svg_with_words(day: Path) -> None:
    assert main(["pressures", "show", "-o", "day.svg"]) == 0
    root = ElementTree.parse(day / "day.svg").getroot()
    space = "{http://www.w3.org/2000/svg}"
    assert root.get("role") == "img"
    named = root.get("aria-labelledby", "").split()
    texts = {one.get("id"): one.text for one in root if one.get("id")}
    words = " ".join(str(texts[one]) for one in named)
    assert "30.2 psi at 08:10" in words
    assert "Front sidewall maximum" in words
    assert len(root.findall(f"{space}circle")) == 2 + 2  # two readings and the legend
    assert len(root.findall(f"{space}rect")) == 1 + 1 + 2  # the ground, one reading, the legend


def test_the_page_needs_no_network_and_has_the_same_words(day: Path) -> None:
    assert main(["pressures", "show", "-o", "day.html"]) == 0
    page = (day / "day.html").read_text("utf-8")
    assert "&lt;b&gt;&amp;" in page
    assert "<b>" not in page
    assert "http://www.w3.org/2000/svg" in page
    assert page.count("http") == page.count("http-equiv") + 1
    assert "style=" not in page
    assert main(["pressures", "show", "-o", "day.html"]) == 2  # never over another


def test_a_day_is_found_by_its_date(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["pressures", *shlex.split("log front 28psi cold --on 2026-07-01 --at 09:00")])
    capsys.readouterr()
    assert "1 July 2026" in printed(capsys, "show")
    assert "14 June 2026" in printed(capsys, "show --on 2026-06-14")
    assert main(["pressures", "show", "--on", "2026-06-15"]) == 2
    assert "2026-06-14, 2026-07-01" in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize("columns", [30, 50, 80])
def test_a_narrow_window_has_every_reading(columns: int, day: Path) -> None:
    log = read_log((day / "pressures.log").read_text("utf-8"), "a", STANDARD)
    text = DayReport(log.day(DAY), STANDARD).text(columns)
    assert max(map(len, text.splitlines())) <= columns
    assert all(word in "".join(text.split()) for word in ("08:10", "08:13", "10:40", "30.2psi"))
