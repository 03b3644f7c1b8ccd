"""The pressure part of the page: filled in and clicked as a rider does."""

from collections.abc import Iterator
from typing import Any

import pytest
from form.pressure_logs import FORM, STANDARD, of

from trackprep.pressures.log import read_log
from trackprep.publishing.form.script import form_pieces

BUILD = """(form, text, system) => {
  document.body.replaceChildren(element("main", {}));
  window.logs = [];
  const onChange = (now) => window.logs.push(now);
  pressureSection(document.querySelector("main"), { ...form, text, system, onChange });
}"""


@pytest.fixture(scope="module")
def opened(browser: Any) -> Iterator[Any]:
    """A page that has the scripts, to click in."""
    page = browser.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.set_content(f"<script>{form_pieces()}</script>")
    yield page
    page.close()


def built(opened: Any, text: str = "", system: str = "imperial") -> Any:
    """The part, with what a log says already."""
    opened.evaluate(f"given => ({BUILD})(...given)", [FORM, text, system])
    return opened.locator("main")


def test_figures_and_a_reading_are_noted_and_answered(opened: Any) -> None:
    place = built(opened)
    figures = place.get_by_role("group", name="Note figures of a tyre")
    figures.get_by_label("The tyre maker's figure for the track, cold", exact=True).fill("31")
    given_at = figures.get_by_label("The temperature for which the maker gives", exact=False)
    given_at.first.fill("20C")
    figures.get_by_label("The least pressure that the tyre's maker").first.fill("26")
    figures.get_by_label("The maximum that stands on the sidewall").first.fill("2.9 bar")
    figures.get_by_role("button", name="Note these figures").click()
    assert not figures.get_by_role("textbox").first.input_value()
    place.locator("#now-air").fill("9 °C")
    place.locator("#now-air").press("Tab")
    assert "Front tyre: set 29.3 psi" in place.inner_text()
    assert "Pressure of the air at an altitude" not in place.text_content()
    place.locator("#now-altitude").fill("600 m")
    place.locator("#now-altitude").press("Tab")
    assert "Pressure of the air at an altitude" in place.text_content()
    readings = place.get_by_role("group", name="Note a reading")
    readings.get_by_label("What the gauge shows", exact=True).fill("30.2")
    readings.get_by_label("The temperature of the air, in the shade", exact=True).fill("9C")
    readings.get_by_label("How high the paddock lies", exact=True).fill("600 m")
    readings.get_by_label("Note", exact=True).fill("before the first ride\n#1")
    readings.get_by_label("Note", exact=True).press("Enter")
    answer = place.locator("[aria-live]").filter(has_text="Bleed 0.9 psi")
    assert "cold, to 29.3 psi" in answer.inner_text()
    log = read_log(opened.evaluate("() => window.logs.at(-1)"), "log", STANDARD)
    assert not log.problems
    assert log.figures["front"].sidewall == of("2.9 bar")
    [reading] = log.readings
    assert (reading.pressure, reading.air, reading.altitude) == (
        of("30.2 psi"), of("9 °C"), of("600 m"),
    )  # fmt: skip
    assert reading.note == "before the first ride #1"
    assert place.get_by_role("region", name="The pressure log").inner_text().strip() == (
        opened.evaluate("() => window.logs.at(-1)").strip()
    )


def test_what_is_wrong_is_told_beside_the_field_and_nothing_is_noted(opened: Any) -> None:
    place = built(opened)
    figures = place.get_by_role("group", name="Note figures of a tyre")
    field = figures.get_by_label("The tyre maker's figure for the track, cold", exact=True)
    for typed in ("31 kg", "thirty", "0", "-3"):
        field.fill(typed)
        field.press("Enter")
        assert figures.get_by_role("alert").first.inner_text(), typed
        assert field.input_value() == typed
        assert field.get_attribute("aria-invalid") == "true"
    field.fill("")
    figures.get_by_label("The temperature for which the maker gives", exact=False).first.fill("20")
    field.press("Enter")
    assert "belong to a figure" in figures.inner_text()
    place.get_by_role("button", name="Note this reading").click()
    assert "Write a number." in place.inner_text()
    assert opened.evaluate("() => window.logs") == []


def test_cautions_and_damaged_lines_are_told(opened: Any) -> None:
    text = (
        "front figure is 42 psi\nfront sidewall is 42 psi\nnonsense\n"
        "on 2026-06-14 at 08:10 front is 20 psi cold air 9 °C\nfront least is 26 psi\n"
        "on 2026-06-14 at 08:20 front is 20 psi cold air 9 °C"
    )
    told = built(opened, text).inner_text()
    assert "The maximum is no setting" in told
    assert "is below the least that its maker allows" in told
    assert "Line 3, “nonsense”: this is no line of a pressure log" in told
    assert "Line 6" in told
    assert "Before the road, when the tyres have cooled down" in told


def test_metric_riders_are_offered_bar_first(opened: Any) -> None:
    for system, first in (("metric", "bar"), ("imperial", "psi")):
        place = built(opened, "", system)
        assert place.get_by_label("Unit: what the gauge shows").input_value() == first


def test_every_control_has_a_name(opened: Any) -> None:
    built(opened, "front figure is 31 psi\n")
    nameless = """() => [...document.querySelectorAll("main input, main select, main button")]
      .filter((one) => !one.labels?.length && !one.ariaLabel && !one.textContent.trim())
      .map((one) => one.outerHTML)"""
    assert opened.evaluate(nameless) == []
    ids = opened.evaluate("() => [...document.querySelectorAll('main [id]')].map((one) => one.id)")
    assert len(ids) == len(set(ids))
