"""A tree to text, in the one layout that every file of the language has.

    tree ──statements, clauses──▶ pieces ──layout.laid_out──▶ lines ──comments.woven──▶ text

Nothing is put in another order. Statements start at the margin, their clauses
at two columns, what hangs on a `fix` or `undo` at six.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import assert_never

from trackprep.syntax import tree
from trackprep.syntax.clauses import (
    CLAUSE,
    also,
    clause,
    details,
    given,
    head_end,
    keyword_start,
    prose_clause,
    type_pieces,
    when,
)
from trackprep.syntax.comments import woven
from trackprep.syntax.layout import WIDTH, Joint, Line, Piece, joined, prose, quoted
from trackprep.syntax.phrases import (
    condition_pieces,
    expression_pieces,
    listed,
    value_piece,
    word_pieces,
)
from trackprep.syntax.tokens import Comment


def print_rules(file: tree.RuleFile, comments: Sequence[Comment] = ()) -> str:
    """The text of a `.trackrules` file; `comments` are those of the text it came from."""
    lines: list[Line] = []
    in_header = spaced_behind = False
    for statement in file.statements:
        setting = in_header and isinstance(statement, tree.Prose | tree.Valid)
        first, *rest = _statement(statement, CLAUSE if setting else 0)
        block = _is_block(statement, 1 + len(rest))
        spaced = not setting and (block or spaced_behind)
        lines += [first._replace(spaced=spaced), *rest]
        in_header = setting or isinstance(statement, tree.Heading)
        spaced_behind = block or in_header
    return woven(lines, comments, file.source)


def print_rider(file: tree.RiderFile, comments: Sequence[Comment] = ()) -> str:
    """The text of a `.rider` file; `comments` are those of the text it came from."""
    header: list[list[Line]] = []
    if file.title is not None:
        place = file.title_place
        header.append(clause([Piece("declaration"), *prose(file.title)], 0, place.start, place.end))
    if file.declared_on is not None:
        place = file.declared_on.place
        pieces = [Piece("declared on"), value_piece(file.declared_on)]
        header.append(clause(pieces, 0, keyword_start("declared on", place), place.end))
    entries = [
        clause(given(entry), 0, entry.place.start, entry.place.end) for entry in file.entries
    ]
    # The title may stand anywhere; a file keeps its order.
    clauses = sorted(header + entries, key=lambda lines: lines[0].start or 0)
    for this, following in pairwise(clauses):
        if this in header and following not in header:
            following[0] = following[0]._replace(spaced=True)
    return woven([line for lines in clauses for line in lines], comments, file.source)


def _is_block(statement: tree.Statement, height: int) -> bool:
    """Whether a statement of so many lines stands between blank lines."""
    match statement:
        case tree.Section() | tree.Rule() | tree.Example():
            return True
        case tree.Fact() | tree.Derived() | tree.Formula() | tree.Table():
            return height > 1
        case _:
            return False


def _statement(statement: tree.Statement, indent: int) -> list[Line]:
    place = statement.place
    match statement:
        case tree.Fact():
            return _fact(statement)
        case tree.Formula():
            return _formula(statement)
        case tree.Kind(name, its_type):
            return _with_type([Piece(f"kind {name}")], type_pieces(its_type), place.start)
        case tree.Heading() | tree.Prose() | tree.Valid() | tree.Uses() | tree.Here():
            return clause(_plain(statement), indent, place.start, place.end)
        case _:
            end = head_end(place, statement.details)
            return [
                *clause(_head(statement), 0, place.start, end),
                *details(statement.details),
            ]


def _plain(
    statement: tree.Heading | tree.Prose | tree.Valid | tree.Uses | tree.Here,
) -> list[Piece]:
    match statement:
        case tree.Heading(keyword, name, title):
            return [Piece(f"{keyword} {name}"), *prose(title)]
        case tree.Prose():
            return prose_clause(statement)
        case tree.Valid(first, last):
            return [Piece("valid from"), value_piece(first), Piece("to"), value_piece(last)]
        case tree.Uses(keyword, file):
            return [Piece(keyword), Piece(quoted(file))]
        case tree.Here(entry):
            return given(entry, "here ")
        case _:
            assert_never(statement)


def _head(
    statement: tree.Derived | tree.Table | tree.Limit | tree.List | tree.Section | tree.Rule
    | tree.Withdraw | tree.Example,
) -> list[Piece]:  # fmt: skip
    match statement:
        case tree.Derived():
            return _derived(statement)
        case tree.Table(_, label, kind, unit):
            pieces = _named("", "table", statement, label)
            pieces.append(Piece(f"from {kind}", Joint.OPEN))
            return pieces if unit is None else [*pieces, Piece(f"to {unit}")]
        case tree.Limit(_, label, value, strength):
            return [*_named(strength, "limit", statement, label), *_limit_value(value)]
        case tree.List(_, label, words, strength):
            return [*_named(strength, "list", statement, label), *_list_words(words)]
        case tree.Section(title, conditions):
            pieces = [Piece("section"), *prose(title)]
            for condition in conditions:
                first, *rest = when(condition)
                pieces += [first._replace(joint=Joint.OPEN), *rest]
            return pieces
        case tree.Rule(_, title, parts, strength):
            pieces = _named(strength, "rule", statement, title)
            if parts:
                references = [piece for part in parts for piece in expression_pieces(part)]
                pieces += [Piece("for each of", Joint.OPEN), *listed(references)]
            return pieces
        case tree.Withdraw():
            return _named("", "withdraw rule", statement, None)
        case tree.Example(title, file, on):
            pieces = [Piece("example"), *prose(title)]
            if file is not None:
                pieces.append(Piece(f"from {quoted(file)}", Joint.OPEN))
            if on is not None:
                pieces += [Piece("on", Joint.OPEN), value_piece(on)]
            return pieces
        case _:
            assert_never(statement)


def _named(
    strength: tree.Strength,
    keyword: str,
    statement: tree.Table | tree.Limit | tree.List | tree.Rule | tree.Withdraw,
    label: str | None,
) -> list[Piece]:
    words = f"{strength} {keyword} {statement.name}".lstrip()
    head = Piece(words, end=statement.name_place.end)
    return [head] if label is None else [head, *prose(label)]


# ---- facts ----------------------------------------------------------------


def _fact(fact: tree.Fact) -> list[Line]:
    head = [Piece(f"fact {fact.path}", end=fact.path_place.end), *prose(fact.label)]
    if fact.also is not None:
        head += also(fact.also)
    its_type = type_pieces(fact.type)
    # Behind choices that have a line each, the marks have one too.
    joint = Joint.EACH if any(piece.joint is Joint.EACH for piece in its_type) else Joint.OPEN
    for mark in fact.marks:
        its_type.append(Piece(mark.word, joint, mark.place.start, mark.place.end))
        joint = Joint.OPEN
    short = not fact.details or _is_short(fact.type)
    return [*_with_type(head, its_type, fact.place.start, short), *details(fact.details)]


def _is_short(its_type: tree.Type) -> bool:
    """Whether a type may stand behind its fact's label though details follow."""
    match its_type:
        case tree.Choices():
            return False
        case tree.Measured(unit):
            return unit is None
        case _:
            return True


