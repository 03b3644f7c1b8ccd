"""A work list as a page: what to find out, to do, to get, to pack, and to put back."""

from collections.abc import Iterator, Sequence

from trackprep.dates import long_form
from trackprep.explanations.wording import capitalized, counted, listed
from trackprep.reports.notices import PRECEDENCE
from trackprep.reports.pages.blocks import (
    Block,
    Bullets,
    Heading,
    Page,
    Pairs,
    Paragraph,
    Tick,
)
from trackprep.reports.report import Report
from trackprep.reports.venues.naming import called
from trackprep.reports.verdicts import verdict_lines
from trackprep.reports.worklist.road import road_blocks
from trackprep.reports.worklist.wording import (
    jobs_text,
    sentence,
    served_text,
    things_text,
    timed_text,
    titles_text,
    total_text,
    uses_text,
    work_text,
)
from trackprep.rider.worklist import Job, OpenPoint, Question, Spot, ToBuy, Worklist, total
from trackprep.rules.model import Level

REAL = (
    "Do the work itself: a declared value mends nothing. Then declare what is new, and check again."
)
AT_ONCE = "A job that you are not sure of belongs to a qualified mechanic."
AT_HAND = "That is with the tools at hand."
_SPOTS: tuple[Spot, ...] = ("at home", "in the paddock")


class WorklistPage:
    """The page in the making."""

    def __init__(self, worklist: Worklist, reports: Sequence[Report]) -> None:
        self.list, self.reports = worklist, reports
        self.names = called([report.rules for report in reports])

    def page(self) -> Page:
        """The whole page."""
        declaration = self.reports[0].declaration
        named = declaration.title or declaration.name
        title = "Work list" if named.startswith("<") else f"{named}: work list"
        blocks: list[Block] = [
            *self.head(),
            *self.find_out(),
            *self.do("required"),
            *self.do("recommended"),
            *self.buy(),
            *self.borrow(),
            *self.pack(),
            *self.inspection(),
            *road_blocks(self.list, self.names),
            Heading("To know"),
            Paragraph(REAL),
        ]
        return Page(title, tuple(blocks), PRECEDENCE)

    # ---- the head ----

    def head(self) -> Iterator[Block]:
        """The events, the verdicts, how the machine comes, and how much there is to do."""
        titles = listed([one.title for one in self.list.occasions], "and")
        yield Paragraph(f"For {titles}, on {long_form(self.list.day)}.")
        for name, report in zip(self.names, self.reports, strict=True):
            label = name if len(self.names) > 1 else ""
            yield Paragraph(verdict_lines(report)[0], label)
            for notice in report.notices:
                if notice.code == "outside-validity":
                    yield Paragraph(notice.text, "Note", "warning")
        yield from self.problems()
        yield Paragraph(self.arrival())
        yield Bullets(tuple(self.overview()))

    def problems(self) -> Iterator[Block]:
        """What is wrong with the declaration for this day; each once."""
        found = {problem.path: problem for report in self.reports for problem in report.problems}
        for problem in found.values():
            tried = f" {capitalized(problem.suggestion)}." if problem.suggestion else ""
            yield Paragraph(f"{sentence(problem.message)}{tried}", "Problem", "warning")

    def arrival(self) -> str:
        """How the machine comes, and what that means for the work."""
        if self.list.arrival == "ridden":
            return (
                "The machine is ridden to the event: what it needs on the road comes off in the"
                " paddock, and goes back on there. If you carry it, ask for the list that way."
            )
        return "The machine is carried to the event, so what can be done at home is done there."

    def overview(self) -> Iterator[tuple[str, str]]:
        """What there is, in a line each."""
        questions = self.list.questions
        if questions:
            yield "Find out", things_text(questions, ", ")
        else:
            yield "Find out", "nothing"
        for level in ("required", "recommended"):
            for spot in _SPOTS:
                if jobs := self.list.jobs_at(spot, level):
                    takes = total(tuple(job.takes for job in jobs))
                    said = f"{counted(len(jobs), 'job')}, {total_text(takes)}"
                    more = ", recommended" if level == "recommended" else ""
                    yield f"Do {spot}{more}", said
        if not self.list.jobs:
            yield "Do", "nothing yet" if questions else "nothing"
        if self.list.jobs:
            takes = total(tuple(job.takes for job in self.list.jobs))
            yield "All jobs together", total_text(takes)

    # ---- finding out ----

    def find_out(self) -> Iterator[Block]:
        """What unsettled rules wait for, the recommended ones apart."""
        for level in ("required", "recommended"):
            points = [point for point in self.list.points if point.level == level]
            if points:
                yield Heading(
                    "Find out first" if level == "required" else "Find out, for what is recommended"
                )
                yield from _times(points)
            for point in points:
                yield Heading(titles_text(point.serves, self.names), 3)
                yield from self.point(point)

    def point(self, point: OpenPoint) -> Iterator[Block]:
        """What to look at, and what follows if nobody can tell."""
        for question in point.questions:
            yield _question(question)
        if point.asked_above:
            yield Paragraph("; ".join(point.asked_above), "Asked above")
        for text in point.untold:
            yield Paragraph(text, "Cannot be told", "warning")
        works = " ".join(map(sentence, point.otherwise))
        said = f"take it as not met, and do this: {works}" if works else "take it as not met."
        yield Paragraph(said, "If you cannot find out")

    # ---- doing ----

    def do(self, level: Level) -> Iterator[Block]:
        """The jobs for what is required or recommended, at home and in the paddock apart."""
        for spot in _SPOTS:
            jobs = self.list.jobs_at(spot, level)
            if not jobs:
                continue
            yield Heading(f"Do {spot}" if level == "required" else f"Recommended, {spot}")
            takes = total(tuple(job.takes for job in jobs))
            yield Paragraph(f"{counted(len(jobs), 'job')}: {total_text(takes)}. {AT_ONCE}")
            for job in jobs:
                yield Tick(
                    work_text(job.texts, job.takes, self.names), f"Job {job.number}", job.cautions,
                    (Pairs(tuple(self.details(job))),),
                )  # fmt: skip

    def details(self, job: Job) -> Iterator[tuple[str, str, str]]:
        """What it is for, and what it takes."""
        yield "For", served_text(job.serves, self.names), ""
        for why in job.why:
            yield "Now", why, ""
        if firsts := [number for number in job.after if number < job.number]:
            yield "After", jobs_text(firsts), ""
        if firsts := [number for number in job.after if number > job.number]:
            yield "First, if you do it", jobs_text(firsts), ""
        if job.parts:
            yield "Parts", ", ".join(job.parts), ""
        if job.tools:
            yield "Tools", ", ".join(job.tools), ""

    # ---- getting ----

    def buy(self) -> Iterator[Block]:
        """The parts, with the latest day to order them."""
        if self.list.buy:
            yield Heading("Buy")
            yield Paragraph("The latest day leaves a day to spare before the event.")
            for one in self.list.buy:
                yield Tick(f"{_when(one)}; {uses_text(one.jobs, one.road)}", one.name)

    def borrow(self) -> Iterator[Block]:
        """The tools, each once."""
        if self.list.borrow:
            yield Heading("Borrow, if you have none")
            for one in self.list.borrow:
                yield Tick(uses_text(one.jobs, one.road), one.name)

    def pack(self) -> Iterator[Block]:
        """What comes along."""
        pack = self.list.pack
        ticks = [Tick(sentence(said)) for said in pack.brings]
        for label, names in (
            ("Tools for the paddock", pack.tools), ("Parts for the paddock", pack.parts)
        ):  # fmt: skip
            if names:
                ticks.append(Tick(", ".join(names), label))
        if ticks:
            yield Heading("Pack")
            yield from ticks

    def inspection(self) -> Iterator[Block]:
        """What nobody but the inspector decides."""
        if self.list.inspector:
            yield Heading("At the inspection")
            yield Paragraph(served_text(self.list.inspector, self.names), "The inspector decides")


