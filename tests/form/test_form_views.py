"""What follows from a declaration on the page; and that everybody can read it."""

from pathlib import Path
from typing import Any

import pytest
from pages import DAY, PHONE, RIDER, VIEWS, Opened, needs, written

import trackprep


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
    rider.box("helmet.made").fill("2025-05")
    rider.go("work")
    assert 0 < jobs.count() < count
    assert all(jobs.nth(place).locator("input").is_checked() for place in range(jobs.count()))
    rider.go("q-helmet.made")
    rider.box("helmet.made").fill("2012-05")
    rider.go("work")
    again = jobs.filter(has_text="helmet").locator("input")
    assert again.count()
    assert not again.first.is_checked()


def test_the_look_ahead_names_the_day(rider: Opened) -> None:
    rider.box("helmet.made").fill("2021-08-10")
    rider.go("ahead")
    rider.page.fill("#ahead-from", "2026-06-20")
    rider.page.fill("#ahead-to", "2027-12-31")
    rider.page.dispatch_event("#ahead-to", "change")
    rows = rider.page.locator("#ahead tbody tr")
    assert "not met" in rows.first.inner_text()


def test_a_slip_in_the_pressure_log_is_taken_back(rider: Opened) -> None:
    rider.go("pressures")
    view = rider.page.locator("#pressures")
    figure = view.get_by_label("The tyre maker's figure for the track, cold", exact=True)
    for typed in ("2,1", "2.4"):
        figure.fill(typed)
        view.get_by_role("button", name="Note these figures").click()
    log = view.get_by_label("The pressure log")
    assert "front figure is 2.1 bar" in log.inner_text()
    assert "front figure is 2.4 bar" in log.inner_text()
    view.get_by_role("button", name="Take the last line back").click()
    assert "2.4 bar" not in log.inner_text()
    assert "front figure is 2.1 bar" in log.inner_text()
    rider.again()
    rider.go("pressures")
    assert "front figure is 2.1 bar" in log.inner_text()


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
def test_nothing_runs_out_of_the_window(width: int, browser: Any, marrowfell: Path) -> None:
    opened = Opened(browser, marrowfell, width=width)
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
