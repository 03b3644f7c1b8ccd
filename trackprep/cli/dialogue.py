"""Questions put to a rider, line by line: at a terminal, or from a pipe."""

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from io import TextIOWrapper
from types import FrameType
from typing import TextIO

from attrs import define, field

from trackprep.cli.terminal import is_terminal, width, wrapped
from trackprep.problems import Problem
from trackprep.questions import how_to_look, offers
from trackprep.rider.asking import Interview, Question
from trackprep.rider.asking_answers import answer_words, command_of, numbered

PROMPT = "> "
STEERING = (
    "Type each answer and press Enter. `?` shows the question again, `don't know` leaves it for"
    " later, `back` returns to the one before, `stop` ends; you can go on another time."
)


class StoppedError(Exception):
    """The rider has had enough for now."""


class GoneError(Exception):
    """The terminal is gone, or the process is told to end."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(number)


@define
class Dialogue:
    """Asks on a stream."""

    out: TextIO
    _heading: str = field(default="", init=False)

    def say(self, text: str = "", *, indent: str = "", hanging: str | None = None) -> None:
        """Prints a paragraph."""
        said = text and wrapped(text, indent=indent, hanging=hanging, columns=width(self.out))
        print(said, file=self.out)

    def asked(self, interview: Interview) -> Iterator[Interview]:
        """Each step, to the end of the questions.

        Raises:
            StoppedError: The rider has typed `stop`.
            EOFError: There is no more input.
        """
        while (question := interview.question) is not None:
            self.show(question)
            interview = self.step(interview, question)
            yield interview

    def step(self, interview: Interview, question: Question) -> Interview:
        """The interview after the next thing that it can use is typed."""
        while True:
            typed = self.typed()
            match command_of(typed):
                case "stop":
                    raise StoppedError
                case "?":
                    self.show(question)
                case "don't know":
                    return interview.not_known()
                case "back":
                    before = interview.back()
                    if before is not None:
                        return before
                    self.say("This is the first question.", indent="  ")
                case None if not typed.strip() and question.why == "again":
                    return interview.kept()
                case None:
                    after = interview.answered(typed)
                    if not isinstance(after, Problem):
                        return after
                    self.show_problem(after)

    def typed(self) -> str:
        """The next line; `EOFError` where there is none."""
        if sys.stdin is None:
            raise EOFError
        if is_terminal(sys.stdin) and is_terminal(self.out) and self.out is sys.stdout:
            return input(PROMPT)
        print(PROMPT, end="", file=self.out, flush=True)
        line = sys.stdin.readline()
        if not line:
            print(file=self.out)
            raise EOFError
        line = line.rstrip("\r\n")
        if not is_terminal(sys.stdin):
            print(line, file=self.out)  # so that what is kept of the output can be read
        return line

    # ---- showing ----

    def show(self, question: Question) -> None:
        """Prints a question: its part where that is new, cautions, how to look, the choices."""
        fact = question.fact
        if question.heading != self._heading:
            self._heading = question.heading
            left = f"{question.most_left} question" + ("s" if question.most_left > 1 else "")
            self.say()
            self.heading(question.heading)
            self.say(f"Up to {left} left.")
        self.say()
        self.say(fact.ask or f"{fact.label}?")
        for line in _before(question):
            self.say(line, indent="  ", hanging="    ")
        if fact.caution:
            self.say(f"Caution: {fact.caution}", indent="  ", hanging="    ")
        if fact.how:
            self.say(how_to_look(fact), indent="  ", hanging="  ")
        self.show_choices(question)
        self.say(f"Answer: {answer_words(fact).replace('`', '')}", indent="  ", hanging="    ")

    def heading(self, text: str) -> None:
        """Prints a heading."""
        bold = is_terminal(self.out)
        lines = wrapped(text, columns=width(self.out))
        print(f"\x1b[1m{lines}\x1b[0m" if bold else f"{lines}\n{'=' * len(text)}", file=self.out)

    def show_choices(self, question: Question) -> None:
        """Prints the choices, each with its number where they have one."""
        choices = offers(question.fact)
        column = max((len(choice.word) for choice in choices), default=0)
        for number, choice in enumerate(choices, 1):
            mark = f"{number:>2}" if numbered(question.fact) else " -"
            self.say(
                f"{mark}  {choice.word:<{column}}  {choice.label}".rstrip(),
                indent="  ",
                hanging=" " * (column + 8),
            )

    def show_problem(self, problem: Problem) -> None:
        """Prints what is wrong with an answer."""
        self.say(
            f"{problem.message[:1].upper()}{problem.message[1:]}.", indent="  ", hanging="    "
        )
        if problem.expected:
            self.say(f"expected: {problem.expected}", indent="    ", hanging="      ")
        if problem.suggestion:
            self.say(f"try: {problem.suggestion}", indent="    ", hanging="      ")


def _before(question: Question) -> Iterator[str]:
    """What to know before answering, besides cautions."""
    match question.why:
        case "too coarse":
            yield (
                f"Declared is {question.declared}. A rule has to know it finer: the month, or"
                " better the day."
            )
        case "after the event":
            yield f"Declared is {question.declared}, which lies after the event."
        case "again":
            said = f"Declared is {question.declared}" if question.declared else "Not known so far"
            yield f"{said}; Enter alone leaves it so."
        case "undeclared":
            pass
    if "check again" in question.fact.marks:
        yield "This wears or works loose: look again shortly before the day."


@contextmanager
def told_to_end() -> Iterator[None]:
    """Inside, a terminal that goes away raises `GoneError` instead of ending the process."""

    def gone(number: int, _frame: FrameType | None) -> None:
        raise GoneError(number)

    if isinstance(sys.stdin, TextIOWrapper):
        encoding = None if sys.stdin.isatty() else "utf-8"
        sys.stdin.reconfigure(encoding=encoding, errors="replace")
        if sys.stdin.isatty():
            with_line_editing()
    names = ("SIGHUP", "SIGTERM")
    numbers = [getattr(signal, name) for name in names if hasattr(signal, name)]
    before = [(number, signal.signal(number, gone)) for number in numbers]
    try:
        yield
    finally:
        for number, handler in before:
            signal.signal(number, handler)


def with_line_editing() -> None:
    """Lets the arrow keys work in what is typed, where Python has what that needs."""
    try:
        import readline
    except ImportError:
        return
    readline.set_auto_history(True)
