"""A comparison as the JSON that `grammar/comparison.schema.json` describes."""

from collections import Counter
from typing import Any

from trackprep.analysis.comparisons import MIRRORED, Comparison, ReadyAtOne, RuleDifference, Shown
from trackprep.analysis.witnesses import Witness, spelled
from trackprep.explanations.sentences import asked_sentences
from trackprep.reports.comparison.changes import Change, prose_changes, rule_changes
from trackprep.reports.comparison.editions import editions_of
from trackprep.reports.comparison.naming import Names, kind_sentence
from trackprep.reports.comparison.other_changes import other_changes
from trackprep.reports.comparison.outcome import outcome_of
from trackprep.reports.comparison.shown import known_facts, rider_text
from trackprep.rules.model import Origin, Rule, Rules

SCHEMA = "urn:trackprep:comparison:1"

Form = dict[str, Any]


def comparison_form(comparison: Comparison) -> Form:
    """The whole comparison; lists may be empty, keys are never absent."""
    counts = Counter(rule.kind for rule in comparison.rules)
    period = comparison.period
    editions = editions_of(comparison)
    return {
        "schema": SCHEMA,
        "one": _ruleset(comparison.one),
        "other": _ruleset(comparison.other),
        "period": {
            "first": period.first.isoformat(), "last": period.last.isoformat(), "why": period.why,
        },
        "outcome": outcome_of(comparison),
        "counts": {kind: counts[kind] for kind in MIRRORED},
        "ready_at_one_only": _ready_at_one(comparison.lost, comparison),
        "ready_at_other_only": _ready_at_one(comparison.gained, comparison),
        "undecided": list(comparison.undecided),
        "rules": [_difference(each, comparison) for each in comparison.rules],
        "changes": [_change(each) for _, some in other_changes(comparison) for each in some],
        "clashes": [clash.path for clash in comparison.clashes],
        "editions": None if editions is None else {
            "judgement": editions.judgement, "warns": editions.warns, "text": editions.text,
        },
    }  # fmt: skip


def _ruleset(rules: Rules) -> Form:
    return {
        "name": rules.name,
        "title": rules.title,
        "edition": rules.edition or None,
        "file": rules.files[0].name if rules.files else None,
        "valid": [day.isoformat() for day in rules.valid] if rules.valid else None,
    }


def _difference(each: RuleDifference, comparison: Comparison) -> Form:
    one, other = each.one, each.other
    first, second = comparison.one, comparison.other
    prose = prose_changes(one, other) if one is not None and other is not None else []
    return {
        "rule": each.rule.name,
        "kind": each.kind,
        "text": kind_sentence(each, Names.of(comparison)),
        "restates": each.restates,
        "undecided": each.undecided or None,
        "one": None if one is None else _rule(one, first),
        "other": None if other is None else _rule(other, second),
        "lost": _shown(each.lost, comparison),
        "gained": _shown(each.gained, comparison),
        "left_open": _shown(each.more, comparison),
        "changes": [_change(change) for change in rule_changes(one, other, first, second)],
        "prose": [
            {"what": what, "one": before or None, "other": after or None}
            for what, before, after in prose
        ],
    }


def _rule(rule: Rule, rules: Rules) -> Form:
    return {
        "name": rule.name,
        "title": rule.title,
        "section": rule.section,
        "level": rule.level,
        "text": asked_sentences(rule, rules),
        "place": _place(rule.origin),
    }


def _place(origin: Origin) -> Form | None:
    if not origin.file:
        return None
    return {"file": origin.file, "line": origin.line, "column": origin.column}


def _change(change: Change) -> Form:
    return {
        "kind": change.kind,
        "name": change.name or None,
        "label": change.label,
        "one": change.one or None,
        "other": change.other or None,
        "one_place": _place(change.one_origin),
        "other_place": _place(change.other_origin),
    }


def _shown(shown: Shown | None, comparison: Comparison) -> Form | None:
    if shown is None:
        return None
    return {
        "one": shown.one or None,
        "other": shown.other or None,
        **_witness(shown.witness, comparison),
    }


def _ready_at_one(found: ReadyAtOne | None, comparison: Comparison) -> Form | None:
    if found is None:
        return None
    return {
        "verdict": found.verdict,
        "rules": list(found.rules),
        **_witness(found.witness, comparison),
    }


def _witness(witness: Witness, comparison: Comparison) -> Form:
    facts = known_facts(comparison)
    return {
        "event_date": witness.event.isoformat(),
        "values": {path: spelled(value, facts[path]) for path, value in witness.values.items()},
        "rider": rider_text(witness, comparison),
    }
