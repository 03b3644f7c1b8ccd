"""The conformance suite of `conformance/`, run through the public interface alone."""

import re
import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import trackprep
from trackprep import DeclarationError, Problem, RulesetError

SUITE = Path(__file__).parent / "conformance"
GOOD = sorted((SUITE / "good").glob("*.toml"))
BAD = sorted([*(SUITE / "bad").glob("*.trackrules"), *(SUITE / "bad").glob("*.rider")])
_EXPECTED = re.compile(r"^# expect: (\d+):(\d+) (\S+)$", re.MULTILINE)
_FOR = re.compile(r"^# for: (\S+)$", re.MULTILINE)


@cache
def topic(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def cases() -> Iterator[Any]:
    for path in GOOD:
        for number, case in enumerate(topic(path)["case"], 1):
            yield pytest.param(path, case, id=f"{path.stem}-{number}")


@pytest.fixture(scope="session")
def rulesets(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The ruleset of each topic, its files laid out in a folder."""

    @cache
    def made(path: Path) -> trackprep.Ruleset:
        data = topic(path)
        if "files" not in data:
            return trackprep.parse_ruleset(data["rules"], name=path.name)
        folder = tmp_path_factory.mktemp(path.stem)
        for name, text in data["files"].items():
            file = folder / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8")
        return trackprep.parse_ruleset(data["rules"], name=path.name, folder=folder)

    return made


@pytest.mark.parametrize(("path", "case"), list(cases()))
def test_good(path: Path, case: dict[str, Any], rulesets: Any) -> None:
    ruleset = rulesets(path)
    declared = case["data"] if "data" in case else case["declaration"]
    declaration = trackprep.parse_declaration(declared, ruleset)
    report = ruleset.check(declaration, on=case.get("on", topic(path)["on"]))
    answers = {answer.rule: answer for answer in report.answers}

    asked = case.get("expect", {})
    assert {rule: answers[rule].status for rule in asked} == asked
    for key in ("declare", "narrow"):
        wanted = case.get(key, {})
        assert {rule: list(getattr(answers[rule], key)) for rule in wanted} == wanted
    if "order" in case:
        assert [answer.rule for answer in report.answers] == case["order"]
    if "problems" in case:
        assert [problem["path"] for problem in report.to_dict()["problems"]] == case["problems"]
    if "verdict" in case:
        assert report.verdict == case["verdict"]


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_good_says_only_what_it_may(path: Path, rulesets: Any) -> None:
    """No case names a rule that is not there, and every rule is expected somewhere."""
    ruleset = rulesets(path)
    nobody = trackprep.parse_declaration({}, ruleset)
    rules = {answer.rule for answer in ruleset.check(nobody, on=date(2026, 6, 14)).answers}
    named = {rule for case in topic(path)["case"] for rule in case.get("expect", {})}
    listed = {rule for case in topic(path)["case"] for rule in case.get("order", ())}
    assert named <= rules
    if not topic(path).get("files"):  # a base's rules are the business of its own topic
        assert rules <= named | listed


def problems_of(path: Path) -> tuple[Problem, ...]:
    try:
        if path.suffix == ".rider":
            companion = _FOR.search(path.read_text(encoding="utf-8"))
            assert companion is not None
            ruleset = trackprep.read_ruleset(path.parent / companion[1])
            trackprep.read_declaration(path, ruleset)
        else:
            trackprep.read_ruleset(path)
    except (RulesetError, DeclarationError) as error:
        return error.problems
    return ()


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name)
def test_bad(path: Path) -> None:
    written = path.read_text(encoding="utf-8")
    expected = [(int(line), int(column), code) for line, column, code in _EXPECTED.findall(written)]
    assert expected
    told = [(problem.line, problem.column, problem.code) for problem in problems_of(path)]
    assert told == expected


@pytest.mark.parametrize(
    "path", [path for path in BAD if path.with_suffix(".message").exists()], ids=lambda p: p.name
)
def test_golden_message(path: Path) -> None:
    told = "\n\n".join(str(problem) for problem in problems_of(path)) + "\n"
    folder = f"{path.parent}/"
    wanted = path.with_suffix(".message").read_text(encoding="utf-8")
    assert told.replace(folder, "") == wanted


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.name)
def test_bad_is_told_well(path: Path) -> None:
    """Every message says what was found, and what is wanted or what to do, in plain words."""
    for problem in problems_of(path):
        assert problem.expected or problem.suggestion, problem.message
        assert not problem.message.endswith((".", "!")), problem.message
        assert not re.search(r"[A-Z]{2,}_|<[a-z]+ |Traceback|None\b", str(problem)), str(problem)
