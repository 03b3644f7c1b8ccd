"""How a paper says, to people, which edition it is made of."""

from collections.abc import Iterator
from pathlib import PurePath

from trackprep.explanations.wording import counted
from trackprep.publishing.editions import NO_PROOF, edition_of
from trackprep.reports.pages.blocks import Block, Heading, Pairs, Paragraph
from trackprep.rules.model import Rules


def known_again(rules: Rules, says: str) -> Iterator[Block]:
    """The digests, and what they are for.

    Args:
        says: What the paper does with the rules: `This sheet says all`.
    """
    edition = edition_of(rules)
    file = PurePath(rules.files[0].name).name  # whoever reads it has other folders
    yield Heading("To know this edition again")
    yield Paragraph(
        f"{says} {counted(len(rules.rules), 'rule')} of {file}."
        " Whoever has that file can ask “trackprep same-edition” whether this sheet is made of it"
        f" and unaltered. {NO_PROOF}"
    )
    yield Pairs((
        ("Digest of the file", edition.bytes, ""),
        ("Digest of the meaning", edition.meaning, ""),
    ))  # fmt: skip
