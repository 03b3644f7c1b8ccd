"""Changes to a drawn case whose effect on the answers is known beforehand."""

from dataclasses import replace

from hypothesis import HealthCheck, assume, settings
from hypothesis import strategies as st
from pools import in_other_units
from strategies import Case, Draw, cases
from thorough import THOROUGH

from trackprep.syntax import tree

LAW = settings(
    max_examples=300 if THOROUGH else 120,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
"""How often a law is tried."""


@st.composite
def one_more_declared(draw: Draw) -> tuple[Case, Case]:
    """A case, and the same with one more fact declared."""
    case = draw(cases())
    assume(case.undeclared)
    more = draw(st.sampled_from(case.undeclared))
    return case, replace(case, declaration=(*case.declaration, more))


@st.composite
def other_units(draw: Draw) -> tuple[Case, Case]:
    """A case, and the same with quantities declared in other units."""
    case = draw(cases())
    declared = []
    for its in case.declaration:
        match its.values:
            case (tree.Quantity() as quantity,):
                same = draw(st.sampled_from([quantity, *in_other_units(quantity)]))
                declared.append(tree.Given(its.path, (same,)))
            case _:
                declared.append(its)
    assume(tuple(declared) != case.declaration)
    return case, replace(case, declaration=tuple(declared))


@st.composite
def unrelated_declared(draw: Draw) -> tuple[Case, Case]:
    """A case, and the same with facts declared that no rule asks."""
    case = draw(cases())
    spare = (
        tree.Given("spare.flag", (tree.Flag(draw(st.booleans())),)),
        tree.Given("spare.text", (tree.Word("Any words", quoted=True),)),
    )
    return case, replace(case, declaration=(*spare, *case.declaration))


@st.composite
def reordered(draw: Draw) -> tuple[Case, Case]:
    """A case, and the same with each section and the declaration in another order."""
    case = draw(cases())
    heading, *rest = case.rules.statements
    parts: list[list[tree.Statement]] = [[heading]]
    run: list[tree.Statement] = []
    for statement in rest:
        if isinstance(statement, tree.Section):
            parts += [draw(st.permutations(run)), [statement]]
            run = []
        else:
            run.append(statement)
    parts.append(draw(st.permutations(run)))
    rules = tree.RuleFile(tuple(statement for part in parts for statement in part))
    declaration = tuple(draw(st.permutations(case.declaration)))
    return case, replace(case, rules=rules, declaration=declaration)


@st.composite
def untidy(draw: Draw, text: str) -> str:
    """The text without its indentation, with comments and empty lines put in."""
    lines = []
    for line in text.splitlines():
        above, behind = draw(st.sampled_from(UNTIDINESS))
        lines += [*above, line.strip() + behind]
    return "\r\n".join(lines)


UNTIDINESS = (
    ((), ""),
    ((), ""),
    (("", ""), "   "),
    (("# a comment above",), ""),
    ((), "  # a comment behind"),
)
