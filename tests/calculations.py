"""Drawn formulas and tables, and expressions that call them.

An expression is drawn for a *topic*: what it may be compared with. In a rule its terms are
facts, in a formula's body the parameters; `world.topics` holds either. What the language
refuses is never drawn: a logarithm or a divisor of constants alone, a sum of two points.
"""

from collections.abc import Mapping
from typing import Any

from attrs import fields, has
from factors import as_written, in_base
from hypothesis import strategies as st
from pools import (
    MEASURED_UNITS,
    POINTS,
    POOLS,
    RANGES,
    STEPS,
    UNITS_OF_PARAMETERS,
    value,
    values,
)
from worlds import World, term

from trackprep.syntax import tree

HEAVIEST = 150
"""Far fewer parts than a condition may have, for several stand in one."""
COMPARISONS = ("at least", "at most", "more than", "less than")
PLAIN = ("number", "count")
"""Both are plain numbers."""
FORMULAS = ("lift", "ratio-2", "amber")
PARAMETERS = ("amber", "other", "share", "cobalt")
"""Some are names of facts too, which a formula does not see."""


def name_of(topic: str) -> str:
    return "number" if topic in PLAIN else topic


def terms_of(world: World, topic: str) -> list[tree.Word | tree.Reference]:
    """The facts or parameters of a topic."""
    return [
        term(path)
        for path, its in world.topics.items()
        if isinstance(its, str) and name_of(its) == topic and path not in world.counted_years
    ]


def topics_of(world: World) -> list[str]:
    """The topics of numbers that there are facts or parameters of."""
    return [topic for topic in POOLS if name_of(topic) == topic and terms_of(world, topic)]


def is_open(world: World, node: Any) -> bool:
    """Whether anything in it may differ from one declaration, or call, to another."""
    match node:
        case tree.Word(name) | tree.Reference(name):
            return name in world.topics
        case tree.Sum(first, rest) | tree.Product(first, rest):
            return any(is_open(world, part) for part in (first, *(part for _, part in rest)))
        case tree.Group(inner) | tree.Rounded(inner):
            return is_open(world, inner)
        case tree.Call(_, arguments):
            return any(is_open(world, argument) for argument in arguments)
    return False


def atom(expression: tree.Expression) -> tree.Expression:
    """The expression, in square brackets where it needs them."""
    compound = isinstance(expression, tree.Sum | tree.Product)
    return tree.Group(expression) if compound else expression


def primary(expression: tree.Expression) -> tree.Expression:
    """The expression as something that can be rounded."""
    compound = isinstance(expression, tree.Sum | tree.Product | tree.Rounded)
    return tree.Group(expression) if compound else expression


# ---- expressions -----------------------------------------------------------


def draw_worked(world: World, topic: str, depth: int) -> tree.Expression:
    """An expression of a topic; at depth 0 a term or a constant."""
    terms = terms_of(world, topic)
    ways = ["term"] * 2 * bool(terms) + ["constant"]
    if depth:
        ways = ways[:1] + ways_of(topic)
        ways += world.calls * ["formula"] * any(its == topic for _, its in world.formulas.values())
        ways += world.calls * ["table"] * bool(tables_for(world, topic))
    way = world.pick(ways)
    match way:
        case "term":
            return world.pick(terms)
        case "constant":
            return world.pick(values(topic))
        case "formula":
            return draw_call(world, topic, depth - 1)
        case "table":
            return draw_lookup(world, topic, depth)
    return COMBINED[way](world, topic, depth - 1)


def ways_of(topic: str) -> list[str]:
    """How an expression of a topic may be made of others."""
    if topic == "temperature":
        return ["shifted", "extreme"]
    if topic == "level":
        return ["shifted", "extreme", "rounded"]
    if topic == "temperature difference":
        return ["apart", "sum", "scaled", "extreme"]
    ways = ["sum", "scaled", "extreme", "rounded", "rounded"]
    if topic == "level difference":
        return ["apart", *ways]
    if topic == "area":
        return ["square", *ways]
    if topic == "length":
        return ["side", *ways]
    return [*ways, *["function"] * 5, "over"] if topic == "number" else ways


def draw_sum(world: World, topic: str, depth: int) -> tree.Expression:
    first, other = (atom(draw_worked(world, topic, depth)) for _ in range(2))
    return tree.Sum(first, ((world.pick("+-"), other),))


def draw_shifted(world: World, topic: str, depth: int) -> tree.Expression:
    """A point and a difference; the point is no constant, which would be a difference itself."""
    if not (terms := terms_of(world, topic)):
        return draw_worked(world, topic, 0)
    difference = atom(draw_worked(world, f"{topic} difference", depth))
    return tree.Sum(world.pick(terms), ((world.pick("+-"), difference),))


