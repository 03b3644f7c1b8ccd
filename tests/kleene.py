"""Kleene's strong three-valued logic as tables.

S. C. Kleene, Introduction to Metamathematics, 1952, section 64.
"""

from collections.abc import Iterable
from dataclasses import dataclass

Truth = bool | None
Table = dict[tuple[Truth, Truth], Truth]

NOT: dict[Truth, Truth] = {True: False, False: True, None: None}
AND: Table = {
    (True, True): True, (True, False): False, (True, None): None,
    (False, True): False, (False, False): False, (False, None): False,
    (None, True): None, (None, False): False, (None, None): None,
}  # fmt: skip
OR: Table = {
    (True, True): True, (True, False): True, (True, None): True,
    (False, True): True, (False, False): False, (False, None): None,
    (None, True): True, (None, False): None, (None, None): None,
}  # fmt: skip


@dataclass(frozen=True)
class Finding:
    """A truth, and, where it is unknown, the facts that would settle it."""

    truth: bool | None
    declare: frozenset[str] = frozenset()
    narrow: frozenset[str] = frozenset()


def joined(findings: list[Finding], table: Table, empty: bool) -> Finding:
    """The findings under a connective's table; of the unknown ones, all that they ask."""
    truth = empty
    for finding in findings:
        truth = table[truth, finding.truth]
    return asking(findings) if truth is None else Finding(truth)


def asking(findings: list[Finding]) -> Finding:
    """Unknown, with all that the unknown ones ask."""
    unknown = [finding for finding in findings if finding.truth is None]
    return Finding(
        None, union(one.declare for one in unknown), union(one.narrow for one in unknown)
    )


def union(sets: Iterable[frozenset[str]]) -> frozenset[str]:
    return frozenset().union(*sets)
