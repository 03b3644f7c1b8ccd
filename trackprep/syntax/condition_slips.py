"""What people write for a test of the language, and the test that they mean."""

from trackprep.problems import Problem
from trackprep.syntax.spot import Spot

_SPANS = ("year", "years", "month", "months", "week", "weeks", "day", "days")
_AFTER_AN_AGE = frozenset({"before", "old", "ago"})


def condition_slip(spot: Spot) -> Problem | None:
    """The slip that was made in a condition, or None if it is none of these."""
    return _wrong_form(spot) or _age_of_a_date(spot) or _less_sign(spot)


def _wrong_form(spot: Spot) -> Problem | None:
    """`is any of`, `is not one of`, `is in`, `at most 2 mm`, `includes "X"`, and the like."""
    for at in (spot.reached, spot.reached - 1):
        if at > spot.head and (found := _forms(spot, at)) is not None:
            wrong, right = found
            return spot.made(
                "wrong-form", f"`{wrong}` is not a test of this language", spot.place(at),
                suggestion=f"write `{right}`",
            )  # fmt: skip
    return None


def _forms(spot: Spot, at: int) -> tuple[str, str] | None:
    """The wrong form that has its telling word at a token, and the right one."""
    word, after = spot.word(at), spot.word(at + 1)
    before, two_before = spot.word(at - 1), spot.word(at - 2)
    behind = " of" if after == "of" else ""
    if before == "is" and word in ("any", "either", "in", "among", "all"):
        return f"is {word}{behind}", "is one of"
    if before == "not" and two_before == "is":
        if after == "of" or word in ("in", "any", "either", "among"):
            return f"is not {word}{behind}", "is none of"
        return None
    if at != spot.reached:
        return None
    if before == "includes" and word not in ("any", "all", "none"):
        return "includes", "includes any of"
    if spot.kind(at - 1) == "PATH":
        if word == "in":
            return "in", "is one of"
        if (word, after) in (("at", "least"), ("at", "most"), ("less", "than"), ("more", "than")):
            return f"{word} {after}", f"is {word} {after}"
    if word in ("include", "has", "have", "contains"):
        return word, "includes any of"
    return None


def _age_of_a_date(spot: Spot) -> Problem | None:
    """`helmet.made is at most 5 years before the event`: an age as reports spell it."""
    at = spot.reached
    if spot.word(at) not in _AFTER_AN_AGE or not spot.word(at - 1).endswith(_SPANS):
        return None
    verb = next((back for back in range(at - 1, spot.head, -1) if spot.word(back) == "is"), None)
    if verb is None or spot.kind(verb - 1) != "PATH":
        return None
    fact, test = spot.word(verb - 1), " ".join(spot.word(each) for each in range(verb, at))
    return spot.made(
        "wrong-form", f"`{spot.word(at)}` is not written behind an age", spot.place(at),
        suggestion=f"write `age of {fact} {test}`: it is the age on the day of the event",
    )  # fmt: skip


def _less_sign(spot: Spot) -> Problem | None:
    """`tread < 2 mm`."""
    if spot.kind(spot.reached) != "LESSTHAN" or spot.keyword in ("fact", "kind"):
        return None
    return spot.made(
        "sign-for-words", "`<` is no sign of a test", spot.place(spot.reached),
        suggestion="write `is less than`",
    )  # fmt: skip
