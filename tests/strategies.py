"""Hypothesis strategies: typed, valid rule files as trees, with declarations for them.

Over the facts of `worlds` come tests, conditions, derived facts, limits, lists and rules;
formulas, tables and what calls them are drawn in `calculations`.
What the language refuses is never drawn, and what it leaves open is not either: the same
date twice in one test, two limits by rows in one test, a date beside a divisor, `between`
with an end that may be undeclared, an age `between` two equal ones, an age or years `between`
two on the day of another fact.
"""

from dataclasses import dataclass
from datetime import date
from typing import Any

from calculations import (
    COMPARISONS,
    define_formulas,
    define_tables,
    draw_test_of_years,
    draw_worked,
    draw_worked_test,
    topics_of,
)
from factors import in_base
from hypothesis import strategies as st
from pools import (
    AGES,
    EVENTS,
    MEASURED_UNITS,
    POINTS,
    RANGES,
    days_around,
    value,
    values,
    word,
)
from worlds import (
    DATE,
    FLAG,
    SOLO,
    TEXT,
    Draw,
    Topic,
    World,
    define_facts,
    draw_values,
    term,
)

from trackprep.syntax import tree
from trackprep.syntax.printer import print_rider, print_rules

SPARE = (
    tree.Fact("spare.text", "Spare words", tree.Plain("text")),
    tree.Fact("spare.flag", "Spare flag", tree.Plain("yes or no")),
)
"""Facts that no rule asks."""

# ---- expressions and tests -------------------------------------------------


SELDOM = ("counted", "counted", "age", "event", "means", "years")


def draw_test(world: World) -> tree.Condition:
    """A test on any fact, on an age, on the event's date, or on several facts at once."""
    shape = world.pick(("one",) * 8 + ("worked",) * 6 + SELDOM)
    if shape == "worked" and topics_of(world):
        return draw_worked_test(world, world.pick((1, 2, 3)))
    dates = [path for path, topic in world.topics.items() if topic == DATE]
    if shape == "years" and dates and (test := draw_test_of_years(world, dates)):
        return test
    if shape == "counted":
        return draw_counted(world)
    if shape == "age" and world.ages:
        path = world.pick(world.ages)
        return tree.Test(term(path), draw_age_predicate(world, world.ages[path]))
    if shape == "means" and world.conditions:
        return tree.Bare(term(world.pick(world.conditions)))
    if shape == "event":
        day = tree.Reference(world.pick(("event.date", "event.year-start")))
        return tree.Test(day, tree.OnOr(world.pick(("after", "before")), draw_day(world)))
    path = world.pick(of_one_sort(world))
    topic = world.topics[path]
    if topic == FLAG and world.chance(2):
        return tree.Bare(term(path))
    if topic == DATE and world.chance(2):
        return draw_age_test(world, path)
    if isinstance(topic, str) and topic not in (FLAG, DATE):
        return draw_number_test(world, path, topic)
    return tree.Test(term(path), draw_predicate(world, topic, path))


def of_one_sort(world: World) -> list[str]:
    """The dates, the numbers or the choices; all facts where there are none of them."""
    sort = world.pick(("date", "date", "number", "number", "choice", "any"))
    of_sort = {
        "date": lambda topic: topic == DATE,
        "number": lambda topic: topic in RANGES,
        "choice": lambda topic: isinstance(topic, tree.Choices),
        "any": lambda topic: False,
    }
    found = [path for path, topic in world.topics.items() if of_sort[sort](topic)]
    return found or list(world.topics)


