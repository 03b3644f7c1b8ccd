"""Several rulesets as a page: what is ready at all of them, and the table of limits."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from trackprep.analysis.common_set import NobodyReady, ReadyAtAll
from trackprep.analysis.demands import Demand
from trackprep.analysis.least_changes import Undecided
from trackprep.analysis.limits_table import Row
from trackprep.analysis.venues import Venues
from trackprep.analysis.witnesses import spelled, text_of
from trackprep.dates import long_form
from trackprep.explanations.sentences import asked_sentences
from trackprep.explanations.wording import (
    capitalized,
    counted,
    inside,
    label_of,
    listed,
    value_text,
)
from trackprep.reports.pages.blocks import (
    SIGNS,
    Block,
    Bullets,
    Entry,
    Facts,
    Folded,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Table,
)
from trackprep.reports.venues.naming import called, known, listed_names
from trackprep.rules.model import Rule, Rules

STRICTEST = SIGNS["stricter"]
NOT_ASKED = "–"
LIKEWISE = "said of the first part, asked of each"
FOOTER = (
    "This compares what rule files say; the machine in it is invented. Nothing here says that a"
    " machine is safe: the organizer's inspector, the machine's manual, local law and a qualified"
    " mechanic come first."
)


def venues_page(venues: Venues) -> Page:
    """The whole comparison."""
    names = called(venues.rulesets)
    sides = Pairs(tuple(
        (name, known(rules), rules.files[0].name if rules.files else "")
        for name, rules in zip(names, venues.rulesets, strict=True)
    ))  # fmt: skip
    period = venues.period
    blocks = (
        sides,
        Paragraph(f"For every event {period}: {period.why}."),
        Paragraph(summary(venues, names), "In short"),
        *_clashes(venues),
        *_differing(venues, names),
        *_alone(venues, names),
        *_agreed(venues),
        *_common(venues, names),
    )
    return Page(f"{counted(len(names), 'ruleset')} side by side", blocks, FOOTER)


def summary(venues: Venues, names: Sequence[str]) -> str:
    """What there is to know in two sentences."""
    agreed, differing = len(venues.rows) - len(venues.differing), len(venues.differing)
    everybody = listed_names(range(len(names)), names)
    said = f"On {counted(agreed, 'point')} {everybody} ask the same, on {differing} they differ."
    if not agreed:
        said = f"They differ on {counted(differing, 'point')}."
    elif not differing:
        said = f"On {counted(agreed, 'point')}, that is on all, they ask the same."
    match venues.common:
        case ReadyAtAll(rules=rules):
            number = counted(len(rules), "rule")
            return f"{said} One machine and rider can be ready at {everybody}, by {number}."
        case NobodyReady():
            return f"{said} Nobody can be ready at {everybody}."
        case Undecided(reason):
            return f"{said} Whether anybody can be ready at {everybody} is undecided: {reason}."


def _clashes(venues: Venues) -> Iterator[Block]:
    for clash in venues.clashes:
        said = f"No value of `{clash.path}` can be read by all: they define it differently."
        yield Paragraph(said, "Undecided", "warning")


# ---- the table of limits ----------------------------------------------------


def _differing(venues: Venues, names: Sequence[str]) -> Iterator[Block]:
    rows = [row for row in venues.differing if len(row.asked_by) > 1]
    if not rows:
        return
    yield Heading("Where they differ")
    yield Paragraph(f"{STRICTEST} marks who asks most; {NOT_ASKED} that it is not asked.")
    for section, members in groupby(rows, key=lambda row: row.section):
        yield limits_rows(section or "Rules", list(members), names)


def limits_rows(caption: str, rows: Iterable[Row], names: Sequence[str]) -> Table:
    """A part of the table of limits."""
    head = ("What is asked", *names)
    return Table(caption, head, tuple(_cells(row) for row in rows), side_by_side=True)


def whole_table(venues: Venues) -> Table:
    """Every point on which they differ, for a notebook."""
    names = called(venues.rulesets)
    caption = f"{STRICTEST} marks who asks most; {NOT_ASKED} that it is not asked."
    return limits_rows(f"{summary(venues, names)} {caption}", venues.differing, names)


def _cells(row: Row) -> tuple[str, ...]:
    shared = _shared_when(row)
    hints = [hint for hint in (shared, LIKEWISE if row.likewise else "") if hint]
    said = [about(row) + (f" ({'; '.join(hints)})" if hints else "")]
    for number, cell in enumerate(row.cells):
        text = "; ".join(demand_text(demand, shared, row) for demand in cell) or NOT_ASKED
        said.append(f"{STRICTEST} {text}" if number in row.strictest else text)
    return tuple(said)


def about(row: Row) -> str:
    """What a row is about: `Front tread depth and rear tread depth`."""
    first, *others = row.about
    said = listed([first, *map(inside, others)], "and")
    return f"{said}, recommended" if row.recommended else said


def _shared_when(row: Row) -> str:
    """When it is asked, where all who ask it ask it then."""
    whens = {demand.when for cell in row.cells for demand in cell}
    return whens.pop() if len(whens) == 1 else ""


def demand_text(demand: Demand, shared: str, row: Row) -> str:
    """What is asked, and when, unless that is said for the whole row."""
    advised = demand.rule.level == "recommended" and not row.recommended
    text = f"recommended: {demand.text}" if advised else demand.text
    return text if shared or not demand.when else f"{text}, {demand.when}"


def _alone(venues: Venues, names: Sequence[str]) -> Iterator[Block]:
    alone = [row for row in venues.differing if len(row.asked_by) == 1]
    if not alone:
        return
    yield Heading("Asked by one alone")
    for number, name in enumerate(names):
        rows = [row for row in alone if row.asked_by == (number,)]
        if rows:
            yield Heading(f"Only {name}", 3)
            yield Bullets(tuple(_point(row) for row in rows))


def _point(row: Row) -> tuple[str, str]:
    (cell,) = (cell for cell in row.cells if cell)
    return about(row), "; ".join(demand_text(demand, "", row) for demand in cell)


def _agreed(venues: Venues) -> Iterator[Block]:
    agreed = [row for row in venues.rows if row.agree]
    if not agreed:
        return
    yield Heading("Where all agree")
    points = Bullets(tuple(
        (about(row), "; ".join(demand_text(one, "", row) for one in next(filter(None, row.cells))))
        for row in agreed
    ))  # fmt: skip
    counts = f"{counted(len(agreed), 'point')} on which all agree"
    yield Folded(counts, (points,), f"{counts}: shown with --whole.")


# ---- ready at all -----------------------------------------------------------


def _common(venues: Venues, names: Sequence[str]) -> Iterator[Block]:
    everybody = listed_names(range(len(names)), names)
    match venues.common:
        case ReadyAtAll():
            yield Heading(f"To be ready at {everybody}")
            yield from _ready_at_all(venues.common, venues, names)
        case NobodyReady():
            yield Heading(f"Why nobody can be ready at {everybody}")
            yield from _nobody(venues.common, venues, names)
        case Undecided(reason):
            yield Heading(f"To be ready at {everybody}")
            yield Paragraph(f"It could not be told: {reason}.", "Undecided", "warning")


def _ready_at_all(common: ReadyAtAll, venues: Venues, names: Sequence[str]) -> Iterator[Block]:
    said = f"Meet these {len(common.rules)} required rules"
    if common.implied:
        said += f"; {counted(common.implied, 'other is', 'others are')} met with them"
    yield Paragraph(f"{said}. What is for the inspector is left to the inspector.")
    sections = dict.fromkeys(rule.rule.section for rule in common.rules)
    blocks: list[Block] = []
    for section in sections:
        blocks.append(Heading(section or "Rules", 3))
        blocks.append(Bullets(tuple(
            (
                each.rule.title,
                f"{plain_demand(each.rule, venues.rulesets[each.ruleset])}"
                f" Asked by {listed_names((one.ruleset for one in each.asked_by), names)}.",
            )
            for each in common.rules if each.rule.section == section
        )))  # fmt: skip
    yield from blocks
    yield from _witness(common, venues)


def plain_demand(rule: Rule, rules: Rules) -> str:
    """What a required rule asks, as a sentence."""
    said = asked_sentences(rule, rules)
    for opening in ("Required: ", "Required, ", "Required "):
        if said.startswith(opening):
            return said.removeprefix(opening)
    return said


def _witness(common: ReadyAtAll, venues: Venues) -> Iterator[Block]:
    facts = {path: fact for rules in venues.rulesets for path, fact in rules.facts.items()}
    event = long_form(common.witness.event)
    rows = []
    for path, value in common.witness.values.items():
        rules = next(rules for rules in venues.rulesets if path in rules.facts)
        line = f"{path} is {spelled(value, facts[path])}"
        rows.append((capitalized(label_of(path, rules)), value_text(path, value, rules), line))
    rider = text_of(common.witness, facts, f"Ready at all of them, for an event on {event}")
    number = counted(len(rows), "fact")
    heading = f"One that is ready on {event}, tried by the ordinary check:"
    yield Folded(
        f"One machine and rider that are ready at all of them ({number})",
        (Facts(heading, tuple(rows), rider),),
        f"One machine and rider that are ready at all of them ({number}): shown with --whole.",
    )


def _nobody(common: NobodyReady, venues: Venues, names: Sequence[str]) -> Iterator[Block]:
    number = len(common.rules)
    day = long_form(common.event)
    said = f"These {number} rules cannot be met together, and without any one of them they could"
    if number == 1:
        said = "Nobody can meet this rule"
    yield Paragraph(f"{said}; shown for an event on {day}.")
    for one in common.rules:
        rules = venues.rulesets[one.ruleset]
        asked_by = listed_names((each.ruleset for each in one.asked_by), names)
        blocks = (Paragraph(capitalized(plain_demand(one.rule, rules))),)
        yield Entry(asked_by, "stricter", one.rule.title, one.rule.name, blocks)
    labels = [
        label_of(path, next(rules for rules in venues.rulesets if path in rules.facts))
        for path in common.facts
    ]
    if number > 1:
        yield Paragraph(f"They quarrel about {listed([inside(label) for label in labels], 'and')}.")
