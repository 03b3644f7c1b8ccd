"""Files to trees: a rule file with the vocabularies and bases it names.

A file may come from a stranger: nothing outside the first file's folder is
read, nothing absolute, no link that leads out; size, depth and number of files
are bounded. Only this module touches rule files.
"""

from functools import cached_property, lru_cache
from pathlib import Path, PurePosixPath

from trackprep.frozen import frozen
from trackprep.problems import Problem
from trackprep.published import ENDING, shipped_names, shipped_path
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.model import FileUsed
from trackprep.rules.precompiled import StoredVocabulary, files_of, stored_vocabulary
from trackprep.rules.reporting import Reporter, nearest
from trackprep.source import Source
from trackprep.syntax import tree
from trackprep.syntax.parser import parse_rules

MOST_FILES = 64
DEEPEST = 16
STANDARD = "standard"


@frozen(eq=False, slots=False)
class Loaded:
    """A file as read, with what it uses and the ruleset it supplements.

    Attributes:
        implicit: Whether the standard vocabulary was added because nothing was named.
        missing: Whether something it names could not be read, so that names may be unknown.
        stored: Of a shipped vocabulary, its compiled form; its text is parsed when looked at.
    """

    source: Source
    used: FileUsed
    uses: tuple["Loaded", ...] = ()
    base: "Loaded | None" = None
    implicit: bool = False
    missing: bool = False
    stored: StoredVocabulary | None = None
    _parsed: tree.RuleFile | None = None

    @cached_property
    def file(self) -> tree.RuleFile:
        """The tree of the text."""
        if self._parsed is not None:
            return self._parsed
        read: tree.RuleFile = parse_rules(self.source).tree
        return read

    @property
    def files(self) -> tuple[FileUsed, ...]:
        """Every file that had a part, this one first, each once."""
        found: dict[str, FileUsed] = {}
        waiting = [self]
        while waiting:
            here = waiting.pop(0)
            key = here.used.path or here.used.name
            if key not in found:
                found[key] = here.used
                waiting.extend(here.uses)
                if here.base is not None:
                    waiting.append(here.base)
        return tuple(found.values())


def load(
    source: Source, digest: str, folder: Path | None, reporter: Reporter, path: Path | None = None
) -> Loaded:
    """The file of `source` with all it names; `folder` bounds what it may name."""
    loader = _Loader(folder, reporter)
    if path is not None:
        loader.open.append(str(path.resolve()))
    return loader.file(source, digest, folder, path)


def load_shipped(name: str, reporter: Reporter) -> Loaded:
    """A shipped file by its name."""
    loaded, problems = _shipped(name)
    for problem in problems:
        reporter.add(problem)
    return loaded


@lru_cache(maxsize=64)
def _shipped(name: str) -> tuple[Loaded, tuple[Problem, ...]]:
    """A shipped file is read once in a process: it does not change under us."""
    stored = _stored(name)
    return (stored, ()) if stored is not None else load_written(name)


def load_written(name: str) -> tuple[Loaded, tuple[Problem, ...]]:
    """A shipped file as it is written, whatever its compiled form says; and its problems."""
    path = shipped_path(name)
    assert path is not None, name
    reporter = Reporter()
    text, digest = read_text(path)
    loader = _Loader(None, reporter)
    loader.open.append(name)
    loaded = loader.file(Source(path.name, text), digest, None, path, shipped=True)
    return loaded, reporter.in_order()


def _stored(name: str) -> Loaded | None:
    """A shipped vocabulary in its compiled form, if that is of the files as they are."""
    stored, path = stored_vocabulary(name), shipped_path(name)
    if stored is None or path is None:
        return None
    text, digest = read_text(path)
    used = FileUsed(path.name, digest, True, str(path.resolve()))
    if (path.name, digest) != stored.made_of[0]:
        return None
    uses = tuple(_shipped(name)[0] for name in stored.uses)
    loaded = Loaded(Source(path.name, text), used, uses, stored=stored)
    return loaded if stored.made_of == files_of(loaded.files) else None


