"""What `trackprep rehearse` shows and writes of what the examples leave untried."""

from trackprep.analysis.coverage import Coverage, coverage
from trackprep.cli.terminal import note, say, width, wrapped
from trackprep.cli.writing import write_new
from trackprep.drafting.examples import suggested
from trackprep.reports.coverage import coverage_lines, coverage_summary
from trackprep.rules.own_file import OwnFile


def untried(file: OwnFile, *, every: bool) -> Coverage:
    """What the examples of a file try, and what they leave; of `every` rule, or of its own."""
    return coverage(file, every=every)


def print_coverage(name: str, found: Coverage) -> None:
    """Prints it rule by rule."""
    print()
    columns = width()
    for depth, line in coverage_lines(found, columns):
        indent = " " * depth
        # What fits is left as it is: its columns stand below each other.
        if len(line) + depth <= columns:
            print(f"{indent}{line}".rstrip())
        else:
            print(wrapped(line, indent=indent, hanging=f"{indent}  ", columns=columns))
    say(f"{name}: {coverage_summary(found)}")


def print_suggestions(name: str, found: Coverage, output: str, *, overwrite: bool) -> None:
    """Writes the examples that are missing; says on standard error how many."""
    made = suggested(found)
    if made.unwritten:
        note(f"{made.unwritten} more could not be written with numbers that a file can have")
    if not made.count:
        note(f"{name}: there is nothing to suggest")
        return
    several = "1 example" if made.count == 1 else f"{made.count} examples"
    if write_new(output, made.text, overwrite=overwrite):
        note(f"{output} is written: {several} to paste at the end of {name}, after reading them")
    else:
        note(f"{several} to paste at the end of {name}, after reading them")