def _times(points: Sequence[OpenPoint]) -> Iterator[Paragraph]:
    """How long it takes to find out what some points ask, if they ask anything."""
    questions = tuple(question for point in points for question in point.questions)
    if questions:
        timed = any(question.takes.minutes for question in questions)
        said = f"{things_text(questions, ': ')}."
        yield Paragraph(f"{said} {AT_HAND}" if timed else said)


def _question(question: Question) -> Tick:
    rows = []
    if question.declared:
        rows.append(("Declared", f"{question.declared}, which leaves it open", ""))
        finer = question.finer or "nothing finer can be declared: the inspector will tell"
        rows.append(("Look for", finer, ""))
    if question.how:
        rows.append(("How", question.how, ""))
    if question.asked:
        rows.append(("Asked", "; ".join(question.asked), ""))
    if question.treat_as:
        rows.append(("In doubt", f"treat it as {question.treat_as}", ""))
    blocks = (Pairs(tuple(rows)),) if rows else ()
    said = timed_text(question.ask, question.takes)
    return Tick(said, question.label, question.cautions, blocks)


def _when(one: ToBuy) -> str:
    if one.by is None:
        return "no time to allow is given"
    said = f"order by {long_form(one.by)} (allow {one.allow})"
    if one.late:
        return f"{said}: that day is over, so buy it in a shop, or hire or borrow it"
    return said
