"""A club's files to its riders: one rider's gear may stand in one file and the machine in another.

Files belong together where they have the same declaration title. One without a title belongs to
those in its folder whose names begin like its own: `sam.gear.rider` and `sam.machine.rider`.
"""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from attrs import evolve

from trackprep.declarations.declaration import Declaration
from trackprep.declarations.reading import read_file
from trackprep.declarations.several import read_for_all
from trackprep.frozen import frozen
from trackprep.problems import DeclarationError, Problem
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.model import Rules
from trackprep.source import Source
from trackprep.syntax.rider import parse_rider

ENDINGS = (".rider", ".toml", ".json")


@frozen(eq=False)
class RiderFile:
    """One file of a rider's, as it was read.

    Attributes:
        title: Its declaration title; None where it has none, or none can be read.
        declarations: What it declares, for each ruleset; empty where it has problems.
    """

    path: Path
    title: str | None
    declarations: tuple[Declaration, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def kin(self) -> tuple[Path, str]:
        """Its folder, and what its name begins with."""
        return self.path.parent, self.path.name.split(".")[0].casefold()


@frozen(eq=False)
class Joined:
    """The files of one rider.

    Attributes:
        title: Who, and which machine.
        declarations: What all of them declare, for each ruleset; empty where that is not known.
    """

    title: str
    files: tuple[RiderFile, ...]
    declarations: tuple[Declaration, ...]
    problems: tuple[Problem, ...]


def files_in(folder: Path) -> tuple[Path, ...]:
    """The declarations that lie in a folder, by name; not those in folders below it."""
    return tuple(
        sorted(
            path
            for path in folder.iterdir()
            if path.suffix.lower() in ENDINGS and not path.name.startswith(".") and path.is_file()
        )
    )


def read_one(path: Path, rulesets: Sequence[Rules]) -> RiderFile:
    """A file, its mistakes as values."""
    try:
        if len(rulesets) == 1:
            declarations: tuple[Declaration, ...] = (read_file(path, str(path), rulesets[0]),)
        else:
            declarations = read_for_all(path, str(path), rulesets)
    except DeclarationError as error:
        return RiderFile(path, _title_alone(path), problems=error.problems)
    title = declarations[0].title.strip()
    # A file that says nothing is called by its name.
    own = title if title not in ("", path.stem, str(path)) else None
    return RiderFile(path, own, declarations)


def _title_alone(path: Path) -> str | None:
    """The title of a file with problems."""
    if path.suffix.lower() != ".rider":
        return None
    try:
        title = parse_rider(Source(str(path), read_text(path)[0])).tree.title
    except UnreadableFileError:
        return None
    return title.strip() or None if title else None


def joined(files: Iterable[RiderFile]) -> tuple[Joined, ...]:
    """The riders of the files, in the order of their first files."""
    files = tuple(files)
    titles: dict[tuple[Path, str], set[str]] = {}
    for file in files:
        if file.title:
            titles.setdefault(file.kin, set()).add(_alike(file.title))
    groups: dict[object, list[RiderFile]] = {}
    for file in files:
        groups.setdefault(_key(file, titles.get(file.kin, set())), []).append(file)
    return tuple(_rider(tuple(group)) for group in groups.values())


def _alike(title: str) -> str:
    return " ".join(title.casefold().split())


def _key(file: RiderFile, titles: set[str]) -> object:
    """What the files of one rider share."""
    if file.title:
        return _alike(file.title)
    if len(titles) == 1:
        return next(iter(titles))
    # Of several riders whose names begin alike, nobody knows whose it is.
    return file.path if titles else file.kin


def _rider(files: tuple[RiderFile, ...]) -> Joined:
    title = next((file.title for file in files if file.title), None)
    if title is None:
        title = files[0].path.name.split(".")[0] if len(files) > 1 else files[0].path.stem
    problems = [problem for file in files for problem in file.problems]
    if problems:
        return Joined(title, files, (), tuple(problems))
    by_ruleset = list(zip(*(file.declarations for file in files), strict=True))
    twice = {problem.path: problem for parts in by_ruleset for problem in _twice(parts)}
    if twice:
        return Joined(title, files, (), tuple(twice.values()))
    return Joined(title, files, tuple(_as_one(parts) for parts in by_ruleset), ())


def _twice(parts: Sequence[Declaration]) -> Iterator[Problem]:
    """A problem for each fact that two of the files declare."""
    first: dict[str, Declaration] = {}
    for part in parts:
        for path in part.values:
            if path not in first:
                first[path] = part
                continue
            yield Problem(
                "declared-twice",
                f"`{path}` is declared in {_where(first[path], path)} and again in"
                f" {_where(part, path)}, by one rider",
                part.places.get(path),
                path=path,
                suggestion="keep one of the two; or give the riders different titles, as in"
                ' `declaration "Sam, blue mini"`',
                name=part.name,
            )


def _where(declaration: Declaration, path: str) -> str:
    place = declaration.places.get(path)
    return f"{declaration.name}:{place.line}" if place else declaration.name


def _as_one(parts: Sequence[Declaration]) -> Declaration:
    """The files' declarations as one; as old as the oldest of them."""
    first, *others = parts
    if not others:
        return first
    days = [part.declared_on for part in parts if part.declared_on]
    return evolve(
        first,
        declared_on=min(days, default=None),
        values={path: value for part in parts for path, value in part.values.items()},
        places={path: place for part in parts for path, place in part.places.items()},
        name=" + ".join(part.name for part in parts),
    )
