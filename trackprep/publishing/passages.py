"""One rule on a sheet: what it asks, why, how it is inspected, and what is otherwise here."""

from collections.abc import Iterable, Iterator, Mapping

from trackprep.explanations.mentions import limits_in
from trackprep.explanations.sentences import applies_clause, rule_sentence
from trackprep.explanations.wording import capitalized, limit_label, listed
from trackprep.frozen import frozen
from trackprep.reports.comparison.changes import prose_changes
from trackprep.reports.comparison.log import changed_sentence
from trackprep.reports.pages.blocks import Block, Bullets, Pairs, Paragraph, Passage
from trackprep.rules.canonical import Walk
from trackprep.rules.model import Limit, Rule, Rules, WordList, Work


@frozen(eq=False)
class Base:
    """The ruleset that another supplements, to tell what is otherwise there."""

    rules: Rules
    finished: Rules

    def mark(self, rule: Rule) -> tuple[str, str] | None:
        """`New here`, or what changed; None of a rule that is as in the base."""
        before = next((each for each in self.rules.rules if each.name == rule.name), None)
        if before is None:
            return "New here", "a rule of this ruleset's own."
        if before.level != rule.level or _asks(before) != _asks(rule):
            said = changed_sentence(before, rule, self.rules, self.finished)
            return "Changed here", said
        words = [what for what, _, _ in prose_changes(before, rule)]
        if words:
            return "Other words here", f"{capitalized(listed(words, 'and'))}; it asks the same."
        return None


def _asks(rule: Rule) -> object:
    walk = Walk()
    return [
        (asked.part, walk.condition(asked.when), walk.condition(asked.demand))
        for asked in rule.asked
    ]


def passage(rule: Rule, rules: Rules, base: Base | None) -> Passage:
    """All that the sheet says of a rule, what can hurt someone before the work."""
    return Passage(rule.title, rule.name, tuple(_blocks(rule, rules, base)))


def _blocks(rule: Rule, rules: Rules, base: Base | None) -> Iterator[Block]:
    if base is not None and (mark := base.mark(rule)) is not None:
        yield Paragraph(mark[1], mark[0])
    yield Paragraph(rule_sentence(rule, rules))
    fixes = tuple(work for asked in rule.asked for work in asked.fixes)
    undos = tuple(work for asked in rule.asked for work in asked.undos)
    before = dict.fromkeys((*rule.cautions, *_cautions(fixes)))
    yield from _warnings(before)
    rows = [*_why(rule, rules), *_done("To meet it", fixes, rules)]
    if undos:
        yield from _pairs(rows)
        rows = []
    yield from _warnings(text for text in _cautions(undos) if text not in before)
    rows += [*_done("Before the road again", undos, rules), *_source(rule, rules)]
    yield from _pairs(rows)
    if rule.notes:
        yield Bullets(tuple(("", note) for note in rule.notes))


def _cautions(works: Iterable[Work]) -> dict[str, None]:
    return dict.fromkeys(text for work in works for text in work.cautions)


def _warnings(texts: Iterable[str]) -> Iterator[Block]:
    return (Paragraph(text, "Caution", "warning") for text in texts)


def _pairs(rows: Iterable[tuple[str, str]]) -> Iterator[Block]:
    if told := tuple((label, text, "") for label, text in rows):
        yield Pairs(told)


def _why(rule: Rule, rules: Rules) -> Iterator[tuple[str, str]]:
    if rule.reason:
        yield "Why", rule.reason
    for known in _limits(rule, rules):
        if known.reason and known.reason != rule.reason:
            yield f"Why {limit_label(known.name, rules)}", known.reason
    if rule.inspect:
        yield "How it is inspected", rule.inspect


def _source(rule: Rule, rules: Rules) -> Iterator[tuple[str, str]]:
    sources = {"": rule.source} | {
        f"{limit_label(known.name, rules)}: ": known.source for known in _limits(rule, rules)
    }
    if said := _sources({label: str(source) for label, source in sources.items() if source}):
        yield "Source", said


def _sources(said: Mapping[str, str]) -> str:
    """The rule's own source, and those of its limits that come from elsewhere."""
    own = said.get("", "")
    texts = [f"{label}{text}" for label, text in said.items() if not label or text != own]
    return "; ".join(texts)


def _limits(rule: Rule, rules: Rules) -> list[Limit | WordList]:
    """The limits and lists that the rule names."""
    named = dict.fromkeys(
        name
        for asked in rule.asked
        for part in (asked.when, asked.demand)
        for name in limits_in(part)
    )
    found = (rules.limits.get(name) or rules.lists.get(name) for name in named)
    return [known for known in found if known is not None]


def _done(label: str, works: Iterable[Work], rules: Rules) -> Iterator[tuple[str, str]]:
    """The works, each once; one that hangs on something says on what."""
    if texts := dict.fromkeys(_work(work, rules) for work in works):
        yield label, " ".join(texts)


def _work(work: Work, rules: Rules) -> str:
    if work.when is None:
        return work.text
    return f"{capitalized(applies_clause(work.when, rules))}: {work.text}"
