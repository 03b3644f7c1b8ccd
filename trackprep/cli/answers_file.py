"""Answers kept in the rider's file while they are given: written at once, and never lost."""

import codecs
import os
import tempfile
from contextlib import suppress
from pathlib import Path

from attrs import define

from trackprep.cli.calls import CallError
from trackprep.cli.writing import replace, write_new

ENDING = ".rider"
RESCUED = "trackprep-answers"
"""How the file of last resort is called."""


@define
class AnswersFile:
    """The file that answers are kept in, if the rider named one.

    Attributes:
        name: As the rider wrote it; None where answers are only printed in the end.
        text: What the file had when it was last read or written.
        trouble: Why the newest answers are not in it; nothing where they are.
    """

    name: str | None
    text: str = ""
    trouble: str = ""
    _mark: bytes = b""

    @classmethod
    def gone_on_with(cls, name: str, text: str) -> "AnswersFile":
        """A file that is there, of which `text` was read.

        Raises:
            CallError: It may not be written.
        """
        folder = Path(os.path.realpath(name)).parent
        if not (os.access(name, os.W_OK) and os.access(folder, os.W_OK)):
            raise CallError(
                f"`{name}` may not be written, so that no answer would be kept",
                "`-o NEW.rider` in a folder of your own: it takes over what is declared",
            )
        with open(name, "rb") as file:
            mark = codecs.BOM_UTF8 if file.read(3) == codecs.BOM_UTF8 else b""
        return cls(name, text, mark=mark)

    @classmethod
    def begun(cls, name: str, text: str) -> "AnswersFile":
        """A new file with the text.

        Raises:
            CallError: There is one of that name, or it is no declaration's name.
            OSError: It cannot be written.
        """
        if not name.endswith(ENDING):
            raise CallError(
                f"`{name}` does not end in {ENDING}, as a declaration has to",
                f"`-o {name}{ENDING}`",
            )
        if os.path.lexists(name) and not os.path.isdir(name):
            raise CallError(
                f"`{name}` is there already, and stays as it is",
                f"`trackprep ask {name} --for RULESET` to go on with it, or another name",
            )
        write_new(name, text, overwrite=False)
        return cls(name, text)

    def keep(self, text: str) -> None:
        """Writes the text into the file, whole; what stands in the way becomes the trouble."""
        if self.name is None or (text == self.text and not self.trouble):
            return
        path = Path(self.name)
        try:
            if path.read_bytes() != self._bytes(self.text):
                self.trouble = "somebody else has changed it meanwhile, and it stays as it is now"
                return
            replace(path, self._bytes(text).decode())
        except OSError as error:
            self.trouble = (error.strerror or str(error)).lower()
            return
        self.text, self.trouble = text, ""

    def _bytes(self, text: str) -> bytes:
        return self._mark + text.encode()


def rescued(text: str) -> str | None:
    """The name of a new file with the text, here or among temporary ones, if one can be made."""
    for folder in (".", tempfile.gettempdir()):
        for number in range(1, 100):
            name = str(Path(folder) / f"{RESCUED}{f'-{number}' if number > 1 else ''}{ENDING}")
            with suppress(CallError, OSError):
                write_new(name, text, overwrite=False)
                return name
            if not os.path.lexists(name):
                break  # it is not the name that stands in the way
    return None