def draw_apart(world: World, topic: str, depth: int) -> tree.Expression:
    """Two points taken apart; the second is no constant, which would be a difference itself."""
    point = topic.removesuffix(" difference")
    if terms := terms_of(world, point):
        return tree.Sum(atom(draw_worked(world, point, depth)), (("-", world.pick(terms)),))
    return draw_worked(world, topic, 0)


def draw_scaled(world: World, topic: str, depth: int) -> tree.Expression:
    first, number = atom(draw_worked(world, topic, depth)), atom(draw_worked(world, "number", 0))
    if is_open(world, number) and world.chance(2):
        return tree.Product(first, (("/", number),))
    return tree.Product(*world.pick(((first, (("*", number),)), (number, (("*", first),)))))


def draw_over(world: World, topic: str, depth: int) -> tree.Expression:
    """A plain number: one quantity over another."""
    topics = [topic for topic in topics_of(world) if topic not in POINTS]
    if not topics:
        return draw_worked(world, topic, 0)
    topic = world.pick(topics)
    divisor = world.pick(terms_of(world, topic))
    return tree.Product(atom(draw_worked(world, topic, depth)), (("/", divisor),))


def draw_extreme(world: World, topic: str, depth: int) -> tree.Expression:
    several = tuple(draw_worked(world, topic, depth) for _ in range(world.pick((2, 2, 3))))
    return tree.Call(world.pick(("minimum", "maximum")), several)


def draw_rounded(world: World, topic: str, depth: int) -> tree.Expression:
    inner = primary(draw_worked(world, topic, depth))
    return tree.Rounded(inner, value(world.pick(STEPS[topic])), world.chance(2))


def draw_square(world: World, _: str, depth: int) -> tree.Expression:
    first, other = (atom(draw_worked(world, "length", depth)) for _ in range(2))
    return tree.Product(first, (("*", other),))


def draw_side(world: World, topic: str, depth: int) -> tree.Expression:
    area = draw_square(world, "area", depth)
    return tree.Call("sqrt", (area,)) if is_open(world, area) else draw_worked(world, topic, 0)


def draw_function(world: World, topic: str, depth: int) -> tree.Expression:
    name = world.pick(("sqrt", "sqrt", "log10", "ten-to"))
    inner = draw_worked(world, topic, depth)
    if name == "sqrt" and world.calls > 1 and world.chance(3):
        inner = draw_worked(world, topic, 0)
        inner = tree.Product(atom(inner), (("*", atom(inner)),))
    if not is_open(world, inner):
        return inner
    call = tree.Call(name, (inner,))
    if name == "sqrt" and world.calls > 1 and world.chance(4):
        return tree.Product(call, (("*", call),))  # mostly as good as the number, and not it
    if name != "sqrt" and world.chance(3):
        return tree.Call({"log10": "ten-to", "ten-to": "log10"}[name], (call,))
    return call


COMBINED = {
    "sum": draw_sum,
    "shifted": draw_shifted,
    "apart": draw_apart,
    "scaled": draw_scaled,
    "over": draw_over,
    "extreme": draw_extreme,
    "rounded": draw_rounded,
    "square": draw_square,
    "side": draw_side,
    "function": draw_function,
}


def draw_call(world: World, topic: str, depth: int) -> tree.Expression:
    """A call of a formula; a term or a constant where too much would be written in for it."""
    name = world.pick(n for n, (_, its) in world.formulas.items() if its == topic)
    wanted = world.formulas[name][0]
    call = tree.Call(name, tuple(draw_worked(world, its, depth) for its in wanted))
    heavy = weight(call, world.bodies, {}) > HEAVIEST
    return draw_worked(world, topic, 0) if heavy else call


def weight(node: Any, bodies: Mapping[str, tree.Formula], given: Mapping[str, int]) -> int:
    """How many parts a node has with its formulas written in, parameters weighing as given."""
    match node:
        case tree.Word(name):
            return given.get(name, 1)
        case tree.Call(name, arguments) if name in bodies:
            names = (its.name for its in bodies[name].parameters)
            inside = {
                its: weight(argument, bodies, given)
                for its, argument in zip(names, arguments, strict=True)
            }
            return weight(bodies[name].rows, bodies, inside)
        case tuple():
            return sum(weight(part, bodies, given) for part in node)
    if not has(type(node)):
        return 0
    names = (its.name for its in fields(type(node)) if not its.name.endswith("place"))
    return 1 + sum(weight(getattr(node, name), bodies, given) for name in names)


