"""The facts of a drawn rule file, and declared values for them.

Every file has the same shape with other contents: facts of all types on their own, a
`bank.*` of facts of one type, and `twin.left` and `twin.right` with the same facts.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from factors import UNITS, as_written, in_base
from hypothesis import strategies as st
from pools import (
    MEASURED_UNITS,
    RANGES,
    WORDS,
    days_around,
    value,
    values,
    word,
)

from trackprep.syntax import tree

FLAG, DATE, TEXT = "flag", "date", "text"
SOLO = ("amber", "cobalt.depth", "cobalt.shade", "umber", "ochre.one.two", "sienna", "slate.top")
Draw = Callable[[st.SearchStrategy[Any]], Any]
Topic = str | tree.Choices
"""What a fact may be compared with: a dimension, `count`, a date, a flag, or its choices."""


@dataclass
class World:
    """What has been defined so far, and so may be named."""

    draw: Draw
    event: date
    kinds: dict[str, tree.Type] = field(default_factory=dict)
    facts: dict[str, tree.Fact] = field(default_factory=dict)
    topics: dict[str, Topic] = field(default_factory=dict)
    counted_years: set[str] = field(default_factory=set)  # derived from a date: sums only
    ages: dict[str, str] = field(default_factory=dict)  # a derived age and its grain
    conditions: list[str] = field(default_factory=list)
    formulas: dict[str, tuple[tuple[str, ...], str]] = field(default_factory=dict)
    bodies: dict[str, tree.Formula] = field(default_factory=dict)
    tables: dict[str, tuple[Topic, str]] = field(default_factory=dict)
    calls: int = 4  # how often an expression calls a formula or a table
    limits: dict[str, Topic] = field(default_factory=dict)
    lists: dict[str, tree.Choices] = field(default_factory=dict)
    groups: list[tuple[str, ...]] = field(default_factory=list)
    year_drawn: bool = False  # two years against each other are 133,000 pairs of days

    def pick(self, options):
        return self.draw(st.sampled_from(tuple(options)))

    def chance(self, one_in: int) -> bool:
        return self.draw(st.integers(1, one_in)) == one_in

    def some(self, options, least: int = 1) -> tuple[Any, ...]:
        lists = st.lists(st.sampled_from(tuple(options)), min_size=least, unique=True)
        return tuple(self.draw(lists))

    def type_of(self, path: str) -> tree.Type:
        its = self.facts[path].type
        return self.kinds[its.name] if isinstance(its, tree.OfKind) else its

    def others(self, path: str, topic: Topic) -> list[str]:
        return [other for other, its in self.topics.items() if its == topic and other != path]


def term(path: str) -> tree.Word | tree.Reference:
    """A fact in an expression, where a name of one word is a word."""
    return tree.Word(path) if "." not in path and path != "it" else tree.Reference(path)


# ---- facts -----------------------------------------------------------------


def draw_type(world: World, dimensions: tuple[str, ...]) -> tree.Type:
    keyword = world.pick(
        ("measured",) * 4
        + ("one of", "graded", "several of", "yes or no", "count")
        + ("date", "past date", "past date", "week code")
    )
    if keyword == "measured":
        topic = world.pick(dimensions)
        return tree.Measured(world.pick(MEASURED_UNITS[topic]), draw_range(world, topic))
    if keyword == "count":
        return tree.Measured(None, draw_range(world, "count"))
    if keyword in WORDS:
        words = world.some(WORDS[keyword], least=2)
        labels = [world.pick((None, f"Label of {text}")) for text in words]
        pairs = zip(words, labels, strict=True)
        return tree.Choices(keyword, tuple(tree.Choice(word(text), label) for text, label in pairs))
    return tree.Plain(keyword)


def draw_range(world: World, topic: str) -> tree.Range | None:
    if topic in ("level", "angle", "temperature") or world.chance(2):
        return tree.Range(*map(value, RANGES[topic]))
    return None


def topic_of(its_type: tree.Type) -> Topic:
    match its_type:
        case tree.Measured(None):
            return "count"
        case tree.Measured(unit):
            return UNITS[unit][0]
        case tree.Plain("yes or no"):
            return FLAG
        case tree.Plain("text"):
            return TEXT
        case tree.Plain():
            return DATE
    return its_type


def define_facts(world: World) -> None:
    dimensions = ("length", *world.some(MEASURED_UNITS)[:2])
    for name in ("swatch", "rung", "badge")[: world.draw(st.integers(1, 3))]:
        world.kinds[name] = draw_type(world, dimensions)
    suffixes = ("make", "wear")[: world.draw(st.integers(1, 2))]
    alike = [("bank.one", "bank.two", "bank.three")[: world.draw(st.integers(2, 3))]]
    alike += [(f"twin.left.{suffix}", f"twin.right.{suffix}") for suffix in suffixes]
    solo = [(path,) for path in SOLO[: world.draw(st.integers(2, len(SOLO)))]]
    for paths in alike + solo:
        kind = world.pick((None, *world.kinds))
        its_type = tree.OfKind(kind) if kind else draw_type(world, dimensions)
        for path in paths:
            marks = (tree.Mark("for the inspector"),) if world.chance(12) else ()
            how = (draw_how(world),) if world.chance(12) else ()
            world.facts[path] = tree.Fact(path, f"Label of {path}", its_type, None, marks, how)
            world.topics[path] = topic_of(world.type_of(path))
    world.groups = alike


def draw_how(world: World) -> tree.How:
    """How to look, perhaps with its time: no answer may hang on either."""
    minutes = tree.Takes(tree.Quantity(world.pick(("1", "5", "1/2")), world.pick(("min", "h"))))
    return tree.How("Look closely.", world.pick((None, minutes)))


# ---- declared values -------------------------------------------------------


def draw_values(world: World, path: str) -> tuple[tree.Value, ...]:
    """A declared value of a fact; a date to its day or month, one to its year."""
    match world.type_of(path):
        case tree.Choices("several of", choices):
            return world.some([choice.word for choice in choices], least=0)
        case tree.Choices(_, choices):
            return (world.pick([choice.word for choice in choices]),)
        case tree.Plain("yes or no"):
            return (tree.Flag(world.pick((True, False))),)
        case tree.Plain("text"):
            return (tree.Word("Any words", quoted=True),)
        case tree.Plain("week code"):
            return (tree.Word(week_code_of(world.pick(days_around(world.event))), quoted=True),)
        case tree.Plain():
            length = world.pick((10, 7, 7) if world.year_drawn else (10, 7, 7, 4))
            world.year_drawn |= length == 4
            text = world.pick(days_around(world.event)).isoformat()[:length]
            return (tree.Number(text) if length == 4 else tree.Day(text),)
        case tree.Measured(None):
            return (world.pick(values("count")),)
        case tree.Measured(unit):
            return (draw_quantity(world, UNITS[unit][0], unit),)
    raise AssertionError(path)


def week_code_of(day: date) -> str:
    sunday = day - timedelta(days=(day.weekday() + 1) % 7)
    return f"{(sunday.timetuple().tm_yday - 1) // 7 + 1:02}{sunday.year % 100:02}"


def draw_quantity(world: World, topic: str, unit: str) -> tree.Quantity:
    """At a threshold or right beside one, in any unit, within the range."""
    low, high = map(value, RANGES[topic])
    base = in_base(world.pick(values(topic))) + world.pick((0, 0, 1, -1)) * UNITS[unit][1] / 1000
    base = min(max(base, in_base(low)), in_base(high))
    return as_written(base, world.pick((unit, *MEASURED_UNITS[topic]))) or low
