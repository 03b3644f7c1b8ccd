"""A rider answers the page's questions: a person's clicks and keys, on a phone."""

from datetime import date

from pages import DAY, RIDER, Opened

import trackprep
from trackprep.published import rulesets_folder


def test_an_answer_settles_its_rules_as_it_is_typed(rider: Opened) -> None:
    made = rider.box("helmet.made")
    made.fill("Apr 2014")
    assert rider.question("helmet.made").locator(".echo").inner_text().startswith("April 2014")
    assert rider.verdicts() == ["not-ready"]
    assert "helmet.made is 2014-04" in rider.declared()
    rider.go("answers")
    entry = rider.page.locator("#answers article[data-status=not-met]")
    assert entry.count() == 1
    assert "April 2014" in entry.inner_text()


def test_what_cannot_be_read_is_told_and_no_answer(rider: Opened) -> None:
    made = rider.box("helmet.made")
    made.fill("04/23")
    made.blur()
    problem = rider.question("helmet.made").locator(".problem")
    assert "23" in problem.inner_text()
    assert made.get_attribute("aria-invalid") == "true"
    assert made.input_value() == "04/23"
    assert "helmet.made" not in rider.declared()


def test_units_are_selected_and_remembered(rider: Opened) -> None:
    rider.page.check("#system input[value=imperial]")
    tread = rider.question("tyre.front.tread")
    offered = tread.locator("select option").all_inner_texts()
    assert {"mm", "in", "32nds"} <= set(offered)
    assert offered[0] in ("in", "32nds")
    tread.locator("select").select_option("32nds")
    rider.box("tyre.front.tread").fill("5")
    assert "tyre.front.tread is 5 32nds" in rider.declared()
    rider.again()
    assert rider.page.is_checked("#system input[value=imperial]")
    assert "tyre.front.tread is 5 32nds" in rider.declared()


def test_only_what_can_still_change_an_answer_is_asked(rider: Opened) -> None:
    rider.page.check("#all")
    lens = rider.question("helmet.made")
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
    rider.question("helmet.made").locator(".doubt input").check()
    assert "# not known: helmet.made" in rider.declared()
    rider.go("declare")
    assert "1 that you could not tell" in rider.page.inner_text("#left")
    rider.go("work")
    assert "Find out what you could not tell" in rider.page.inner_text("#work")
    rider.go("declare")
    rider.question("helmet.made").locator(".doubt input").uncheck()
    assert "not known" not in rider.declared()


def test_what_the_rider_cannot_tell_is_declared_no_more(rider: Opened) -> None:
    rider.box("helmet.made").fill("2014")
    assert rider.verdicts() == ["not-ready"]
    rider.question("helmet.made").locator(".doubt input").check()
    assert rider.verdicts() == ["incomplete"]
    assert "helmet.made is" not in rider.declared()


def test_a_comma_before_decimals_is_a_decimal_point(rider: Opened) -> None:
    """Many telephones have no other key for it; three digits might be thousands."""
    rider.box("tyre.front.tread").fill("3,5")
    assert "tyre.front.tread is 3.5 mm" in rider.declared()
    rider.go("declare")
    rider.box("tyre.front.tread").fill("3,500")
    assert "tyre.front.tread" not in rider.declared()


def test_what_cannot_be_read_is_still_there_later(rider: Opened) -> None:
    rider.box("helmet.made").fill("5/4/2023")
    rider.again()
    rider.go("declare")
    assert rider.box("helmet.made").input_value() == "5/4/2023"
    assert rider.question("helmet.made").locator(".problem").inner_text()


def test_a_date_after_the_event_is_told(rider: Opened) -> None:
    rider.box("helmet.made").fill("2026-05-10")
    rider.on(date(2026, 4, 20))
    problem = rider.question("helmet.made").locator(".problem")
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
    rider.box("helmet.made").fill("2024-05")
    rider.question("helmet.made").get_by_role("button").click()
    assert rider.box("helmet.made").input_value() == ""
    assert "helmet.made" not in rider.declared()


def test_none_takes_the_others_away(rider: Opened) -> None:
    armour = rider.question("suit.armour")
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
