"""The facts of the form: those that the rulesets use, in order, with all that is said of them."""

from typing import Any

import pytest
from models import rule, rules_of
from test_page_backend import VENUES

import trackprep
from trackprep.publishing.form.facts import plain_facts, used_facts
from trackprep.rider.asking_order import in_order
from trackprep.rules import conditions as c
from trackprep.rules.model import Choosing, Measured, Rules

FLAG = c.FlagTest("flag.a", True)


@pytest.mark.parametrize("name", VENUES)
def test_the_facts_of_a_page_say_what_the_vocabulary_says(name: str, call: Any) -> None:
    rules = trackprep.read_ruleset(name).rules
    plain = plain_facts([rules])
    found = call("expandedFacts", plain)
    for given_, its in zip(plain, found, strict=True):
        fact = rules.facts[given_["path"]]
        assert its["label"] == fact.label
        for key in ("ask", "how", "caution", "section"):
            assert its.get(key, "") == getattr(fact, key)
        assert its.get("inspector", False) == fact.for_the_inspector
        assert its.get("private", False) == fact.private
        assert its.get("takes") == (fact.takes and str(fact.takes.value / 60))
        if isinstance(fact.type, Choosing):
            assert its["choices"] == [
                [choice.word, choice.spoken, *([[*choice.also]] if choice.also else [])]
                for choice in fact.type.choices
            ]
        if isinstance(fact.type, Measured):
            ends = [its.get("low"), its.get("high")]
            low, high = fact.type.low, fact.type.high
            assert ends == [None if end is None else str(end) for end in (low, high)]
            assert its.get("unit", "") == fact.type.unit.name


@pytest.mark.parametrize("name", VENUES)
def test_the_facts_stand_in_the_order_to_ask_the_inspectors_last(name: str, call: Any) -> None:
    rules = trackprep.read_ruleset(name).rules
    found = call("expandedFacts", plain_facts([rules]))
    used = set(used_facts(rules))
    order = [(asked.fact.path, asked.heading) for asked in in_order([rules])]
    riders = [(its["path"], its["heading"]) for its in found if "inspector" not in its]
    assert riders == [(path, heading) for path, heading in order if path in used]
    assert all("inspector" in its for its in found[len(riders) :])
    assert {its["path"] for its in found} == used


def test_what_each_event_settles_itself_is_marked() -> None:
    test = rule((c.ALWAYS, c.All((c.FlagTest("flag.b", True), FLAG))))
    settles, asks = rules_of(test, here={"flag.b": True}), rules_of(test)
    other = rules_of(rule((c.ALWAYS, FLAG)))

    def marked(*several: Rules) -> list[str]:
        return [its["path"] for its in plain_facts(several) if its.get("here")]

    assert marked(settles) == marked(settles, other) == ["flag.b"]
    assert marked(settles, asks) == marked(asks) == []


def test_facts_that_only_work_or_a_heading_goes_by_are_used() -> None:
    text = """ruleset day "Day"
fact pegs "Footpegs" one of fixed, folding
fact stand "Stand" yes or no
fact gloves "Gloves" yes or no
fact unheard "Nobody asks" yes or no
fact machine.registered "Registered" yes or no
section "Hands"
  when gloves
rule stand "Stand"
  require not stand
  fix "Take the stand off"
    when pegs is folding
"""
    rules = trackprep.parse_ruleset(text).rules
    assert used_facts(rules) == ("pegs", "stand", "gloves", "machine.registered")
