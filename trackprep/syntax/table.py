"""The parse table of the grammar: the only module that knows Lark.

Lark turns `grammar/trackrules.lark` into an LALR(1) table. As that takes a
tenth of a second, the table is kept beside the grammar under the digest of the
grammar's bytes; where they do not agree, Lark builds it anew.
`python -m trackprep.syntax.table` writes the file after a change to the grammar.
"""

import json
import sys
from functools import cache
from typing import Any

from trackprep.digests import digest_of
from trackprep.frozen import frozen
from trackprep.published import grammar_folder

GRAMMAR = "trackrules.lark"
TABLE = "trackrules.table.json"


@frozen
class Production:
    """A rule of the grammar: `size` symbols become one node called `name`.

    Attributes:
        keep: Positions of the symbols that carry meaning (keywords do not).
        spliced: Whether what it makes is a run of things, taken into its parent.
        single: Whether it stands for its only child (`?name` in the grammar).
    """

    name: str
    head: str
    size: int
    keep: tuple[int, ...]
    spliced: bool
    single: bool


@frozen
class Table:
    """An LALR(1) table.

    Attributes:
        productions: The rules of the grammar.
        rows: For each state, terminal or head → action: a state to go to, or `~n` to reduce by
            production n; a single `~n` where nothing else can be done in the state.
        starts: The first state for each start symbol; `ends`, the state in which it is whole.
        keywords: First word → the keywords it may begin, longest first, each as its further
            words and its terminal.
    """

    productions: tuple[Production, ...]
    rows: tuple[dict[str, int] | int, ...]
    starts: dict[str, int]
    ends: dict[str, int]
    keywords: dict[str, list[tuple[tuple[str, ...], str]]]


@cache
def table() -> Table:
    """The table of the grammar as it lies in its folder."""
    folder = grammar_folder()
    grammar = (folder / GRAMMAR).read_text(encoding="utf-8")
    kept = folder / TABLE
    if kept.is_file():
        data = json.loads(kept.read_text(encoding="utf-8"))
        if data["grammar"] == digest(grammar):
            return from_data(data)
    return from_data(built(grammar))


def digest(grammar: str) -> str:
    """The digest under which a table is kept."""
    return digest_of(grammar.encode())


def from_data(data: dict[str, Any]) -> Table:
    """The table from its plain form."""
    return Table(
        productions=tuple(
            Production(name, head, size, tuple(keep), head.startswith("_"), single)
            for name, head, size, keep, single in data["productions"]
        ),
        rows=tuple(data["rows"]),
        starts=data["starts"],
        ends=data["ends"],
        keywords={
            first: [(tuple(rest), terminal) for rest, terminal in keywords]
            for first, keywords in data["keywords"].items()
        },
    )


def built(grammar: str) -> dict[str, Any]:
    """The table in its plain form, built by Lark."""
    # Importing Lark costs more than a whole check of a declaration.
    from lark import Lark
    from lark.lexer import Lexer
    from lark.parsers.lalr_analysis import Shift

    class NoLexer(Lexer):
        """The tokens are ours, so Lark is given nothing to read."""

        def __init__(self, lexer_conf: Any) -> None: ...

        def lex(self, lexer_state: Any, parser_state: Any) -> Any:
            raise AssertionError("Lark builds the table only")

    lark = Lark(grammar, parser="lalr", lexer=NoLexer, start=["rules", "rider"])
    parse_table = lark.parser.parser._parse_table
    numbers = {rule: number for number, rule in enumerate(lark.rules)}
    for state in parse_table.states.values():
        for _, argument in state.values():
            if not isinstance(argument, int):
                numbers.setdefault(argument, len(numbers))
    rows = [
        _row({
            symbol: argument if action is Shift else ~numbers[argument]
            for symbol, (action, argument) in sorted(state.items())
        })
        for state in parse_table.states.values()
    ]  # fmt: skip
    return {
        "grammar": digest(grammar),
        "productions": [
            [
                rule.alias or rule.origin.name,
                rule.origin.name,
                len(rule.expansion),
                [
                    position
                    for position, symbol in enumerate(rule.expansion)
                    if not (symbol.is_term and symbol.filter_out)  # type: ignore[attr-defined]
                ],
                bool(rule.options.expand1) and not rule.alias,
            ]
            for rule in numbers
        ],
        "rows": rows,
        "starts": parse_table.start_states,
        "ends": parse_table.end_states,
        "keywords": _keywords(lark),
    }


def _row(actions: dict[str, int]) -> dict[str, int] | int:
    """The actions of a state, or the one reduction that is all of them."""
    only = set(actions.values())
    return only.pop() if len(only) == 1 and min(only) < 0 else actions


def _keywords(lark: Any) -> dict[str, list[tuple[list[str], str]]]:
    """First word → the keywords it may begin, longest first."""
    keywords: dict[str, list[tuple[list[str], str]]] = {}
    for terminal in lark.terminals:
        first, *rest = terminal.pattern.value.split(" ")
        if first.isalpha():
            keywords.setdefault(first, []).append((rest, terminal.name))
    for choices in keywords.values():
        choices.sort(key=lambda choice: -len(choice[0]))
    return keywords


if __name__ == "__main__":
    folder = grammar_folder()
    made = built((folder / GRAMMAR).read_text(encoding="utf-8"))
    (folder / TABLE).write_text(json.dumps(made, separators=(",", ":")) + "\n", encoding="utf-8")
    sys.stdout.write(f"{TABLE}: {len(made['rows'])} states\n")