class _Loader:
    """One walk over the files that a file names, each read once."""

    def __init__(self, root: Path | None, reporter: Reporter) -> None:
        self.root = root.resolve() if root else None
        self.reporter = reporter
        self.loaded: dict[str, Loaded] = {}
        self.open: list[str] = []

    def file(
        self,
        source: Source,
        digest: str,
        folder: Path | None,
        path: Path | None,
        *,
        shipped: bool = False,
    ) -> Loaded:
        """The file with what it names taken in."""
        parsed = parse_rules(source)
        for problem in parsed.problems:
            self.reporter.add(problem)
        file: tree.RuleFile = parsed.tree
        uses: list[Loaded] = []
        base: Loaded | None = None
        named = [s for s in file.statements if isinstance(s, tree.Uses)]
        unread = any(u.keyword in ("use", "supplements") for u in file.unread)
        missing = unread
        for statement in named:
            if statement.keyword == "supplements" and base is not None:
                self.reporter.report(
                    "said-twice", "a ruleset supplements one base, and this is a second",
                    statement.place, suggestion="keep one; a base may itself supplement another",
                )  # fmt: skip
                continue
            found = self.named(statement, folder)
            if found is None or found.missing:
                missing = True
            if found is not None and statement.keyword == "supplements":
                base = found if self.is_kind(found, "ruleset", statement) else None
                missing = missing or base is None
            elif found is not None and self.is_kind(found, "vocabulary", statement):
                uses.append(found)
        heading = next((s for s in file.statements if isinstance(s, tree.Heading)), None)
        ruleset = heading is None or heading.keyword == "ruleset"
        implicit = ruleset and not named and not unread
        if implicit:
            uses.append(load_shipped(STANDARD, self.reporter))
        used = FileUsed(source.name, digest, shipped, str(path.resolve()) if path else "")
        return Loaded(source, used, tuple(uses), base, implicit, missing, parsed=file)

    def is_kind(self, found: Loaded, wanted: str, statement: tree.Uses) -> bool:
        if found.stored is not None and wanted == "vocabulary":
            return True
        heading = next((s for s in found.file.statements if isinstance(s, tree.Heading)), None)
        if heading is None or heading.keyword == wanted:
            return True
        other = "use" if wanted == "ruleset" else "supplements"
        self.reporter.report(
            "wrong-kind-of-file",
            f"`{statement.file}` is a {heading.keyword}, not a {wanted}",
            statement.place,
            suggestion=f'write `{other} "{statement.file}"`',
        )
        return False

    def named(self, statement: tree.Uses, folder: Path | None) -> Loaded | None:
        """The file that a `use` or `supplements` names, or None after a problem."""
        name = statement.file
        if len(self.open) >= DEEPEST or len(self.loaded) >= MOST_FILES:
            self.refuse(statement, "files name one another too deeply", "use fewer files")
            return None
        if not name.endswith(ENDING):
            return self.shipped_named(statement)
        if folder is None or self.root is None:
            self.refuse(
                statement, f"`{name}` cannot be looked up: this text lies in no folder",
                "read the ruleset from a file, or give its folder",
            )  # fmt: skip
            return None
        path = self.inside(statement, folder)
        if path is None:
            return None
        key = str(path)
        if self.in_circle(key, statement):
            return None
        if key not in self.loaded:
            self.open.append(key)
            loaded = self.read(path, statement, folder)
            self.open.pop()
            if loaded is None:
                return None
            self.loaded[key] = loaded
        return self.loaded[key]

    def read(self, path: Path, statement: tree.Uses, folder: Path) -> Loaded | None:
        try:
            text, digest = read_text(path)
        except UnreadableFileError as why:
            # The ending that all share is no likeness.
            others = [other.stem for other in folder.glob(f"*{ENDING}")]
            near = nearest(statement.file.removesuffix(ENDING), others)
            advice = f'write "{near}{ENDING}"' if near else "mend the name, or put the file there"
            self.refuse(statement, f"`{statement.file}`: {why}", advice)
            return None
        return self.file(Source(statement.file, text), digest, path.parent, path)

    def inside(self, statement: tree.Uses, folder: Path) -> Path | None:
        """The path named, if it lies in the first file's folder."""
        assert self.root is not None
        written = PurePosixPath(statement.file.replace("\\", "/"))
        if (
            "\0" in statement.file
            or written.is_absolute()
            or ".." in written.parts
            or ":" in statement.file
        ):
            self.refuse(
                statement, f"`{statement.file}` lies outside this file's folder",
                "copy the file beside this one, and name it without folders above",
            )  # fmt: skip
            return None
        try:
            path = (folder / written).resolve()
        except (OSError, RuntimeError):
            path = Path("/")
        if not path.is_relative_to(self.root):
            self.refuse(
                statement, f"`{statement.file}` leads out of this file's folder",
                "copy the file beside this one",
            )  # fmt: skip
            return None
        return path

    def shipped_named(self, statement: tree.Uses) -> Loaded | None:
        name = statement.file
        if name not in shipped_names():
            near = nearest(name, shipped_names())
            self.reporter.report(
                "unknown-file", f"no file called `{name}` is shipped", statement.place,
                expected=f"a shipped name, or a file ending in `{ENDING}`",
                suggestion=f'write `{statement.keyword} "{near or name + ENDING}"`',
            )  # fmt: skip
            return None
        if self.in_circle(name, statement):
            return None
        return load_shipped(name, self.reporter)

    def in_circle(self, key: str, statement: tree.Uses) -> bool:
        if key not in self.open:
            return False
        self.refuse(
            statement, f"`{statement.file}` leads back to itself",
            "take one of the lines of the circle out",
        )  # fmt: skip
        return True

    def refuse(self, statement: tree.Uses, message: str, suggestion: str | None) -> None:
        self.reporter.add(Problem("unusable-file", message, statement.place, suggestion=suggestion))
