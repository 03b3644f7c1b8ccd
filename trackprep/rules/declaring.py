"""`PATH is VALUE` lines to the values of a declaration, each path once."""

from collections.abc import Iterable
from typing import Protocol

from trackprep.rules import model
from trackprep.rules.likeness import meant_fact
from trackprep.rules.reading import Fault, Written, read_values
from trackprep.rules.values import Value

MOST_FAULTS = 200


class Tell(Protocol):
    """Takes a problem with a line: `at_value` says whether it is about the value."""

    def __call__(self, index: int, fault: Fault, *, at_value: bool) -> None: ...


def declared_values(
    rules: model.Rules,
    entries: Iterable[tuple[str, tuple[Written, ...]]],
    tell: Tell,
) -> dict[str, Value]:
    """The values of the entries; each fault is told with the number of its entry."""
    values: dict[str, Value] = {}
    faults = 0
    for index, (path, written) in enumerate(entries):
        fault = _misnamed(path, rules)
        if fault is None and path in values:
            fault = Fault(
                "declared-twice", f"`{path}` is declared a second time", None, "keep one of the two"
            )
        value = fault or read_values(rules.facts[path], written)
        if not isinstance(value, Fault):
            values[path] = value
            continue
        tell(index, value, at_value=fault is None)
        faults += 1
        if faults == MOST_FAULTS:
            break  # nobody reads more of them at once
    return values


def _misnamed(path: str, rules: model.Rules) -> Fault | None:
    """What is wrong with a path, if anything is."""
    if path in rules.facts:
        return None
    if path in rules.derived:
        return Fault(
            "derived-declared", f"`{path}` is worked out from other facts, not declared",
            None, "declare what it is worked out from",
        )  # fmt: skip
    below = [known for known in rules.facts if known.startswith(path + ".")]
    if below:
        return Fault(
            "branch-not-fact", f"`{path}` is no fact itself; facts stand below it",
            "one of its facts: " + ", ".join(f"`{p}`" for p in below[:4]), f"write `{below[0]}`",
        )  # fmt: skip
    found = meant_fact(path, rules.facts)
    return Fault(
        "unknown-fact", f"there is no fact called `{path}`",
        "a fact of the vocabulary; `trackprep facts` lists them, and finds one by a word",
        f"write `{found}`" if found else None,
    )  # fmt: skip
