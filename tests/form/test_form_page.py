"""The page that checks itself, as one file in a real browser: its answers, its size, its safety."""

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from pages import Opened, written
from strategies import cases
from test_agreement import rider_text
from thorough import THOROUGH

import trackprep
from trackprep.cli.same_edition import CODES
from trackprep.published import rulesets_folder
from trackprep.publishing.editions import edition_of
from trackprep.publishing.marks import carried
from trackprep.publishing.sameness import judged
from trackprep.rules.model import Rules
from trackprep.syntax.printer import print_rules

MOST = 300_000  # bytes
VENUES = ("common-practice", "tarn-hollow", "fenwhistle", "marrowfell", "sallowgate")
DAY = date(2026, 6, 14)
SEVERAL = ("tarn-hollow", "marrowfell")
ATTACK = "</script></title><img src=x onerror=window.attacked=1><script>window.attacked=2</script>"
HOSTILE = f'''ruleset bad "{ATTACK}" edition "{ATTACK}" organizer "{ATTACK}" bring "{ATTACK}"
fact a.b "{ATTACK}" one of c "{ATTACK}", d "{ATTACK}" ask "{ATTACK}" how "{ATTACK}"
  caution "{ATTACK}"
fact a.e "{ATTACK}" measured in mm
fact a.f "{ATTACK}" yes or no for the inspector
section "{ATTACK}" bring "{ATTACK}"
rule r "{ATTACK}" require a.b is c reason "{ATTACK}" inspect "{ATTACK}" source "{ATTACK}"
  caution "{ATTACK}" bring "{ATTACK}"
  fix "{ATTACK}" parts "{ATTACK}" tools "{ATTACK}" caution "{ATTACK}"
  undo "{ATTACK}" parts "{ATTACK}" tools "{ATTACK}" caution "{ATTACK}"
rule s "{ATTACK}" require a.e is at least 2 mm and a.f
'''


def rules_named(name: str) -> Rules:
    return trackprep.read_ruleset(rulesets_folder() / f"{name}.trackrules").rules


def in_python(rules: Rules, text: str, day: date) -> tuple[dict[str, str], str]:
    ruleset = trackprep.Ruleset(rules)
    report = ruleset.check(trackprep.parse_declaration(text, ruleset), on=day)
    return {answer.rule: answer.status for answer in report.answers}, report.verdict


def agree(browser: Any, folder: Path, rules: Rules, asked: list[tuple[str, date]]) -> None:
    opened = Opened(browser, written(folder, rules))
    for text, day in asked:
        opened.take(text)
        opened.on(day)
        answers, verdict = in_python(rules, text, day)
        assert opened.answers() == answers, text
        assert opened.verdicts() == [verdict], text
    opened.close()


# ---- one meaning ------------------------------------------------------------


@pytest.mark.parametrize("name", VENUES)
def test_the_demo_riders_through_the_page(name: str, browser: Any, tmp_path: Path) -> None:
    rules = rules_named(name)
    riders = [
        path.read_text(encoding="utf-8") for path in sorted(rulesets_folder().glob("*.rider"))
    ]
    assert riders
    half = "\n".join(riders[0].splitlines()[::2])
    some = riders if THOROUGH else riders[:3]
    agree(browser, tmp_path, rules, [(text, DAY) for text in [*some, half]])


@settings(
    max_examples=150 if THOROUGH else 6, deadline=None, suppress_health_check=list(HealthCheck)
)
@given(case=cases())
def test_rule_files_made_at_random(case: Any, browser: Any, tmp_path_factory: Any) -> None:
    ruleset = trackprep.parse_ruleset(print_rules(case.rules), name="agreement")
    folder = tmp_path_factory.mktemp("made")
    lines = rider_text(case.declaration).splitlines()
    fewer = [lines[:at] + lines[at + 1 :] for at in range(1, len(lines), 2)]
    texts = ["\n".join(some) for some in (lines, *fewer)]
    agree(browser, folder, ruleset.rules, [(text, case.day) for text in texts if text])


def test_several_events_in_one_page(browser: Any, tmp_path: Path) -> None:
    both = [rules_named(name) for name in SEVERAL]
    text = (rulesets_folder() / "ilse.rider").read_text(encoding="utf-8")
    opened = Opened(browser, written(tmp_path, *both))
    opened.take(text)
    opened.on(DAY)
    for place, rules in enumerate(both):
        answers, verdict = in_python(rules, text, DAY)
        assert opened.answers(rules.name) == answers
        assert opened.verdicts()[place] == verdict
    opened.close()


# ---- size, edition ----------------------------------------------------------