def tables_for(world: World, topic: str) -> list[str]:
    """The tables of a topic that something here can be looked up in."""
    return [
        name
        for name, (kind, its) in world.tables.items()
        if its == topic and (kind == "count" or any(t == kind for t in world.topics.values()))
    ]


def draw_lookup(world: World, topic: str, depth: int) -> tree.Expression:
    name = world.pick(tables_for(world, topic))
    kind, _ = world.tables[name]
    if kind != "count":
        paths = [path for path, its in world.topics.items() if its == kind]
        return tree.Call(name, (term(world.pick(paths)),))
    looked_up = draw_worked(world, "number", depth - 1)
    if not is_open(world, looked_up):
        return world.pick(values(topic))
    if world.chance(2):
        looked_up = tree.Rounded(primary(looked_up), value("1"), world.chance(2))
    return tree.Call(name, (looked_up,))


def draw_open(world: World, topic: str, depth: int) -> tree.Expression:
    """An expression of a topic that there are terms of, one of them in it."""
    drawn = draw_worked(world, topic, depth)
    if is_open(world, drawn):
        return drawn
    if not terms_of(world, topic):
        return draw_over(world, topic, 0)
    its = world.pick(terms_of(world, topic))
    return its if topic in POINTS else tree.Sum(its, (("+", atom(drawn)),))


# ---- tests -----------------------------------------------------------------


def draw_worked_test(world: World, depth: int) -> tree.Test:
    """A test of an expression, never of a fact alone."""
    topics = topics_of(world)
    numbers = any(topic not in POINTS for topic in topics)
    shape = world.pick(("any", "any", "rounded", "near tie"))
    rounded = [topic for topic in topics if topic in STEPS]
    if shape == "rounded" and rounded:
        return draw_test_of_rounding(world, world.pick(rounded))
    if shape == "near tie" and numbers:
        return draw_near_tie(world)
    topic = world.pick([*topics, *["number"] * numbers])
    subject = draw_open(world, topic, depth)
    if isinstance(subject, tree.Word | tree.Reference):
        subject = tree.Call("maximum", (subject, world.pick(values(topic))))
    return tree.Test(subject, draw_worked_predicate(world, topic))


def draw_test_of_rounding(world: World, topic: str) -> tree.Test:
    """What a fact rounds to, above zero or below, against a multiple beside it."""
    its, far = world.pick(terms_of(world, topic)), world.pick(values(topic))
    taken, step = world.pick(values(topic)), value(world.pick(STEPS[topic]))
    inner: tree.Expression = its
    left = in_base(far)
    if world.chance(2):
        taken = world.pick(values(f"{topic} difference")) if topic in POINTS else taken
        inner, left = tree.Group(tree.Sum(its, (("-", taken),))), left - in_base(taken)
    steps = left // in_base(step) + world.pick((0, 0, 1))
    multiple = as_written(steps * in_base(step), getattr(step, "unit", "%"))
    rounded = tree.Rounded(inner, step, world.chance(2))
    bound = multiple or values(topic)[0]
    if world.chance(3):
        return tree.Test(rounded, tree.Is(bound, world.chance(3)))
    return tree.Test(rounded, tree.Compare(world.pick(COMPARISONS), bound))


def draw_near_tie(world: World) -> tree.Test:
    """A number against what is equal to it, and irrational on the way or not."""
    number = draw_open(world, "number", world.pick((0, 0, 1)))
    root, whole = tree.Call("sqrt", (number,)), atom(number)
    subjects = [
        tree.Product(root, (("*", root),)),
        tree.Call("ten-to", (tree.Call("log10", (number,)),)),
        tree.Call("log10", (tree.Call("ten-to", (number,)),)),
        tree.Call("sqrt", (tree.Product(whole, (("*", whole),)),)),
        root,
    ]
    subject = world.pick(subjects)
    if world.chance(4):
        step = value(world.pick(STEPS["number"]))
        subject = tree.Rounded(primary(subject), step, world.chance(2))
    bound = world.pick([number, number, number, *values("number")[:2]])
    return tree.Test(subject, tree.Compare(world.pick(COMPARISONS), bound))


def draw_worked_predicate(world: World, topic: str) -> tree.Predicate:
    limits = [tree.Word(name) for name, its in world.limits.items() if its in (topic,)]
    shape = world.pick(("compare",) * 5 + ("between", "is", "is"))
    if shape == "between":
        if world.chance(2):
            return tree.Between(world.pick(values(topic)), draw_open(world, topic, 1))
        ends = (world.pick(values(topic)), world.pick(values(topic)))
        return tree.Between(*sorted(ends, key=in_base))
    bound = world.pick([*values(topic)[:2], *limits, None])
    if bound is None:
        bound = draw_worked(world, topic, 1)
    elif bound in limits and world.chance(2):
        bound = tree.Call("minimum", (bound, world.pick(values(topic))))
    if shape == "is":
        return tree.Is(bound, world.chance(2))
    return tree.Compare(world.pick(COMPARISONS), bound)


