"""The clauses of rules, facts and examples to printed lines."""

import re
from collections.abc import Iterable, Sequence
from typing import TypeAlias, assert_never

from trackprep.source import Place
from trackprep.syntax import tree
from trackprep.syntax.layout import WIDTH, Joint, Line, Piece, joined, laid_out, prose, quoted
from trackprep.syntax.phrases import condition_pieces, listed, value_piece, value_text, word_pieces

CLAUSE = 2
"""The indent of a statement's clauses."""
WORK_DETAIL = 6
"""The indent of what hangs on a `fix`, an `undo` or a `how`."""

Clause: TypeAlias = (
    tree.Prose | tree.SourceOf | tree.Also | tree.Mark | tree.Demand | tree.Accept
    | tree.WorkDetail
)  # fmt: skip
Detail: TypeAlias = Clause | tree.How | tree.Work | tree.Given | tree.Expect | tree.TableRow


def clause(
    pieces: Sequence[Piece], indent: int, start: int | None, end: int | None = None
) -> list[Line]:
    """The lines of a clause that stands in the source from `start` to `end`, if that is known."""
    first, *rest = pieces
    return laid_out([first._replace(start=start), *rest], indent, end)


def details(them: Iterable[Detail]) -> list[Line]:
    """The lines of the details of a statement, in their order."""
    return [line for detail in them for line in _detail(detail)]


def head_end(head: Place, them: Sequence[Detail]) -> int | None:
    """Where the head of a statement ends; None where its place takes in its details."""
    return None if them and head.end > them[0].place.start else head.end


def _detail(detail: Detail) -> list[Line]:
    start, end = detail.place.start, detail.place.end
    match detail:
        case tree.Work():
            return _work(detail)
        case tree.How():
            return _how(detail)
        case tree.Given():
            pieces = given(detail, "declare ")
            return clause(pieces, CLAUSE, keyword_start("declare", detail.place), end)
        case tree.Expect():
            return clause([Piece(_expectation(detail))], CLAUSE, start, end)
        case tree.TableRow(choice, value):
            said = Piece("none") if value is None else value_piece(value)
            row = [Piece("row"), value_piece(choice), Piece("is"), said]
            return clause(row, CLAUSE, start, end)
        case _:
            return clause(_pieces(detail), CLAUSE, start, end)


def _pieces(detail: Clause) -> list[Piece]:
    match detail:
        case tree.Prose():
            return prose_clause(detail)
        case tree.SourceOf(kind, text):
            return [Piece("source"), *prose(text)] if kind == "text" else [Piece(f"source {kind}")]
        case tree.Accept(finding, reason):
            return [Piece(f"accept {finding}"), *prose(reason)]
        case tree.Also():
            return also(detail)
        case tree.Mark(word) | tree.Where(word):
            return [Piece(word)]
        case tree.When():
            return when(detail)
        case tree.Demand(keyword, condition):
            return [Piece(keyword), *condition_pieces(condition)]
        case tree.Takes(duration):
            return [Piece("takes"), value_piece(duration)]
        case tree.Parts(parts):
            return [Piece("parts"), *listed([_part(part) for part in parts])]
        case tree.Tools(names):
            return [Piece("tools"), *listed([Piece(quoted(name)) for name in names])]
        case tree.After(rules):
            return [Piece("after"), *word_pieces(rules)]
        case _:
            assert_never(detail)


def prose_clause(said: tree.Prose) -> list[Piece]:
    """The pieces of `reason "…"` and its like; an edition is a code, not prose."""
    if said.keyword == "edition":
        return [Piece(f"edition {quoted(said.text)}")]
    return [Piece(said.keyword), *prose(said.text)]


def when(its: tree.When) -> list[Piece]:
    """The pieces of `when CONDITION` or `unless CONDITION`."""
    keyword = "unless" if its.negated else "when"
    return [Piece(keyword, start=its.place.start), *condition_pieces(its.condition)]


def also(words: tree.Also, joint: Joint = Joint.OPEN) -> list[Piece]:
    """The pieces of `also "…", "…"`."""
    strings = listed([Piece(quoted(word)) for word in words.words], joint)
    return [Piece("also", joint, words.place.start), *strings]


