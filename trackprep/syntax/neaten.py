"""A file in its canonical layout, with nothing lost."""

from trackprep.problems import DeclarationError, RulesetError
from trackprep.source import Source
from trackprep.syntax.parser import Parsed, parse_rider, parse_rules
from trackprep.syntax.printer import print_rider, print_rules


def neatened(source: Source) -> str:
    """The text of `source` in the canonical layout.

    Every run checks that the result means what was written: it parses to an equal
    tree, with the same comments in the same order.

    Args:
        source: A declaration if its name ends in `.rider`, else a rule file.

    Raises:
        RulesetError, DeclarationError: With every problem, if the source has any.
        AssertionError: If the check fails, which is a mistake of ours.
    """
    is_rider = source.name.endswith(".rider")
    parsed = _parsed(source, is_rider)
    if parsed.problems:
        raise (DeclarationError if is_rider else RulesetError)(parsed.problems)
    text = (print_rider if is_rider else print_rules)(parsed.tree, parsed.comments)
    printed = _parsed(Source(source.name, text), is_rider)
    # Not `assert`: this holds under `python -O` too.
    if printed.problems or printed.tree != parsed.tree or _said(printed) != _said(parsed):
        raise AssertionError(f"neatening `{source.name}` would change what it says")
    return text


def _parsed(source: Source, is_rider: bool) -> Parsed:
    return parse_rider(source) if is_rider else parse_rules(source)


def _said(parsed: Parsed) -> list[str]:
    return [comment.text for comment in parsed.comments]
