"""`trackprep same-edition`: is this paper, or this rule file, the edition that I have?"""

from argparse import Namespace
from pathlib import Path

from trackprep.cli.calls import CallError, CallParser
from trackprep.cli.rulesets import PAPERS, for_riders
from trackprep.cli.terminal import say
from trackprep.explanations.wording import listed
from trackprep.frozen import frozen
from trackprep.problems import FileError, Problem
from trackprep.publishing.editions import NO_PROOF, Edition, edition_of
from trackprep.publishing.marks import carried
from trackprep.publishing.sameness import Sameness, called, judged
from trackprep.rules.files import UnreadableFileError, read_text

CODES: dict[Sameness, int] = {
    "same bytes": 0, "same meaning": 0, "other": 1, "other base": 1, "altered": 1, "cannot tell": 2,
}  # fmt: skip


@frozen
class Given:
    """A file of the call.

    Attributes:
        editions: What it is, one for each event of a page; none of what is no paper.
        unaltered: None of a rule file.
    """

    name: str
    editions: tuple[Edition, ...]
    unaltered: bool | None = None

    def beside(self, mine: "Given") -> list[tuple[Edition, Edition]]:
        """Its editions with mine of the same rulesets; the first of each, if there is none."""
        by_name = {edition.ruleset: edition for edition in mine.editions}
        both = [(one, by_name[one.ruleset]) for one in self.editions if one.ruleset in by_name]
        return both or [(self.editions[0], mine.editions[0])]


def arguments(parser: CallParser) -> None:
    """FILE… [--of RULESET]."""
    parser.epilog = (
        "Ends with 0 if all are the same edition, by their bytes or by their meaning, 1 if one is"
        f" another or was altered, 2 if it cannot be told. {NO_PROOF}"
    )
    parser.add_argument(
        "files", metavar="FILE", nargs="+",
        help="a paper as `trackprep handout` writes it, HTML or Markdown, or a rule file",
    )  # fmt: skip
    parser.add_argument(
        "--of", metavar="RULESET",
        help="the edition that you have: a rule file, or a shipped ruleset; else the first FILE",
    )  # fmt: skip


def run(call: Namespace) -> int:
    """Says of each file how it stands to the edition that the caller has; the worst code."""
    given = [_given(name) for name in call.files]
    if call.of is not None:
        mine, others = _given(call.of), given
    else:
        mine, *others = given
    if not mine.editions or mine.unaltered is False or not others:
        code = _alone(mine, others)
    else:
        say(f"{mine.name}: {_called(mine)}.")
        code = max(_tell(each, mine) for each in others)
    say()
    say(NO_PROOF)
    return code


def _given(name: str) -> Given:
    path = Path(name)
    if path.suffix.lower() not in (*PAPERS, ".txt"):
        return Given(name, (edition_of(for_riders(name).rules),))
    try:
        text, _ = read_text(path)
    except UnreadableFileError as why:
        raise FileError((Problem("unreadable-file", str(why), name=name),)) from None
    found = carried(text)
    if found is None:
        return Given(name, ())
    return Given(name, found.editions, found.unaltered)


def _tell(given: Given, mine: Given) -> int:
    if not given.editions:
        say(f"{given.name}: cannot be told: it carries no digests of trackprep.", hanging="  ")
        return CODES["cannot tell"]
    codes = []
    for edition, own in given.beside(mine):
        found = judged(edition, unaltered=given.unaltered, mine=own)
        about = f" ({edition.ruleset})" if len(given.editions) > 1 else ""
        say(f"{given.name}{about}: {found.text}", hanging="  ")
        codes.append(CODES[found.sameness])
    return max(codes)


def _called(given: Given) -> str:
    return listed([called(edition) for edition in given.editions], "and")


def _alone(mine: Given, others: list[Given]) -> int:
    """What can be said where there is nothing sound to hold the files against."""
    if not mine.editions:
        say(f"{mine.name}: cannot be told: it carries no digests of trackprep.")
        return CODES["cannot tell"]
    if mine.unaltered is False:
        say(f"{mine.name}: {judged(mine.editions[0], unaltered=False, mine=mine.editions[0]).text}")
        return CODES["altered"]
    if mine.unaltered is None:
        raise CallError(
            f"`{mine.name}` is the only file, and nothing to hold it against",
            f"`trackprep same-edition {mine.name} --of RULESET`",
        )
    say(f"{mine.name}: it says {_called(mine)}, and it is as it was made.")
    say("Whether that is the edition that you have cannot be told: name yours with --of.")
    return CODES["cannot tell"]