def draw_predicate(world: World, topic: Topic, path: str | None = None) -> tree.Predicate:
    """A predicate for a fact alone; without `path` it names no other date."""
    match topic:
        case tree.Choices("several of"):
            return tree.Includes(world.pick(("any", "all", "none")), draw_words(world, topic))
        case tree.Choices(keyword, choices):
            names = [word(name) for name, its in world.limits.items() if its == topic]
            bounds = [choice.word for choice in choices] + names
            if keyword == "graded" and world.chance(2):
                others = [name for name in world.others(path or "", topic) if "." in name]
                bounds += map(tree.Reference, others)
                return tree.Compare(world.pick(COMPARISONS), world.pick(bounds))
            if keyword == "graded" and world.chance(3):
                low, high = sorted(world.draw(st.tuples(*2 * [st.integers(0, len(choices) - 1)])))
                return tree.Between(choices[low].word, choices[high].word)
            if world.chance(2):
                return tree.IsOneOf(draw_words(world, topic), world.chance(2))
            return tree.Is(world.pick(bounds), world.chance(3))
        case "flag":
            return tree.Is(tree.Flag(world.pick((True, False))), world.chance(6))
        case "date":
            return draw_date_predicate(world, path)
    return draw_number_predicate(world, topic, world.others("", topic))


def draw_words(world: World, choices: tree.Choices) -> tuple[tree.Word, ...]:
    """Choices, or a list of them."""
    lists = [word(name) for name, its in world.lists.items() if its == choices]
    words = world.some([choice.word for choice in choices.choices])
    return (
        (world.pick(lists), *words[: world.pick((0, 0, 1))]) if lists and world.chance(2) else words
    )


def draw_number_test(world: World, path: str, topic: str) -> tree.Test:
    """A number alone, or in an expression of a dimension that there are constants of."""
    fact = term(path)
    others = [
        term(other) for other in world.others(path, topic) if other not in world.counted_years
    ]
    factor = tree.Number(world.pick(("2", "0.5", "3/2")))
    shape = world.pick(
        ("alone",) * 4 + ("sum", "offset", "scaled", "over", "over", "group", "mixed")
    )
    if topic in POINTS:
        if shape in ("sum", "group") and others:
            subject = tree.Sum(fact, (("-", world.pick(others)),))
            return tree.Test(subject, draw_number_predicate(world, f"{topic} difference", []))
        if shape == "offset":
            fact = tree.Sum(fact, ((world.pick("+-"), value(POINTS[topic])),))
        return tree.Test(fact, draw_number_predicate(world, topic, world.others(path, topic)))
    if shape in ("sum", "offset"):
        terms = [*others, *values(topic)]
        added = [(world.pick("+-"), world.pick(terms)) for _ in range(world.pick((1, 1, 2)))]
        fact = tree.Sum(fact, tuple(added))
    elif path in world.counted_years or shape == "alone":
        pass
    elif shape == "scaled":
        first, second = world.pick(((fact, factor), (factor, fact)))
        fact = tree.Product(first, (("*", second),))
    elif shape == "over" and others:
        fact, topic = tree.Product(fact, (("/", world.pick(others)),)), "number"
    elif shape == "group" and others:
        both = tree.Group(tree.Sum(fact, ((world.pick("+-"), world.pick(others)),)))
        fact = tree.Product(both, ((world.pick("*/"), factor),))
    elif shape == "mixed" and topic == "length" and others:
        fact, topic = tree.Product(fact, (("*", world.pick(others)),)), "area"
    elif shape == "mixed" and topic == "torque" and (lengths := world.others(path, "length")):
        fact, topic = tree.Product(fact, (("/", term(world.pick(lengths))),)), "force"
    elif shape == "mixed" and (shares := world.others(path, "number")):
        fact = tree.Product(fact, (("*", term(world.pick(shares))),))
    return tree.Test(fact, draw_number_predicate(world, topic, world.others(path, topic)))


