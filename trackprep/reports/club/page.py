"""Several riders as a page: one row a rider and event; what is private is never shown."""

from collections.abc import Iterable, Iterator

from trackprep.backends.checks import Verdict
from trackprep.dates import long_form
from trackprep.explanations.wording import counted, inside, label_of, listed
from trackprep.problems import Problem
from trackprep.reports.notices import PRECEDENCE
from trackprep.reports.pages.blocks import Block, Bullets, Heading, Page, Paragraph, Table
from trackprep.reports.pages.columns import page_in_columns
from trackprep.reports.venues.naming import called
from trackprep.rider.club import Club, EventAnswer, Row, Worst
from trackprep.rules.model import Rules

MOST_NAMES = 3
"""How many rules or facts are named in a row; the others are counted."""
SPOKEN: dict[Worst, str] = {
    "ready": "ready to present",
    "not-ready": "not ready",
    "incomplete": "incomplete",
    "problem": "problem in a file",
}
_ABOUT_NO_VALUE = frozenset(
    ("unknown-fact", "unreadable-file", "unknown-ending", "derived-declared", "branch-not-fact",
     "declared-twice")
)  # fmt: skip
"""Problems whose sentence has no declared value in it."""


def club_page(club: Club) -> Page:
    """The table, what is wrong with files, and who wins."""
    titles = listed([rules.title for rules in club.rulesets], "and")
    blocks: list[Block] = [
        Paragraph(f"For an event on {long_form(club.event)}, by what was declared."),
        Heading("Riders"),
        _table(club),
        *(Paragraph(text) for text in _sums(club)),
    ]
    if told := tuple(_problems(club)):
        blocks += [Heading("Problems in files"), Bullets(told)]
    return Page(f"Riders for {titles}", tuple(blocks), PRECEDENCE)


def club_text(club: Club, width: int) -> str:
    """The same as text, its table in columns where there is room."""
    return page_in_columns(club_page(club), width)


def _table(club: Club) -> Table:
    several = len(club.rulesets) > 1
    head = ("Rider", *(["Event"] if several else []), "Answer", "Not met", "Still to declare")
    names = called(club.rulesets)
    rows: list[tuple[str, ...]] = []
    for row in club.rows:
        if not row.answers:
            every = ["every event"] if several else []
            rows.append((row.title, *every, SPOKEN["problem"], "not known", "not known"))
        for name, answer in zip(names, row.answers, strict=False):
            event = [name] if several else []
            rows.append((row.title, *event, _said(row, answer), *_details(answer)))
    return Table(f"{counted(len(club.rows), 'rider')}, required rules alone", head, tuple(rows))


def _said(row: Row, answer: EventAnswer) -> str:
    late = "; problem in a file" if row.problems else ""
    return f"{SPOKEN[answer.verdict]}{late}"


def _details(answer: EventAnswer) -> tuple[str, str]:
    rules = answer.rules
    titles = [rule.title for rule in answer.not_met]
    declare = _shortly(*_open_names(answer.declare, rules))
    narrow = _shortly(*_open_names(answer.narrow, rules), what=" more finely")
    return _shortly(titles) or "-", "; ".join(filter(None, (declare, narrow))) or "-"


def _open_names(paths: Iterable[str], rules: Rules) -> tuple[list[str], int]:
    """The labels of facts, and how many private ones go unnamed."""
    paths = tuple(paths)
    shown = [inside(label_of(path, rules)) for path in paths if not rules.facts[path].private]
    return shown, len(paths) - len(shown)


def _shortly(names: list[str], private: int = 0, *, what: str = "") -> str:
    """`5: A; B; C; 2 more`; with `what` behind the number."""
    total = len(names) + private
    if not total:
        return ""
    shown = names[:MOST_NAMES]
    rest = total - len(shown) - private
    extra = [f"{rest} more"] if rest else []
    extra += [f"{private} private"] if private else []
    return f"{total}{what}: {'; '.join([*shown, *extra])}"


def _sums(club: Club) -> Iterator[str]:
    """How many riders have which answer, for each event."""
    broken = sum(not row.answers for row in club.rows)
    for number, rules in enumerate(club.rulesets):
        verdicts = [row.answers[number].verdict for row in club.rows if row.answers]
        kinds: tuple[Verdict, ...] = ("ready", "not-ready", "incomplete")
        counts = [f"{n} {SPOKEN[kind]}" for kind in kinds if (n := verdicts.count(kind))]
        if broken:
            counts.append(f"{broken} whose files have problems")
        yield f"{rules.title}: {', '.join(counts) or 'nobody'}."


# ---- problems -------------------------------------------------------------------


def _problems(club: Club) -> Iterator[tuple[str, str]]:
    for row in club.rows:
        for problem in row.problems[:MOST_NAMES]:
            yield row.title, told(problem, club.rulesets)
        if (rest := len(row.problems) - MOST_NAMES) > 0:
            yield row.title, f"{counted(rest, 'more problem')}"


def told(problem: Problem, rulesets: Iterable[Rules]) -> str:
    """Where a problem stands, and its sentence if that gives nothing private away."""
    where = f"{problem.file}:{problem.line}" if problem.line else problem.file or "a file"
    if _may_be_shown(problem, rulesets):
        return f"{where}: {problem.message}."
    about = f"`{problem.path}`" if problem.path else "a line"
    return f"{where}: {about} cannot be used; `trackprep check {problem.file}` tells more."


def _may_be_shown(problem: Problem, rulesets: Iterable[Rules]) -> bool:
    """Whether the sentence quotes nothing that a rider wants kept to himself."""
    if problem.code in _ABOUT_NO_VALUE:
        return True
    path = problem.path
    if path is None and problem.place is not None:
        path = problem.place.source.line_text(problem.place.line).strip().split(" ")[0].lower()
    known = [rules.facts[path] for rules in rulesets if path and path in rules.facts]
    return bool(known) and not any(fact.private for fact in known)