def _with_type(
    head: Sequence[Piece], its_type: Sequence[Piece], start: int, short: bool = True
) -> list[Line]:
    """A head and its type: on one line if it is to be `short` and fits, else on two."""
    if short and len(joined([*head, *its_type])) <= WIDTH:
        return clause([*head, *its_type], 0, start)
    return [*clause(head, 0, start), *clause(its_type, CLAUSE, its_type[0].start)]


def _derived(derived: tree.Derived) -> list[Piece]:
    pieces = [Piece(f"derived {derived.path}", end=derived.path_place.end)]
    if derived.label is not None:
        pieces += prose(derived.label)
    if derived.unit is not None:
        pieces.append(Piece(f"in {derived.unit}", Joint.OPEN))
    definition = derived.definition
    if isinstance(definition, tree.Condition):
        return [*pieces, Piece("means", Joint.OPEN), *condition_pieces(definition, Joint.INNER)]
    return [*pieces, Piece("as", Joint.OPEN), *expression_pieces(definition)]


# ---- formulas -------------------------------------------------------------


def _formula(formula: tree.Formula) -> list[Line]:
    """A formula: an only row may stand behind the head, else each has a line of its own."""
    place = formula.place
    head = _formula_head(formula)
    rows = [(row.place, _formula_row(row)) for row in formula.rows]
    (first, pieces), *others = rows
    if not others and len(joined([*head, *pieces])) <= WIDTH:
        lines = clause([*head, *pieces], 0, place.start, first.end)
    else:
        lines = clause(head, 0, place.start)
        for its_place, its_pieces in rows:
            lines += clause(its_pieces, CLAUSE, its_place.start, its_place.end)
    return [*lines, *details(formula.details)]


def _formula_head(formula: tree.Formula) -> list[Piece]:
    parameters = []
    for parameter in formula.parameters:
        unit = "" if parameter.unit is None else f" in {parameter.unit}"
        its_place = parameter.place
        parameters.append(Piece(parameter.name + unit, start=its_place.start, end=its_place.end))
    first, *rest = listed(parameters)
    opening = f"formula {formula.name}({first.text}"
    pieces = [first._replace(text=opening, start=formula.place.start), *rest]
    pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + ")")
    if formula.label is not None:
        pieces += prose(formula.label)
    if formula.unit is not None:
        pieces.append(Piece(f"in {formula.unit}", Joint.OPEN))
    return pieces


def _formula_row(row: tree.FormulaRow) -> list[Piece]:
    pieces = [Piece("as", Joint.OPEN, row.place.start), *expression_pieces(row.value)]
    if row.otherwise:
        return [*pieces, Piece("otherwise", Joint.OPEN)]
    if row.condition is None:
        return pieces
    return [*pieces, Piece("when", Joint.OPEN), *condition_pieces(row.condition)]


# ---- limits and lists -----------------------------------------------------


def _limit_value(value: tree.Value | tuple[tree.Row, ...] | None) -> list[Piece]:
    if value is None:
        return []
    if not isinstance(value, tuple):
        return [Piece("is"), value_piece(value)]
    pieces = [Piece("is")]
    for number, row in enumerate(value):
        if number:
            pieces[-1] = pieces[-1]._replace(text=pieces[-1].text + ",")
        pieces.append(value_piece(row.value)._replace(joint=Joint.EACH))
        if row.condition is None:
            pieces.append(Piece("otherwise", end=row.place.end))
        else:
            pieces += [Piece("when"), *condition_pieces(row.condition, Joint.INNER)]
    return pieces


def _list_words(words: tuple[tree.Word, ...] | None) -> list[Piece]:
    if words is None:
        return []
    return [Piece("is"), *word_pieces(words)] if words else [Piece("is none")]
