"""The canonical layout: what it looks like, and that nothing is lost on the way to it."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trackprep.problems import DeclarationError, RulesetError
from trackprep.published import rulesets_folder
from trackprep.source import Source
from trackprep.syntax import tree
from trackprep.syntax.layout import WIDTH
from trackprep.syntax.neaten import neatened
from trackprep.syntax.parser import parse_rider, parse_rules
from trackprep.syntax.phrases import condition_text, expression_text, predicate_text, value_text
from trackprep.syntax.printer import print_rider, print_rules
from trackprep.syntax.tokens import tokenize

LAYOUTS = sorted((Path(__file__).parent / "layouts").glob("*.txt"))
SHIPPED = sorted(rulesets_folder().rglob("*.trackrules"))


def neat(text: str, name: str = "day.trackrules") -> str:
    """The text in its canonical layout, which stays as it is when neatened again."""
    once = neatened(Source(name, text))
    assert neatened(Source(name, once)) == once
    return once


MINI = """\
# Rules of a small day.

ruleset tarn-hollow-mini "Tarn Hollow mini-moto day"
  edition "2026.2"
  organizer "Quillmoor Motorcycle Club"
  venue "Tarn Hollow kart circuit"
  valid from 2026-03-01 to 2026-11-30

supplements "quillmoor-general.trackrules"

limit oldest-helmet "Oldest helmet admitted" is 5 years
list refused-filters "Oil filter types refused" is welded-nut, relief-in-dome  # both came apart

stricter rule tread
  require each of tyre.front.tread, tyre.rear.tread is at least 2 mm

withdraw rule lock-wire
  reason "Not asked for at a mini-moto day."

section "Rider gear"

core rule helmet-shell "Full-face helmet with a fixed chin bar"
  # Many arrive with a hinged one.
  require helmet.shell is full-face
  reason "A hinged chin bar can open in a fall."
  fix "Bring or hire a full-face helmet."
  inspect "Try to lift the chin bar."
  source common practice

rule suit "One-piece suit, or two pieces zipped all the way round"
  require suit.kind is one-piece or suit.zip is full-circle

section "Machine"

rule lenses "Every lens taped or taken off"
  require each of lens.headlamp, lens.tail, lens.indicators is one of taped, absent
  fix "Cover each lens with painter's tape first, then cloth tape."
      takes 25 min  parts "painter's tape", "cloth tape"  tools "knife"
  undo "Peel the tape off before riding on the road."

section "Novice group" when rider.group is novice

rule speedometer "Speedometer covered"
  recommend speedometer is covered

example "A hinged helmet does not meet it"
  declare helmet.shell is modular
  expect helmet-shell is not met
"""

RIDER = """\
# As measured on Tuesday.
declaration "Sam Ferrow, blue mini"
declared on 2026-06-10

rider.group is novice
helmet.labels is "ECE 22.06", other  # inside the lining
tyre.front.tread is 3.5 mm
tyre.front.built is "2319"
lens.kinds is none
"""


@pytest.mark.parametrize(("name", "text"), [("mini.trackrules", MINI), ("sam.rider", RIDER)])
def test_what_is_neat_stays_as_it_is(name: str, text: str) -> None:
    assert neatened(Source(name, text)) == text


@pytest.mark.parametrize(("name", "text"), [("mini.trackrules", MINI), ("sam.rider", RIDER)])
def test_line_breaks_and_indents_of_the_author_leave_no_trace(name: str, text: str) -> None:
    tight = re.sub(r"\n +(?!#)", "\n", re.sub(r" +", " ", text))
    assert neatened(Source(name, tight.replace("\n", "\r\n"))) == text
    assert neatened(Source(name, "\ufeff" + re.sub(r"\n", "\n\t", text))) == text


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_shipped_files_can_be_neatened_and_keep_within_the_width(path: Path) -> None:
    text = neat(path.read_text(encoding="utf-8"), path.name)
    code = [line for line in text.splitlines() if "#" not in line]
    assert [line for line in code if len(line) > WIDTH] == []


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_a_file_is_laid_out_as_its_example_says(path: Path) -> None:
    """What stands above the mark in a file of `layouts/` becomes what stands below it."""
    before, after = path.read_text(encoding="utf-8").split("======== neat\n")
    assert neat(before) == after


def test_words_of_tables_and_rounding_may_be_names() -> None:
    text = """\
