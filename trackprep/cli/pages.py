"""A page in the shape that a call asks for, printed or written to a file."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from trackprep.cli.terminal import PLAIN_WIDTH, is_rich, note, width
from trackprep.cli.writing import STANDARD_OUTPUT, write_new

if TYPE_CHECKING:
    from trackprep.reports.pages.blocks import Page

FORMS = ("text", "markdown", "html", "json")


def add_shapes(parser: ArgumentParser) -> None:
    """The arguments `--as`, `-o` and `--overwrite`."""
    parser.add_argument(
        "--as", dest="form", choices=FORMS, default="text",
        help="how to write it; HTML is one file to open in a browser",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="NEW", default=STANDARD_OUTPUT,
        help="the file to write; else it is printed",
    )  # fmt: skip
    parser.add_argument("--overwrite", action="store_true", help="write over a file that is there")


def tell(call: Namespace, page: "Page", *, whole: bool = False) -> None:
    """Prints or writes the page, with what most readers pass over only if `whole`."""
    if call.form == "text" and call.output == STANDARD_OUTPUT and is_rich():
        from trackprep.reports.pages.plain import print_page  # Rich is slow to import

        print_page(page, width=width(), whole=whole)
    else:
        write(call, _shaped(page, call, whole))


def write(call: Namespace, text: str) -> None:
    """Prints the text, or writes it to the file that the call names, and says so."""
    if write_new(call.output, text, overwrite=call.overwrite):
        note(f"{call.output} is written.")


def marked_up(page: "Page", form: str, *, whole: bool = False) -> str:
    """The page as `html`, one file to open in a browser, or as `markdown`."""
    # Each shape is imported where it is asked for.
    if form == "html":
        from trackprep.reports.pages.html import page_html

        return page_html(page)
    from trackprep.reports.pages.markdown import page_markdown

    return page_markdown(page, whole=whole)


def _shaped(page: "Page", call: Namespace, whole: bool) -> str:
    if call.form in ("html", "markdown"):
        return marked_up(page, call.form, whole=whole)
    from trackprep.reports.pages.plain import page_text

    columns = width() if call.output == STANDARD_OUTPUT else PLAIN_WIDTH
    return page_text(page, width=columns, whole=whole)
