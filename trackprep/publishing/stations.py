"""The points of an inspection by station: each rule a box, with its caution in front of it."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Literal, TypeAlias

from trackprep.explanations.mentions import limits_in, tests_in
from trackprep.explanations.sentences import applies_clause, asked_sentences
from trackprep.frozen import frozen
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Pairs, Tick
from trackprep.rules.conditions import AgeTest, DayTest, GradeTest, NumberTest
from trackprep.rules.model import Rule, Rules

Row: TypeAlias = tuple[str, str, str]


@frozen(eq=False)
class Point:
    """A rule to look at, as far as it concerns the sheet's reader, and what else is known of it.

    Attributes:
        rows: What was declared.
        closely: Why it is to be looked at closely.
    """

    rule: Rule
    rows: tuple[Row, ...] = ()
    closely: tuple[str, ...] = ()


def stations(points: Iterable[Point], rules: Rules, level: Literal[2, 3]) -> Iterator[Block]:
    """The points under the sections that they stand in, which is how a line is cut up."""
    for title, members in groupby(points, key=lambda point: point.rule.section):
        yield Heading(title or "Rules", level)
        said: set[str] = set()
        for point in members:
            cautions = tuple(text for text in point.rule.cautions if text not in said)
            said.update(cautions)
            yield _tick(point, rules, cautions)


def _tick(point: Point, rules: Rules, cautions: tuple[str, ...]) -> Tick:
    rule = point.rule
    title = rule.title if rule.level == "required" else f"{rule.title} (recommended)"
    asked = asked_sentences(rule, rules, leveled=False)
    rows = point.rows
    if rule.inspect and (_has_figures(rule) or _is_conditional(rule, rules)):
        rows = (("Asked", asked, ""), *rows)
    blocks: tuple[Block, ...] = (Pairs(rows),) if rows else ()
    if point.closely:
        blocks += (Bullets((("Look closely", " ".join(point.closely)),)),)
    return Tick(rule.inspect or asked, title, cautions, blocks, close=True)


def _has_figures(rule: Rule) -> bool:
    """Whether it asks something that nobody has in his head: a number, a day, a list."""
    return any(
        isinstance(test, NumberTest | AgeTest | DayTest | GradeTest)
        for one in rule.asked
        for test in tests_in(one.demand)
    ) or any(limits_in(one.demand) for one in rule.asked)


def _is_conditional(rule: Rule, rules: Rules) -> bool:
    return any(applies_clause(one.when, rules) for one in rule.asked)
