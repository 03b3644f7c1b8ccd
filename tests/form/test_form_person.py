"""A rider's way through the page: a person's clicks and keys, on a phone."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from pages import PHONE, Opened, needs, written

import trackprep
from trackprep.published import rulesets_folder

VIEWS = ("declare", "answers", "work", "gate", "ahead", "pressures", "road", "keep", "rules")
DAY = date(2026, 6, 20)
RIDER = (rulesets_folder() / "ilse.rider").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    ruleset = trackprep.read_ruleset(rulesets_folder() / "marrowfell.trackrules")
    return written(tmp_path_factory.mktemp("form"), ruleset.rules)


@pytest.fixture
def rider(browser: Any, file: Path) -> Iterator[Opened]:
    """A rider's phone, with the page open for the day of the event."""
    opened = Opened(browser, file, accept_downloads=True)
    opened.on(DAY)
    yield opened
    opened.close()


def question(rider: Opened, path: str) -> Any:
    return rider.page.locator(f"[id='q-{path}']")


def box(rider: Opened, path: str) -> Any:
    return rider.page.locator(f"[id='q-{path}-in']")


# ---- declaring --------------------------------------------------------------


def test_an_answer_settles_its_rules_as_it_is_typed(rider: Opened) -> None:
    made = box(rider, "helmet.made")
    made.fill("Apr 2014")
    assert question(rider, "helmet.made").locator(".echo").inner_text().startswith("April 2014")
    assert rider.verdicts() == ["not-ready"]
    assert "helmet.made is 2014-04" in rider.declared()
    rider.go("answers")
    entry = rider.page.locator("#answers article[data-status=not-met]")
    assert entry.count() == 1
    assert "April 2014" in entry.inner_text()


def test_what_cannot_be_read_is_told_and_no_answer(rider: Opened) -> None:
    made = box(rider, "helmet.made")
    made.fill("04/23")
    made.blur()
    problem = question(rider, "helmet.made").locator(".problem")
    assert "23" in problem.inner_text()
    assert made.get_attribute("aria-invalid") == "true"
    assert made.input_value() == "04/23"
    assert "helmet.made" not in rider.declared()


def test_units_are_selected_and_remembered(rider: Opened) -> None:
    rider.page.check("#system input[value=imperial]")
    tread = question(rider, "tyre.front.tread")
    offered = tread.locator("select option").all_inner_texts()
    assert {"mm", "in", "32nds"} <= set(offered)
    assert offered[0] in ("in", "32nds")
    tread.locator("select").select_option("32nds")
    box(rider, "tyre.front.tread").fill("5")
    assert "tyre.front.tread is 5 32nds" in rider.declared()
    rider.again()
    assert rider.page.is_checked("#system input[value=imperial]")
    assert "tyre.front.tread is 5 32nds" in rider.declared()


def test_only_what_can_still_change_an_answer_is_asked(rider: Opened) -> None:
    rider.page.check("#all")
    lens = question(rider, "helmet.made")
    assert lens.is_visible()
    before = rider.page.locator(".question:visible").count()
    rider.take(RIDER)
    rider.go("declare")
    rider.page.uncheck("#all")
    after = rider.page.locator(".question:visible").count()
    assert after < before
    asked = trackprep.read_ruleset(rulesets_folder() / "marrowfell.trackrules")
    report = asked.check(trackprep.parse_declaration(RIDER, asked), on=DAY)
    open_facts = {path for answer in report.answers for path in (*answer.declare, *answer.narrow)}
    shown = rider.page.eval_on_selector_all(
        ".question", "all => all.filter(one => !one.hidden).map(one => one.id.slice(2))"
    )
    assert set(shown) <= open_facts


def test_what_the_rider_cannot_tell_is_noted_and_not_asked_again(rider: Opened) -> None:
    question(rider, "helmet.made").locator(".doubt input").check()
    assert "# not known: helmet.made" in rider.declared()
    rider.go("declare")
    assert "1 that you could not tell" in rider.page.inner_text("#left")
    rider.go("work")
    assert "Find out what you could not tell" in rider.page.inner_text("#work")
    rider.go("declare")
    question(rider, "helmet.made").locator(".doubt input").uncheck()
    assert "not known" not in rider.declared()


