"""A rider's file to values: `.rider` text here, TOML and JSON by way of a mapping."""

from datetime import date
from pathlib import Path

from trackprep.dates import span_of
from trackprep.declarations.declaration import Declaration
from trackprep.problems import DeclarationError, Problem
from trackprep.rules.declaring import declared_values
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.model import Rules
from trackprep.rules.reading import Fault
from trackprep.source import Place, Source
from trackprep.syntax import values as tree
from trackprep.syntax.rider import parse_rider


def read_file(path: Path, name: str, rules: Rules) -> Declaration:
    """The declaration in a file, by its ending: `.rider`, `.toml` or `.json`.

    Raises:
        DeclarationError: The file cannot be read, or has problems.
    """
    try:
        text, _ = read_text(path)
    except UnreadableFileError as why:
        raise DeclarationError([Problem("unreadable-file", str(why), name=name)]) from None
    match path.suffix.lower():
        case ".rider":
            return read_rider(Source(name, text), rules)
        case ".toml" | ".json" as ending:
            return _read_data(ending, text, name, rules)
        case _:
            problem = Problem(
                "unknown-ending", "the ending of this file says not what it is", name=name,
                expected="`.rider`, `.toml` or `.json`",
                suggestion="rename it, such as `sam.rider`",
            )  # fmt: skip
            raise DeclarationError([problem])


def _read_data(ending: str, text: str, name: str, rules: Rules) -> Declaration:
    # Most declarations are `.rider` files, whose check need not import these.
    from trackprep.declarations.formats import from_json, from_toml
    from trackprep.declarations.mappings import read_mapping

    data = from_toml(text, name) if ending == ".toml" else from_json(text, name)
    return read_mapping(data, rules, name)


def read_rider(source: Source, rules: Rules) -> Declaration:
    """The declaration in `.rider` text.

    Raises:
        DeclarationError: With every problem of the text.
    """
    parsed = parse_rider(source)
    file: tree.RiderFile = parsed.tree
    problems = list(parsed.problems)

    def tell(index: int, fault: Fault, *, at_value: bool) -> None:
        entry = file.entries[index]
        place = entry.path_place
        if at_value and fault.member is not None:
            place = entry.values[fault.member].place
        elif at_value and entry.values:
            last = entry.values[-1].place
            place = Place(source, entry.values[0].place.start, last.end)
        problems.append(
            Problem(
                fault.code, fault.message, place, expected=fault.expected,
                suggestion=fault.suggestion,
            )
        )  # fmt: skip

    values = declared_values(rules, ((e.path, e.values) for e in file.entries), tell)
    declared_on = _day(file.declared_on, problems) if file.declared_on else None
    if problems:
        problems.sort(key=lambda problem: problem.place.start if problem.place else 0)
        raise DeclarationError(problems)
    places: dict[str, Place | None] = {entry.path: entry.place for entry in file.entries}
    title = file.title if file.title is not None else Path(source.name).stem
    return Declaration(title, declared_on, values, places, rules, source.name)


def _day(day: tree.Day, problems: list[Problem]) -> date | None:
    try:
        span = span_of(day.text)
    except ValueError as why:
        problems.append(Problem("bad-date", str(why), day.place, expected="a date: `2026-06-10`"))
        return None
    if not span.exact:
        problems.append(
            Problem("day-missing", f"`{day.text}` is no single day", day.place,
                    expected="a date: `2026-06-10`")
        )  # fmt: skip
    return span.first
