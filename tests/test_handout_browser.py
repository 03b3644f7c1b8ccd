"""The sheet in a real browser: on a phone, in print on both papers, and with hostile texts.

Needs a Chromium of the system (`apt-get install chromium`); no browser is downloaded.
"""

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browsing import DESK, PHONE, SHEET, opened
from processes import call
from test_handout import ATTACK, hostile

if TYPE_CHECKING:
    from playwright.sync_api import Browser

PAPERS = {"A4": (595, 842), "Letter": (612, 792)}  # pt; ISO 216, ANSI/ASME Y14.1


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A supplement with much in it, and what changed in it."""
    folder = tmp_path_factory.mktemp("handout")
    done = call(folder, "handout", "marrowfell", "--since", "tarn-hollow", "-o", ".")
    assert done.code == 0, done.err
    return folder / "marrowfell-sheet.html"


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


@pytest.mark.parametrize("paper", PAPERS)
def test_it_prints_on_either_paper(browser: "Browser", file: Path, paper: str) -> None:
    """The style names margins and no size, so that the printer's own paper is taken."""
    pdf = opened(browser, file).pdf(format=paper, prefer_css_page_size=True)
    boxes = re.findall(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert len(boxes) > 3
    for box in boxes:
        assert [float(side) for side in box] == pytest.approx(PAPERS[paper], abs=1)


def test_print_is_black_on_white_and_breaks_no_rule(browser: "Browser", file: Path) -> None:
    page = opened(browser, file, SHEET, "dark")
    page.emulate_media(media="print")
    assert not page.locator("nav").is_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    breaks = page.eval_on_selector_all(
        ".passage", "all => all.map(o => getComputedStyle(o).breakInside)"
    )
    assert set(breaks) == {"avoid"}
    assert page.evaluate("document.documentElement.scrollWidth") <= SHEET


def test_every_digest_can_be_read_on_a_phone(browser: "Browser", file: Path) -> None:
    page = opened(browser, file, 320)
    for label in ("Digest of the file", "Digest of the meaning"):
        shown = page.locator(f"dt:has-text('{label}') + dd")
        assert re.fullmatch(r"sha256/[a-z]+-1:[0-9a-f]{64}", shown.inner_text())
        assert shown.bounding_box()["width"] <= 320  # type: ignore[index]


def test_nothing_that_a_rule_file_says_runs(browser: "Browser", tmp_path: Path) -> None:
    page = opened(browser, hostile(tmp_path))
    assert page.title().startswith("</title>")
    assert page.locator("img, script").count() == 0
    assert page.locator("body").inner_text().count(ATTACK) > 8