def draw_number_predicate(
    world: World, topic: str, others: list[str], *, ranged: bool = True
) -> tree.Predicate:
    """A comparison with a constant, a limit, or another fact of the dimension."""
    constants = values(topic)
    others = [other for other in others if other not in world.counted_years]
    bounds: list[tree.Expression] = list(constants)
    limits = [word(name) for name, its in world.limits.items() if its == topic]
    bounds += 3 * limits + [term(other) for other in others]
    if topic not in POINTS:
        bounds += [tree.Sum(limit, (("+", constants[0]),)) for limit in limits]
        bounds += [tree.Product(tree.Number("2"), (("*", term(other)),)) for other in others]
    shape = world.pick(("compare",) * 5 + ("between", "is"))
    if shape == "is":
        return tree.Is(world.pick(bounds), world.chance(2))
    if shape == "between" and ranged:
        return tree.Between(*sorted((world.pick(constants), world.pick(constants)), key=in_base))
    return tree.Compare(world.pick(COMPARISONS), world.pick(bounds))


def draw_day(world: World) -> tree.Day:
    return tree.Day(world.pick(days_around(world.event)).isoformat())


def solo_dates(world: World, path: str | None) -> list[str]:
    """Dates that a test on `path` may name beside it: never the same one twice."""
    return [other for other in world.others(path, DATE) if other in SOLO] if path else []


def draw_date_predicate(world: World, path: str | None) -> tree.Predicate:
    shape = world.pick(("on-or",) * 5 + ("between", "is"))
    if shape == "between":
        return tree.Between(*sorted((draw_day(world), draw_day(world)), key=lambda day: day.text))
    bounds = [draw_day(world), tree.Reference(world.pick(("event.date", "event.year-start")))]
    bounds += [word(name) for name, its in world.limits.items() if its == DATE]
    bounds += [term(other) for other in solo_dates(world, path)]
    bound = world.pick(bounds)
    if shape == "on-or" and not isinstance(bound, tree.Day) and world.chance(2):
        duration = value(world.pick(AGES["day"] + AGES["days"]))
        if not (isinstance(bound, tree.Word) and bound.text in world.limits):
            bound = tree.Sum(bound, ((world.pick("+-"), duration),))
    return (
        tree.Is(bound, world.chance(2))
        if shape == "is"
        else tree.OnOr(world.pick(("after", "before")), bound)
    )


def draw_age_test(world: World, path: str) -> tree.Test:
    on = world.pick((None, None, None, draw_day(world), tree.Reference("event.year-start")))
    if (others := solo_dates(world, path)) and world.chance(3):
        on = tree.Reference(world.pick(others))
    on_a_fact = isinstance(on, tree.Reference) and on.path in world.topics
    if world.chance(3):
        predicate = draw_number_predicate(world, "count", [], ranged=not on_a_fact)
        return tree.Test(tree.CompletedYears(tree.Reference(path), on), predicate)
    grain = world.pick(("day", "day", "month", "year"))
    age = tree.Age(tree.Reference(path), on, grain)
    return tree.Test(age, draw_age_predicate(world, grain, ranged=not on_a_fact))


def draw_age_predicate(world: World, grain: str, *, ranged: bool = True) -> tree.Predicate:
    pool = AGES[world.pick((grain, "days")) if grain == "day" else grain]
    if ranged and world.chance(4):
        sizes = {in_base(value(text)): value(text) for text in pool}  # no two ends of one size
        low, high = sorted(world.some(sizes, least=2)[:2])
        return tree.Between(sizes[low], sizes[high])
    bounds = [value(text) for text in pool] + [
        word(name) for name, its in world.limits.items() if its == "age"
    ]
    return tree.Compare(world.pick(COMPARISONS), world.pick(bounds))


def draw_counted(world: World) -> tree.Counted:
    group = world.pick(world.groups)
    topic = world.topics[group[0]]
    paths = world.some(group, least=2)
    items: tuple[Any, ...] = tuple(map(tree.Reference, paths))
    if group[0].startswith("bank.") and world.chance(2):
        paths, items = group, (tree.Pattern("bank"),)
    quantifier = world.pick(("each", "some", "none", "at least"))
    least = world.draw(st.integers(1, len(paths))) if quantifier == "at least" else ""
    return tree.Counted(quantifier, str(least), items, draw_predicate(world, topic))


