"""The public names: what a program that builds on them relies on."""

import re
import subprocess
import sys
from datetime import date, datetime
from pathlib import Path

import pytest

import trackprep
from trackprep.published import rulesets_folder

EVENT = date(2026, 6, 14)
RULES = """
ruleset small "Small"
rule shell "Full face" require helmet.shell is full-face
rule age "Not too old" require age of helmet.made is at most 5 years
rule bars "Ends plugged" recommend bars.ends is plugged
"""


def small() -> trackprep.Ruleset:
    return trackprep.parse_ruleset(RULES.replace("bars.ends is plugged", "kit.spare-key"))


def test_the_public_names_are_there() -> None:
    for name in trackprep.__all__:
        assert getattr(trackprep, name) is not None
    assert len(trackprep.__all__) <= 20
    with pytest.raises(AttributeError):
        _ = trackprep.nothing_of_that_name  # type: ignore[attr-defined]


def test_a_check_needs_neither_lark_nor_pint_nor_rich() -> None:
    program = (
        "import sys, trackprep; from datetime import date;"
        "r = trackprep.read_ruleset('tarn-hollow');"
        f"d = trackprep.read_declaration({str(rulesets_folder() / 'sam.rider')!r}, r);"
        "str(r.check(d, on=date(2026, 6, 14)));"
        "print([m for m in ('lark', 'pint', 'rich') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize("rider", ["sam", "ilse", "nadia", "dale", "petra"])
@pytest.mark.parametrize("name", ["tarn-hollow", "marrowfell", "sallowgate", "fenwhistle"])
def test_many_checks_answer_as_the_first(rider: str, name: str) -> None:
    """The fast back end takes over after some checks; nobody may notice."""
    ruleset = trackprep.read_ruleset(name)
    declaration = trackprep.read_declaration(rulesets_folder() / f"{rider}.rider", ruleset)
    for day in (EVENT, date(2031, 1, 1), date(2019, 7, 1)):
        reports = [ruleset.check(declaration, on=day).to_dict() for _ in range(4)]
        assert all(report == reports[0] for report in reports)


def test_a_declaration_belongs_to_its_ruleset() -> None:
    declaration = trackprep.parse_declaration("helmet.shell is full-face", small())
    with pytest.raises(ValueError, match="another ruleset"):
        small().check(declaration, on=EVENT)


def test_the_event_has_a_day_and_no_default() -> None:
    ruleset = small()
    declaration = trackprep.parse_declaration({}, ruleset)
    with pytest.raises(TypeError):
        ruleset.check(declaration)  # type: ignore[call-arg]
    for day in ("2026-06-14", datetime(2026, 6, 14, 9, 0), None):
        with pytest.raises(TypeError, match="the day of the event"):
            ruleset.check(declaration, on=day)  # type: ignore[arg-type]


def test_an_event_beyond_the_calendar_is_a_mistake_of_the_caller() -> None:
    ruleset = small()
    declaration = trackprep.parse_declaration({}, ruleset)
    for day in (date(9999, 12, 31), date(1, 1, 1)):
        with pytest.raises(ValueError, match="years from"):
            ruleset.check(declaration, on=day)


def test_a_date_after_the_event_is_told_and_the_rest_is_checked() -> None:
    ruleset = small()
    declaration = trackprep.parse_declaration(
        {"helmet": {"made": "2027-01", "shell": "full-face"}}, ruleset
    )
    report = ruleset.check(declaration, on=EVENT)
    assert [problem.path for problem in report.problems] == ["helmet.made"]
    assert {answer.rule: answer.status for answer in report.answers} == {
        "shell": "met",
        "age": "unsettled",
        "bars": "unsettled",
    }


def test_problems_are_values(tmp_path: Path) -> None:
    file = tmp_path / "faulty.trackrules"
    file.write_text(
        'ruleset f "F"\nrule a "A" require helmet.shel is full-face\n', encoding="utf-8"
    )
    with pytest.raises(trackprep.RulesetError) as caught:
        trackprep.read_ruleset(file)
    (problem,) = caught.value.problems
    assert (problem.code, problem.file, problem.line, problem.column, problem.path) == (
        "unknown-fact",
        str(file),
        2,
        20,
        None,
    )
    assert problem.suggestion == "write `helmet.shell`"


# ---- what a notebook needs ---------------------------------------------------------


def test_an_interview_asks_what_matters_and_its_text_is_the_declaration() -> None:
    ruleset = small()
    interview = trackprep.interview(ruleset, on=EVENT)
    answers = {"helmet.shell": "full-face", "helmet.made": "2024-05", "kit.spare-key": "yes"}
    asked = []
    while interview.question is not None:
        asked.append(interview.question.fact.path)
        following = interview.answered(answers[asked[-1]])
        assert not isinstance(following, trackprep.Problem)
        interview = following
    assert sorted(asked) == sorted(answers)
    declaration = trackprep.parse_declaration(interview.text, ruleset)
    assert ruleset.check(declaration, on=EVENT).verdict == "ready"
    assert isinstance(trackprep.interview(ruleset, on=EVENT).answered("what?"), trackprep.Problem)


def test_an_odd_call_of_an_interview_is_told() -> None:
    with pytest.raises(TypeError, match="one ruleset or more"):
        trackprep.interview(on=EVENT)
    with pytest.raises(ValueError, match="no rules"):
        trackprep.interview(trackprep.read_ruleset("standard"), on=EVENT)
    with pytest.raises(trackprep.DeclarationError):
        trackprep.interview(small(), on=EVENT, text="helmet.shel is full-face")


LOG = """\
front figure is 31 psi at 20 °C
on 2026-06-13 at 09:00 front is 30 psi cold air 12 °C
on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C
"""


def test_a_day_of_pressures_is_read(tmp_path: Path) -> None:
    log = tmp_path / "pressures.log"
    log.write_text(LOG, encoding="utf-8")
    last, first = (trackprep.read_pressures(log, on=on) for on in (None, date(2026, 6, 13)))
    assert (last.day.day, first.day.day) == (EVENT, date(2026, 6, 13))
    assert "08:10" in str(last)
    with pytest.raises(ValueError, match="2026-06-13, 2026-06-14"):
        trackprep.read_pressures(log, on=date(2026, 6, 15))
    log.write_text("", encoding="utf-8")
    with pytest.raises(ValueError, match="no reading"):
        trackprep.read_pressures(log)


def test_every_result_shows_itself_in_a_notebook(tmp_path: Path) -> None:
    log = tmp_path / "pressures.log"
    log.write_text(LOG, encoding="utf-8")
    one, other, third = map(trackprep.read_ruleset, ("tarn-hollow", "marrowfell", "fenwhistle"))
    dale = rulesets_folder() / "dale.rider"
    report = one.check(trackprep.read_declaration(dale, one), on=EVENT)
    results = (
        report,
        report.what_would_do(),
        trackprep.worklist(report),
        trackprep.compare(one, other),
        trackprep.compare(one, other, third),
        trackprep.readiness(dale, one, other, on=EVENT),
        trackprep.look_ahead(dale, one, first=EVENT, last=date(2026, 10, 31)),
        trackprep.check_riders(dale, one, on=EVENT),
        trackprep.read_pressures(log),
    )
    for result in results:
        shown = result._repr_html_()
        assert re.match(r"<(p|table|figure|div|svg)\b", shown), shown[:80]
        assert "<html" not in shown
