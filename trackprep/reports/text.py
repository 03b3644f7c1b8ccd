"""A report as text: plain, or on a terminal in colour; colour never says anything alone."""

from textwrap import fill
from typing import TYPE_CHECKING

from trackprep.reports.layout import Line, Role, report_lines

if TYPE_CHECKING:
    from rich.console import Console

    from trackprep.reports.report import Report

NARROW = 60
"""Below so many columns indents are halved, so that a phone's width is enough."""
HANGING = 2

_STYLES: dict[Role, str] = {
    "title": "bold",
    "ready": "bold green",
    "not-ready": "bold red",
    "incomplete": "bold yellow",
    "heading": "bold cyan",
    "level": "italic",
    "not-met": "bold red",
    "unsettled": "bold yellow",
    "met": "green",
    "caution": "bold magenta",
    "detail": "dim",
    "problem": "bold red",
}


def render_plain(report: "Report", width: int = 100) -> str:
    """The report without colour, in lines of at most `width` columns."""
    return "\n".join(_wrapped(line, width) for line in report_lines(report))


def render_rich(report: "Report", console: "Console") -> None:
    """Prints the report on the console: the same words, its headings in colour."""
    from rich.text import Text  # slow to import, and needed on a terminal only

    for line in report_lines(report):
        shown = _wrapped(line, console.width)
        text = Text(shown)
        style = _STYLES.get(line.role)
        if style and (line.label or line.role != "detail"):
            start = len(shown) - len(shown.lstrip())
            end = start + len(_label(line)) if line.label else len(shown)
            text.stylize(style, start, end)
        console.print(text, soft_wrap=True, highlight=False)


def print_rich(report: "Report", width: int | None = None) -> None:
    """Prints the report on standard output, in colour where that is a terminal."""
    from rich.console import Console  # slow to import, and needed on a terminal only

    render_rich(report, Console(width=width))


def _label(line: Line) -> str:
    if line.role in ("not-met", "unsettled", "met"):
        return f"{line.label} "
    return f"{line.label}: " if line.label else ""


def _wrapped(line: Line, width: int) -> str:
    if not line.text:
        return ""
    indent = line.indent // 2 if width < NARROW else line.indent
    said = _label(line) + line.text
    if indent + len(said) <= width and said.isprintable() and said == said.strip():
        return " " * indent + said  # most lines; `fill` would take a millisecond over them
    return fill(
        said,
        width,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + HANGING if line.indent else indent),
        break_long_words=False,
        break_on_hyphens=False,
    )