def draw_condition(world: World, depth: int) -> tree.Condition:
    shape = world.pick(("test", "test", "not", "all", "any")) if depth else "test"
    if shape == "test":
        return draw_test(world)
    if shape == "not":
        return tree.Not(draw_condition(world, depth - 1))
    parts = tuple(draw_condition(world, depth - 1) for _ in range(world.pick((2, 2, 3))))
    return tree.All(parts) if shape == "all" else tree.AnyOf(parts)


# ---- derived facts, limits, lists ------------------------------------------


def define_derived(world: World) -> list[tree.Derived]:
    """Facts worked out: a number, completed years, an age, a condition."""
    made: list[tree.Derived] = []
    numbers = [its for its in world.topics.items() if its[1] in RANGES and its[1] not in POINTS]
    dates = [path for path, topic in world.topics.items() if topic == DATE]
    if numbers and world.chance(2):
        path, topic = world.pick(numbers)
        other = term(world.pick([path, *world.others(path, topic)]))
        if world.chance(2):
            topic = "number" if topic == "count" else topic
            definition = draw_worked(world, topic, 1)  # it may be named many times
            unit = None if topic == "number" else world.pick(MEASURED_UNITS[topic])
        elif topic in ("count", "number") or world.chance(3):
            definition, unit, topic = tree.Product(term(path), (("/", other),)), None, "number"
        else:
            definition = tree.Sum(term(path), ((world.pick("+-"), other),))
            unit = world.pick(MEASURED_UNITS[topic])
        made.append(tree.Derived("worked.number", "Worked", unit, definition, False))
        world.topics["worked.number"] = topic
    if dates and world.chance(2):
        years = tree.CompletedYears(tree.Reference(world.pick(dates)))
        made.append(tree.Derived("worked.years", "Worked years", None, years, False))
        world.topics["worked.years"] = "count"
        world.counted_years.add("worked.years")
    if dates and world.chance(2):
        grain = world.pick(("day", "month", "year"))
        age = tree.Age(tree.Reference(world.pick(dates)), None, grain)
        made.append(tree.Derived("worked.age", "Worked age", None, age, False))
        world.ages["worked.age"] = grain
    if world.chance(2):
        definition = draw_condition(world, 2)
        made.append(tree.Derived("worked.truth", "Worked truth", None, definition, True))
        world.conditions.append("worked.truth")
    return made


def define_limits(world: World) -> list[tree.Limit]:
    topics = {topic: None for topic in world.topics.values() if topic not in (FLAG, TEXT)}
    topics = [
        its for its in topics if not isinstance(its, tree.Choices) or its.keyword != "several of"
    ]
    made = []
    for name in ("cap", "floor-2", "mark")[: world.draw(st.integers(0, 3))]:
        topic = world.pick([*topics, "age"])
        if world.chance(2):
            set_to: Any = draw_limit_value(world, topic)
        else:
            conditions = [draw_condition(world, 1) for _ in range(world.pick((1, 1, 2)))]
            set_to = tuple(
                tree.Row(draw_limit_value(world, topic), one) for one in (*conditions, None)
            )
        made.append((name, topic, tree.Limit(name, world.pick((None, "Limit")), set_to)))
    world.limits = {name: topic for name, topic, _ in made}
    return [limit for _, _, limit in made]


def draw_limit_value(world: World, topic: Topic) -> tree.Value:
    if isinstance(topic, tree.Choices):
        return world.pick([choice.word for choice in topic.choices])
    if topic == DATE:
        return draw_day(world)
    return value(world.pick(AGES["year"])) if topic == "age" else world.pick(values(topic))


def define_lists(world: World) -> list[tree.List]:
    choices = list({its: None for its in world.topics.values() if isinstance(its, tree.Choices)})
    made = []
    for name in ("ban", "taken")[: world.draw(st.integers(0, 2)) if choices else 0]:
        its = world.lists[name] = world.pick(choices)
        words = world.some([choice.word for choice in its.choices], least=world.pick((0, 1)))
        made.append(tree.List(name, world.pick((None, "A list")), words))
    return made