def draw_test_of_years(world: World, dates: list[str]) -> tree.Test | None:
    """A test of what a table or a formula makes of completed years."""
    years = tree.CompletedYears(tree.Reference(world.pick(dates)))
    calls: list[tuple[str, tree.Expression]] = [
        (topic, tree.Call(name, (years,)))
        for name, (kind, topic) in world.tables.items()
        if kind == "count"
    ]
    for name, (wanted, topic) in world.formulas.items():
        if wanted[0] == "number":
            others = (draw_worked(world, its, 0) for its in wanted[1:])
            calls.append((topic, tree.Call(name, (years, *others))))
    if not calls:
        return None
    topic, call = world.pick(calls)
    return tree.Test(call, tree.Compare(world.pick(COMPARISONS), world.pick(values(topic))))


# ---- formulas and tables ---------------------------------------------------


def define_tables(world: World) -> list[tree.Table]:
    """A table from each of some kinds, and perhaps one from counts."""
    kinds: dict[str, Any] = {
        name: its
        for name, its in world.kinds.items()
        if isinstance(its, tree.Choices) and its.keyword != "several of"
    }
    made = []
    for kind in (*kinds, "count")[: world.draw(st.integers(0, 3))]:
        topic = world.pick(("number", "length", "level", "temperature", "temperature difference"))
        choices: tuple[Any, ...] = (
            tuple(choice.word for choice in kinds[kind].choices)
            if kind in kinds
            else tuple(map(tree.Number, world.some(("0", "1", "2", "3", "5", "10"))))
        )
        rows = tuple(tree.TableRow(choice, draw_table_value(world, topic)) for choice in choices)
        name = f"{kind}-table"
        made.append(tree.Table(name, None, kind, draw_unit(world, topic), rows))
        world.tables[name] = (kinds.get(kind, "count"), topic)
    return made


def draw_table_value(world: World, topic: str) -> Any:
    """A value or none; among temperatures nothing in K, which stands there for differences."""
    if world.chance(6):
        return None
    listed = [its for its in values(topic) if topic != "temperature" or its.unit != "K"]
    return world.pick(listed)


def define_formulas(world: World) -> list[tree.Formula]:
    """Some formulas, each of which may call those before it; written in any order."""
    own = [its for its in dict.fromkeys(world.topics.values()) if its in RANGES]
    topics = [*dict.fromkeys(map(name_of, own)), "number", "number", "length", "level"]
    made = []
    for name in FORMULAS[: world.draw(st.integers(0, len(FORMULAS)))]:
        wanted = tuple(world.pick(topics) for _ in range(world.pick((1, 1, 2, 3))))
        topic = world.pick((*wanted, *wanted, "number"))
        inside = World(world.draw, world.event, calls=1)
        inside.topics = dict(zip(PARAMETERS, wanted, strict=False))
        inside.formulas, inside.bodies = dict(world.formulas), world.bodies
        inside.tables = {n: its for n, its in world.tables.items() if its[0] == "count"}
        parameters = tuple(
            tree.Parameter(its, draw_unit(world, inside.topics[its])) for its in inside.topics
        )
        label = world.pick((None, f"Label of {name}"))
        rows = draw_rows(inside, topic)
        formula = tree.Formula(name, parameters, label, draw_unit(world, topic), rows)
        made.append(formula)
        world.formulas[name], world.bodies[name] = (wanted, topic), formula
    return world.draw(st.permutations(made))


def draw_unit(world: World, topic: str) -> str | None:
    if topic == "number":
        return world.pick((None, None, "%"))
    return world.pick(UNITS_OF_PARAMETERS.get(topic) or MEASURED_UNITS[topic])


def draw_rows(world: World, topic: str) -> tuple[tree.FormulaRow, ...]:
    """One row, or some with conditions and a last one without."""
    several = world.pick((0, 0, 1, 1, 2))
    rows = [
        tree.FormulaRow(draw_worked(world, topic, 1), draw_row_condition(world))
        for _ in range(several)
    ]
    return (*rows, tree.FormulaRow(draw_worked(world, topic, 2), otherwise=bool(several)))


def draw_row_condition(world: World) -> tree.Condition:
    tests = [draw_worked_test(world, world.pick((0, 1))) for _ in range(world.pick((1, 1, 2)))]
    one: tree.Condition = tests[0]
    if len(tests) > 1:
        one = world.pick((tree.All, tree.AnyOf))(tuple(tests))
    return tree.Not(one) if world.chance(4) else one
