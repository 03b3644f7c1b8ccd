"""The one token stream that compiler and formatter read.

Comments go to a list of their own; what cannot be a token becomes a `BAD` one
with its problem, so that a mistake spoils its own statement and no other.
"""

import re
from collections.abc import Sequence
from typing import NamedTuple

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.source import Place, Source
from trackprep.syntax.words import RESERVED, STATEMENTS
from trackprep.units import unit_end

LONGEST_TEXT = 2_000_000  # characters
MOST_TOKENS = 200_000
LONGEST_TOKEN = 4_000  # characters
DEEPEST = 40  # brackets and `not`s open at once


class Token(NamedTuple):
    """A token: `kind` is a terminal of the grammar, `WORD` for what may be a keyword or a name."""

    kind: str
    text: str
    start: int
    end: int


class Comment(NamedTuple):
    """A comment, from its `#` to the end of the line; `own_line` where nothing stands before it."""

    text: str
    start: int
    end: int
    own_line: bool


@frozen
class TokenStream:
    """The tokens and comments of a source, and the problem of each `BAD` token by its start."""

    tokens: list[Token]
    comments: tuple[Comment, ...]
    bad: dict[int, Problem]


_WORD = r"[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*"
_TOKEN = re.compile(
    rf"""
    [ \t\r\n\f\ufeff]*+
    (?: (?P<comment>\#[^\n]*)
  | (?P<word>(?>{_WORD})(?![\w.]))
  | (?P<path>(?>{_WORD}(?:\.{_WORD})+)(?![\w.]))
  | (?P<pattern>{_WORD}(?:\.{_WORD})*\.\*)
  | (?P<string>"(?:\\.|[^"\\\n])*"|[“”„](?:\\.|[^"“”„\\\n])*["“”])
  | (?P<date>\d{{4}}-\d+(?:-\d+)*(?![\w.]))
  | (?P<thousands>\d{{1,3}}(?:[ ]\d{{3}})+(?![\d/.]))
  | (?P<number>(?:\d+[ ]+\d+/\d+|\d+/\d+|\d+(?:\.\d+)?)(?!\d|[.,/]\d|\.(?![a-z])))
  | (?P<mark>[-+*/<()\[\],])
  | (?P<bad>["“”„][^\n]*|\d+(?:[.,/]\w+)+|[\w.'-]+|[^\s\w"“”„#()\[\],]+)
  | (?P<end>\Z) )
    """,
    re.VERBOSE,
)
_SPACE = re.compile(r"[ \t\r\n\f\ufeff]*")
_GAP = re.compile(r"[ \t]+")  # a unit stands on its number's line
_FOLLOWS_NUMBER = re.compile(r"[ \t]*(?P<word>(?>[^\W\d_][\w/*^·-]*)|\"|”|')(?!\.|[ \t]+is\b)")
_MAY_FOLLOW_NUMBER = frozenset(
    {"to", "as", "for", "unchangeable", "private", "check", "rounded", "row"}
)
_MARKS = {
    "-": "MINUS", "+": "PLUS", "*": "TIMES", "/": "OVER", "<": "LESSTHAN",
    "(": "LPAR", ")": "RPAR", "[": "LSQB", "]": "RSQB", ",": "COMMA",
}  # fmt: skip
_PLAIN = str.maketrans({"–": "-", "‑": "-", "−": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "})
_VALUES = frozenset({"NUMBER", "QUANTITY", "DAY", "MINUS"})


def tokenize(source: Source, start: int = 0, end: int | None = None) -> TokenStream:
    """The tokens of `source`, or of a stretch of it; never raises, whatever the text."""
    return _Reader(source).read(start, len(source.text) if end is None else end)


class _Reader:
    """One pass over a text."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self.text = source.text
        self.tokens: list[Token] = []
        self.comments: list[Comment] = []
        self.bad: dict[int, Problem] = {}
        self.depth = 0
        self.nots = 0
        self.in_limit = False
        self.defining = False  # a formula or derived fact that lacks its `as` yet
        self.unit_may_follow = False  # as in `measured in mm`, `from count to kg`

    def read(self, position: int, end: int) -> TokenStream:
        if len(self.text) > LONGEST_TEXT:
            self.refuse(
                "text-too-long", f"the text has more than {LONGEST_TEXT:,} characters", 0, 1
            )
            return self.stream()
        plain = " " * position + self.text[position:end].translate(_PLAIN)
        match, tokens = _TOKEN.match, self.tokens
        while position < end:
            found = match(plain, position)
            if found is None:  # a lone mark that no alternative takes
                position = _SPACE.match(plain, position).end()  # type: ignore[union-attr]
                self.refuse_characters(position, position + 1)
                position += 1
                continue
            kind = found.lastgroup
            start = found.start(kind)  # type: ignore[arg-type]
            if self.unit_may_follow and (unit := unit_end(plain, start)):
                self.add("UNIT", plain[start:unit], start, unit)
                position = unit
                continue
            position = self.take(kind, found, start, plain)
            if len(tokens) > MOST_TOKENS:
                self.refuse(
                    "text-too-long",
                    f"the text has more than {MOST_TOKENS:,} words",
                    position - 1,
                    position,
                )
                break
        return self.stream()

    def stream(self) -> TokenStream:
        return TokenStream(self.tokens, tuple(self.comments), self.bad)

    def take(self, kind: str | None, found: re.Match[str], start: int, plain: str) -> int:
        """Adds what was found; returns where to go on."""
        end = found.end()
        if end - start > LONGEST_TOKEN and kind != "comment":
            self.refuse(
                "text-too-long",
                f"a word of more than {LONGEST_TOKEN:,} characters",
                start,
                start + 20,
            )
            return end
        match kind:
            case "word":
                self.word(plain[start:end], start, end)
            case "path":
                self.add("PATH", plain[start:end].lower(), start, end)
            case "string":
                self.add("STRING", self.text[start:end], start, end)
            case "mark":
                self.mark(plain[start:end], start, end)
            case "number":
                return self.quantity(start, end, plain)
            case "pattern":
                self.add("PATTERN", plain[start:end].lower(), start, end)
            case "date":
                self.add("DAY", plain[start:end], start, end)
            case "comment":
                self.comment(start, end)
            case "end":
                pass
            case _:
                self.refuse_characters(start, end)
        return end

    def add(self, kind: str, text: str, start: int, end: int) -> None:
        tokens = self.tokens
        self.nots = 0
        self.unit_may_follow = False
        if tokens and tokens[-1].kind == "COMMA":
            if kind == "STRING":
                tokens[-1] = tokens[-1]._replace(kind="_STRING_COMMA")
            elif kind in _VALUES:
                tokens[-1] = tokens[-1]._replace(kind="_ROW_COMMA")
        tokens.append(Token(kind, text, start, end))

    def word(self, text: str, start: int, end: int) -> None:
        lower = text.lower()
        if lower in STATEMENTS or lower in ("as", "means"):
            self.defining = lower in ("formula", "derived")
        if lower == "limit":
            self.in_limit = True
        elif lower in ("when", "otherwise"):
            self.row_of_words()
        elif lower in STATEMENTS:
            self.in_limit = False
        nots = self.nots + 1 if lower == "not" else 0
        if nots + self.depth > DEEPEST:
            self.too_deep(start, end)
        else:
            self.add("WORD", text, start, end)
            self.unit_may_follow = lower == "in" or (lower == "to" and self.behind_kind())
        self.nots = nots

    def behind_kind(self) -> bool:
        """In `from KIND to UNIT`, that a table has, the `to` says a unit and no end of a range."""
        last = self.tokens[-3:]
        return last[0].text.lower() == "from" and [token.kind for token in last] == ["WORD"] * 3

    def row_of_words(self) -> None:
        """In `is "H" when …, "V" otherwise` the comma before `"V"` starts a row."""
        if self.in_limit and len(self.tokens) > 2 and self.tokens[-1].kind in ("WORD", "STRING"):
            comma = self.tokens[-2]
            if comma.kind in ("COMMA", "_STRING_COMMA"):
                self.tokens[-2] = comma._replace(kind="_ROW_COMMA")

    def mark(self, text: str, start: int, end: int) -> None:
        if text in "([":
            self.depth += 1
        elif text in ")]":
            self.depth = max(0, self.depth - 1)
        if self.depth > DEEPEST:
            self.too_deep(start, end)
        else:
            self.add(_MARKS[text], text, start, end)

    def quantity(self, start: int, end: int, plain: str) -> int:
        gap = _GAP.match(plain, end)
        if unit := unit_end(plain, gap.end() if gap else end):
            self.add("QUANTITY", plain[start:unit], start, unit)
            return unit
        follows = _FOLLOWS_NUMBER.match(plain, end)
        if follows:
            word = follows.group("word")
            lower = word.lower()
            glued = follows.start("word") == end
            if glued or (lower not in RESERVED and lower not in _MAY_FOLLOW_NUMBER):
                from trackprep.syntax.slips import unknown_unit  # a text without slips needs none

                place = self.place(start, follows.end())
                self.refused(unknown_unit(place, plain[start:end], word, glued))
                return follows.end()
        self.add("NUMBER", plain[start:end], start, end)
        return end

    def comment(self, start: int, end: int) -> None:
        line_start = self.text.rfind("\n", 0, start) + 1
        own_line = not self.text[line_start:start].strip(" \t\ufeff\u00a0")
        self.comments.append(Comment(self.text[start:end].rstrip(), start, end, own_line))

    def place(self, start: int, end: int) -> Place:
        return Place(self.source, start, end)

    def too_deep(self, start: int, end: int) -> None:
        self.refuse(
            "nested-too-deep", f"more than {DEEPEST} brackets or `not`s are open here", start, end
        )

    def refuse(self, code: str, message: str, start: int, end: int) -> None:
        suggestion = "split it into smaller pieces"
        self.refused(Problem(code, message, self.place(start, end), suggestion=suggestion))

    def refuse_characters(self, start: int, end: int) -> None:
        from trackprep.syntax.slips import bad_characters  # a text without slips needs none

        self.refused(bad_characters(self.place(start, end), self.defining))

    def refused(self, problem: Problem) -> None:
        assert problem.place is not None
        self.bad[problem.place.start] = problem
        self.add("BAD", problem.place.text, problem.place.start, problem.place.end)


def starts_line(source: Source, tokens: Sequence[Token], index: int) -> bool:
    """Whether nothing but white space stands before the token on its line."""
    start = tokens[index].start
    line_start = source.text.rfind("\n", 0, start) + 1
    return not source.text[line_start:start].strip(" \t\ufeff\u00a0\r")
