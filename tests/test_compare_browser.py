"""The page of a comparison in a real browser: readable on a phone, without colour, and in print.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browsing import DESK, PHONE, SHEET, SMALLEST_TARGET, opened

import trackprep
from trackprep.reports.pages.html import page_html

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The comparison, and the change log, of two shipped venues that differ in most ways."""
    folder = tmp_path_factory.mktemp("pages")
    report = trackprep.compare(*map(trackprep.read_ruleset, ("tarn-hollow", "fenwhistle")))
    pages = {"comparison": report.page, "changes": report.changes}
    for name, page in pages.items():
        (folder / f"{name}.html").write_text(page_html(page), encoding="utf-8")
    return {name: folder / f"{name}.html" for name in pages}


@pytest.mark.parametrize("name", ["comparison", "changes"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [PHONE, DESK])
def test_axe_finds_nothing(
    browser: "Browser", files: dict[str, Path], name: str, scheme: str, width: int
) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core, with everything unfolded."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    page = opened(browser, files[name], width, scheme)
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = true)")
    found = axe.Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("width", [320, PHONE, DESK])
def test_nothing_runs_out_of_the_window(
    browser: "Browser", files: dict[str, Path], width: int
) -> None:
    page = opened(browser, files["comparison"], width)
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_finger_hits_what_can_be_pressed(browser: "Browser", files: dict[str, Path]) -> None:
    page = opened(browser, files["comparison"], PHONE)
    heights = page.eval_on_selector_all(
        "nav a, summary", "all => all.filter(one => one.offsetParent).map(one => one.offsetHeight)"
    )
    assert heights
    assert min(heights) >= SMALLEST_TARGET


def test_badges_say_in_words_what_they_say_in_colour(
    browser: "Browser", files: dict[str, Path]
) -> None:
    page = opened(browser, files["comparison"])
    badges = {text.split(maxsplit=1)[1] for text in page.locator(".badge").all_inner_texts()}
    assert {"stricter", "looser", "added", "withdrawn", "yes"} <= badges


def test_the_first_tab_leads_past_the_links(browser: "Browser", files: dict[str, Path]) -> None:
    page = opened(browser, files["comparison"])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the text"
    page.keyboard.press("Enter")
    assert page.url.endswith("#start")


def test_print_leaves_out_what_only_a_screen_needs(
    browser: "Browser", files: dict[str, Path]
) -> None:
    page = opened(browser, files["comparison"], SHEET, "dark")
    page.emulate_media(media="print")
    assert not page.locator("nav").is_visible()
    assert not page.locator("details").first.is_visible()
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
    assert page.evaluate("document.documentElement.scrollWidth") <= SHEET


def test_nothing_that_a_file_says_runs(browser: "Browser", tmp_path: Path) -> None:
    """Titles that would be scripts: they are shown, and the policy would stop them besides."""
    attack = "<img src=x onerror=document.title='owned'><script>document.title='owned'</script>"
    text = (
        f'ruleset day "{attack}"\nfact a "{attack}" yes or no\nrule r "{attack}"\n  require {{}}\n'
    )
    one, other = (trackprep.parse_ruleset(text.format(asked)) for asked in ("a", "not a"))
    file = tmp_path / "attack.html"
    file.write_text(page_html(trackprep.compare(one, other).page), encoding="utf-8")
    page = opened(browser, file)
    assert "owned" not in page.title().replace("document.title='owned'", "")
    assert page.locator("img, script").count() == 0
    assert attack in page.locator("article").last.inner_text()
