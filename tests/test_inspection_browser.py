"""The inspection sheet in a real browser: on a phone, and in print on both papers.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browsing import DESK, PHONE, SHEET, SMALLEST_TARGET, opened
from test_handout import ATTACK
from test_handout_browser import PAPERS
from test_inspection import DEMOS, HERE, RULESETS, by_rider, hostile_pages

import trackprep
from trackprep.publishing.inspection import blank_sheet
from trackprep.reports.pages.html import page_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser

SMALL_RIDERS = ("ann.rider", "ben.gear.rider", "ben.machine.rider")


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Of a small ruleset by rider, of a shipped one blank and by rider, and of a hostile one."""
    folder = tmp_path_factory.mktemp("inspection")
    small, venue = (
        trackprep.read_ruleset(name) for name in (HERE / "heath-day.trackrules", "fenwhistle")
    )
    pages = {
        "small": by_rider(small, *((HERE / "riders" / name).read_text() for name in SMALL_RIDERS)),
        "blank": blank_sheet(venue.rules),
        "riders": by_rider(venue, *((RULESETS / f"{demo}.rider").read_text() for demo in DEMOS)),
        "hostile": list(hostile_pages())[1],
    }
    for name, page in pages.items():
        (folder / f"{name}.html").write_text(page_html(page), encoding="utf-8")
    return {name: folder / f"{name}.html" for name in pages}


@pytest.mark.parametrize(
    ("name", "width", "scheme"),
    [("small", PHONE, "light"), ("small", DESK, "dark"), ("blank", PHONE, "dark")],
)
def test_axe_finds_nothing(
    browser: "Browser", files: dict[str, Path], name: str, width: int, scheme: str
) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(opened(browser, files[name], width, scheme))
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("name", ["blank", "riders"])
@pytest.mark.parametrize("width", [320, PHONE])
def test_nothing_runs_out_of_the_window(
    browser: "Browser", files: dict[str, Path], name: str, width: int
) -> None:
    page = opened(browser, files[name], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_finger_hits_every_box(browser: "Browser", files: dict[str, Path]) -> None:
    page = opened(browser, files["small"], PHONE)
    for label in page.locator("label.tick").all():
        box = label.bounding_box()
        assert box is not None
        assert box["height"] >= SMALLEST_TARGET
    first = page.get_by_label("Full-face helmet").first
    page.get_by_text("Try to lift the chin bar.").first.click()
    assert first.is_checked()


@pytest.mark.parametrize("paper", PAPERS)
def test_one_page_a_rider(browser: "Browser", files: dict[str, Path], paper: str) -> None:
    pdf = opened(browser, files["small"]).pdf(format=paper, prefer_css_page_size=True)
    boxes = re.findall(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert len(boxes) == len(SMALL_RIDERS)
    for box in boxes:
        assert [float(side) for side in box] == pytest.approx(PAPERS[paper], abs=1)


def test_every_rider_begins_on_a_page_of_its_own(
    browser: "Browser", files: dict[str, Path]
) -> None:
    """Between two riders there is a break, and no point is torn by one."""
    page = opened(browser, files["riders"], SHEET)
    page.emulate_media(media="print")
    breaks = "all => all.map(one => getComputedStyle(one).breakAfter)"
    assert page.eval_on_selector_all("hr.break", breaks) == ["page"] * (len(DEMOS) - 1)
    after = "all => all.map(one => one.nextElementSibling.tagName)"
    assert page.eval_on_selector_all("hr.break", after) == ["H2"] * (len(DEMOS) - 1)
    torn = "all => all.map(one => getComputedStyle(one).breakInside)"
    assert set(page.eval_on_selector_all(".close", torn)) == {"avoid"}


def test_print_is_close_and_can_be_read(browser: "Browser", files: dict[str, Path]) -> None:
    page = opened(browser, files["riders"], SHEET, "dark")
    page.emulate_media(media="print")
    assert page.evaluate("document.documentElement.scrollWidth") <= SHEET
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    sizes = page.eval_on_selector_all(
        ".close label, .close dd, .close li",
        "all => all.map(one => parseFloat(getComputedStyle(one).fontSize))",
    )
    assert min(sizes) * 0.75 >= 8  # pt; a px is 1/96 in
    box = page.locator(".close input").first.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["width"] >= 10


def test_nothing_that_a_stranger_writes_runs(browser: "Browser", files: dict[str, Path]) -> None:
    page = opened(browser, files["hostile"])
    assert page.title().startswith("Inspection by rider: </title>")
    assert page.locator("img, script").count() == 0
    assert page.locator("body").inner_text().count(ATTACK) > 4
