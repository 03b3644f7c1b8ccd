"""Comments back into printed lines, and the blank lines that the author had.

Both are placed by their offsets in the source: a comment on a line of its own
goes above the line that starts after it, one at the end of a line stays at the
end of what holds the token before it.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from attrs import define, field

from trackprep.source import Source
from trackprep.syntax.layout import Line
from trackprep.syntax.tokens import Comment

INDENTS = (6, 2, 0)
"""Where a comment may stand that ends a block, deepest first."""


@define
class _Stretch:
    """Printed lines that hold one stretch of the source, and the comments that go with them.

    Attributes:
        lines: One, or more where it is not known what of the source the later ones hold.
        start: Where it begins.
        end: Up to where what lies between is surely inside.
        above: Comments on lines of their own that came before it.
        inside: Comments in it or at its end.
    """

    lines: list[Line]
    start: int
    end: int
    above: list[Comment] = field(factory=list)
    inside: list[Comment] = field(factory=list)

    @property
    def trailing(self) -> Comment | None:
        """The comment that stays at the end of the line: the last, if it stood so."""
        return self.inside[-1] if self.inside and not self.inside[-1].own_line else None


@define
class _Row:
    """A line of the text to be: what it says, and whether a blank line is above it."""

    indent: int
    text: str
    blank: bool = False


def woven(lines: Sequence[Line], comments: Sequence[Comment], source: Source) -> str:
    """The text of the lines with the comments in it; the order of both is kept."""
    stretches = _stretches(lines)
    left = _shared_out(comments, stretches)
    rows: list[_Row] = []
    level = 0
    for stretch in stretches:
        rows.extend(_rows(stretch, level, source))
        if not stretch.lines[0].continued:
            level = stretch.lines[0].indent
    rows.extend(_at_the_end(left, level, source))
    return "".join(
        ("\n" if row.blank and number else "") + " " * row.indent + row.text + "\n"
        for number, row in enumerate(rows)
    )


def _stretches(lines: Sequence[Line]) -> list[_Stretch]:
    stretches: list[_Stretch] = []
    reached = 0
    for line in lines:
        if line.start is None and stretches:
            stretches[-1].lines.append(line)
        else:
            reached = max(reached, line.start or 0)
            stretches.append(_Stretch([line], reached, reached))
        stretches[-1].end = max(stretches[-1].end, line.end or 0)
    return stretches


def _shared_out(comments: Sequence[Comment], stretches: Sequence[_Stretch]) -> list[Comment]:
    """Gives each comment to a stretch; returns those that come after all of them."""
    starts = [stretch.start for stretch in stretches]
    pending: list[Comment] = []  # on lines of their own, behind the stretch before `reached`
    reached = 0
    for comment in comments:
        number = bisect_right(starts, comment.start)
        if number != reached:
            if reached < number and pending:
                stretches[reached].above.extend(pending)
                pending = []
            reached = number
        if number and (not comment.own_line or comment.start < stretches[number - 1].end):
            # A token that no offset is known of may lie between: what came before is inside too.
            stretches[number - 1].inside.extend([*pending, comment])
            pending = []
        else:
            pending.append(comment)
    if reached < len(stretches):
        stretches[reached].above.extend(pending)
        pending = []
    return pending


def _rows(stretch: _Stretch, level: int, source: Source) -> Iterator[_Row]:
    """The rows of a stretch; `level` is the indent of the clause before it."""
    first = stretch.lines[0]
    if first.continued:
        above = [_Row(first.indent, comment.text) for comment in stretch.above]
        blank = False
    else:
        blank = blank_above(source, stretch.start)
        above = _above(stretch.above, level, first.indent, blank, source)
    trailing = stretch.trailing
    inside = stretch.inside[:-1] if trailing else stretch.inside
    own = [_Row(first.indent, comment.text) for comment in inside]
    own.extend(_Row(line.indent, line.text) for line in stretch.lines)
    own[0].blank = blank
    if first.spaced:
        _space(above, own[0])
    if trailing:
        own[-1].text += "  " + trailing.text
    yield from above
    yield from own


def _space(above: list[_Row], row: _Row) -> None:
    """Sees to a blank line above `row` and the comments that stand directly on it."""
    for earlier in reversed(above):
        if row.blank:
            break
        row = earlier
    row.blank = True


def _above(
    comments: Sequence[Comment], level: int, indent: int, blank: bool, source: Source
) -> list[_Row]:
    """Comments above a line at `indent`, which has a blank line above it or not.

    Those that stand directly below the block that ends there, with a blank line
    behind them, are the end of that block and keep its indent.
    """
    rows = [_Row(indent, comment.text, blank_above(source, comment.start)) for comment in comments]
    blanks = [row.blank for row in rows] + [blank]
    if blanks[0] or not any(blanks):
        return rows
    column = source.position(comments[0].start)[1] - 1
    kept = next((step for step in INDENTS if indent < step <= min(level, column)), indent)
    for row in rows[: blanks.index(True)]:
        row.indent = kept
    return rows


def _at_the_end(comments: Sequence[Comment], level: int, source: Source) -> list[_Row]:
    return _above(comments, level, 0, True, source) if comments else []


def blank_above(source: Source, offset: int) -> bool:
    """Whether the line of `offset` starts there and a blank line is above it."""
    text = source.text
    line_start = text.rfind("\n", 0, offset) + 1
    if not line_start or text[line_start:offset].strip():
        return False
    return not text[text.rfind("\n", 0, line_start - 1) + 1 : line_start].strip()
