"""A rule file to start from, and what every such file begins with."""

import re
import unicodedata

from trackprep.source import Source
from trackprep.syntax.layout import quoted
from trackprep.syntax.neaten import neatened
from trackprep.syntax.words import RESERVED

LONGEST_TITLE = 200


def draft(title: str, *, year: int) -> str:
    """A rule file to change into one's own: it compiles, its example comes true, it is neat.

    Args:
        title: What people call the day.
        year: The year it is to be valid for.

    Raises:
        ValueError: The title cannot be one; the text is for its writer.
    """
    made = f"{year - 5}-01-01"  # five years before the first valid day, on which the example is run
    return neat(header(title, year) + _FROM_NOTHING.format(made=made))


def header(title: str, year: int) -> str:
    """What stands above the rules: how to go on, and the ruleset's name, title and validity."""
    title = _title(title)
    return _HEADER.format(name=name_for(title), title=quoted(title), year=year)


def neat(text: str) -> str:
    """The draft in the one layout."""
    return neatened(Source("draft.trackrules", text))


def name_for(title: str) -> str:
    """The name in a rule file for what has this title: `my-day` for "My day!"."""
    plain = unicodedata.normalize("NFKD", title.casefold()).encode("ascii", "ignore").decode()
    name = "-".join(re.findall("[a-z0-9]+", plain)) or "day"
    if name in RESERVED or not name[0].isalpha():
        name = f"day-{name}"
    return name[:60].rstrip("-")


def _title(text: str) -> str:
    title = " ".join(text.split())
    if not title:
        raise ValueError("a ruleset needs a title: the words between the quotes are missing")
    if len(title) > LONGEST_TITLE or not title.isprintable():
        raise ValueError(
            f"a title has at most {LONGEST_TITLE} characters, all of them printable: "
            f"{title[:40]!r}… is none"
        )
    return title


_HEADER = """\
# What this track day asks of riders and their machines. What stands behind a # is a comment:
# it explains the file to whoever changes it, and means nothing to the check.
#
# How to go on, in this order, with the name of this file for FILE:
#   trackprep facts FILE "tyre"    what riders can be asked about tyres
#   trackprep proofread FILE       shows every mistake
#   trackprep read-back FILE       says each rule as a plain sentence
#   trackprep rehearse FILE        runs the examples at its end
#   trackprep neaten FILE          puts the layout in order
#   trackprep handout FILE -o out  writes what you publish: the page for riders, and the sheets

ruleset {name} {title}
  # Raise the edition whenever you publish a change.
  edition "1"
  valid from {year}-01-01 to {year}-12-31
  # organizer "Your club"
  # venue "Your circuit"
  # contact "office@your-club.example"

"""

_FROM_NOTHING = """\
# The words of the trade: `trackprep facts standard` lists all that riders can be asked.
use "standard"

# A limit or a list gives a value a name, so that it stands in one place only.
limit oldest-helmet "Oldest helmet admitted" is 5 years
  source common practice

list coolants "Coolants admitted" is water, wetting-agent
  source common practice

# A section heads the rules that follow it.
section "Rider gear"

rule helmet-age "A helmet not too old"
  require age of helmet.made to the month is at most oldest-helmet
  reason "Liner and shell grow hard with age, sweat and sunlight."
  inspect "Read the month and year on the label inside."
  source common practice
  fix "Replace the helmet." takes 30 min
    parts "helmet" allow 1 week

section "Machine"

# `when` says whom a rule concerns: here, only machines that are cooled by a liquid.
rule coolant "No glycol in the cooling system"
  when engine.cooling is liquid
  require coolant.kind is one of coolants
  reason "Glycol on the track is as slippery as oil, and water does not wash it off at once."
  caution "Never open a hot radiator. Glycol is poisonous: catch it, dispose of it by local rules."
  source common practice
  fix "Drain the coolant with the engine cold, rinse, and fill with water." takes 1 h
    parts "distilled water" tools "spanner", "drain pan"
  undo "Put coolant back after the day: plain water freezes, and does not protect." takes 1 h

# `recommend` is for what should be so, and turns nobody away.
rule spare-key "A spare key"
  recommend kit.spare-key
  source common practice
  fix "Bring the spare key, and keep it off the machine." takes 5 min

# An example is a test of this file: what is declared, and what is to come of it.
# Write one more for each rule: one that meets it, one that does not.
example "A helmet on its last day, and glycol in the cooling system"
  declare helmet.made is {made}
  declare engine.cooling is liquid
  declare coolant.kind is glycol
  expect helmet-age is met
  expect coolant is not met
  expect spare-key is unsettled
"""
