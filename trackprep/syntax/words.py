"""The reserved words of the language, and what a name looks like."""

import re

NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")

RESERVED = frozenset(
    """
    accept after allow also amend and any ask at before between bring caution contact declaration
    declare derived each core edition example expect fact fix for formula here how includes
    inspect is it kind less limit list looser more no none not note of on or organizer otherwise
    parts ready reason recommend require rule ruleset section several some source stricter
    supplements table takes tools undo unless use valid venue vocabulary when withdraw yes
    """.split()
)

# A mistake ends where one of these starts a line.
STATEMENTS = frozenset(
    """
    ruleset vocabulary edition organizer venue valid contact use supplements kind fact ask how
    also derived formula table limit list here section core amend stricter looser rule withdraw
    when unless require recommend reason fix undo inspect caution source note bring example
    declare expect accept
    """.split()
)


ROW = "row"
"""Starts a line of a table, but is not reserved: a fact or a choice may be called so."""


def is_bare(word: str) -> bool:
    """Whether `word` may stand without quotes as a choice or a name."""
    return NAME.fullmatch(word) is not None and word not in RESERVED
