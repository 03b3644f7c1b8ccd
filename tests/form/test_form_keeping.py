"""A rider keeps, saves, loads and clears what is declared on the page."""

from datetime import date
from pathlib import Path

import pytest
from pages import RIDER, Opened

import trackprep
from trackprep.published import rulesets_folder


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
    rider.question("gloves.kind").locator("input").first.check()
    rider.box("tyre.rear.built").fill("2319")
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