def test_what_the_rider_cannot_tell_is_declared_no_more(rider: Opened) -> None:
    box(rider, "helmet.made").fill("2014")
    assert rider.verdicts() == ["not-ready"]
    question(rider, "helmet.made").locator(".doubt input").check()
    assert rider.verdicts() == ["incomplete"]
    assert "helmet.made is" not in rider.declared()


def test_a_comma_before_decimals_is_a_decimal_point(rider: Opened) -> None:
    """Many telephones have no other key for it; three digits might be thousands."""
    box(rider, "tyre.front.tread").fill("3,5")
    assert "tyre.front.tread is 3.5 mm" in rider.declared()
    rider.go("declare")
    box(rider, "tyre.front.tread").fill("3,500")
    assert "tyre.front.tread" not in rider.declared()


def test_what_cannot_be_read_is_still_there_later(rider: Opened) -> None:
    box(rider, "helmet.made").fill("5/4/2023")
    rider.again()
    rider.go("declare")
    assert box(rider, "helmet.made").input_value() == "5/4/2023"
    assert question(rider, "helmet.made").locator(".problem").inner_text()


def test_a_date_after_the_event_is_told(rider: Opened) -> None:
    box(rider, "helmet.made").fill("2026-05-10")
    rider.on(date(2026, 4, 20))
    problem = question(rider, "helmet.made").locator(".problem")
    assert "after the day of the event" in problem.inner_text()
    rider.on(DAY)
    assert not problem.is_visible()


def test_a_day_that_the_rules_are_not_for_is_told_in_every_view(rider: Opened) -> None:
    rider.on(date(2031, 1, 1))
    for view in ("declare", "work", "gate"):
        rider.go(view)
        assert "Not for this day" in rider.page.inner_text("#verdicts")


def test_the_skip_link_stays_in_the_view(rider: Opened) -> None:
    rider.go("answers")
    rider.page.focus(".skip")
    rider.page.keyboard.press("Enter")
    assert rider.page.is_visible("#answers")


def test_an_answer_can_be_taken_back(rider: Opened) -> None:
    box(rider, "helmet.made").fill("2024-05")
    question(rider, "helmet.made").get_by_role("button").click()
    assert box(rider, "helmet.made").input_value() == ""
    assert "helmet.made" not in rider.declared()


def test_none_takes_the_others_away(rider: Opened) -> None:
    armour = question(rider, "suit.armour")
    armour.get_by_label("Shoulders").check()
    armour.get_by_label("None of these").check()
    assert not armour.get_by_label("Shoulders").is_checked()
    assert "suit.armour is none" in rider.declared()


def test_with_the_keyboard_alone(rider: Opened) -> None:
    page = rider.page
    page.focus("#title")
    page.keyboard.type("Ilse, red twin")
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.type") == "radio" and page.evaluate(
            "document.activeElement.closest('.question') !== null"
        ):
            break
    page.keyboard.press("Space")
    chosen = page.evaluate("document.activeElement.closest('.question').id.slice(2)")
    text = rider.declared()
    assert 'declaration "Ilse, red twin"' in text
    assert f"{chosen} is " in text


# ---- keeping ----------------------------------------------------------------


def test_a_file_goes_out_and_in_again_unchanged(rider: Opened, tmp_path: Path) -> None:
    rider.take(RIDER)
    assert "loaded" in rider.page.inner_text("#told")
    with rider.page.expect_download() as saved:
        rider.page.click("#save")
    file = tmp_path / saved.value.suggested_filename
    saved.value.save_as(file)
    assert file.suffix == ".rider"
    assert file.read_text(encoding="utf-8") == RIDER
    rider.page.set_input_files("#load", file)
    rider.page.locator("#told", has_text="loaded").wait_for()
    assert rider.declared() == RIDER


def test_a_file_that_is_no_text_changes_nothing(rider: Opened, tmp_path: Path) -> None:
    rider.take(RIDER)
    bad = tmp_path / "picture.rider"
    bad.write_bytes(b"\xff\xfe\x00\x9f")
    rider.page.set_input_files("#load", bad)
    rider.page.locator("#told", has_text="Nothing is changed").wait_for()
    assert rider.declared() == RIDER


