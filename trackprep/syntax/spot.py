"""The tokens around a mistake, for the messages that tell it."""

from collections.abc import Sequence

from trackprep.problems import Problem
from trackprep.source import Place, Source
from trackprep.syntax.forms import ENTRY, FORMS
from trackprep.syntax.tokens import Token, starts_line
from trackprep.syntax.words import ROW, STATEMENTS

COMMAS = frozenset({"COMMA", "_STRING_COMMA", "_ROW_COMMA"})


class Spot:
    """A statement that begins at token `head` and is unreadable at `reached`."""

    def __init__(
        self, source: Source, tokens: Sequence[Token], head: int, reached: int, rider: bool
    ) -> None:
        self.source, self.tokens = source, tokens
        self.head, self.reached, self.rider = head, reached, rider
        self.keyword = self.keyword_of_statement()
        self.form = FORMS.get(self.keyword, ENTRY if rider else None)

    def word(self, index: int) -> str:
        """The token's text in lower case, or nothing where there is no token."""
        return self.tokens[index].text.lower() if 0 <= index < len(self.tokens) else ""

    def kind(self, index: int) -> str:
        return self.tokens[index].kind if 0 <= index < len(self.tokens) else "$END"

    def place(self, first: int, last: int | None = None) -> Place:
        last = first if last is None else last
        if first >= len(self.tokens):
            end = self.tokens[-1].end
            return Place(self.source, end, end)
        return Place(self.source, self.tokens[first].start, self.tokens[last].end)

    def keyword_of_statement(self) -> str:
        index = self.head
        while self.word(index) in ("core", "amend", "stricter", "looser"):
            index += 1
        return self.word(index)

    def made(
        self, code: str, message: str, place: Place, expected: str | None = None,
        suggestion: str | None = None,
    ) -> Problem:  # fmt: skip
        return Problem(code, message, place, expected=expected, suggestion=suggestion)

    def starts_line(self, index: int) -> bool:
        return starts_line(self.source, self.tokens, index)

    def open_bracket(self) -> int | None:
        """The last bracket of the statement that is not closed."""
        opened: list[int] = []
        for index in range(self.head, self.reached):
            if self.word(index) in ("(", "["):
                opened.append(index)
            elif self.word(index) in (")", "]") and opened:
                opened.pop()
        return opened[-1] if opened else None

    def begins_statement(self, index: int) -> bool:
        """Whether a line starts at the token that is a statement, or a row of a table."""
        word = self.word(index)
        return self.starts_line(index) and (word in STATEMENTS or word == ROW)

    def in_parameters(self, index: int) -> bool:
        """Whether the token stands in the brackets of a formula's head."""
        return (
            self.keyword == "formula"
            and self.kind(self.head + 2) == "LPAR"
            and self.head + 2 < index
            and all(self.word(between) != ")" for between in range(self.head + 3, index))
            and all(self.word(between) != "as" for between in range(self.head + 3, index))
        )

    def is_parameter(self, index: int) -> bool:
        """Whether the name of a parameter belongs where the token stands."""
        before = self.kind(index - 1)
        return self.in_parameters(index) and (before == "LPAR" or before in COMMAS)
