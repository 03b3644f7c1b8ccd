"""The command line as a real process, and small files for it to work on."""

import os
import subprocess
import sys
import tempfile
from pathlib import Path

RULES = """\
ruleset field-day "Field day"
  edition "3"
  valid from 2026-03-01 to 2026-10-31

section "Gear"

rule helmet-shell "Full-face helmet"
  require helmet.shell is full-face
  reason "A hinged chin bar can open in a fall."
  fix "Bring or hire a full-face helmet."
  source common practice

rule tread "Enough tread"
  require tyre.front.tread is at least 2 mm
  source house rule

example "A flip-front helmet is turned away"
  declare helmet.shell is modular
  expect helmet-shell is not met
"""
READY = 'declaration "Ready"\n\nhelmet.shell is full-face\ntyre.front.tread is 1/8 in\n'
FAILING = 'declaration "Failing"\n\nhelmet.shell is modular\ntyre.front.tread is 3 mm\n'
BROKEN = 'declaration "Broken"\n\nhelmet.shel is full-face\ntyre.front.tread is 2 psi\n'
HALF = 'declaration "Half"\n\nhelmet.shell is full-face\n'


class Result:
    """What a process left behind."""

    def __init__(self, done: "subprocess.CompletedProcess[bytes]") -> None:
        self.code = done.returncode
        self.out = done.stdout.decode()
        self.err = done.stderr.decode()
        assert "Traceback" not in self.err, self.err


_CACHE = tempfile.TemporaryDirectory(prefix="trackprep-")
"""In place of the user's own cache folder."""


def environment(**more: str) -> dict[str, str]:
    """The environment of a user who has set nothing special."""
    dropped = ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "TRACKPREP_TRACEBACK", "PYTHONUNBUFFERED")
    kept = {name: value for name, value in os.environ.items() if name not in dropped}
    ours = {"PYTHONPATH": str(Path(__file__).parents[1]), "XDG_CACHE_HOME": _CACHE.name}
    return {**kept, **ours, **more}


def call(folder: Path, *words: str, given: bytes = b"", **more: str) -> Result:
    """Runs `trackprep WORDS…` in the folder."""
    done = subprocess.run(
        [sys.executable, "-m", "trackprep", *words],
        check=False, cwd=folder, input=given, capture_output=True,
        env=environment(**more), timeout=60,
    )  # fmt: skip
    return Result(done)


def check(folder: Path, rider: str, *words: str) -> Result:
    """Checks a rider against the small ruleset on a fixed day."""
    return call(folder, "check", rider, "--for", "field.trackrules", "--on", "2026-06-14", *words)


def fill(folder: Path) -> None:
    """Puts the small ruleset, four riders, and a `trackprep` that a shell can call there."""
    files = {
        "field.trackrules": RULES,
        "ready.rider": READY,
        "failing.rider": FAILING,
        "half.rider": HALF,
        "broken.rider": BROKEN,
    }
    for name, text in files.items():
        (folder / name).write_text(text)
    tool = folder / "bin" / "trackprep"
    tool.parent.mkdir()
    tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m trackprep "$@"\n')
    tool.chmod(0o755)