fact row "Row" count from 0 to 12

example "E"
  declare a is rounded
  declare row is row
  declare down is 3
  expect row is met
"""
    assert neat(text) == text
    joined = text.replace("  declare row", "  row").replace("  declare down", " down")
    assert neat(joined) == text
    assert neat("a is row\nrow is row, rounded\n", "sam.rider") == "a is row\nrow is row, rounded\n"


def test_an_empty_file_stays_empty() -> None:
    assert neat("\n\n") == ""
    assert neat("", "sam.rider") == ""


def test_a_declaration_keeps_its_order_wherever_its_title_stands() -> None:
    before = 'a.b is yes # first\n# then\nDeclaration "Sam"\nc.d is "x", # one\n "Y" # two'
    after = 'a.b is yes  # first\n# then\ndeclaration "Sam"\n\n# one\nc.d is x, "Y"  # two\n'
    assert neat(before, "sam.rider") == after


DENSE = (
    MINI
    + """
fact helmet.shell "Shell" also "lid"
  one of full-face "Full face, the chin bar in one piece", modular "Flip-front" also "hinged", open
  unchangeable ask "What kind?" also "cap" how "Lift the" "chin bar." takes 1 min private
limit sound is 92 dB when machine.style is mini, "x" when a.b is one of p, q, r and not (c or d),
  95 dB otherwise source "A long text that needs" "more than one string, since it goes on and on."
derived a.ratio "Ratio" as [a.x + 2] * a.y - 3 / a.z source from memory
rule r "R" for each of tyre.front, tyre.rear
  when at least 2 of a.*, b.c, d.e is between 2 mm and 3 mm or gear includes all of g, h
  require age of it.built on event.date to the month is at most 5 years
  undo "U" takes 5 min caution "Hot." when b.c
example "E" from "x.rider" on 2026-02-02 declare a.b is 1 mm declare b.c is none
  declare c.d is p, "Q" expect r is not met expect not ready
formula f(a in °C, b in mm, c) "F" in mm as b * c rounded down to 0.5 mm when a is more than 3 °C
  as minimum(b, [b + 1 mm] rounded to 2 mm, g(c, 2)) otherwise source "S" how "H"
