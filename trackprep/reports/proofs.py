"""What proofreading found, as text, and as the JSON of `grammar/findings.schema.json`."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from trackprep.analysis.advice import ADVICE
from trackprep.analysis.findings import Finding
from trackprep.analysis.proofreading import Accepted, Proof
from trackprep.analysis.witnesses import Witness, spelled, text_of
from trackprep.dates import long_form
from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.rules.model import Fact, Rules

SCHEMA = "urn:trackprep:findings:1"

Form = dict[str, Any]


@frozen(eq=False)
class Proofread:
    """A file that was proofread: its problems, or where it has none, what was found."""

    file: str
    problems: tuple[Problem, ...] = ()
    rules: Rules | None = None
    proof: Proof = Proof((), ())


# ---- text -------------------------------------------------------------------


def finding_lines(finding: Finding, facts: Mapping[str, Fact]) -> Iterator[tuple[int, str]]:
    """What is told of a finding: how deep each line stands, and what it says."""
    yield 0, f"{place_of(finding)}: {finding.text}"
    yield 1, f"{finding.weight}: {finding.name}"
    if finding.witness is not None:
        yield 1, f"on {long_form(finding.witness.event)}, for a machine and rider with"
        yield from ((2, line) for line in _declared(finding.witness, facts))
    if finding.shown:
        yield 1, finding.shown
    yield 1, f"try: {ADVICE[finding.name].attempt}"


def accepted_lines(accepted: Accepted) -> Iterator[tuple[int, str]]:
    """What is told of a finding that is accepted."""
    finding = accepted.finding
    yield 0, f"{place_of(finding)}: {finding.text}"
    yield 1, f"accepted {finding.weight}: {finding.name}"
    yield 1, f"reason: {accepted.reason}"


def place_of(finding: Finding) -> str:
    """Where a finding stands: `day.trackrules:3:1`."""
    origin = finding.origin
    return f"{origin.file}:{origin.line}:{origin.column}"


def _declared(witness: Witness, facts: Mapping[str, Fact]) -> Iterator[str]:
    if not witness.values:
        yield "nothing declared"
    for path, value in witness.values.items():
        yield f"{path} is {spelled(value, facts[path])}"


# ---- JSON -------------------------------------------------------------------


def proofs_form(files: Iterable[Proofread]) -> Form:
    """All files; lists may be empty, keys are never absent."""
    return {"schema": SCHEMA, "files": [_file(file) for file in files]}


def _file(file: Proofread) -> Form:
    facts = file.rules.facts if file.rules is not None else {}
    return {
        "file": file.file,
        "ruleset": file.rules.name if file.rules is not None else None,
        "problems": [problem.to_dict() for problem in file.problems],
        "findings": [_finding(finding, facts) for finding in file.proof.findings],
        "accepted": [
            {**_finding(accepted.finding, facts), "reason": accepted.reason}
            for accepted in file.proof.accepted
        ],
    }


def _finding(finding: Finding, facts: Mapping[str, Fact]) -> Form:
    witness = finding.witness
    return {
        "name": finding.name,
        "weight": finding.weight,
        "about": finding.about,
        "text": finding.text,
        "file": finding.origin.file,
        "line": finding.origin.line,
        "column": finding.origin.column,
        "witness": None if witness is None else _witness(finding, witness, facts),
        "shown": finding.shown or None,
        "suggestion": ADVICE[finding.name].attempt,
    }


def _witness(finding: Finding, witness: Witness, facts: Mapping[str, Fact]) -> Form:
    title = f"Shows {finding.name}: {finding.about}".replace('"', "'")
    return {
        "event_date": witness.event.isoformat(),
        "values": {path: spelled(value, facts[path]) for path, value in witness.values.items()},
        "rider": text_of(witness, facts, title),
    }
