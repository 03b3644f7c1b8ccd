"""The comparison as a page: counts, the whole, the rules by section, and what else differs."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from trackprep.analysis.comparisons import Comparison, Kind, RuleDifference
from trackprep.explanations.sentences import asked_sentences
from trackprep.explanations.wording import capitalized, counted
from trackprep.reports.comparison.changes import Change, prose_changes, rule_changes
from trackprep.reports.comparison.editions import edition_blocks
from trackprep.reports.comparison.naming import BADGES, Names, kind_sentence
from trackprep.reports.comparison.other_changes import other_changes
from trackprep.reports.comparison.shown import shown_facts
from trackprep.reports.comparison.whole import whole_blocks
from trackprep.reports.pages.blocks import (
    Block,
    Entry,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Table,
)
from trackprep.rules.model import Origin, Rule, Rules

FOOTER = (
    "This compares what rule files say, for the machines and gear that the files can tell apart;"
    " the machines in it are invented. Nothing here says that a machine is safe: the organizer's"
    " inspector, the machine's manual, local law and a qualified mechanic come first."
)
CHANGED: tuple[Kind, ...] = (
    "stricter", "looser", "differs both ways", "asks for more", "asks for less",
    "asks otherwise", "undecided",
)  # fmt: skip


def comparison_page(comparison: Comparison) -> Page:
    """The whole comparison."""
    names = Names.of(comparison)
    blocks = (
        _sides(comparison, names),
        Paragraph(_period(comparison)),
        *edition_blocks(comparison),
        Paragraph(summary(comparison), "In short"),
        *whole_blocks(comparison, names),
        *_rules(comparison, names),
        *_rest(comparison, names),
    )
    return Page(_title(comparison, names), blocks, FOOTER)


def _title(comparison: Comparison, names: Names) -> str:
    one, other = comparison.one, comparison.other
    if one.title == other.title:
        return f"{other.title}: {names.other} compared with {names.one}"
    return f"{other.title} compared with {one.title}"


def _sides(comparison: Comparison, names: Names) -> Pairs:
    rulesets = (comparison.one, comparison.other)
    return Pairs(tuple(
        (names.sentence(name), _known(rules), rules.files[0].name if rules.files else "")
        for name, rules in zip((names.one, names.other), rulesets, strict=True)
    ))  # fmt: skip


def _known(rules: Rules) -> str:
    return f"{rules.title}, edition {rules.edition}" if rules.edition else rules.title


def _period(comparison: Comparison) -> str:
    return f"For every event {comparison.period}: {comparison.period.why}."


# ---- counts -----------------------------------------------------------------


def summary(comparison: Comparison) -> str:
    """How many rules stand how, seen from the first."""
    names = Names.of(comparison)
    counts = Counter(rule.kind for rule in comparison.rules)
    restating = Counter(rule.kind for rule in comparison.rules if rule.restates)
    said = [f"{number} {kind}" for kind in CHANGED if (number := counts[kind])]
    alone: tuple[tuple[Kind, str], ...] = (("added", names.other), ("withdrawn", names.one))
    for kind, name in alone:
        if number := counts[kind]:
            nothing_new = restating[kind]
            aside = (
                f" ({nothing_new} of them {_says(nothing_new)} nothing new)" if nothing_new else ""
            )
            said.append(f"{number} only {names.at} {name}{aside}")
    if number := counts["reworded"]:
        said.append(f"{number} only reworded")
    said.append(f"{counts['same'] or 'none'} the same")
    return f"Of {counted(len(comparison.rules), 'rule')}, {', '.join(said)}."


def _says(number: int) -> str:
    return "says" if number == 1 else "say"


# ---- the rules --------------------------------------------------------------


def _rules(comparison: Comparison, names: Names) -> Iterator[Block]:
    rules = comparison.rules
    groups = (
        ("Rules that differ", [rule for rule in rules if rule.kind in CHANGED]),
        (f"Only {names.at} {names.other}", _alone(rules, "added", restates=False)),
        (f"Only {names.at} {names.one}", _alone(rules, "withdrawn", restates=False)),
        ("Only at one, but nothing new", [rule for rule in rules if rule.restates]),
        ("Only reworded", [rule for rule in rules if rule.kind == "reworded"]),
    )
    for heading, members in groups:
        if members:
            yield Heading(heading)
            for section, inside in groupby(members, key=lambda each: each.rule.section):
                yield Heading(section or "Rules", 3)
                yield from (_entry(each, comparison, names) for each in inside)
    if alike := [rule for rule in rules if rule.kind == "same"]:
        yield Heading("The same in both")
        said = ", ".join(each.rule.name for each in alike)
        yield Paragraph(f"{counted(len(alike), 'rule')}: {said}.")


def _alone(rules: Iterable[RuleDifference], kind: str, *, restates: bool) -> list[RuleDifference]:
    return [rule for rule in rules if rule.kind == kind and rule.restates is restates]


def _entry(each: RuleDifference, comparison: Comparison, names: Names) -> Entry:
    badge, tone = BADGES[each.kind]
    return Entry(badge, tone, each.rule.title, _name(each), tuple(_told(each, comparison, names)))


def _name(each: RuleDifference) -> str:
    if each.renamed and each.one and each.other:
        return f"{each.one.name} → {each.other.name}"
    return each.rule.name


def _told(each: RuleDifference, comparison: Comparison, names: Names) -> Iterator[Block]:
    yield Paragraph(kind_sentence(each, names))
    if each.undecided and each.kind != "undecided":
        yield Paragraph(f"Part of it cannot be told: {each.undecided}.", "Undecided", "warning")
    one, other = each.one, each.other
    if each.kind == "reworded" and one and other:
        yield from _reworded(one, other, names)
        return
    changes = rule_changes(one, other, comparison.one, comparison.other)
    yield Pairs((
        *(_changed(change, names) for change in changes), *_asked(each, comparison, names)
    ))  # fmt: skip
    if not each.restates:
        found = (shown for shown in (each.lost, each.gained, each.more) if shown is not None)
        yield from (shown_facts(each, shown, comparison) for shown in found)


def _asked(
    each: RuleDifference, comparison: Comparison, names: Names
) -> Iterator[tuple[str, str, str]]:
    sides = (
        (names.one, each.one, comparison.one),
        (names.other, each.other, comparison.other),
    )
    for name, rule, rules in sides:
        if rule is not None:
            yield names.sentence(f"{name} asks"), asked_sentences(rule, rules), place(rule.origin)


def _changed(change: Change, names: Names) -> tuple[str, str, str]:
    """What changed, with what each of the two says, and where."""
    sides = (
        (names.one, change.one, change.one_origin),
        (names.other, change.other, change.other_origin),
    )
    said = []
    for number, (name, text, origin) in enumerate(sides):
        if change.alone is not None:
            name, text = f"only {name}", change.alone[number]
        elif not text and change.kind != "definition":
            text = "not said"
        if text:
            where = place(origin)
            said.append(f"{name}: {text} ({where})" if where else f"{name}: {text}")
    return change.label, "; ".join(said), ""


def _reworded(one: Rule, other: Rule, names: Names) -> Iterator[Block]:
    for what, before, after in prose_changes(one, other):
        yield Pairs((
            (f"{capitalized(what)}, {names.one}", before or "none", place(one.origin)),
            (f"{capitalized(what)}, {names.other}", after or "none", place(other.origin)),
        ))  # fmt: skip


def place(origin: Origin) -> str:
    """`day.trackrules:12`; nothing where it is not known."""
    return f"{origin.file}:{origin.line}" if origin.file else ""


# ---- what else differs ------------------------------------------------------


def _rest(comparison: Comparison, names: Names) -> Iterator[Block]:
    groups: Sequence[tuple[str, list[Change]]] = other_changes(comparison)
    if not any(changes for _, changes in groups):
        return
    yield Heading("Limits, lists, facts and sections that differ")
    head = ("What", names.one, names.other)
    for caption, changes in groups:
        if changes:
            rows = tuple(
                (each.label, each.one or "not said", each.other or "not said") for each in changes
            )
            yield Table(caption, head, rows)