formula g(a, b) as a / b caution "C"
table t "T" from shell to km/h row "P" is 150 km/h row row is none reason "R" row other is 1 km/h
table u from count row 1 is 3/4 row 2 is -1
"""
)

GAPS = ("\n{}\n", " {}\n", "\n\n    {}\n\n", "\n  {}\n  {}\n", " {}\n\n{}\n")


@settings(max_examples=200)
@given(st.data())
def test_no_comment_between_any_two_tokens_is_lost(data: st.DataObject) -> None:
    tokens = tokenize(Source("x", DENSE)).tokens
    places = data.draw(st.dictionaries(st.integers(0, len(tokens) - 1), st.sampled_from(GAPS)))
    written, last = [], 0
    for number, token in enumerate(tokens):
        gap = DENSE[last : token.start]
        comment = f"# {number}"
        written += [gap, places.get(number, "").format(comment, comment), token.text]
        last = token.end
    text = "".join(written)
    # `neat` raises where a comment or a word is lost, or changes its place in the order.
    neat(text)


# ---- spelling -------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "a and b or c and d",
        "a and (b or c)",
        "(a or b) or c",
        "(a and b) and c",
        "not a and not (b or c)",
        "not not a",
        "a.b is not x and a.c is none of x, y",
        "[a.b + 2 mm] * 3 - -1 mm / a.c is at least 3/32 in",
        "[[a.b]] is between -5 °C and 1 1/4 in",
        "age of a.b on c.d to the year is more than 1 year",
        "completed years of a.b on 2026-03-01 is less than 18",
        "at least 2 of a.b, c.*, it is yes",
        'none of a.b, it.c includes any of "when", "Ä b", c',
        "a.b is on or before event.year-start",
        'speed-of(a.b) + f(3 mm, [a.c], "P") * 2 is at least maximum(a.d, g(a.e - 1)) / 2',
        "a.b rounded to 1/2 mm is less than f(a.c) rounded down to 5 mm * 2",
        "[a.b - 3] rounded down to 2 is rounded",
        "rounded rounded to 3 is not rounded(down, row, it)",
    ],
)
def test_a_condition_is_spelled_as_it_was_read(text: str) -> None:
    rule = parse_rules(Source("x", f"rule r require {text}")).tree.statements[0]
    assert condition_text(rule.details[0].condition) == text


def test_parentheses_that_change_nothing_go() -> None:
    assert neat("rule r require ((a or (b and (c))))") == "rule r\n  require a or b and c\n"


def test_pieces_of_a_condition_have_texts_of_their_own() -> None:
    depth = tree.Compare("at least", tree.Quantity("2", "mm"))
    assert predicate_text(depth) == "is at least 2 mm"
    assert value_text(tree.Word("ECE 22.06")) == '"ECE 22.06"'
    # A sum in a product is not in the grammar without its brackets; its meaning is kept.
    two, ratio = tree.Number("2"), tree.Reference("a.b")
    product = tree.Product(tree.Sum(two, (("+", ratio),)), (("*", two),))
    assert expression_text(product) == "[2 + a.b] * 2"


@given(st.text(st.sampled_from('ab "\\#“é\t-'), max_size=400), st.integers(0, 90))
def test_prose_is_the_same_however_it_is_split(text: str, indent: int) -> None:
    rules = tree.RuleFile(
        (
            tree.Rule(f"r{'x' * indent}", text, details=(tree.Prose("reason", text),)),
            tree.Uses("use", text),
        )
    )
    parsed = parse_rules(Source("x", print_rules(rules)))
    assert (parsed.tree, parsed.problems) == (rules, ())


NAMES = st.sampled_from(["row", "rounded", "down", "f", "in-use", "a1"])
UNITS = st.sampled_from([None, "mm", "in", "°C", "N*m", "%", "km/h"])
WORDS = st.builds(tree.Word, st.sampled_from(["row", "rounded", "P", "table", "Ä 1"]))
QUANTITIES = st.builds(
    tree.Quantity, st.sampled_from(["1", "-2.5", "3/32"]), st.sampled_from(["mm", "in", "°C"])
)
CONSTANTS = QUANTITIES | st.builds(tree.Number, st.sampled_from(["2", "-1 1/4", "0.5"]))
ATOMS = CONSTANTS | WORDS | st.builds(tree.Reference, st.sampled_from(["a.b", "it", "it.row"]))


def _larger(inner: st.SearchStrategy[tree.Expression]) -> st.SearchStrategy[tree.Expression]:
    """Expressions around others, each only of what the grammar lets stand in it."""
    calls = st.builds(tree.Call, NAMES, st.lists(inner, min_size=1, max_size=3).map(tuple))
    primary = ATOMS | st.builds(tree.Group, inner) | calls
    atoms = primary | st.builds(tree.Rounded, primary, CONSTANTS, st.booleans())

    def rest(
        signs: list[str], operands: st.SearchStrategy[tree.Expression]
    ) -> st.SearchStrategy[tuple[tuple[str, tree.Expression], ...]]:
        terms = st.tuples(st.sampled_from(signs), operands)
        return st.lists(terms, min_size=1, max_size=3).map(tuple)

    products = atoms | st.builds(tree.Product, atoms, rest(["*", "/"], atoms))
    return products | st.builds(tree.Sum, products, rest(["+", "-"], products))


EXPRESSIONS = st.recursive(ATOMS, _larger, max_leaves=12)
TESTS = st.builds(
    tree.Test,
    EXPRESSIONS,
    st.builds(tree.Compare, st.sampled_from(["at least", "more than"]), EXPRESSIONS)
    | st.builds(tree.Is, EXPRESSIONS, st.booleans()),
)
FORMULA_DETAILS = st.lists(
    st.builds(tree.Prose, st.sampled_from(["reason", "caution"]), st.just("Because."))
    | st.builds(tree.How, st.just("So."))
    | st.sampled_from([tree.SourceOf("text", "S"), tree.SourceOf("from memory")]),
    max_size=2,
)
FORMULAS = st.builds(
    tree.Formula,
    NAMES,
    st.lists(st.builds(tree.Parameter, NAMES, UNITS), min_size=1, max_size=4).map(tuple),
    st.sampled_from([None, "Label", "A label that goes on and on, " * 3]),
    UNITS,
    st.lists(
        st.builds(tree.FormulaRow, EXPRESSIONS, TESTS)
        | st.builds(tree.FormulaRow, EXPRESSIONS, otherwise=st.booleans()),
        min_size=1,
        max_size=3,
    ).map(tuple),
    FORMULA_DETAILS.map(tuple),
)
PROSE = st.sampled_from(["Look.", "Look at every place of it from all sides, in good light, " * 3])
TAKES = st.builds(tree.Takes, st.builds(tree.Quantity, st.sampled_from(["5", "1/2"]), st.just("h")))
FACTS = st.builds(
    tree.Fact,
    st.sampled_from(["a.b", "mark"]),
    PROSE,
    st.sampled_from([tree.Plain("yes or no"), tree.Measured("mm")]),
    details=st.lists(
        st.builds(tree.How, PROSE, st.none() | TAKES)
        | st.builds(tree.Prose, st.sampled_from(["ask", "caution"]), PROSE)
        | st.just(tree.SourceOf("from memory")),
        max_size=4,
    ).map(tuple),
)
TABLES = st.builds(
    tree.Table,
    NAMES,
    st.sampled_from([None, "Label"]),
    NAMES | st.just("count"),
    UNITS,
    st.tuples(
        st.lists(
            st.builds(
                tree.TableRow,
                WORDS | st.builds(tree.Number, st.sampled_from(["58", "-1"])),
                st.none() | CONSTANTS,
            ),
            max_size=4,
        ),
        FORMULA_DETAILS,
    ).map(lambda parts: (*parts[0], *parts[1])),
)
DEMANDS = st.builds(
    tree.Rule,
    NAMES,
    st.none(),
    details=st.lists(st.builds(tree.Demand, st.just("require"), TESTS), max_size=2).map(tuple),
)


@given(st.lists(FACTS | FORMULAS | TABLES | DEMANDS, min_size=1, max_size=3))
def test_facts_formulas_and_tables_are_printed_as_they_are_read(
    statements: list[tree.Statement],
) -> None:
    rules = tree.RuleFile(tuple(statements))
    parsed = parse_rules(Source("x", print_rules(rules)))
    assert (parsed.problems, parsed.tree) == ((), rules)


def test_a_declaration_without_a_source_can_be_printed() -> None:
    given_values = (tree.Given("a.b", (tree.Quantity("3", "mm"),)), tree.Given("c.d", ()))
    declaration = tree.RiderFile("Sam", tree.Day("2026-06-10"), given_values)
    text = 'declaration "Sam"\ndeclared on 2026-06-10\n\na.b is 3 mm\nc.d is none\n'
    assert print_rider(declaration) == text
    assert parse_rider(Source("x", text)).tree == declaration


# ---- refusals -------------------------------------------------------------


def test_a_file_with_problems_is_refused_with_all_of_them() -> None:
    with pytest.raises(RulesetError) as refused:
        neatened(Source("day.trackrules", "rule\nlimit a is is\nlimit b is 1 mm"))
    assert [problem.line for problem in refused.value.problems] == [1, 2]
    with pytest.raises(DeclarationError):
        neatened(Source("sam.rider", "a.b is is"))
