"""A mapping to values: a Python dictionary, or what TOML and JSON make of a file."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from trackprep.dates import span_of
from trackprep.declarations.declaration import Declaration
from trackprep.problems import DeclarationError, Problem
from trackprep.rules.declaring import declared_values
from trackprep.rules.model import Rules
from trackprep.rules.reading import Fault, Spelled, Written
from trackprep.syntax import values as tree

DEEPEST = 12
MOST_ENTRIES = 20_000
LONGEST = 30  # digits before or behind the point
TITLE, DECLARED_ON = "declaration", "declared-on"


def read_mapping(data: Any, rules: Rules, name: str = "<mapping>") -> Declaration:
    """The declaration in a mapping: nested, or with dotted keys.

    Raises:
        DeclarationError: With every problem, each under the path of its key.
    """
    problems: list[Problem] = []
    title, declared_on = name, None
    paths: list[str] = []
    entries: list[tuple[str, tuple[Written, ...]]] = []
    if not isinstance(data, Mapping):
        problem = Problem(
            "not-a-mapping", "a declaration is a table of facts and values", name=name,
            expected='such as `{"helmet": {"shell": "full-face"}}`',
        )  # fmt: skip
        raise DeclarationError([problem])
    for count, (key, value) in enumerate(_flattened(data, "", 0, problems, name)):
        if count >= MOST_ENTRIES:
            problems.append(
                Problem("too-many-entries", f"more than {MOST_ENTRIES:,} values", name=name)
            )
            break
        if key == TITLE:
            title = _title(value, problems, name)
        elif key in (DECLARED_ON, "declared_on"):
            declared_on = _declared_on(value, problems, name)
        else:
            written = as_written(value)
            if isinstance(written, Fault):
                problems.append(_at(written, key, name))
            else:
                paths.append(key)
                entries.append((key, written))

    def tell(index: int, fault: Fault, *, at_value: bool) -> None:
        problems.append(_at(fault, paths[index], name))

    values = declared_values(rules, entries, tell)
    if problems:
        raise DeclarationError(problems)
    return Declaration(title, declared_on, values, dict.fromkeys(paths), rules, name)


def _at(fault: Fault, path: str, name: str) -> Problem:
    return Problem(
        fault.code, fault.message, path=path, expected=fault.expected,
        suggestion=fault.suggestion, name=name,
    )  # fmt: skip


def _flattened(
    data: Mapping[Any, Any], head: str, depth: int, problems: list[Problem], name: str
) -> Iterator[tuple[str, Any]]:
    """Each leaf under its dotted path."""
    for key, value in data.items():
        path = f"{head}{key}"
        if not isinstance(key, str):
            problems.append(
                Problem("bad-key", f"the key `{_short(key)}` is not text", path=path, name=name)
            )
        elif isinstance(value, Mapping) and not value:
            problem = Problem("empty-table", f"`{_short(path)}` says nothing", path=path, name=name,
                              suggestion="leave it out")  # fmt: skip
            problems.append(problem)
        elif isinstance(value, Mapping):
            if depth >= DEEPEST:
                problems.append(
                    Problem(
                        "nested-too-deep",
                        f"tables lie more than {DEEPEST} deep",
                        path=path,
                        name=name,
                    )
                )
            else:
                yield from _flattened(value, path + ".", depth + 1, problems, name)
        else:
            yield (path.strip() if path in (TITLE,) else path.lower()), value


def as_written(value: Any) -> tuple[Written, ...] | Fault:
    """A value of a program's in the form of a written one."""
    match value:
        case list() | tuple() | set() | frozenset():
            members = sorted(value) if isinstance(value, set | frozenset) else value
            if all(isinstance(member, str) for member in members):
                return tuple(Spelled(member) for member in members)
            return Fault("bad-value", "a list holds choices, as text", "a list of strings")
        case str():
            return (Spelled(value),)
        case bool():
            return (tree.Flag(value),)
        case datetime():
            return Fault(
                "bad-value", "the value has a time of day", "a date alone", "leave the time out"
            )
        case date():
            return (tree.Day(value.isoformat()),)
        case int() | float() | Decimal() | Fraction():
            return _number(value)
        case _ if hasattr(value, "magnitude") and hasattr(value, "units"):
            return _pint(value)
        case _:
            kind = "nothing" if value is None else f"a {type(value).__name__}"
            return Fault(
                "bad-value", f"the value is {kind}",
                "text, a whole number, true or false, a date, or a list of text",
                "leave out what is not known",
            )  # fmt: skip


def _number(value: int | float | Decimal | Fraction) -> tuple[Written, ...] | Fault:
    try:
        text = str(value) if isinstance(value, int | Fraction) else _plainly(Decimal(str(value)))
    except (ArithmeticError, ValueError):
        text = "nan"
    if not text.lstrip("-").replace(".", "", 1).replace("/", "", 1).isdigit() or len(text) > 40:
        return Fault(
            "bad-number", f"`{_short(value)}` is no number that can be read", "a finite number"
        )
    return (tree.Number(text),)


def _plainly(value: Decimal) -> str:
    """A decimal without an exponent, if that takes no page."""
    exponent = value.as_tuple().exponent
    short = (
        isinstance(exponent, int) and abs(exponent) <= LONGEST and abs(value.adjusted()) <= LONGEST
    )
    return format(value, "f") if short else "nan"


def _pint(value: Any) -> tuple[Written, ...] | Fault:
    """A Pint quantity of the caller's own."""
    from trackprep.units import from_pint, to_base, written  # Pint is there already

    try:
        number, its_unit = from_pint(value)
    except (TypeError, ValueError) as why:
        return Fault("bad-value", str(why), "a quantity in a unit that is read here")
    text = written(to_base(number, its_unit), its_unit)
    if text is None:
        return Fault("bad-number", f"`{_short(value)}` has too many digits", "a shorter number")
    return (Spelled(text),)


def _title(value: Any, problems: list[Problem], name: str) -> str:
    if isinstance(value, str):
        return value
    problems.append(
        Problem("bad-value", "the title is not text", path=TITLE, name=name, expected="text")
    )
    return ""


def _declared_on(value: Any, problems: list[Problem], name: str) -> date | None:
    if isinstance(value, date):
        return date(value.year, value.month, value.day)
    try:
        span = span_of(str(value))
    except ValueError as why:
        problems.append(Problem("bad-date", str(why), path=DECLARED_ON, name=name))
        return None
    return span.first if span.exact else None


def _short(value: object) -> str:
    text = str(value) if not isinstance(value, int) or abs(value) < 10**60 else "a huge number"
    return text if len(text) <= 40 else text[:39] + "…"