def given(entry: tree.Given, keyword: str = "") -> list[Piece]:
    """The pieces of `PATH is VALUE, …`."""
    head = Piece(f"{keyword}{entry.path} is", start=entry.place.start)
    if not entry.values:
        return [head, Piece("none")]
    return [head, *listed([value_piece(value) for value in entry.values])]


def keyword_start(keyword: str, place: Place) -> int:
    """Where `keyword` starts that stands before `place`, or `place` where it does not."""
    before = place.source.text[max(0, place.start - 80) : place.start]
    found = re.search(keyword.replace(" ", r"\s+") + r"\s+\Z", before, re.IGNORECASE)
    return place.start - len(before) + found.start() if found else place.start


def _expectation(expect: tree.Expect) -> str:
    outcome = expect.outcome.replace("-", " ")
    return f"expect {expect.rule.text} is {outcome}" if expect.rule else f"expect {outcome}"


# ---- fix, undo and how ----------------------------------------------------


def _how(how: tree.How) -> list[Line]:
    place, takes = how.place, how.takes
    end = place.end if takes is None else head_end(place, (takes,))
    lines = clause([Piece("how"), *prose(how.text)], CLAUSE, place.start, end)
    if takes is None:
        return lines
    start, end = takes.place.start, takes.place.end
    return [*lines, *clause(_pieces(takes), WORK_DETAIL, start, end)]


def _work(work: tree.Work) -> list[Line]:
    end = head_end(work.place, work.details)
    lines = clause([Piece(work.keyword), *prose(work.text)], CLAUSE, work.place.start, end)
    if not work.details:
        return lines
    first, last = work.details[0].place, work.details[-1].place
    text = "  ".join(joined(_pieces(detail)) for detail in work.details)
    if WORK_DETAIL + len(text) <= WIDTH and not any(map(_stands_alone, work.details)):
        return [*lines, Line(WORK_DETAIL, text, first.start, last.end)]
    for detail in work.details:
        place = detail.place
        lines += clause(_pieces(detail), WORK_DETAIL, place.start, place.end)
    return lines


def _stands_alone(detail: tree.WorkDetail) -> bool:
    return isinstance(detail, tree.When | tree.Prose)


def _part(part: tree.Part) -> Piece:
    allow = f" allow {value_text(part.allow)}" if part.allow else ""
    return Piece(quoted(part.name) + allow, start=part.place.start, end=part.place.end)


# ---- types ----------------------------------------------------------------


def type_pieces(its_type: tree.Type) -> list[Piece]:
    """The pieces of a fact's or kind's type."""
    match its_type:
        case tree.Choices():
            pieces = _choices(its_type)
        case tree.Plain(keyword):
            pieces = [Piece(keyword)]
        case tree.Measured(unit, limits):
            pieces = [Piece("count" if unit is None else f"measured in {unit}")]
            if limits:
                low, high = value_text(limits.low), value_text(limits.high)
                pieces.append(Piece(f"from {low} to {high}", Joint.OPEN, limits.place.start))
        case tree.OfKind(name):
            pieces = [Piece(name)]
        case _:
            assert_never(its_type)
    pieces[0] = pieces[0]._replace(start=its_type.place.start)
    pieces[-1] = pieces[-1]._replace(end=its_type.place.end)
    return pieces


def _choices(choices: tree.Choices) -> list[Piece]:
    """A line for each choice where they are more than words and do not fit on one."""
    plain = all(choice.label is None and choice.also is None for choice in choices.choices)
    joint = Joint.OPEN if plain else Joint.EACH
    pieces = [Piece(choices.keyword)]
    for number, choice in enumerate(choices.choices):
        its_pieces = _choice(choice)
        if number and choices.keyword == "graded":
            pieces.append(Piece("<", joint))
        elif number:
            pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + ",")
            its_pieces[0] = its_pieces[0]._replace(joint=joint)
        pieces.extend(its_pieces)
    return pieces


def _choice(choice: tree.Choice) -> list[Piece]:
    pieces = [value_piece(choice.word)]
    if choice.label is not None:
        pieces.append(Piece(quoted(choice.label), Joint.LOOSE))
    if choice.also is not None:
        pieces.extend(also(choice.also, Joint.LOOSE))
    return [*pieces[:-1], pieces[-1]._replace(end=choice.place.end)]
