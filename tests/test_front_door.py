"""The public names: what a program that builds on them relies on."""

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
