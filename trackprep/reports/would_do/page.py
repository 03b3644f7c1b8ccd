"""What would do as a page: for each rule not met, then for the whole verdict."""

from collections.abc import Iterator

from trackprep.analysis.least_changes import Obstacle, Plan, Undecided
from trackprep.analysis.would_do import RuleWay, WouldDo
from trackprep.explanations.wording import counted
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Entry,
    Folded,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Table,
)
from trackprep.reports.pages.html import escaped, table_html
from trackprep.reports.report import Report
from trackprep.reports.venues.jobs import Job, jobs
from trackprep.reports.would_do.wording import (
    changed_text,
    no_way_text,
    number_text,
    titles_text,
    to_find_out_text,
)

REAL = (
    "A declared value mends nothing: do the work, then declare what is new, and check again. A job"
    " that you are not sure of belongs to a qualified mechanic."
)
READY = "Nothing has to change: nothing here is against the required rules."
THEN = "Then nothing is against the required rules: ready to present."
HOW_TO_LOOK = "`trackprep ask` and `trackprep worklist` say how to look"
FEW = 12
"""More facts than these to find out are folded."""


def would_do_page(would_do: WouldDo, report: Report) -> Page:
    """All of it, to stand behind the report."""
    return Page("What would do", would_do_blocks(would_do, report))


def would_do_blocks(would_do: WouldDo, report: Report) -> tuple[Block, ...]:
    """The blocks of it, for a page of their own or inside the report's."""
    return tuple(_blocks(would_do, report))


def _blocks(would_do: WouldDo, report: Report) -> Iterator[Block]:
    if would_do.by_rule:
        yield Heading("What would do for each rule not met")
        for one in would_do.by_rule:
            yield _entry(one, report)
    yield Heading("The least to be ready to present")
    yield from _whole(would_do, report)
    yield Paragraph(REAL, "To know", "warning")


def _entry(one: RuleWay, report: Report) -> Entry:
    badge = "not met" if one.rule.level == "required" else "not met, recommended"
    inner = tuple(_for_rule(one, report))
    return Entry(badge, "not-met", one.rule.title, one.rule.name, inner, level=3)


def _for_rule(one: RuleWay, report: Report) -> Iterator[Block]:
    match one.way:
        case Plan() as plan:
            for job in jobs(plan, [report]):
                yield from _job(job, report)
            yield from _to_find_out(plan, report)
            if plan.fallen_away:
                yield Paragraph("The rule is not asked of you any more then.")
            if one.against:
                yield Paragraph(
                    f"Done alone, it sets against you: {titles_text(one.against)}. What would do"
                    " for all together is below.", "Note", "warning",
                )  # fmt: skip
        case Obstacle() | Undecided():
            yield Paragraph(no_way_text(one.way, report, one.rule))
            answer = next(each for each in report.answers if each.rule == one.rule.name)
            for work in answer.fixes:
                yield Paragraph(work.text, "Its author says")


def _job(job: Job, report: Report) -> Iterator[Block]:
    """A piece of work: cautions in front, what to do, the values that would do, what it needs."""
    yield from (Paragraph(text, "CAUTION", "warning") for text in job.cautions)
    for place, fix in enumerate(job.fixes):
        yield Paragraph(fix.text, "Also" if place else "Do")
        if not place:
            yield Bullets(tuple(changed_text(change, report) for change in job.changes))
        if fix.details:
            yield Pairs(tuple((label, text, "") for label, text in fix.details))


def _to_find_out(plan: Plan, report: Report) -> Iterator[Block]:
    if not plan.to_find_out:
        return
    points = Bullets(tuple(to_find_out_text(one, report) for one in plan.to_find_out))
    if len(plan.to_find_out) <= FEW:
        yield Paragraph(f"Find out and declare ({HOW_TO_LOOK}); what would do:")
        yield points
    else:
        number = counted(len(plan.to_find_out), "fact")
        said = f"{number} to find out and declare: {HOW_TO_LOOK}."
        yield Folded(f"{number} to find out and declare, and what would do", (points,), said)


def _whole(would_do: WouldDo, report: Report) -> Iterator[Block]:
    """The whole least set, each piece of work in a line: what it needs stands above."""
    match would_do.whole:
        case Plan(changes=(), to_find_out=()):
            yield Paragraph(READY)
        case Plan() as plan:
            if plan.changes:
                yield Paragraph(number_text(plan))
            for job in jobs(plan, [report]):
                said = " ".join(fix.text for fix in job.fixes)
                yield Paragraph(said, "Do")
                yield Bullets(tuple(changed_text(one, report) for one in job.changes))
            yield from _to_find_out(plan, report)
            if plan.fallen_away:
                names = {one.rule for one in plan.fallen_away}
                fallen = [rule for rule in report.rules.rules if rule.name in names]
                yield Paragraph(f"Not asked of you any more then: {titles_text(fallen)}.")
            yield Paragraph(THEN)
        case Obstacle() | Undecided():
            yield Paragraph(no_way_text(would_do.whole, report))


# ---- for a notebook -------------------------------------------------------------


def would_do_summary(would_do: WouldDo, report: Report) -> str:
    """How much there is to do for the whole, and a row for each rule not met."""
    match would_do.whole:
        case Plan(changes=(), to_find_out=()):
            said = READY
        case Plan() as plan:
            said = f"To be ready to present: {number_text(plan)}"
        case Obstacle() | Undecided():
            said = no_way_text(would_do.whole, report)
    table = would_do_table(would_do, report)
    head = f"<p><strong>{escaped(said)}</strong></p>"
    return f"{head}\n{table_html(table)}" if table.rows else head


def would_do_table(would_do: WouldDo, report: Report) -> Table:
    """For each rule not met, what to do and what would do."""
    rows = tuple((one.rule.title, *_cells(one, report)) for one in would_do.by_rule)
    return Table("What would do for each rule not met", ("Rule", "Do", "What would do"), rows)


def _cells(one: RuleWay, report: Report) -> tuple[str, str]:
    match one.way:
        case Plan() as plan:
            texts = [fix.text for job in jobs(plan, [report]) for fix in job.fixes]
            values = [
                ": ".join(changed_text(change, report))
                for change in (*plan.changes, *plan.to_find_out)
            ]
            return " ".join(texts), ". ".join(values)
        case Obstacle() | Undecided():
            return "", no_way_text(one.way, report, one.rule)
