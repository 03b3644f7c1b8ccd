"""All that can be found in a rule file without a mistake, but for what it accepts in place."""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import date

from attrs import evolve

from trackprep.analysis.claims import false_claims, on_the_same_event
from trackprep.analysis.findings import Finding
from trackprep.analysis.gaps import gaps
from trackprep.analysis.leftovers import unused
from trackprep.analysis.old_values import old_values
from trackprep.analysis.soundness import doubts
from trackprep.frozen import frozen
from trackprep.rules.own_file import OwnFile


@frozen
class Accepted:
    """A finding that the file says is meant so, and why."""

    finding: Finding
    reason: str


@frozen
class Proof:
    """What proofreading a file came to.

    Attributes:
        findings: Those to mend, in the order of the file, inherited rules last.
    """

    findings: tuple[Finding, ...]
    accepted: tuple[Accepted, ...]

    def of(self, *weights: str) -> tuple[Finding, ...]:
        """The findings that weigh so."""
        return tuple(finding for finding in self.findings if finding.weight in weights)


def proofread(own: OwnFile, *, on: date | None = None) -> Proof:
    """What is found in a file, for every event day of its ruleset or on a single one."""
    found = [
        *false_claims(own, on=on), *new_doubts(own, on=on), *unused(own), *old_values(own),
        *gaps(own),
    ]  # fmt: skip
    reasons = {(accepted.about, accepted.finding): accepted.reason for accepted in own.accepts}
    left, accepted = [], []
    for finding in found:
        reason = reasons.get((finding.about, finding.name))
        if reason is None or finding.weight == "problem":
            left.append(finding)
        else:
            accepted.append(Accepted(finding, reason))
    used = {(each.finding.about, each.finding.name) for each in accepted}
    left += _idle(own, used)
    return Proof(tuple(_in_order(left, own)), tuple(accepted))


def new_doubts(own: OwnFile, *, on: date | None = None) -> Iterator[Finding]:
    """Doubts about the rules, but for those that the base gives rise to without this file."""
    found = doubts(own.rules, on=on)
    written = {head.about for head in own.heads}
    base = on_the_same_event(own)
    old: Counter[object] = Counter()
    if base is not None and any(finding.about not in written for finding in found):
        same_days = evolve(base, valid=own.rules.valid or base.valid)
        old = Counter(map(_told, doubts(same_days, on=on)))
    yield from (finding for finding in found if finding.about in written or not old[_told(finding)])


def _told(finding: Finding) -> object:
    """What makes two findings the same: of two rules at once both, else the one it is about."""
    pair = finding.text if finding.name == "cannot-both-be-met" else ""
    return finding.name, finding.about, pair


def _idle(own: OwnFile, used: Iterable[tuple[str, str]]) -> Iterator[Finding]:
    known = set(used)
    for each in own.accepts:
        if (each.about, each.finding) not in known:
            text = f"`accept {each.finding}` accepts nothing: it is not found here"
            yield Finding("accepts-nothing", each.about, text, each.origin)


def _in_order(findings: Iterable[Finding], own: OwnFile) -> list[Finding]:
    here = own.rules.files[0].name if own.rules.files else ""
    return sorted(findings, key=lambda f: (f.origin.file != here, f.origin.file, f.origin.line))
