"""Drives the parse table over the token stream, and goes on after a mistake.

A statement that cannot be read costs one problem; what follows is read from the
next statement keyword (in a `.rider` file: the next `PATH is`) that starts a line.
"""

from collections.abc import Mapping
from typing import Any, Literal

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.source import Place, Source
from trackprep.syntax.build_values import Builder
from trackprep.syntax.table import Production, Table, table
from trackprep.syntax.tokens import Comment, Token, TokenStream, starts_line, tokenize
from trackprep.syntax.values import Unread
from trackprep.syntax.words import RESERVED, ROW, STATEMENTS

MOST_PROBLEMS = 100


@frozen
class Parsed:
    """What came of a text: its tree, the problems in it, and its comments in order."""

    tree: Any
    problems: tuple[Problem, ...]
    comments: tuple[Comment, ...]


def in_order(*problems: list[Problem]) -> tuple[Problem, ...]:
    """The problems by their place, at most as many as anybody reads."""
    found = [problem for some in problems for problem in some]
    found.sort(key=lambda problem: problem.place.start if problem.place else 0)
    return tuple(found[:MOST_PROBLEMS])


class Run:
    """One pass of the table over the tokens of a source; over those of `stream`, if given."""

    def __init__(
        self,
        source: Source,
        start: Literal["rules", "rider"],
        builders: Mapping[str, Builder],
        stream: TokenStream | None = None,
    ) -> None:
        self.source = source
        self.builders = builders
        self.table: Table = table()
        self.stream: TokenStream = stream or tokenize(source)
        self.rider = start == "rider"
        self.start = self.table.starts[start]
        self.end = self.table.ends[start]
        self.runs = _run_states(self.table, self.start, start)
        self.problems: list[Problem] = []
        self.unread: list[Unread] = []
        self.states: list[int] = []
        self.nodes: list[Any] = []
        self.spans: list[tuple[int, int]] = []

    def clauses(self) -> list[Any]:
        """Every clause that can be read, with an `Unread` in the place of each that cannot."""
        clauses: list[Any] = []
        position = 0
        tokens = self.stream.tokens
        while position < len(tokens) and len(self.problems) < MOST_PROBLEMS:
            reached, whole_until = self.parse_from(position, clauses)
            if reached is None:
                break
            position = self.report(position, reached, whole_until, clauses)
        return clauses

    def parse_from(self, position: int, clauses: list[Any]) -> tuple[int | None, int]:
        """Parses on from a token until the end (None) or a token that does not fit.

        What is whole goes to `clauses`; the second number is the offset at which that ends.
        """
        self.states, self.nodes, self.spans = [self.start], [], []
        tokens, count = self.stream.tokens, len(self.stream.tokens)
        last = tokens[position].start
        while position < count:
            token = tokens[position]
            used = self.take(token, position)
            if not used:
                whole = self.finish("$END", last)
                if _end_of(whole, 0) >= last and not self.starts_line(position):
                    whole = whole[:-1]  # the rest of its line belongs to the last clause
                clauses.extend(whole)
                return position, _end_of(whole, 0)
            position += used
            last = token.end
        whole = self.finish("$END", last)
        clauses.extend(whole)
        if self.states[-1] == self.end:
            return None, last
        return count, _end_of(whole, 0)

    def take(self, token: Token, position: int) -> int:
        """Shifts a token; how many it took (a keyword may have several), 0 if it does not fit."""
        rows, states = self.table.rows, self.states
        symbol, text, start, end = token
        used = 1
        keywords = None
        if symbol == "WORD":
            word = text.lower()
            keywords = self.table.keywords.get(word)
            if word == ROW and self.word(position + 1) == "is":
                keywords = None  # `declare row is 3`: the name of a fact
            symbol = plain = "IT" if word == "it" else "reserved" if word in RESERVED else "NAME"
        while True:
            row = rows[states[-1]]
            if type(row) is int:
                self.reduce(~row, start)
                continue
            assert type(row) is dict
            if keywords is not None:
                symbol, used = self.keyword(keywords, row, position) or (plain, 1)
            action = row.get(symbol)
            if action is None:
                return 0
            if action >= 0:
                states.append(action)
                self.nodes.append(token)
                if used > 1:
                    end = self.stream.tokens[position + used - 1].end
                self.spans.append((start, end))
                return used
            self.reduce(~action, start)

    def keyword(
        self, choices: list[tuple[tuple[str, ...], str]], row: dict[str, int], position: int
    ) -> tuple[str, int] | None:
        """The keyword that begins here and that this state admits, and how many tokens it takes."""
        for rest, terminal in choices:
            if terminal in row and (
                not rest
                or all(
                    self.word(position + further) == wanted
                    for further, wanted in enumerate(rest, 1)
                )
            ):
                return terminal, 1 + len(rest)
        return None

    def word(self, index: int) -> str:
        """The word at a token, in lower case; nothing where none is."""
        tokens = self.stream.tokens
        if index < len(tokens) and tokens[index].kind == "WORD":
            return tokens[index].text.lower()
        return ""

    def reduce(self, number: int, offset: int) -> None:
        """Replaces the symbols of a production on the stack by what they make."""
        production = self.table.productions[number]
        size = production.size
        if size == 1 and production.spliced and production.keep:
            # Half of all steps only pass a node on, as a run of one.
            if type(self.nodes[-1]) is not list:
                self.nodes[-1] = [self.nodes[-1]]
            del self.states[-1]
            goto = self.table.rows[self.states[-1]]
            assert type(goto) is dict
            self.states.append(goto[production.head])
            return
        if size:
            children = self.nodes[-size:]
            start, end = self.spans[-size][0], self.spans[-1][1]
            del self.states[-size:], self.nodes[-size:], self.spans[-size:]
        else:
            children, start, end = [], offset, offset
        self.nodes.append(self.made(production, children, start, end))
        self.spans.append((start, end))
        row = self.table.rows[self.states[-1]]
        assert not isinstance(row, int)
        self.states.append(row[production.head])

    def made(self, production: Production, children: list[Any], start: int, end: int) -> Any:
        """The node of a production, or the run of nodes that its parent takes in."""
        if production.spliced and children and type(children[0]) is list:
            kept = children[0]  # a run that grows: appending keeps long files linear
            first = 1
        else:
            kept, first = [], 0
        for position in production.keep[first:] if first else production.keep:
            child = children[position]
            if type(child) is list:
                kept.extend(child)
            else:
                kept.append(child)
        if production.spliced:
            return kept
        if production.single and len(kept) == 1:
            return kept[0]
        return self.builders[production.name](kept, Place(self.source, start, end))

    def finish(self, symbol: str, offset: int) -> list[Any]:
        """The clauses that are whole if the text ended here."""
        rows = self.table.rows
        states, nodes, spans = list(self.states), list(self.nodes), list(self.spans)
        while self.states[-1] != self.end:
            row = rows[self.states[-1]]
            action = row if isinstance(row, int) else row.get(symbol)
            if action is None:
                self.states, self.nodes, self.spans = states, nodes, spans
                # The clause in work is not whole; those before it are one run at the bottom.
                bottom = states[1] if len(states) > 1 else -1
                return list(nodes[0]) if bottom in self.runs else []
            if action >= 0:
                break
            self.reduce(~action, offset)
        root = self.nodes[0] if self.nodes else []
        return list(root)

    # ---- after a mistake ----

    def report(self, begin: int, reached: int, whole_until: int, clauses: list[Any]) -> int:
        """Notes the problem of the statement that stopped at `reached`; returns where to go on."""
        tokens = self.stream.tokens
        head = begin
        while head < min(reached, len(tokens) - 1) and tokens[head].start < whole_until:
            head += 1
        if self.rider and clauses and not self.starts_line(min(head, len(tokens) - 1)):
            # `helmet.shell is Full Face`: no entry starts at `Face`.
            reached = min(reached, head)
            start = clauses.pop().place.start
            while tokens[head].start > start:
                head -= 1
        before = reached - 1
        if self.rider and head < before and self.may_start(before) and self.starts_line(before):
            reached = before  # `PATH is` without a value took the next line's path for one
        onward = self.resume(max(reached, head + 1))
        bad = next(
            (token for token in tokens[head : max(onward, head + 1)] if token.kind == "BAD"), None
        )
        if bad is not None and bad.start <= tokens[min(reached, len(tokens) - 1)].start:
            self.problems.append(self.stream.bad[bad.start])
        else:
            # Read only for a text with a mistake: what every message may say costs milliseconds.
            from trackprep.syntax.mistakes import mistake

            self.problems.append(mistake(self.source, tokens, head, reached, self.rider))
        unread = self.unread_statement(head, onward)
        self.unread.append(unread)
        clauses.append(unread)
        return onward

    def resume(self, index: int) -> int:
        """The next token from which a statement, or in a `.rider` file an entry, may start."""
        tokens = self.stream.tokens
        while index < len(tokens) and not (self.may_start(index) and self.starts_line(index)):
            index += 1
        return index

    def starts_line(self, index: int) -> bool:
        return starts_line(self.source, self.stream.tokens, index)

    def may_start(self, index: int) -> bool:
        token = self.stream.tokens[index]
        if not self.rider:
            word = self.word(index)
            return word in STATEMENTS or (word == ROW and self.word(index + 1) != "is")
        if token.kind not in ("WORD", "PATH"):
            return False
        if token.text.lower() in ("declaration", "declared"):
            return True
        following = self.stream.tokens[index + 1 : index + 2]
        return bool(following) and following[0].text.lower() == "is"

    def unread_statement(self, head: int, onward: int) -> Unread:
        """What the statement would have been, and the name it would have defined."""
        tokens = self.stream.tokens[head:onward]
        words = [token.text.lower() for token in tokens]
        first = 0
        while first < len(words) - 1 and words[first] in ("core", "amend", "stricter", "looser"):
            first += 1
        name = next(
            (
                word
                for word, token in zip(
                    words[first + 1 : first + 3], tokens[first + 1 :], strict=False
                )
                if token.kind in ("WORD", "PATH") and word not in RESERVED
            ),
            None,
        )
        place = Place(self.source, tokens[0].start, tokens[-1].end)
        return Unread(words[first], name, place=place)


def _run_states(made: Table, start: int, symbol: str) -> frozenset[int]:
    """The states behind the run of clauses at the bottom of the stack."""
    row = made.rows[start]
    assert not isinstance(row, int)
    run = f"__{symbol}_star"  # as Lark names what `clause*` makes
    return frozenset(state for head, state in row.items() if head.startswith(run))


def _end_of(whole: list[Any], otherwise: int) -> int:
    """Where the last clause that could be read ends."""
    if not whole:
        return otherwise
    last = whole[-1]
    end: int = last[-1].place.end if isinstance(last, tuple) else last.place.end
    return end
