"""`trackprep check --what-would-do`: the report, and what would do behind the rules not met."""

from argparse import Namespace

import trackprep
from trackprep.cli.pages import tell, write
from trackprep.cli.terminal import PLAIN_WIDTH
from trackprep.cli.writing import STANDARD_OUTPUT, json_text


def show(call: Namespace, report: "trackprep.Report") -> None:
    """Prints or writes both."""
    found = report.what_would_do()
    match call.form:
        case "json":
            form = report.to_dict() | {"what_would_do": found.to_dict()}
            write(call, json_text(form))
        case "text" if call.output != STANDARD_OUTPUT:
            write(call, f"{report.text(PLAIN_WIDTH)}\n\n{found.text(PLAIN_WIDTH)}")
        case "text":
            from trackprep.cli.check import print_report

            print_report(report)
            print()
            tell(call, found.page)
        case _:
            from trackprep.reports.checks.page import report_page
            from trackprep.reports.would_do.page import would_do_blocks

            tell(call, report_page(report, would_do=would_do_blocks(found.would_do, report)))
