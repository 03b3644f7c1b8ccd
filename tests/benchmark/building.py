"""From a rule file to rules that are ready to run."""

from collections.abc import Iterator
from typing import Any

from lark import Lark, Token
from lark.lexer import Lexer

from tests.benchmark.recipe import recipe
from tests.benchmark.table import Line, seconds
from tests.benchmark.texts import rule_file
from tests.benchmark.timing import side_by_side
from trackprep import parse_ruleset, published
from trackprep.backends import generated
from trackprep.published import grammar_folder, rulesets_folder
from trackprep.rules import loading, storing, vocabularies
from trackprep.rules.model import Rules
from trackprep.rules.storing import restored, stored
from trackprep.source import Source
from trackprep.syntax.table import GRAMMAR, table
from trackprep.syntax.tokens import tokenize


class OurTokens(Lexer):
    """Our tokens for Lark: the first time by the state of its parser, then as they were."""

    __future_interface__ = 1  # Lark then tells the state of its parser

    def __init__(self, _conf: Any) -> None:
        self.known: dict[str, list[Token]] = {}

    def lex(self, lexer_state: Any, parser_state: Any) -> Iterator[Token]:
        """The tokens of the text."""
        text = str(lexer_state.text.text)
        if text in self.known:
            return iter(self.known[text])
        return self._first_time(text, parser_state)

    def _first_time(self, text: str, parser_state: Any) -> Iterator[Token]:
        tokens = tokenize(Source("<text>", text)).tokens
        found: list[Token] = []
        place = 0
        while place < len(tokens):
            token, used = tokens[place], 1
            kind = token.kind
            if kind == "WORD":
                row = parser_state.parse_conf.states[parser_state.position]
                words = [one.text.lower() for one in tokens[place : place + 6]]
                kind = "IT" if words[0] == "it" else "NAME"
                for rest, terminal in table().keywords.get(words[0], ()):
                    if terminal in row and tuple(words[1 : 1 + len(rest)]) == tuple(rest):
                        kind, used = terminal, 1 + len(rest)
                        break
            found.append(Token(kind, token.text))
            yield found[-1]
            place += used
        self.known[text] = found


def _remembered() -> Iterator[Any]:
    """What the library keeps of shipped files between two calls of one process."""
    for module in (loading, vocabularies, storing, published):
        yield from (one for one in vars(module).values() if hasattr(one, "cache_clear"))


def building() -> Iterator[Line]:
    """60 rules and the standard vocabulary, beside Lark's own parse of the same tokens."""
    text = rule_file(recipe(60, 40))
    vocabulary = [
        path.read_text(encoding="utf-8")
        for path in sorted(rulesets_folder().glob("standard*.trackrules"))
    ]
    grammar = (grammar_folder() / GRAMMAR).read_text(encoding="utf-8")
    lark = Lark(grammar, parser="lalr", lexer=OurTokens, start=["rules", "rider"])

    def parse() -> None:
        for one in (text, *vocabulary):
            lark.parse(one, start="rules")

    def compile_file() -> Rules:
        return parse_ruleset(text, name="benchmark").rules

    def compile_anew() -> Rules:
        for remembered in _remembered():
            remembered.cache_clear()
        return compile_file()

    rules = compile_file()
    kept = stored(rules)
    yield Line("60 rules and the vocabulary, beside Lark's parse of the same tokens")
    timed = side_by_side(parse, compile_anew)
    yield Line("  Lark's parse of the tokens (the yardstick)", seconds(timed.yardstick))
    yield Line("  rule file → rules ready to walk", seconds(timed.contender), timed.ratio, 1.4, 1.7)
    for what, call in (
        ("  the same, the vocabulary read before", compile_file),
        ("  kept ruleset → rules ready to walk", lambda: restored(kept)),
        ("  rules → functions generated", lambda: generated.compiled(rules)),
    ):
        timed = side_by_side(parse, call)
        yield Line(what, seconds(timed.contender), timed.ratio)


def growth() -> Iterator[Line]:
    """What a rule costs in files of 60, 600 and 6,000, beside the file of 600."""
    texts = {count: rule_file(recipe(count, 400)) for count in (60, 600, 6_000)}
    rules = {count: parse_ruleset(text, name="benchmark").rules for count, text in texts.items()}
    yield Line("growth: time of a rule, beside that in a file of 600")
    for what, calls in (
        ("rule file → rules", {n: lambda n=n: parse_ruleset(texts[n]) for n in texts}),
        ("rules → functions", {n: lambda n=n: generated.compiled(rules[n]) for n in rules}),
    ):
        for count, call in calls.items():
            timed = side_by_side(calls[600], call, rounds=5)
            each = timed.ratio * 600 / count
            limits = (1.2, 1.5) if count > 600 else (None, None)
            yield Line(
                f"  {what}, {count:,} rules", seconds(timed.contender / count), each, *limits
            )
