"""What people start from: drafts of rule files, and blank declarations."""

import re
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import trackprep
from trackprep.drafting import blank, draft, draft_like
from trackprep.explanations.mentions import facts_in
from trackprep.questions import asked, offers
from trackprep.rehearsal import rehearse
from trackprep.rules.model import Choosing, Dated, Fact, FreeText, Measured, YesOrNo
from trackprep.source import Source
from trackprep.syntax.neaten import neatened
from trackprep.units import written

DAY = date(2026, 6, 14)
SHIPPED = ("common-practice", "fenwhistle", "marrowfell", "sallowgate", "tarn-hollow")


def answer(fact: Fact) -> str:
    """Some answer to a fact's question, as a declaration spells it."""
    match fact.type:
        case Choosing():
            return offers(fact)[-1].word
        case YesOrNo():
            return "yes"
        case Dated("week code"):
            return "2319"
        case Dated():
            return "2023-04"
        case Measured(whole=True):
            return str(int(fact.type.low or 0))
        case Measured():
            return written(fact.type.low or 1 * fact.type.unit.factor, fact.type.unit) or "1"
        case FreeText():
            return '"some words"'


# ---- drafts -------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(title=st.text(min_size=1, max_size=60))
def test_whatever_the_title_a_draft_compiles_or_says_why_not(title: str) -> None:
    words = " ".join(title.split())
    if not words or not words.isprintable():
        with pytest.raises(ValueError, match="title"):
            draft(title, year=2026)
        return
    text = draft(title, year=2026)
    ruleset = trackprep.parse_ruleset(text)
    assert neatened(Source("a.trackrules", text)) == text
    assert len(ruleset.rules.examples) == 1
    assert all(not rehearsed.surprises for rehearsed in rehearse(ruleset.rules))


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("My day", "my-day"),
        ("Café à la piste!", "cafe-a-la-piste"),
        ("24 hours", "day-24-hours"),
        ("Rule", "day-rule"),
        ("走行会", "day"),
        ('"Quoted" \\ day', "quoted-day"),
    ],
)
def test_the_name_comes_from_the_title(title: str, name: str) -> None:
    ruleset = trackprep.parse_ruleset(draft(title, year=2026))
    assert (ruleset.name, ruleset.title) == (name, title)


@pytest.mark.parametrize("base", SHIPPED)
def test_every_change_that_a_draft_offers_can_be_taken_up(base: str) -> None:
    text = draft_like(base, "My day", year=2026)
    assert neatened(Source("a.trackrules", text)) == text
    assert all(
        not rehearsed.surprises for rehearsed in rehearse(trackprep.parse_ruleset(text).rules)
    )
    top, rest = text.split("\nsupplements ")
    rest, own, _ = rest.partition("# A rule of your own goes here")
    assert own
    rest = re.sub(r"^#(?=amend |stricter |  )", "", rest, flags=re.MULTILINE)
    taken_up = f"{top}\nsupplements {rest}"
    before, after = trackprep.parse_ruleset(text).rules, trackprep.parse_ruleset(taken_up).rules
    offered = set(re.findall(r"^#(?:amend|stricter) (?:limit|list) (\S+)", text, re.MULTILINE))
    assert offered == set(before.limits) | set(before.lists)
    assert {name: limit.rows for name, limit in after.limits.items()} == {
        name: limit.rows for name, limit in before.limits.items()
    }
    assert {name: words.words for name, words in after.lists.items()} == {
        name: words.words for name, words in before.lists.items()
    }


@pytest.mark.parametrize("base", SHIPPED)
def test_a_draft_published_as_it_is_asks_what_its_base_asks(base: str) -> None:
    own = trackprep.parse_ruleset(draft_like(base, "My day", year=2026)).rules
    shipped = trackprep.read_ruleset(base).rules
    assert [rule.name for rule in own.rules] == [rule.name for rule in shipped.rules]
    assert own.examples == ()