# ---- rules and cases -------------------------------------------------------


def draw_rule(world: World, name: str) -> tree.Rule:
    parts: tuple[str, ...] = ()
    plain = dict(world.topics)
    if world.chance(3):
        parts = world.pick((("twin.left", "twin.right"), world.groups[0]))
        suffixes = [group[0].removeprefix("twin.left") for group in world.groups[1:]]
        for suffix in suffixes if parts[0] == "twin.left" else [""]:
            world.topics |= {"it" + suffix: plain[parts[0] + suffix]}
    whens = [draw_when(world) for _ in range(world.pick((0, 0, 0, 1, 2)))]
    keyword = world.pick(("require", "require", "require", "recommend"))
    depth = world.pick((0, 0, 0, 1, 2))  # a test alone hides nothing behind another
    demands = [
        tree.Demand(keyword, draw_condition(world, depth)) for _ in range(world.pick((1, 1, 2)))
    ]
    prose = [tree.Prose("reason", "For a reason."), tree.SourceOf("common practice")]
    details = (*whens, *demands, *prose[: world.pick((0, 1, 2))])
    world.topics = plain
    return tree.Rule(name, "A rule", tuple(map(tree.Reference, parts)), details=details)


def draw_when(world: World) -> tree.When:
    return tree.When(draw_condition(world, 1), world.chance(3))


@dataclass(frozen=True, repr=False)
class Case:
    """A rule file, a declaration for it, what could be declared besides, and a date."""

    rules: tree.RuleFile
    declaration: tuple[tree.Given, ...]
    undeclared: tuple[tree.Given, ...]
    day: date

    def __repr__(self) -> str:
        """The case as a person would write it, for a failing example."""
        rider = print_rider(tree.RiderFile("Agreement", None, self.declaration))
        return f"\n{print_rules(self.rules)}\n{rider}\non {self.day}\n"

    def _repr_pretty_(self, printer: Any, cycle: bool) -> None:
        printer.text(repr(self))


@st.composite
def cases(draw: Draw) -> Case:
    """A rule file with a declaration of nothing, of something or of all, and a date."""
    world = World(draw, draw(st.sampled_from(EVENTS)))
    define_facts(world)
    given = [tree.Given(path, draw_values(world, path)) for path in world.facts]
    free_to_fix = [its for its in given if its.path in SOLO and world.topics[its.path] != DATE]
    fixed = [its for its in free_to_fix if world.chance(8)]
    tables, formulas = define_tables(world), define_formulas(world)
    derived, lists = define_derived(world), define_lists(world)
    limits = define_limits(world)
    rules: list[tree.Statement] = [
        draw_rule(world, f"rule-{n}") for n in range(draw(st.integers(4, 8)))
    ]
    for title in ("First section", "Second section")[: draw(st.integers(0, 2))]:
        rules.append(
            tree.Section(title, tuple(draw_when(world) for _ in range(world.pick((0, 1)))))
        )
        rules += [
            draw_rule(world, f"{title[0].lower()}-{n}") for n in range(draw(st.integers(1, 2)))
        ]
    statements = (
        tree.Heading("ruleset", "agreement", "Agreement"),
        *(tree.Kind(name, its) for name, its in world.kinds.items()),
        *world.facts.values(),
        *SPARE,
        *formulas,
        *derived,
        *tables,
        *lists,
        *limits,
        *map(tree.Here, fixed),
        *rules,
    )
    free = [its for its in given if its not in fixed and not world.facts[its.path].marks]
    left_out = world.pick((0, 0, 8, 4, 2, 1))  # one fact in so many; 0 is none
    declared = [its for its in free if not (left_out and world.chance(left_out))]
    return Case(
        tree.RuleFile(statements),
        tuple(declared),
        tuple(its for its in free if its not in declared),
        world.event,
    )
