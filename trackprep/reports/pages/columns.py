"""A table in columns, for text that is wide enough: cells are wrapped, never cut."""

from io import StringIO

from trackprep.reports.pages.blocks import Block, Page, Table
from trackprep.reports.pages.plain import NARROW, page_text, printable


def page_in_columns(page: Page, width: int) -> str:
    """The page as text, its tables in columns where `width` has room for them."""
    texts: list[str] = []
    title, blocks = page.title, list[Block]()
    for block in page.blocks:
        if not isinstance(block, Table):
            blocks.append(block)
            continue
        texts += [page_text(Page(title, tuple(blocks)), width=width), columns(block, width)]
        title, blocks = "", []
    texts.append(page_text(Page(title, tuple(blocks), page.footer), width=width))
    # A page without a title begins with an empty line, which keeps it from the table.
    return "\n".join(text.rstrip("\n") for text in texts) + "\n"


def columns(table: Table, width: int) -> str:
    """The table in lines of at most `width` columns; on a narrow one, a row is a paragraph."""
    if width < NARROW:
        # The page's own way with a table, without the title of a page.
        return page_text(Page("", (table,)), width=width).lstrip("\n")
    # Rich is slow to import, and a call that prints no table need not pay for it.
    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table as Grid
    from rich.text import Text

    grid = Grid(box=SIMPLE_HEAD, show_edge=False, pad_edge=False, collapse_padding=True)
    for head in table.head:
        grid.add_column(Text(printable(head)), overflow="fold")
    for row in table.rows:
        grid.add_row(*(Text(printable(cell)) for cell in row))
    page = StringIO()
    console = Console(
        file=page, width=width, no_color=True, force_terminal=False, legacy_windows=False,
        _environ={},
    )  # fmt: skip
    console.print(grid, highlight=False)
    lines = [line.rstrip() for line in page.getvalue().splitlines()]
    return f"\n{printable(table.caption)}\n\n" + "\n".join(lines) + "\n"
