"""The command line at a real terminal: colour, width, the Tab key, Ctrl-C."""

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pexpect  # type: ignore[import-untyped]
import pytest
from processes import environment

COLOUR = re.compile(r"\x1b\[[0-9;]*m")


def shown(folder: Path, *words: str, columns: int = 80, **more: str) -> tuple[str, int]:
    """What a terminal shows of `trackprep WORDS…`, and the exit code."""
    env = environment(**{"TERM": "xterm-256color", **more})
    terminal = pexpect.spawn(
        sys.executable, ["-m", "trackprep", *words],
        cwd=str(folder), env=env, dimensions=(50, columns), timeout=60, encoding="utf-8",
    )  # fmt: skip
    said = terminal.read()
    terminal.close()
    return said.replace("\r\n", "\n"), terminal.exitstatus


CHECK = ("check", "failing.rider", "--for", "field.trackrules", "--on", "2026-06-14")


def test_a_terminal_gets_colour(folder: Path) -> None:
    said, code = shown(folder, *CHECK)
    assert code == 1
    assert COLOUR.search(said)
    assert "Full-face helmet" in COLOUR.sub("", said)


def test_no_color_is_respected(folder: Path) -> None:
    said, code = shown(folder, *CHECK, NO_COLOR="1")
    assert code == 1
    coloured = re.compile(r"\x1b\[[0-9;]*(?:3[0-9]|4[0-9]|9[0-7])[;m]")
    assert not coloured.search(said)


def test_a_dumb_terminal_gets_plain_text(folder: Path) -> None:
    said, code = shown(folder, *CHECK, TERM="dumb")
    assert code == 1
    assert "\x1b" not in said
    assert "Full-face helmet" in said


@pytest.mark.parametrize("term", ["xterm-256color", "dumb"])
@pytest.mark.parametrize("columns", [50, 120])
def test_what_is_shown_fits_the_terminal(folder: Path, columns: int, term: str) -> None:
    calls = (CHECK, ("facts", "field.trackrules"), ("read-back", "tarn-hollow"))
    for words in calls:
        said, _ = shown(folder, *words, columns=columns, TERM=term)
        widest = max(len(line.rstrip()) for line in COLOUR.sub("", said).splitlines())
        assert columns // 2 < widest <= columns, words


def test_ctrl_c_ends_quietly(folder: Path) -> None:
    terminal = pexpect.spawn(
        sys.executable, ["-c", WAITING], cwd=str(folder), env=environment(), timeout=60
    )
    terminal.expect("waiting")
    terminal.sendintr()
    rest = terminal.read().decode()
    terminal.close()
    assert terminal.exitstatus == 130
    assert "Traceback" not in rest


# Says when it is in the middle of a command, so that the test need not guess.
WAITING = """
import sys
from trackprep.cli.main import main
read = sys.stdin.buffer.read
class Slow:
    def read(self, size):
        print("waiting", flush=True)
        return read(size)
class Stdin:
    buffer = Slow()
sys.stdin = Stdin()
sys.exit(main(["neaten", "-"]))
"""


# ---- the Tab key ----------------------------------------------------------------------


@pytest.fixture
def shell(folder: Path) -> Iterator[pexpect.spawn]:
    """A bash with completion switched on as the help says."""
    if not (bash := shutil.which("bash")):
        pytest.skip("there is no bash")
    env = environment(PATH=f"{folder / 'bin'}:{os.environ['PATH']}", TERM="dumb", PS1="$ ")
    terminal = pexpect.spawn(
        bash, ["--norc", "--noprofile", "-i"],
        cwd=str(folder), env=env, timeout=30, encoding="utf-8", dimensions=(50, 200),
    )  # fmt: skip
    terminal.sendline("bind 'set show-all-if-ambiguous on'; bind 'set bell-style none'")
    terminal.sendline('eval "$(trackprep --completion bash)"; echo swit""ched')
    terminal.expect_exact("switched")
    yield terminal
    terminal.close(force=True)


@pytest.mark.parametrize(
    ("typed", "completed"),
    [
        ("trackprep proof", "trackprep proofread "),
        ("trackprep check fail", "trackprep check failing.rider "),
        ("trackprep check failing.rider --for tarn", "--for tarn-hollow "),
        ("trackprep check failing.rider --for fie", "--for field.trackrules "),
        ("trackprep draft x --like comm", "--like common-practice "),
        ("trackprep check failing.rider --as js", "--as json "),
        ("trackprep check failing.rider --o", "--on "),
        ("trackprep measure tyre", "trackprep measure tyre-code "),
        ("trackprep measure pressure 31psi --set-al", "--set-altitude "),
    ],
)
def test_the_tab_key_completes(shell: pexpect.spawn, typed: str, completed: str) -> None:
    shell.send(f"{typed}\t")
    shell.expect_exact(completed)


@pytest.mark.parametrize("name", ["bash", "zsh", "fish"])
def test_there_is_a_script_for_each_shell(folder: Path, name: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "trackprep", "--completion", name],
        check=True, capture_output=True, env=environment(), timeout=60,
    )  # fmt: skip
    script = done.stdout.decode()
    assert "trackprep" in script
    assert "_ARGCOMPLETE" in script
    if tool := shutil.which(name):
        subprocess.run([tool, "-n"], input=done.stdout, check=True, timeout=30)


def test_a_reader_killed_by_a_signal_is_no_error(folder: Path) -> None:
    done = subprocess.run(
        ["bash", "-c", "trackprep facts standard | head -1; exit ${PIPESTATUS[0]}"],
        check=False, capture_output=True, timeout=60, cwd=folder,
        env=environment(PATH=f"{folder / 'bin'}:{os.environ['PATH']}"),
    )  # fmt: skip
    assert done.stdout.decode().count("\n") == 1
    assert done.stderr == b""
    assert done.returncode in (0, 128 + signal.SIGPIPE)
