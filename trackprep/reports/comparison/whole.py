"""Two rulesets as a whole: what is ready at one and not at the other, and by which rules."""

from collections.abc import Iterator

from trackprep.analysis.comparisons import Comparison, ReadyAtOne
from trackprep.dates import long_form
from trackprep.explanations.wording import counted
from trackprep.reports.comparison.naming import Names, whole_words
from trackprep.reports.comparison.shown import deciding, fact_rows, rider_text
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Entry,
    Facts,
    Folded,
    Heading,
    Paragraph,
)
from trackprep.rules.model import Rules


def whole_blocks(comparison: Comparison, names: Names) -> Iterator[Block]:
    """Both questions with their answers."""
    yield Heading("As a whole")
    one, other, at = names.one, names.other, names.at
    first, second = comparison.one, comparison.other
    yield _answered(comparison, comparison.lost, f"{at} {one}", f"{at} {other}", other, second)
    yield _answered(comparison, comparison.gained, f"{at} {other}", f"{at} {one}", one, first)


def _answered(
    comparison: Comparison, found: ReadyAtOne | None, here: str, there: str, name: str, rules: Rules
) -> Entry:
    """Whether anything is ready here and not there, whose ruleset this is."""
    question = f"Is anything ready to present {here} that {name} turns away or leaves open?"
    if found is None and comparison.undecided:
        told = Paragraph(f"It cannot be told: {'; '.join(comparison.undecided)}.")
        return Entry("undecided", "warning", question, "", (told,), level=3)
    if found is None:
        told = Paragraph(
            f"Where all that both ask for is declared, what is ready {here} is ready {there} too."
        )
        return Entry("no", "quiet", question, "", (told,), level=3)
    titles = {rule.name: rule.title for rule in rules.rules}
    day = long_form(found.witness.event)
    said = f"This one is ready {here} and {whole_words(found.verdict)} by {name} on {day}"
    return Entry("yes", "mixed", question, "", (
        Paragraph(f"{said}, by these rules:"),
        Bullets(tuple(("", f"{titles[rule]} [{rule}]") for rule in found.rules)),
        *_shortened(comparison, found, rules),
    ), level=3)  # fmt: skip


def _shortened(comparison: Comparison, found: ReadyAtOne, there: Rules) -> Iterator[Block]:
    """The facts that those rules ask about; the rest of the machine is folded away."""
    telling = deciding(found, there)
    yield Facts("What those rules ask about:", fact_rows(found.witness, comparison, telling))
    rest = [path for path in found.witness.values if path not in telling]
    if rest:
        more = counted(len(rest), "fact more", "facts more")
        yield Folded(
            f"The rest of the machine and gear: {more}",
            (Facts(
                "All else that is declared:", fact_rows(found.witness, comparison, rest),
                rider_text(found.witness, comparison),
            ),),
            f"And {more}, for what else is asked; --whole shows the rest.",
        )  # fmt: skip
