"""`trackprep ask`: asks a rider what the rules of an event still have to know."""

import os
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from trackprep.cli.answers_file import ENDING, AnswersFile, rescued
from trackprep.cli.calls import CallError, CallParser, day_of
from trackprep.cli.dialogue import STEERING, Dialogue, GoneError, StoppedError, told_to_end
from trackprep.cli.main import INTERRUPTED, NOBODY_READS, TROUBLE
from trackprep.cli.rulesets import with_rules
from trackprep.cli.terminal import is_terminal, note
from trackprep.dates import long_form
from trackprep.problems import DeclarationError, Problem
from trackprep.rider.asking import Interview, interview
from trackprep.rules.files import UnreadableFileError, read_text
from trackprep.rules.model import Rules

if TYPE_CHECKING:
    from trackprep.reports.report import Report

MOST_NAMED = 20
"""Rules that are named in the end; the check names them all."""
OF_SIGNAL = 128


def arguments(parser: CallParser) -> None:
    """[RIDER] --for RULESET … [--on DATE] [-o NEW]."""
    parser.epilog = (
        "Only what can still change a rule's answer is asked. With RIDER or -o every answer is"
        " written to the file at once, and comments in it stay; without them the declaration is"
        " printed in the end. Ends with 0, or 2 if answers could not be written."
    )
    parser.add_argument(
        "rider", metavar="RIDER", nargs="?", help="a file ending in .rider to go on with"
    )
    parser.add_argument(
        "--for", dest="rulesets", metavar="RULESET", required=True, action="append",
        help="the rules: a file ending in .trackrules, or the name of a shipped ruleset;"
        " once for each event",
    )  # fmt: skip
    parser.add_argument(
        "--on", metavar="DATE", help="the day of the event, such as 2026-06-14; else today"
    )
    parser.add_argument(
        "-o", "--output", metavar="NEW", help="a new file for the answers, ending in .rider"
    )


def run(call: Namespace) -> int:
    """Asks to the end, or until the rider stops; the answers are kept."""
    day = date.today() if call.on is None else day_of(call.on)
    names = list(dict.fromkeys(call.rulesets))
    rulesets = [with_rules(name, "rule to ask for").rules for name in names]
    text = _begun_with(call.rider) if call.rider else _head(call.output, rulesets, day)
    begun = interview(rulesets, on=day, text=text, name=call.rider or call.output or "<text>")
    kept = _kept(call, text)
    return _Session(call, names, kept).carried_out(begun)


def _begun_with(name: str) -> str:
    """The text of the rider's file."""
    if not name.endswith(ENDING):
        raise CallError(
            f"`{name}` does not end in {ENDING}, and only such a file is gone on with",
            "`trackprep check` for a declaration in TOML or JSON",
        )
    try:
        return read_text(Path(name))[0]
    except UnreadableFileError as why:
        begin = None if Path(name).exists() else f"`-o {name}` begins a new one"
        raise DeclarationError(
            [Problem("unreadable-file", str(why), name=name, suggestion=begin)]
        ) from None


def _head(output: str | None, rulesets: Sequence[Rules], day: date) -> str:
    """How a new declaration begins."""
    titles = " and ".join(rules.title for rules in rulesets)
    lines = [f"# Asked for by: {titles}.", ""]
    if output:
        title = Path(output).stem.replace("\\", "\\\\").replace('"', '\\"')
        lines.append(f'declaration "{title}"')
    if date.today() <= day:
        lines.append(f"declared on {date.today().isoformat()}")
    return "\n".join(" ".join(line.split()) for line in lines).rstrip() + "\n"


def _kept(call: Namespace, text: str) -> AnswersFile:
    if call.output:
        return AnswersFile.begun(call.output, text)
    return AnswersFile.gone_on_with(call.rider, text) if call.rider else AnswersFile(None, text)


