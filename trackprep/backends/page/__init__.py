"""The back end of a page in a browser: a ruleset as data, and the script that answers it.

The script is plain JavaScript that needs nothing else. It gives the answers of
`backends.checks`, exactly: rational numbers of whole numbers of any size, and the same
enclosures where a number is irrational. A browser runs it from a file, without a network.
"""

from functools import cache
from pathlib import Path

from trackprep.backends.page.plain import PlainRuleset, plain_day, plain_rules, plain_values

__all__ = ["PlainRuleset", "pieces", "plain_day", "plain_rules", "plain_values", "script"]

_FILES = ("numbers", "functions", "calendar", "truths", "readings", "answers")


@cache
def pieces() -> str:
    """The script without a frame, for a page whose own script stands in one frame with it."""
    folder = Path(__file__).parent
    return "\n".join(folder.joinpath(f"{name}.js").read_text(encoding="utf-8") for name in _FILES)


def script() -> str:
    """The script: it defines `Ruleset`, and nothing else that the page can see.

    In a page `ruleset = new Ruleset(plain_rules)` reads a declaration for a day, and answers
    what was read: `ruleset.check(ruleset.read(plain_values, plain_day))` gives
    `{answers: [{status, part, declare, narrow}], verdict, future}`, the answers in the
    order of the rules; `future` lists the past dates that lie after the event.
    """
    return f'const Ruleset = (() => {{\n"use strict";\n{pieces()}return Ruleset;\n}})();\n'
