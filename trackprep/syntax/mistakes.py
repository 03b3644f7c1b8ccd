"""The one problem of a statement that could not be read, in the writer's words."""

import re
from collections.abc import Sequence
from functools import partial

from trackprep.problems import Problem
from trackprep.source import Source
from trackprep.syntax.condition_slips import condition_slip
from trackprep.syntax.forms import FORMS, MEANT, TAKES
from trackprep.syntax.formula_slips import formula_slip
from trackprep.syntax.left_behind import left_behind
from trackprep.syntax.spot import COMMAS, Spot
from trackprep.syntax.tokens import Token
from trackprep.syntax.words import NAME, RESERVED, ROW, STATEMENTS, is_bare
from trackprep.units import nearest_unit

_NAMED = ("rule", "limit", "list", "ruleset", "vocabulary", "kind", "formula", "table")
_ENDS_NAME = RESERVED | {"from", "in", "as"}


def mistake(
    source: Source, tokens: Sequence[Token], head: int, reached: int, rider: bool
) -> Problem:
    """The problem of the statement that begins at token `head` and is unreadable at `reached`."""
    return _Mistake(source, tokens, head, reached, rider).problem()


class _Mistake(Spot):
    """A mistake, and the slips that may be behind it."""

    def problem(self) -> Problem:
        """The message for the slip that was made, or what the grammar expected."""
        for slip in (
            self.another_word, partial(formula_slip, self), partial(condition_slip, self),
            partial(left_behind, self), self.list_ends_in_comma, self.nameless,
            self.name_in_pieces, self.reserved, self.without_unit, self.stray_takes, self.no_unit,
            self.list_joined_by_and, self.without_test, self.word_of_others, self.unquoted_words,
        ):  # fmt: skip
            if (found := slip()) is not None:
                return found
        return self.plain()

    # ---- the slips ----

    def another_word(self) -> Problem | None:
        """A line that starts with no statement of the language."""
        if self.rider or self.head != self.reached:
            return None
        word = self.word(self.head)
        place = self.place(self.head)
        if self.kind(self.head) not in ("WORD", "PATH"):
            return None
        if self.prose_follows():
            return self.made(
                "stray-prose", "this reads like a paragraph, not like a statement", place,
                "a statement, such as `rule`, `require` or `note`",
                'put it in quotes behind `note`, or write each demand as a rule of its own',
            )  # fmt: skip
        meant = meant_statement(word)
        return self.made(
            "unknown-statement", f"no statement starts with `{word}`", place,
            "a statement, such as `rule`, `require` or `limit`",
            f"write `{meant}`" if meant else None,
        )  # fmt: skip

    def prose_follows(self) -> bool:
        following = range(self.head, min(self.head + 6, len(self.tokens)))
        plain = [
            index
            for index in following
            if self.kind(index) == "WORD" and self.word(index) not in ("is", "includes")
        ]
        return len(following) >= 5 and len(plain) >= 5

    def list_ends_in_comma(self) -> Problem | None:
        if self.kind(self.reached - 1) not in COMMAS:
            return None
        ended = self.word(self.reached) in STATEMENTS or self.word(self.reached) == ")"
        if self.reached < len(self.tokens) and not ended:
            return None
        return self.made(
            "list-ends-in-comma", "a comma ends this list", self.place(self.reached - 1),
            "another member behind a comma", "take the last comma out",
        )  # fmt: skip

    def nameless(self) -> Problem | None:
        """`rule "Title"`, `limit is 5 mm`."""
        if self.keyword not in (*_NAMED, "fact"):
            return None
        before = self.word(self.reached - 1)
        if before != self.keyword or self.kind(self.reached) == "BAD":
            return None
        word = self.word(self.reached)
        if self.kind(self.reached) == "WORD" and word in RESERVED and word not in ("is", "for"):
            return None
        what = "a path" if self.keyword == "fact" else "a name of one word"
        name = _name_from(
            self.tokens[self.reached].text if self.kind(self.reached) == "STRING" else ""
        )
        return self.made(
            "name-missing", f"this `{self.keyword}` has no name",
            self.place(self.head, self.reached - 1),
            self.form, f"put {what} behind `{self.keyword}`" + (f": `{name}`" if name else ""),
        )  # fmt: skip

    def name_in_pieces(self) -> Problem | None:
        """`rule helmet age "…"`, `rule Helmet_age "…"`: a name of several words."""
        if self.keyword not in _NAMED:
            return None
        start = self.reached
        while self.kind(start - 1) == "WORD" and self.word(start - 1) != self.keyword:
            start -= 1
        if start == self.reached or self.word(start - 1) != self.keyword:
            return None
        if any(self.word(index) in _ENDS_NAME for index in range(start, self.reached)):
            return None
        end = self.reached
        while self.kind(end) in ("WORD", "NUMBER") and self.word(end) not in _ENDS_NAME:
            end += 1
        if end == self.reached:
            return None
        name = "-".join(self.word(index) for index in range(start, end))
        return self.made(
            "name-in-pieces", "a name is one word", self.place(start, end - 1),
            "lower-case words and digits joined by hyphens", f"write `{name}`",
        )  # fmt: skip

    def reserved(self) -> Problem | None:
        """A word of the language where a choice or a name belongs."""
        word = self.word(self.reached)
        before = self.word(self.reached - 1)
        if self.kind(self.reached) != "WORD" or word not in RESERVED:
            return None
        if self.starts_line(self.reached) and word in STATEMENTS:
            return None
        if (before in _NAMED and self.head < self.reached) or self.is_parameter(self.reached):
            return self.made(
                "reserved-word", f"`{word}` is a word of the language and cannot be a name",
                self.place(self.reached), suggestion=f"choose another, such as `{word}-1`",
            )  # fmt: skip
        listed = (
            before in ("of", "is", ",", "several", "<", "not", ROW)
            or self.kind(self.reached - 1) == "COMMA"
        )
        if not listed or word in ("is", "of"):
            return None
        return self.made(
            "reserved-word", f"`{word}` is a word of the language", self.place(self.reached),
            suggestion=f'as a choice, write it in quotes: `"{word}"`',
        )  # fmt: skip

    def without_unit(self) -> Problem | None:
        """`takes 25`: a bare number where a quantity belongs."""
        if (
            self.word(self.reached - 1) not in ("takes", "allow")
            or self.kind(self.reached) != "NUMBER"
        ):
            return None
        number = self.tokens[self.reached].text
        return self.made(
            "unit-missing", f"`{number}` has no unit", self.place(self.reached),
            "how long it takes, such as `25 min` or `2 days`", f"write `{number} min`",
        )  # fmt: skip

    def stray_takes(self) -> Problem | None:
        """`ask "…" takes 5 min`."""
        if self.word(self.reached) != "takes" or self.keyword in ("how", "fix", "undo"):
            return None
        return self.made(
            "out-of-place", f"`takes` does not stand behind `{self.keyword}`",
            self.place(self.reached), TAKES, "move it behind the text that says what to do",
        )  # fmt: skip

    def no_unit(self) -> Problem | None:
        """`measured in millimetres`."""
        measured = (
            self.keyword in ("derived", "formula") or self.word(self.reached - 2) == "measured"
        )
        introduced = "to" if self.keyword == "table" else "in"
        if self.word(self.reached - 1) != introduced or not (measured or introduced == "to"):
            return None
        word = self.word(self.reached)
        near = nearest_unit(word) if word else None
        return self.made(
            "unknown-unit", f"`{word}` is not a unit that is read here", self.place(self.reached),
            "a unit, such as `mm`, `psi`, `dB` or `°C`", f"write `{near}`" if near else None,
        )  # fmt: skip

    def list_joined_by_and(self) -> Problem | None:
        """`parts "a" and "b"`."""
        word = self.word(self.reached)
        if word not in ("and", "or") or self.kind(self.reached - 1) != "STRING":
            return None
        return self.made(
            "list-joined-by-word", f"`{word}` does not join the members of a list",
            self.place(self.reached), suggestion="put a comma there",
        )  # fmt: skip

    def without_test(self) -> Problem | None:
        """`each of a, b` with nothing said of them."""
        words = [self.word(index) for index in range(self.head, self.reached)]
        if "of" not in words or any(word in ("is", "includes") for word in words):
            return None
        if self.keyword not in ("when", "unless", "require", "recommend", "derived", "section"):
            return None
        return self.made(
            "test-missing", "nothing is asked of these facts",
            self.place(self.head, self.reached - 1),
            "`each of PATH, PATH` and a test, such as `is yes` or `is at least 2 mm`",
            "end it with a test: `is yes`",
        )  # fmt: skip

    def word_of_others(self) -> Problem | None:
        """`rule a "A" if …`: a word in the middle of a line that the language has another for."""
        meant = MEANT.get(self.word(self.reached))
        if self.rider or meant is None or self.kind(self.reached) != "WORD":
            return None
        behind_word = self.kind(self.reached - 1) == "WORD"
        certain = self.word(self.reached) in ("if", "must", "should", "shall", "except", "else")
        if behind_word and self.word(self.reached - 1) not in RESERVED and not certain:
            return None  # more likely the second word of a choice
        return self.made(
            "unknown-statement", f"`{self.word(self.reached)}` is no word of this language",
            self.place(self.reached), self.form, f"write `{meant}`",
        )  # fmt: skip

    def unquoted_words(self) -> Problem | None:
        """`is ECE 22.06`: several words where one choice belongs."""
        previous = self.reached - 1
        if self.kind(previous) != "WORD" or self.word(previous) in RESERVED:
            return None
        if self.kind(self.reached) not in ("WORD", "NUMBER") or self.word(self.reached) in RESERVED:
            return None
        if self.starts_line(self.reached):
            return None
        written = self.source.text[self.tokens[previous].start : self.tokens[self.reached].end]
        hyphened = "-".join(written.lower().split())
        return self.made(
            "words-unquoted", f"`{written}` is more than one word",
            self.place(previous, self.reached),
            "one word, or words in quotes",
            f'write `"{written}"`' + (f", or `{hyphened}`" if is_bare(hyphened) else ""),
        )  # fmt: skip

    # ---- all other mistakes ----

    def plain(self) -> Problem:
        """What is there, and how the statement is written."""
        unfinished = (
            self.reached >= len(self.tokens)
            or self.begins_statement(self.reached)
            or (self.rider and self.starts_line(self.reached))
        )
        name = self.keyword if self.keyword in FORMS else "entry" if self.rider else "statement"
        if unfinished and self.reached > self.head and (bracket := self.open_bracket()) is not None:
            return self.made(
                "unfinished", f"this `{self.word(bracket)}` is never closed", self.place(bracket),
                self.form, "write its other half",
            )  # fmt: skip
        if unfinished and self.reached > self.head:
            return self.made(
                "unfinished", f"this `{name}` is not whole",
                self.place(self.head, self.reached - 1),
                self.form,
            )  # fmt: skip
        written = self.tokens[self.reached].text
        shown = written if len(written) <= 40 else written[:39] + "…"
        return self.made(
            "unexpected-word", f"`{shown}` does not belong here", self.place(self.reached),
            self.form,
        )  # fmt: skip


def meant_statement(word: str) -> str | None:
    """The word of the language that somebody means who starts a statement with `word`."""
    if word in MEANT:
        return MEANT[word]
    # Two milliseconds that a file without a mistake need not pay.
    from difflib import get_close_matches

    near = get_close_matches(word, sorted(STATEMENTS), n=1, cutoff=0.7)
    return near[0] if near else None


def _name_from(string: str) -> str:
    """A name made of the first words of a title."""
    words = re.findall(r"[a-z0-9]+", string.lower())[:3]
    name = "-".join(words)
    return name if NAME.fullmatch(name) else ""