class _Session:
    """One call, from the first question to the farewell."""

    def __init__(self, call: Namespace, names: Sequence[str], kept: AnswersFile) -> None:
        self.call, self.names, self.kept = call, names, kept
        # What is printed in the end is the declaration alone where the output is kept.
        beside = kept.name is None and not is_terminal(sys.stdout)
        out: TextIO = sys.stderr if beside else sys.stdout
        self.talk = Dialogue(out)
        self.trouble_told = ""

    def carried_out(self, begun: Interview) -> int:
        """Asks and says farewell; the exit code. However it ends, the answers are kept."""
        self.now = begun
        with told_to_end():
            try:
                said, code = self.asked()
                return self.farewell(said) or code
            except GoneError as gone:
                return self.leave(OF_SIGNAL + gone.number)
            except KeyboardInterrupt:  # a second one, while the first is answered
                return self.leave(INTERRUPTED)
            except OSError:
                return self.leave(NOBODY_READS)
            except Exception:
                self.leave(TROUBLE)
                raise

    def asked(self) -> tuple[str, int]:
        """Asks; why that ended before the last question, if it did, and the exit code."""
        try:
            self.greet()
            for step in self.talk.asked(self.now):
                self.now = step
                self.keep()
        except StoppedError:
            return "Stopped.", 0
        except EOFError:
            return "There is no more input.", 0
        except KeyboardInterrupt:
            return "Interrupted.", INTERRUPTED
        return "", 0

    def keep(self) -> None:
        """Writes the answers, and says so once if they cannot be written."""
        self.kept.keep(self.now.text)
        if self.kept.trouble and self.kept.trouble != self.trouble_told:
            self.talk.say(
                f"{self.kept.name} cannot be written: {self.kept.trouble}. It is tried again after"
                " each answer; what is not written is printed in the end.", indent="  ",
            )  # fmt: skip
        self.trouble_told = self.kept.trouble

    def greet(self) -> None:
        """Says what is asked for and how to answer."""
        begun = self.now
        titles = " and ".join(rules.title for rules in begun.rulesets)
        day = "today, as no other day was asked for with --on" if self.call.on is None else ""
        where = f"Each answer is written to {self.kept.name} at once."
        self.talk.say(f"Questions for {titles}, {long_form(begun.event)}{day and f': {day}'}.")
        if begun.question is not None:
            self.talk.say(STEERING)
            self.talk.say(
                where if self.kept.name else
                "The answers are printed in the end; with `-o NEW.rider` they are kept in a file."
            )  # fmt: skip

    # ---- the end ----

    def farewell(self, said: str) -> int:
        """Says what came of it and where the answers are; 2 if they are not in their file."""
        self.keep()
        self.talk.say()
        self.talk.say(said or "Nothing more has to be asked.")
        self.talk.say()
        self.results(finished=not said)
        if self.kept.name and not self.kept.trouble:
            self.talk.say(f"Your answers are in {self.kept.name}.")
            for line in self.commands(self.kept.name, finished=not said):
                self.talk.say(line, indent="  ", hanging="      ")
            return 0
        if self.kept.name:
            self.talk.say(
                f"{self.kept.name} could not be written: {self.kept.trouble}. These are your"
                " answers; copy them into a file:"
            )
            self.talk.say()
        self.talk.out.flush()
        print(self.now.text, end="", flush=True)
        return TROUBLE if self.kept.name else 0

    def results(self, *, finished: bool) -> None:
        """The verdict of each ruleset and the rules not met; in the end the unsettled ones too."""
        # Not needed by questions.
        from trackprep.reports.checked import Checked
        from trackprep.reports.report import Report
        from trackprep.reports.verdicts import verdict_lines

        now = self.now
        for rules, declaration in zip(now.rulesets, now.declarations, strict=True):
            report = Report(Checked.made(rules, declaration, now.event))
            self.talk.heading(f"{rules.title}, {long_form(now.event)}")
            for line in verdict_lines(report):
                self.talk.say(line)
            self.named(report, "not-met", "Not met")
            if finished:
                self.named(report, "unsettled", "Unsettled")
            self.talk.say()

    def named(self, report: "Report", status: str, label: str) -> None:
        """The titles of the rules with an answer, recommended ones told apart."""
        titles = [
            answer.title + (" (recommended)" if answer.level == "recommended" else "")
            for answer in report.answers
            if answer.status == status and not answer.waits_for_inspector
        ]
        for title in titles[:MOST_NAMED]:
            self.talk.say(f"{label}: {title}", indent="  ", hanging="    ")
        if more := titles[MOST_NAMED:]:
            self.talk.say(f"{label}: {len(more)} more", indent="  ")

    def commands(self, name: str, *, finished: bool) -> Iterator[str]:
        """What to call next."""
        from shlex import quote  # not needed by questions

        on = f" --on {quote(self.call.on)}" if self.call.on is not None else ""
        every = " ".join(f"--for {quote(ruleset)}" for ruleset in self.names)
        if not finished:
            yield f"To go on: trackprep ask {quote(name)} {every}{on}"
        for ruleset in self.names:
            check = f"trackprep check {quote(name)} --for {quote(ruleset)}{on}"
            yield f"To see it all: {check}"
        if finished:
            yield f"To get done what is left: trackprep worklist {quote(name)} {every}{on}"

    def leave(self, code: int) -> int:
        """Ends where hardly anybody can be told; answers that are in no file get one."""
        self.kept.keep(self.now.text)
        if (self.kept.name is None or self.kept.trouble) and (name := rescued(self.now.text)):
            with suppress(OSError):
                note(f"The answers so far are in {name}.")
        _forget_what_nobody_takes()
        return code


def _forget_what_nobody_takes() -> None:
    """Lets Python end without trying once more to print on a terminal that is gone."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