def test_what_was_there_before_can_be_brought_back(rider: Opened) -> None:
    rider.take(RIDER)
    rider.take("helmet.shell is full-face\n")
    assert rider.declared() == "helmet.shell is full-face\n"
    rider.page.click("#before")
    assert rider.declared() == RIDER


@pytest.mark.parametrize("junk", ["oops", "<!doctype html><p>no", '{"helmet.shell": "full-face"}'])
def test_what_is_no_declaration_takes_no_place(junk: str, rider: Opened) -> None:
    rider.take(RIDER)
    rider.take(junk)
    assert "nothing is changed" in rider.page.inner_text("#told")
    assert rider.declared() == RIDER


def test_the_one_before_outlives_the_page(rider: Opened) -> None:
    rider.take(RIDER)
    rider.take("helmet.shell is full-face\n")
    rider.again()
    rider.go("keep")
    rider.page.click("#before")
    assert rider.declared() == RIDER


def test_it_stays_when_the_page_is_closed_until_the_phone_is_cleared(rider: Opened) -> None:
    rider.take(RIDER)
    rider.again()
    assert rider.declared() == RIDER
    rider.page.click("#clear")
    rider.page.click("#clear-not")
    assert rider.declared() == RIDER
    rider.page.click("#clear")
    rider.page.click("#clear-sure")
    assert rider.declared() == "Nothing is declared yet."
    assert rider.page.evaluate("localStorage.length") == 0
    rider.again()
    assert rider.declared() == "Nothing is declared yet."


def test_what_is_declared_on_the_page_is_read_by_the_command_line(
    rider: Opened, tmp_path: Path
) -> None:
    rider.page.fill("#title", 'Ilse "Ice" Brand')
    rider.page.fill("#looked", "2026-06-01")
    rider.page.dispatch_event("#looked", "change")
    question(rider, "gloves.kind").locator("input").first.check()
    box(rider, "tyre.rear.built").fill("2319")
    ruleset = trackprep.read_ruleset(rulesets_folder() / "marrowfell.trackrules")
    declaration = trackprep.parse_declaration(rider.declared(), ruleset)
    assert declaration.title == 'Ilse "Ice" Brand'
    assert declaration.declared_on == date(2026, 6, 1)
    assert {"gloves.kind", "tyre.rear.built"} == set(declaration.values)


def test_wrong_lines_are_told_and_kept(rider: Opened) -> None:
    text = "helmet.shell is pudding-bowl\nhelmet.mad is 2023\ngloves.kind is gauntlet\n"
    rider.take(text)
    assert rider.declared() == text
    assert "Line 1" in rider.page.inner_text("#problems")
    rider.go("declare")
    assert "helmet.mad" in rider.page.inner_text("#strangers")


def test_a_wrong_line_can_be_mended_as_text(rider: Opened) -> None:
    rider.take("helmet.shell is pudding-bowl\n")
    rider.page.click("#edit")
    rider.page.fill("#paste", rider.page.input_value("#paste").replace("pudding-bowl", "full-face"))
    rider.page.click("#take")
    assert rider.declared() == "helmet.shell is full-face\n"
    assert not rider.page.is_visible("#problems li")


# ---- what follows -----------------------------------------------------------


def test_the_work_list_and_the_lists_for_the_road(rider: Opened) -> None:
    rider.take(RIDER)
    rider.on(DAY)
    rider.go("work")
    work = rider.page.inner_text("#work")
    assert "Job 1" in work
    rider.page.locator("#work .tick input").first.check()
    rider.again()
    assert rider.page.locator("#work .tick input").first.is_checked()
    rider.go("gate")
    gate = rider.page.inner_text("#gate")
    assert "What the inspector does" in gate
    assert "After a fall" in gate
    rider.go("road")
    road = rider.page.inner_text("#road")
    assert "Before you leave the paddock" in road
    assert "Before its next ride on the road" in road
    rider.go("work")
    rider.page.select_option("#arrival", "carried")
    rider.go("road")
    assert "Before you leave the paddock" not in rider.page.inner_text("#road")


