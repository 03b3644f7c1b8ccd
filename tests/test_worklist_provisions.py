"""What a work list has to buy, to borrow and to pack, and what goes back before the road."""

from datetime import date

from worklist_made import ALL_RIGHT, ALL_WRONG, RIDDEN, made, shipped, steps, text_of, words

# ---- to get -----------------------------------------------------------------


def test_what_to_buy_and_by_when() -> None:
    """The event is on 20 June, so it has to be there on the 19th: 12 days before is the 7th."""
    bought = {one.name: one for one in made({**ALL_WRONG, **RIDDEN}).worklist.buy}
    assert (bought["spokes"].by, bought["spokes"].allow) == (date(2026, 6, 7), "12 days")
    assert bought["tyre"].by == date(2026, 6, 12)
    assert bought["valve"].by is None
    assert bought["coolant"].road
    assert [*bought] == ["spokes", "tyre", "valve", "tape", "coolant"]


def test_too_late_to_order() -> None:
    found = made(ALL_WRONG, today=date(2026, 6, 8))
    late = {one.name: one.late for one in found.worklist.buy}
    assert late["spokes"]
    assert not late["tyre"]
    assert "that day is over, so buy it in a shop, or hire or borrow it" in words(found)


def test_tools_once_with_all_they_are_for() -> None:
    tools = {one.name: one for one in made({**ALL_WRONG, **RIDDEN}).worklist.borrow}
    assert [*tools] == ["spoke key", "lever", "pump", "knife", "torch"]
    assert tools["torch"].road


def test_what_to_pack() -> None:
    pack = made({**ALL_RIGHT, **RIDDEN, "yard.tape": "bare"}).worklist.pack
    assert pack.brings == ("A broom.", "A pump.", "The sticker.")  # no guest: no ticket
    assert pack.tools == ("knife", "torch")  # to tape there, and to plug in before the way home
    assert pack.parts == ("tape",)


# ---- back on the road -------------------------------------------------------


def test_everything_with_an_undo_goes_back_met_or_not() -> None:
    for declared in (ALL_WRONG, ALL_RIGHT):
        found = made({**declared, **RIDDEN})
        # What was done last goes back first; what belongs at home waits.
        assert steps(found, "leaving") == ["Peel the lens.", "Plug the lamp in."]
        assert steps(found, "later") == ["Fill with coolant."]


def test_what_was_declared_is_told_where_the_rule_was_met() -> None:
    (lens, _) = [one for one in made({**ALL_RIGHT, **RIDDEN}).worklist.road.leaving if one.serves]
    assert lens.declared == "Lens “taped”"
    (lens, _) = [one for one in made({**ALL_WRONG, **RIDDEN}).worklist.road.leaving if one.serves]
    assert lens.declared == ""
    assert len(lens.jobs) == 1


def test_an_undo_that_does_not_hold_is_left_out() -> None:
    found = made({**ALL_RIGHT, **RIDDEN, "yard.tape": "absent"})
    assert steps(found, "leaving") == ["Plug the lamp in."]


def test_an_undo_that_may_hold_says_so() -> None:
    declared = {path: value for path, value in ALL_RIGHT.items() if path != "yard.tape"}
    (lens, lamp) = [one for one in made({**declared, **RIDDEN}).worklist.road.leaving if one.serves]
    assert lens.only_if
    assert not lamp.only_if


def test_it_cools_down_first_and_ends_with_what_the_road_asks() -> None:
    leaving = shipped("ilse", "marrowfell").worklist.road.leaving
    assert "cool down first" in text_of(leaving[0])
    points = [*dict.fromkeys(step.point for step in leaving if step.point)]
    assert points == [
        "Lamps", "Brake light", "Indicators", "Horn", "Mirrors", "Plate", "Tyre pressures",
    ]  # fmt: skip
    assert leaving[-1].point == "Tyre pressures"


def test_what_is_carried_home_has_all_of_it_for_later() -> None:
    road = made({**ALL_RIGHT, **RIDDEN}, arrival="carried").worklist.road
    assert road.leaving == ()
    later = [text_of(step) for step in road.later if step.serves]
    assert later == ["Fill with coolant.", "Peel the lens.", "Plug the lamp in."]


def test_nothing_for_a_machine_that_is_not_of_the_road() -> None:
    found = made({**ALL_WRONG, "machine.registered": False})
    assert (found.worklist.road.leaving, found.worklist.road.later) == ((), ())
    assert "declared not to be registered for the road" in found.text()


def test_where_that_is_not_declared_the_list_stands_with_a_note() -> None:
    found = made(ALL_RIGHT)
    assert steps(found, "later")
    assert "not declared (machine.registered)" in found.text()
