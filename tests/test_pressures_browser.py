"""The pages of a day's pressures and of a club's riders in a real browser.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browsing import DESK, PHONE, opened

import trackprep
from trackprep.pressures.day import DayReport
from trackprep.pressures.log import read_log
from trackprep.published import shipped_path
from trackprep.reports.pages.html import page_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser

LOG = """\
front figure is 31 psi at 20 °C
front least is 26 psi
front sidewall is 42 psi
rear figure is 2 bar at 20 °C
rear sidewall is 2.9 bar
on 2026-06-14 at 08:12 front set to 29.3 psi cold air 9 °C
on 2026-06-14 at 08:13 rear set to 1.89 bar cold air 9 °C  # before the first ride
on 2026-06-14 at 10:40 front is 35.5 psi hot air 19 °C tyre 62 °C
on 2026-06-14 at 13:40 front is 25.9 psi cold air 24 °C
"""


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A day with cautions, and the demo riders at two events."""
    folder = tmp_path_factory.mktemp("pages")
    day = date(2026, 6, 14)
    rulesets = [trackprep.read_ruleset(name) for name in ("tarn-hollow", "marrowfell")]
    shipped = shipped_path("standard")
    assert shipped is not None
    riders = sorted(shipped.parent.glob("*.rider"))
    rules = trackprep.read_ruleset("standard").rules
    pages = {
        "day": DayReport(read_log(LOG, "a.log", rules).day(day), rules).page,
        "riders": trackprep.check_riders(riders, *rulesets, on=day).page,
    }
    for name, page in pages.items():
        (folder / f"{name}.html").write_text(page_html(page), encoding="utf-8")
    return {name: folder / f"{name}.html" for name in pages}


@pytest.mark.parametrize("name", ["day", "riders"])
@pytest.mark.parametrize(("width", "scheme"), [(PHONE, "light"), (DESK, "dark")])
def test_axe_finds_nothing(
    browser: "Browser", files: dict[str, Path], name: str, width: int, scheme: str
) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(opened(browser, files[name], width, scheme))
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("name", ["day", "riders"])
@pytest.mark.parametrize("width", [320, PHONE, DESK])
def test_nothing_runs_out_of_the_window(
    browser: "Browser", files: dict[str, Path], name: str, width: int
) -> None:
    page = opened(browser, files[name], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_picture_is_large_enough_to_read(
    browser: "Browser", files: dict[str, Path], width: int
) -> None:
    page = opened(browser, files["day"], width)
    heights = page.eval_on_selector_all(
        "svg text", "all => all.map(one => one.getBoundingClientRect().height)"
    )
    assert heights
    assert min(heights) >= 10
