"""What stands behind the difference of two rules: limits, lists, definitions, prose."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import TypeVar

from trackprep.dates import long_form
from trackprep.explanations.clauses import bracketed
from trackprep.explanations.definitions import definitions
from trackprep.explanations.mentions import facts_in, limits_in, tests_in
from trackprep.explanations.wording import (
    capitalized,
    choice_labels,
    label_of,
    listed,
    quoted,
    value_text,
    words_of,
)
from trackprep.frozen import frozen
from trackprep.rules.conditions import ChoiceTest, Condition, SetTest
from trackprep.rules.model import Limit, LimitRow, Origin, Rule, Rules, WordList
from trackprep.rules.values import Amount
from trackprep.units import show

Named = TypeVar("Named", Limit, WordList)


@frozen
class Change:
    """Something that the two say differently.

    Attributes:
        kind: `limit`, `list`, `definition`, `event`, `fact` or `section`.
        name: Its name in the file, or its path.
        one: What the first says, in words; empty where it says nothing.
        alone: Of two lists, the words that only the first has, and those that only the second has.
    """

    kind: str
    name: str
    label: str
    one: str
    other: str
    one_origin: Origin = Origin()
    other_origin: Origin = Origin()
    alone: tuple[str, str] | None = None


def rule_changes(one: Rule | None, other: Rule | None, first: Rules, second: Rules) -> list[Change]:
    """What two rules hang on and the two rulesets say differently."""
    if one is None or other is None:
        return []
    parts = [list(_conditions(rule)) for rule in (one, other)]
    names = dict.fromkeys(name for side in parts for part in side for name in limits_in(part))
    paths = dict.fromkeys(path for side in parts for part in side for path in facts_in(part))
    return [
        *limit_changes(first, second, names),
        *list_changes(first, second, names),
        *_definition_changes(parts, first, second),
        *event_changes(first, second, paths),
    ]


def _conditions(rule: Rule) -> Iterator[Condition]:
    for asked in rule.asked:
        yield from (asked.when, asked.demand)


# ---- limits and lists -------------------------------------------------------


def limit_changes(first: Rules, second: Rules, names: Iterable[str]) -> Iterator[Change]:
    """Limits of these names that both have, with other values."""
    for name, one, other in _in_both(first.limits, second.limits, names):
        if one.rows != other.rows:
            yield Change(
                "limit", name, other.label, limit_text(one, first), limit_text(other, second),
                one.origin, other.origin,
            )  # fmt: skip


def list_changes(first: Rules, second: Rules, names: Iterable[str]) -> Iterator[Change]:
    """Lists of these names that both have, with other words."""
    for name, one, other in _in_both(first.lists, second.lists, names):
        if set(one.words) != set(other.words):
            gone = [word for word in one.words if word not in other.words]
            come = [word for word in other.words if word not in one.words]
            yield Change(
                "list", name, other.label,
                _list_text(one, first, one.words), _list_text(other, second, other.words),
                one.origin, other.origin,
                (_list_text(one, first, gone), _list_text(other, second, come)),
            )  # fmt: skip


def _in_both(
    first: Mapping[str, Named], second: Mapping[str, Named], names: Iterable[str]
) -> Iterator[tuple[str, Named, Named]]:
    for name in names:
        if name in first and name in second:
            yield name, first[name], second[name]


def limit_text(limit: Limit, rules: Rules) -> str:
    """`2 mm if group is “Novice”, otherwise 3 mm`."""
    return ", ".join(_row_text(row, len(limit.rows) > 1, rules) for row in limit.rows)


def _row_text(row: LimitRow, several: bool, rules: Rules) -> str:
    match row.value:
        case Amount(value, unit, text):
            said = text or show(value, unit)
        case date():
            said = long_form(row.value)
        case str():
            said = quoted(row.value)
    if row.condition is not None:
        return f"{said} if {bracketed(row.condition, rules)}"
    return f"otherwise {said}" if several else said


def _list_text(words: WordList, rules: Rules, only: Sequence[str]) -> str:
    """Words of a list as people read them."""
    if not only:
        return ""
    path = _path_of(words.name, rules)
    said = choice_labels(path, only, rules) if path else [quoted(word) for word in only]
    return listed(said, "and")


def _path_of(name: str, rules: Rules) -> str | None:
    """The fact whose choices a list holds."""
    for rule in rules.rules:
        for part in _conditions(rule):
            for test in tests_in(part):
                if isinstance(test, ChoiceTest | SetTest) and test.name == name:
                    return test.path
    return None


# ---- what else a rule hangs on ----------------------------------------------


def _definition_changes(
    parts: Sequence[Sequence[Condition]], first: Rules, second: Rules
) -> Iterator[Change]:
    one, other = definitions(parts[0], first), definitions(parts[1], second)
    gone = [sentence for sentence in one if sentence not in other]
    come = [sentence for sentence in other if sentence not in one]
    if gone or come:
        yield Change("definition", "", "Worked out", " ".join(gone), " ".join(come))


def event_changes(first: Rules, second: Rules, paths: Iterable[str]) -> Iterator[Change]:
    """What the two say differently of their own event."""
    for path in paths:
        one, other = (rules.here.get(path) for rules in (first, second))
        if one != other:
            before, after = (
                "" if value is None else value_text(path, value, rules)
                for value, rules in ((one, first), (other, second))
            )
            knows = second if path in second.facts else first
            label = f"{capitalized(label_of(path, knows))} at the event"
            yield Change("event", path, label, before, after)


# ---- prose ------------------------------------------------------------------

_PROSE = ("title", "level", "reason", "inspect", "cautions", "notes", "brings", "source")


def prose_changes(one: Rule, other: Rule) -> list[tuple[str, str, str]]:
    """What a rule says beside its demand and says differently: what it is, and both texts."""
    found = []
    for name in _PROSE:
        before, after = (_said(getattr(rule, name)) for rule in (one, other))
        if before != after:
            found.append((words_of(name), before, after))
    for name in ("fixes", "undos"):
        works = [dict.fromkeys(work for asked in rule.asked for work in getattr(asked, name))
                 for rule in (one, other)]  # fmt: skip
        if list(works[0]) != list(works[1]):
            texts = [" ".join(dict.fromkeys(work.text for work in each)) for each in works]
            found.append(({"fixes": "fix", "undos": "undo"}[name], texts[0], texts[1]))
    return found


def _said(prose: object) -> str:
    if isinstance(prose, tuple):
        return " ".join(map(str, prose))
    return "" if prose is None else str(prose)
