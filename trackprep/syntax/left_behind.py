"""Lines of a statement that were left behind a `#` when its first line was taken out of it."""

from trackprep.problems import Problem
from trackprep.source import Source
from trackprep.syntax.spot import COMMAS, Spot
from trackprep.syntax.tokens import Token, tokenize
from trackprep.syntax.words import RESERVED

_MEMBERS = frozenset({"STRING", "NUMBER", "QUANTITY", "DAY", "WORD"})
_ROW_WORDS = frozenset({"when", "otherwise"})


def left_behind(spot: Spot) -> Problem | None:
    """`list marks is "A",` with `#   "B"` on the line below it: the rest is a comment still."""
    # A comma behind a row's condition is unreadable itself where no value follows it.
    last = spot.reached if spot.kind(spot.reached) in COMMAS else spot.reached - 1
    wants_more = spot.kind(last) in COMMAS or spot.word(last) == "is"
    ended = last + 1 >= len(spot.tokens) or spot.begins_statement(last + 1)
    if spot.keyword not in ("limit", "list") or last < spot.head or not (wants_more and ended):
        return None
    source, end = spot.source, spot.tokens[last].end
    lines = _going_on(source, end)
    if not lines:
        return None
    first, final = lines[0], lines[-1]
    joint = "and" if final == first + 1 else "to"
    where = f"line {first}" if first == final else f"lines {first} {joint} {final}"
    return spot.made(
        "left-behind-hash", f"this `{spot.keyword}` goes on behind the `#` on line {first}",
        spot.place(last), suggestion=f"take away the `#` at the beginning of {where} too",
    )  # fmt: skip


def _going_on(source: Source, end: int) -> list[int]:
    """The numbers of the lines behind `end` that are comments and read like what goes on there."""
    lines: list[int] = []
    below = source.text[end:].split("\n")[1:]
    for number, line in enumerate(below, source.position(end)[0] + 1):
        written = line.lstrip(" \t\ufeff\u00a0")
        tokens = tokenize(Source(source.name, written[1:])).tokens
        if not written.startswith("#") or not _reads_on(tokens):
            break
        lines.append(number)
        if tokens[-1].kind not in COMMAS:
            break
    return lines


def _reads_on(tokens: list[Token]) -> bool:
    """Whether members of a list, or a row of a limit, stand here, and no sentence."""
    if not tokens or not _is_member(tokens[0]):
        return False
    if len(tokens) > 1 and tokens[1].text.lower() in _ROW_WORDS:
        return True
    return all(
        _is_member(token) if place % 2 == 0 else token.kind in COMMAS
        for place, token in enumerate(tokens)
    )


def _is_member(token: Token) -> bool:
    """Whether a token may be a member; a sentence begins with a capital, a choice does not."""
    if token.kind == "WORD":
        return token.text == token.text.lower() and token.text not in RESERVED
    return token.kind in _MEMBERS