@pytest.mark.parametrize("name", VENUES)
def test_it_is_small_enough_to_mail(name: str, tmp_path: Path) -> None:
    assert written(tmp_path, rules_named(name)).stat().st_size < MOST


def test_it_is_known_again_by_its_digests(tmp_path: Path) -> None:
    both = [rules_named(name) for name in SEVERAL]
    text = written(tmp_path, *both).read_text(encoding="utf-8")
    found = carried(text)
    assert found is not None
    assert found.editions == tuple(map(edition_of, both))
    altered = carried(text.replace("Tarn Hollow", "Tarn Hallow", 1))
    assert altered is not None
    its = judged(altered.editions[0], unaltered=altered.unaltered, mine=edition_of(both[0]))
    assert CODES[its.sameness] == 1


# ---- safety -----------------------------------------------------------------


def test_nothing_that_a_rule_file_says_runs(browser: Any, tmp_path: Path) -> None:
    opened = Opened(browser, written(tmp_path, trackprep.parse_ruleset(HOSTILE).rules))
    opened.take("a.b is d\n")
    shown = 0
    for view in ("declare", "answers", "work", "gate", "road", "ahead", "keep", "rules"):
        opened.go(view)
        assert opened.page.evaluate("window.attacked") is None
        shown += opened.page.inner_text(f"#{view}").count(ATTACK)
    assert shown > HOSTILE.count(ATTACK)
    opened.close()


def test_nothing_that_a_declaration_says_runs(browser: Any, tmp_path: Path) -> None:
    opened = Opened(browser, written(tmp_path, rules_named("tarn-hollow")))
    opened.take(f'declaration "{ATTACK}"\n{ATTACK}\nhelmet.shell is "{ATTACK}"\n# {ATTACK}\n')
    assert ATTACK in opened.declared()
    for view in ("declare", "answers", "work", "keep"):
        opened.go(view)
    assert opened.page.evaluate("window.attacked") is None
    opened.close()


def test_the_policy_lets_nothing_else_run(browser: Any, tmp_path: Path) -> None:
    opened = Opened(browser, written(tmp_path, rules_named("tarn-hollow")))
    opened.page.evaluate("""() => {
      const script = document.createElement("script");
      script.textContent = "window.attacked = 1";
      document.body.append(script);
      const picture = document.createElement("img");
      picture.setAttribute("onerror", "window.attacked = 2");
      picture.src = "data:,";
      document.body.append(picture);
    }""")
    opened.page.wait_for_timeout(100)
    assert opened.page.evaluate("window.attacked") is None
    assert all("Content Security Policy" in fault for fault in opened.faults)
    opened.faults.clear()
    opened.close()


# ---- without a script, without a place to keep things -----------------------


def test_without_a_script_the_whole_sheet_is_there(browser: Any, tmp_path: Path) -> None:
    rules = rules_named("tarn-hollow")
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(written(tmp_path, rules).as_uri())
    assert page.is_visible("#without")
    assert not page.is_visible("#app")
    shown = page.inner_text("#rules")
    for rule in rules.rules:
        assert rule.title in shown
    context.close()


FULL = """Storage.prototype.setItem = () => {
  throw new DOMException("no more room", "QuotaExceededError");
};"""
CLOSED = """Object.defineProperty(window, "localStorage", {
  get() { throw new DOMException("not here", "SecurityError"); },
});"""


@pytest.fixture(params=[FULL, CLOSED], ids=["full", "unreachable"])
def without_storage(request: Any, browser: Any, tmp_path: Path) -> Iterator[Opened]:
    opened = Opened(browser, written(tmp_path, rules_named("tarn-hollow")))
    opened.context.add_init_script(request.param)
    opened.again()
    yield opened
    opened.close()


def test_a_browser_that_keeps_nothing_is_told(without_storage: Opened) -> None:
    page = without_storage.page
    page.fill("#title", "Sam")
    assert "does not keep your declaration" in page.inner_text("#storage")
    without_storage.page.evaluate("location.hash = 'keep'")
    assert 'declaration "Sam"' in page.inner_text("#declaration")


def test_what_another_version_kept_does_no_harm(browser: Any, tmp_path: Path) -> None:
    opened = Opened(browser, written(tmp_path, rules_named("tarn-hollow")))
    for kept in ("no JSON", "[]", "null", json.dumps({"text": 7, "day": "x", "ticks": [1]})):
        opened.page.evaluate("kept => localStorage.setItem('trackprep tarn-hollow', kept)", kept)
        opened.again()
        assert "left" in opened.page.inner_text("#left")
    opened.close()