def test_ticks_hang_on_the_work_and_not_on_its_number(rider: Opened) -> None:
    rider.take(RIDER)
    rider.on(DAY)
    rider.go("work")
    jobs = rider.page.locator("#work .tick", has_text="Job ")
    count = jobs.count()
    for place in range(count):
        jobs.nth(place).locator("input").check()
    rider.go("q-helmet.made")
    box(rider, "helmet.made").fill("2025-05")
    rider.go("work")
    assert 0 < jobs.count() < count
    assert all(jobs.nth(place).locator("input").is_checked() for place in range(jobs.count()))
    rider.go("q-helmet.made")
    box(rider, "helmet.made").fill("2012-05")
    rider.go("work")
    again = jobs.filter(has_text="helmet").locator("input")
    assert again.count()
    assert not again.first.is_checked()


def test_the_look_ahead_names_the_day(rider: Opened) -> None:
    box(rider, "helmet.made").fill("2021-08-10")
    rider.go("ahead")
    rider.page.fill("#ahead-from", "2026-06-20")
    rider.page.fill("#ahead-to", "2027-12-31")
    rider.page.dispatch_event("#ahead-to", "change")
    rows = rider.page.locator("#ahead tbody tr")
    assert "not met" in rows.first.inner_text()


# ---- everybody --------------------------------------------------------------


EVERY_KIND = """
ruleset kinds "One of every kind" edition "1" valid from 2026-01-01 to 2026-12-31
fact machine.registered "Registered" yes or no ask "Is it registered?" how "See the papers."
fact a.few "Few choices" one of one, two, three ask "Which?" how "Look." takes 2 min
  caution "It may be hot."
fact a.many "Many choices" one of a, b, c, d, e, f, g, h
fact a.graded "Grade" graded low < middle < high
fact a.several "Several" several of left, right
fact a.day "Day" past date check again
fact a.week "Week" week code
fact a.size "Size" measured in mm from 0 mm to 10 mm
fact a.count "Count" count
fact a.words "Words" text
fact a.seen "Seen" yes or no for the inspector
section "First" bring "A chair."
rule kinds-few "Few" require a.few is one of one, two and a.size is at least 2 mm
  inspect "Look at it." caution "Hot." reason "Because." source common practice
  fix "Change it." takes 10 min parts "part" allow 2 days tools "spanner" caution "Hot."
  undo "Change it back." takes 5 min
rule kinds-many "Many" require a.many is one of a, b or a.graded is more than low
rule kinds-several "Several" require a.several includes all of left, right
rule kinds-day "Day" require age of a.day is at most 2 years and age of a.week is at most 5 years
rule kinds-count "Count" recommend a.count is at least 3
rule kinds-seen "Seen" require a.seen
"""
DECLARED = """declaration "Nobody" declared on 2026-06-01
machine.registered is yes  a.few is three  a.size is 1/8 in  a.several is none
a.day is 2026  a.words is "some words"  a.unknown is 7  a.many is z
"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(scheme: str, browser: Any, tmp_path: Path) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core, in every view."""
    (axe,) = needs("axe_playwright_python.sync_playwright")
    rules = trackprep.parse_ruleset(EVERY_KIND).rules
    opened = Opened(browser, written(tmp_path, rules), color_scheme=scheme)
    opened.take(DECLARED)
    opened.on(DAY)
    for view in VIEWS:
        opened.go(view)
        found = axe.Axe().run(opened.page)
        assert found.violations_count == 0, f"{view}: {found.generate_report()}"
    opened.faults.clear()  # axe writes to the console
    opened.close()


@pytest.mark.parametrize("width", [320, PHONE, 1280])
def test_nothing_runs_out_of_the_window(width: int, browser: Any, file: Path) -> None:
    opened = Opened(browser, file, width=width)
    opened.take(RIDER)
    opened.on(DAY)
    opened.page.check("#all")
    for view in VIEWS:
        opened.go(view)
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= width, view
    opened.close()


def test_print_shows_the_view_alone(rider: Opened) -> None:
    rider.take(RIDER)
    rider.go("keep")
    rider.page.emulate_media(media="print")
    assert rider.page.is_visible("#declaration")
    for other in ("#parts", "#paste", "#save", "#clear"):
        assert not rider.page.is_visible(other)
