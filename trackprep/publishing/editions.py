"""An edition of a ruleset, as papers name it: two digests, and what people call it."""

from trackprep.frozen import frozen
from trackprep.rules.meaning import meaning_digest
from trackprep.rules.model import Rules

BYTES = "sha256/bytes-1"
NO_PROOF = (
    "A digest tells whether two files agree. It proves no author: anybody can make a paper with"
    " any digest, so take yours from the organizer."
)


@frozen
class Edition:
    """What a paper or a rule file says that it is.

    Attributes:
        bytes: The digest of the rule file's bytes, without the files that it takes in.
        meaning: The digest of what the finished ruleset asks.
    """

    ruleset: str
    edition: str
    bytes: str
    meaning: str


def edition_of(rules: Rules) -> Edition:
    """The edition that a ruleset is."""
    digest = f"{BYTES}:{rules.files[0].digest}"
    return Edition(rules.name, rules.edition, digest, meaning_digest(rules))
