"""Small rulesets that differ in one way each, and what a comparison says of them."""

import trackprep

HEAD = 'ruleset {name} "{title}"\n  edition "1"\n  valid from 2026-04-01 to 2026-06-30\n\n'
FACTS = """\
fact tread "Front tread depth" measured in mm from 0 mm to 12 mm
fact slick "Slick tyre" yes or no
fact pad "Pad thickness" measured in mm from 0 mm to 20 mm
fact made "Helmet made" past date

section "Machine"

"""
DEEP = 'rule tread "Enough tread"\n  require tread is at least {}\n'
PADS = 'rule pads "Enough pad"\n  require pad is at least 2 mm\n'

PAIRS: dict[str, tuple[str, str]] = {
    "same": (DEEP.format("2 mm"), DEEP.format("0.2 cm")),
    "reworded": (DEEP.format("2 mm"), DEEP.format("2 mm").replace("Enough tread", "Tread left")),
    "stricter": (DEEP.format("2 mm"), DEEP.format("3 mm")),
    "looser": (DEEP.format("3 mm"), DEEP.format("2 mm")),
    "differs both ways": (DEEP.format("2 mm"), DEEP.format("3 mm or slick")),
    "asks for more": (DEEP.format("2 mm"), DEEP.format("2 mm and (slick or not slick)")),
    "asks for less": (DEEP.format("2 mm and (slick or not slick)"), DEEP.format("2 mm")),
    "asks otherwise": (
        DEEP.format("2 mm and (slick or not slick)"),
        DEEP.format("2 mm and (pad is at least 1 mm or pad is less than 1 mm)"),
    ),
    "added": (PADS, PADS + DEEP.format("2 mm")),
    "withdrawn": (PADS + DEEP.format("2 mm"), PADS),
    "undecided": (DEEP.format("2 mm"), 'rule tread "Enough tread"\n  require tread is yes\n'),
}
"""By kind: the rules of the first ruleset, and those of the second."""


NAMES = ("north", "south")


def text(rules: str, name: str, title: str = "", facts: str = FACTS) -> str:
    """The text of a ruleset with the rules, over the few facts of this module."""
    return HEAD.format(name=name, title=title or name.capitalize()) + facts + rules


def ruleset(rules: str, name: str, title: str = "", facts: str = FACTS) -> trackprep.Ruleset:
    """The same, read."""
    return trackprep.parse_ruleset(text(rules, name, title, facts), name=f"{name}.trackrules")


def texts(kind: str) -> tuple[str, str]:
    """The texts of two rulesets that differ in the way of that kind."""
    facts = FACTS
    if kind == "undecided":
        facts = FACTS.replace('depth" measured in mm from 0 mm to 12 mm', 'depth" yes or no')
    one, other = PAIRS[kind]
    return text(one, NAMES[0]), text(other, NAMES[1], facts=facts)


def pair(kind: str) -> tuple[trackprep.Ruleset, trackprep.Ruleset]:
    """The same, read."""
    one, other = (
        trackprep.parse_ruleset(text, name=f"{name}.trackrules")
        for text, name in zip(texts(kind), NAMES, strict=True)
    )
    return one, other
