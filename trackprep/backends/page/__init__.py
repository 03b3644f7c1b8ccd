"""The back end of a page in a browser: a ruleset as data, and the script that answers it.

The script is plain JavaScript that needs nothing else. It gives the answers of
`backends.checks`, exactly: rational numbers of whole numbers of any size, and the same
enclosures where a number is irrational. A browser runs it from a file, without a network.
"""

from functools import cache
from pathlib import Path

from trackprep.backends.page.plain import plain_day, plain_rules, plain_values

__all__ = ["plain_day", "plain_rules", "plain_values", "script"]

_FILES = ("numbers", "functions", "calendar", "truths", "readings", "answers")


@cache
def script() -> str:
    """The script: it defines `Ruleset`, and nothing else that the page can see.

    In a page, `new Ruleset(plain_rules).check(plain_values, plain_day)` gives
    `{answers: [{status, part, declare, narrow}], verdict, future}`, the answers in the
    order of the rules; `future` lists the past dates that lie after the event.
    """
    folder = Path(__file__).parent
    written = (folder.joinpath(f"{name}.js").read_text(encoding="utf-8") for name in _FILES)
    return (
        'const Ruleset = (() => {\n"use strict";\n'
        + "\n".join(written)
        + "return Ruleset;\n})();\n"
    )
