"""A work list in a real browser: boxes to tick on a phone, and a sheet to print.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browsing import DESK, PHONE, SHEET, SMALLEST_TARGET, opened
from worklist_made import made, shipped

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Much to do, at two events, and the way home."""
    path = tmp_path_factory.mktemp("worklist") / "list.html"
    path.write_text(shipped("ilse", "marrowfell", "fenwhistle").html(), encoding="utf-8")
    return path


@pytest.mark.parametrize(("width", "scheme"), [(PHONE, "light"), (DESK, "dark")])
def test_axe_finds_nothing(browser: "Browser", file: Path, width: int, scheme: str) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(opened(browser, file, width, scheme))
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("width", [320, PHONE, DESK])
def test_nothing_runs_out_of_the_window(browser: "Browser", file: Path, width: int) -> None:
    page = opened(browser, file, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_finger_ticks_a_box_by_its_words(browser: "Browser", file: Path) -> None:
    page = opened(browser, file, PHONE)
    heights = page.eval_on_selector_all(".tick", "all => all.map(one => one.offsetHeight)")
    assert min(heights) >= SMALLEST_TARGET
    job = page.get_by_role("checkbox", name="Job 1:")
    assert not job.is_checked()
    page.get_by_text("Job 1:").click()
    assert job.is_checked()


def test_cautions_stand_right_above_the_box(browser: "Browser", file: Path) -> None:
    page = opened(browser, file)
    tags = page.eval_on_selector_all(
        ".caution", "all => all.map(one => one.nextElementSibling.className)"
    )
    assert tags
    assert set(tags) <= {"tick", "caution"}


def test_print_shows_boxes_on_white_and_breaks_no_job(browser: "Browser", file: Path) -> None:
    page = opened(browser, file, SHEET, "dark")
    page.emulate_media(media="print")
    assert not page.locator("nav").is_visible()
    assert page.locator(".tick input").first.is_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    breaks = page.eval_on_selector_all(
        ".task", "all => all.map(o => getComputedStyle(o).breakInside)"
    )
    assert set(breaks) == {"avoid"}
    assert page.evaluate("document.documentElement.scrollWidth") <= SHEET


def test_nothing_that_a_rule_file_says_runs(browser: "Browser", tmp_path: Path) -> None:
    attack = "<img src=x onerror=document.title='owned'><script>document.title='owned'</script>"
    text = (
        f'ruleset r "R"\nbring "{attack}"\nfact a "A" yes or no\nrule r "{attack}" require a\n'
        f'fix "{attack}" parts "{attack}" tools "{attack}" undo "{attack}" caution "{attack}"\n'
    )
    file = tmp_path / "attack.html"
    file.write_text(made({"a": False}, text).html(), encoding="utf-8")
    page = opened(browser, file)
    assert page.title() == "Work list"
    assert page.locator("img, script").count() == 0
    assert attack in page.locator(".task").first.inner_text()
