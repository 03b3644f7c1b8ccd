"""Words of a base that state a value which a supplement has changed."""

import re
from collections.abc import Iterable, Iterator

from trackprep.analysis.findings import Finding
from trackprep.explanations.mentions import terms_in, tests_in
from trackprep.rules.conditions import AgeTest, Constant, NumberTest
from trackprep.rules.model import Limit, Rule, Rules
from trackprep.rules.own_file import Head, OwnFile
from trackprep.rules.values import Amount
from trackprep.units import show


def old_values(own: OwnFile) -> Iterator[Finding]:
    """Words of inherited rules that state a value from before this file changed it."""
    if own.base is None:
        return
    given = {head.name: head.clauses for head in own.of("rule")}
    inherited = {rule.name: rule for rule in own.rules.rules if rule.base != own.rules.name}
    for head in own.of("limit", "rule"):
        if not head.new:
            gone = _gone(head, own.base, own.rules)
            concerned = own.users.get(head.name, ()) if head.kind == "limit" else (head.name,)
            for name in concerned:
                if gone and name in inherited:
                    yield from _stale(inherited[name], head, gone, given.get(name, frozenset()))


def _gone(head: Head, base: Rules, rules: Rules) -> set[str]:
    """The values that stood in a limit or a rule of the base and no longer do, as written."""
    if head.kind == "limit":
        return _values(base.limits[head.name]) - _values(rules.limits[head.name])
    before, after = (
        next((rule for rule in those.rules if rule.name == head.name), None)
        for those in (base, rules)
    )
    return _constants(before) - _constants(after) if before and after else set()


def _values(limit: Limit) -> set[str]:
    """How the values of a limit may be written."""
    amounts = [row.value for row in limit.rows if isinstance(row.value, Amount)]
    written = {amount.text for amount in amounts if amount.text}
    return written | {show(amount.value, amount.unit) for amount in amounts}


def _constants(rule: Rule) -> set[str]:
    """The values that a rule demands by itself, not by a limit."""
    found: set[str] = set()
    for test in (test for asked in rule.asked for test in tests_in(asked.demand)):
        match test:
            case AgeTest(shown=shown, limit=None):
                found.add(shown)
            case NumberTest(left, _, right):
                terms = (term for side in (left, right) for term in terms_in(side))
                found.update(
                    show(term.value, term.unit)
                    for term in terms
                    if isinstance(term, Constant) and term.limit is None and term.unit.name
                )
            case _:
                pass
    return found


def _stale(rule: Rule, head: Head, gone: Iterable[str], given: frozenset[str]) -> Iterator[Finding]:
    """What a rule says to people that has one of the values, and was not said anew."""
    for kind, words in _words_of(rule):
        said = (value for value in sorted(gone) if _states(words, value))
        if kind not in given and (value := next(said, None)) is not None:
            text = f"the {kind} of `{rule.name}` still says {value}, which is changed here"
            yield Finding("states-old-value", head.about, text, head.origin)


def _states(words: str, value: str) -> bool:
    return re.search(rf"(?<![\w.,/]){re.escape(value)}(?![\w/])", words) is not None


def _words_of(rule: Rule) -> Iterator[tuple[str, str]]:
    """What a rule says to people, by the kind of clause."""
    yield "title", rule.title
    yield "reason", rule.reason
    yield "inspect", rule.inspect
    yield from (("caution", caution) for caution in rule.cautions)
    yield from (("note", note) for note in rule.notes)
    for fix in dict.fromkeys(work.text for asked in rule.asked for work in asked.fixes):
        yield "fix", fix