@pytest.mark.parametrize("base", SHIPPED)
def test_the_rule_that_a_draft_offers_can_be_taken_up_and_is_asked_by_no_other(base: str) -> None:
    text = draft_like(base, "My day", year=2026)
    above, told, below = text.partition("# A rule of your own goes here")
    below = re.sub(r"^#(?=section|rule|example|  )", "", below, flags=re.MULTILINE)
    taken_up = above + told + below
    assert neatened(Source("a.trackrules", taken_up)) == taken_up
    rules = trackprep.parse_ruleset(taken_up).rules
    before = {rule.name for rule in trackprep.read_ruleset(base).rules.rules}
    (own,) = (rule for rule in rules.rules if rule.name not in before)
    assert own.section == "At our place"
    (rehearsed,) = rehearse(rules)
    assert not rehearsed.surprises
    there = {fact.path for fact in asked(trackprep.read_ruleset(base).rules)}
    assert not there & {path for one in own.asked for path in facts_in(one.demand)}


@pytest.mark.parametrize("base", SHIPPED)
def test_a_draft_says_which_marks_to_take_away(base: str) -> None:
    """Followed to the letter, the words above the limits take up each change, and no title."""
    text = draft_like(base, "My day", year=2026)
    words = " ".join(re.sub(r"^# ", "", text, flags=re.MULTILINE).split())
    assert "front of `amend` and of every line down to `source`; the title above keeps" in words
    blocks = re.findall(r"^#(?:amend|stricter) .*?^#  source .*?$", text, re.MULTILINE | re.DOTALL)
    assert len(blocks) == len(re.findall(r"^#(?:amend|stricter) ", text, re.MULTILINE))
    assert all(
        line.startswith(("#amend", "#stricter", "#  ")) for b in blocks for line in b.split("\n")
    )


# ---- blanks -------------------------------------------------------------------------


@pytest.mark.parametrize("name", SHIPPED)
def test_a_blank_declares_nothing_and_has_a_line_for_each_fact_asked(name: str) -> None:
    ruleset = trackprep.read_ruleset(name)
    text = blank(ruleset.rules, name)
    assert dict(trackprep.parse_declaration(text, ruleset).values) == {}
    lines = re.findall(r"^#(\S+) is$", text, re.MULTILINE)
    assert lines == [fact.path for fact in asked(ruleset.rules)]
    assert max(map(len, text.splitlines())) <= 100


@pytest.mark.parametrize("name", SHIPPED)
def test_a_blank_filled_in_answers_all_that_the_rules_ask(name: str) -> None:
    ruleset = trackprep.read_ruleset(name)
    filled = blank(ruleset.rules, name)
    for fact in asked(ruleset.rules):
        filled = filled.replace(f"\n#{fact.path} is\n", f"\n{fact.path} is {answer(fact)}\n")
    declaration = trackprep.parse_declaration(filled, ruleset)
    assert set(declaration.values) == {fact.path for fact in asked(ruleset.rules)}
    report = ruleset.check(declaration, on=ruleset.rules.valid[0] if ruleset.rules.valid else DAY)
    undeclared = {path for answer in report.answers for path in answer.declare}
    assert all(ruleset.rules.facts[path].for_the_inspector for path in undeclared)


SMALL = """\
ruleset small "Small"
fact a.lean "Lean" measured in deg from 0 deg to 90 deg
fact a.grip "Grip" yes or no
fact a.seen "Seen" yes or no for the inspector
fact a.dry "Dry" yes or no
fact a.never "Never asked" yes or no
derived a.low "Low" means a.lean is less than 10 deg
here a.dry is yes
limit least "Least" is 5 deg when a.grip, 6 deg otherwise
rule r "R"
  when a.low and a.dry
  require a.lean is at least least and a.seen
"""


def test_what_is_asked_follows_derived_facts_and_limits_and_leaves_out_what_is_settled() -> None:
    rules = trackprep.parse_ruleset(SMALL).rules
    assert [fact.path for fact in asked(rules)] == ["a.lean", "a.grip"]
