"""The change log of a ruleset: what is new since the edition before, for riders to read."""

from collections.abc import Iterator

from trackprep.analysis.comparisons import Comparison, Kind, RuleDifference
from trackprep.explanations.clauses import clause
from trackprep.explanations.mentions import limits_in
from trackprep.explanations.sentences import applies_clause, asked_sentences, conjuncts
from trackprep.explanations.wording import capitalized, listed
from trackprep.reports.comparison.changes import Change, prose_changes, rule_changes
from trackprep.reports.comparison.editions import edition_blocks
from trackprep.reports.comparison.outcome import outcome_of
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Page, Paragraph
from trackprep.rules.conditions import Condition
from trackprep.rules.model import Asked, Rule, Rules

FOOTER = (
    "A machine is ready to present by these rules, never more: the inspector at the gate, the"
    " machine's manual, local law and a qualified mechanic come first."
)
_HEADINGS: tuple[tuple[str, tuple[Kind, ...]], ...] = (
    ("Stricter", ("stricter",)),
    ("Looser", ("looser",)),
    ("Changed both ways", ("differs both ways",)),
    ("Asked to be declared otherwise", ("asks for more", "asks for less", "asks otherwise")),
    ("New", ("added",)),
    ("Withdrawn", ("withdrawn",)),
    ("Changed, not told in which direction", ("undecided",)),
    ("Reworded", ("reworded",)),
)


def change_log(comparison: Comparison) -> Page:
    """What changed, by direction; and whether the edition was raised with it."""
    one, other = comparison.one, comparison.other
    title = f"What changed: {_edition(other)}, since {_since(one, other)}"
    blocks: list[Block] = [*edition_blocks(comparison)]
    for heading, kinds in _HEADINGS:
        points = tuple(_point(each, comparison) for each in comparison.rules if each.kind in kinds)
        if points:
            blocks += [Heading(heading), Bullets(points)]
    if not any(isinstance(block, Heading) for block in blocks):
        said = {"same": "Nothing changed.", "differs": "No rule changed."}
        blocks.append(Paragraph(said.get(outcome_of(comparison), "It cannot be told.")))
    return Page(title, tuple(blocks), FOOTER)


def _edition(rules: Rules) -> str:
    return f"{rules.title}, edition {rules.edition}" if rules.edition else rules.title


def _since(one: Rules, other: Rules) -> str:
    if one.title != other.title:
        return _edition(one)
    return f"edition {one.edition}" if one.edition else "the one before"


def _point(each: RuleDifference, comparison: Comparison) -> tuple[str, str]:
    """The rule's title, and what changed in it."""
    one, other, first, second = each.one, each.other, comparison.one, comparison.other
    title = each.rule.title
    if one is None or other is None:
        text = _alone(each, first, second)
    elif each.kind == "reworded":
        text = _reworded(one, other)
    else:
        text = changed_sentence(one, other, first, second)
        if reason := _why(one, other):
            text = f"{text} {reason}"
    return title, text


def changed_sentence(one: Rule, other: Rule, first: Rules, second: Rules) -> str:
    """What a rule asks otherwise than before."""
    said = [*_level(one, other), *_changed(one, other, first, second)]
    text = "; ".join(said) if said else _in_full(one, other, first, second)
    return f"{capitalized(text.rstrip('.'))}."


def _alone(each: RuleDifference, first: Rules, second: Rules) -> str:
    again = " Other rules ask it already." if each.restates else ""
    if each.other is not None:
        return asked_sentences(each.other, second) + again
    why = second.withdrawn.get(each.rule.name)
    return f"{why or 'No longer asked.'}{again}"


def _reworded(one: Rule, other: Rule) -> str:
    changes = prose_changes(one, other)
    if [what for what, _, _ in changes] == ["title"]:
        return f"The title was “{one.title}”."
    return f"Other words in: {listed([what for what, _, _ in changes], 'and')}."


def _why(one: Rule, other: Rule) -> str:
    return other.reason if other.reason != one.reason else ""


# ---- a rule that asks something else ----------------------------------------


def _level(one: Rule, other: Rule) -> Iterator[str]:
    if one.level != other.level:
        yield f"now {other.level} (was {one.level})"


def _changed(one: Rule, other: Rule, first: Rules, second: Rules) -> Iterator[str]:
    changes = rule_changes(one, other, first, second)
    named = frozenset(change.name for change in changes if change.kind in ("limit", "list"))
    yield from map(_change, changes)
    if [asked.part for asked in one.asked] != [asked.part for asked in other.asked]:
        yield _in_full(one, other, first, second)
        return
    told: dict[str, None] = {}
    for before, after in zip(one.asked, other.asked, strict=True):
        told.update(dict.fromkeys(_asked(before, after, named, first, second)))
    yield from told


def _change(change: Change) -> str:
    if change.alone is not None:
        gone, come = change.alone
        said = [f"now also {come}"] if come else []
        said += [f"no longer {gone}"] if gone else []
        return f"{change.label}: {', '.join(said)}"
    if change.kind == "definition":
        said = [
            text for text in (change.other, f"Before: {change.one}" if change.one else "") if text
        ]
        return " ".join(said).rstrip(".")
    return f"{change.label} now {change.other or 'not said'} (was {change.one or 'not said'})"


def _asked(
    before: Asked, after: Asked, named: frozenset[str], first: Rules, second: Rules
) -> Iterator[str]:
    """What is asked in other cases, and what else or no longer."""
    was, now = applies_clause(before.when, first), applies_clause(after.when, second)
    if was != now:
        yield f"now asked {now or 'always'} (was: {was or 'always'})"
    old, new = _clauses(before.demand, first), _clauses(after.demand, second)
    gone = [text for text, names in old.items() if text not in new and not names & named]
    come = [text for text, names in new.items() if text not in old and not names & named]
    if come and gone:
        yield f"now {listed(come, 'and')} (was: {listed(gone, 'and')})"
    elif come:
        yield f"now also {listed(come, 'and')}"
    elif gone:
        yield f"no longer asked that {listed(gone, 'and')}"


def _clauses(demand: Condition, rules: Rules) -> dict[str, frozenset[str]]:
    """Each demand in words, with the limits and lists that it names."""
    return {clause(part, rules): frozenset(limits_in(part)) for part in conjuncts(demand)}


def _in_full(one: Rule, other: Rule, first: Rules, second: Rules) -> str:
    return f"{asked_sentences(other, second)} Before: {asked_sentences(one, first)}"
