"""Rulesets written as rule files, for tests of what a comparison says."""

import trackprep

FACTS = """
kind bike-class one of road, race, classic
fact bike.class "Class" bike-class
fact bike.tread "Tread" measured in mm from 0 mm to 20 mm
fact bike.depth "Depth" measured in mm from 0 mm to 20 mm
fact bike.wear "Wear" graded new < worn < bald
fact bike.limit "Worn at most" graded new < worn < bald
fact bike.labels "Labels" several of first, second, third
fact bike.tyre "Tyre" week code
fact bike.serviced "Serviced" past date
fact bike.until "Valid until" date
fact bike.links "Links" count from 90 to 130
fact bike.clean "Clean" yes or no
fact bike.washed "Washed" yes or no
fact track.surface "Surface" one of dry, wet
"""
JUNE = "2026-06-01 to 2026-06-30"


def ruleset(
    body: str, name: str = "meadow", valid: str = JUNE, facts: str = FACTS
) -> trackprep.Ruleset:
    """A ruleset of these statements."""
    text = f'ruleset {name} "Meadow"\n  valid from {valid}\n{facts}\n{body}\n'
    return trackprep.parse_ruleset(text, name=name)


def rule(*clauses: str, name: str = "tread", title: str = "Tread") -> str:
    """A rule of these clauses."""
    indented = "".join(f"  {clause}\n" for clause in clauses)
    return f'rule {name} "{title}"\n{indented}  reason "Grip."\n  source house rule\n'
