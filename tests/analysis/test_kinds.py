"""What a difference is called, and the declaration that shows it, read again and checked."""

from datetime import date

import pytest
from written import FACTS, rule, ruleset

import trackprep
from trackprep.analysis.comparisons import MIRRORED, Kind, RuleDifference, Shown
from trackprep.analysis.differences import compared
from trackprep.analysis.sides import SharedFacts
from trackprep.analysis.witnesses import text_of

Row = tuple[str, str, Kind, str, str]
"""Both bodies, the kind, and the declarations that show what is lost, and what is gained.

Where nothing is either, the one that shows what is asked for beside.
"""
ROWS: dict[str, Row] = {
    # ---- every kind ----
    "the same words": (rule("require bike.clean"), rule("require bike.clean"), "same", "", ""),
    "the same in other words": (
        rule("require bike.tread is at least 2 mm"),
        rule("require not bike.tread is less than 0.2 cm"),
        "same", "", "",
    ),
    "another reason": (
        rule("require bike.clean"), rule("require bike.clean", "inspect \"Look.\""), "reworded",
        "", "",
    ),
    "a higher limit": (
        rule("require bike.tread is at least 2 mm"), rule("require bike.tread is at least 3 mm"),
        "stricter", "bike.tread is 2 mm", "",
    ),
    "a lower limit": (
        rule("require bike.tread is more than 3 mm"), rule("require bike.tread is at least 3 mm"),
        "looser", "", "bike.tread is 3 mm",
    ),
    "other ends of a range": (
        rule("require bike.tread is between 2 mm and 5 mm"),
        rule("require bike.tread is between 3 mm and 6 mm"),
        "differs both ways", "bike.tread is 2 mm", "bike.tread is 6 mm",
    ),
    "a fact asked beside": (
        rule("require bike.clean"),
        rule("require bike.clean", "require bike.washed or not bike.washed"),
        "asks for more", "bike.clean is yes", "",
    ),
    "a fact asked no more": (
        rule("require bike.clean", "require bike.washed or not bike.washed"),
        rule("require bike.clean"),
        "asks for less", "", "bike.clean is yes",
    ),
    "another fact asked": (
        rule("require bike.clean or not bike.clean"),
        rule("require bike.washed or not bike.washed"),
        "asks otherwise", "bike.clean is yes", "",
    ),
    "a rule more": ("", rule("require bike.clean"), "added", "bike.clean is no", ""),
    "a rule less": (rule("require bike.clean"), "", "withdrawn", "", "bike.clean is no"),
    "now recommended": (
        rule("require bike.clean"), rule("recommend bike.clean"), "looser", "", "bike.clean is no",
    ),
    "both recommended": (
        rule("recommend bike.tread is at least 2 mm"),
        rule("recommend bike.tread is at least 3 mm"),
        "stricter", "bike.tread is 2 mm", "",
    ),
    # ---- every kind of fact ----
    "a choice more": (
        rule("require bike.class is road"), rule("require bike.class is one of road, race"),
        "looser", "", "bike.class is race",
    ),
    "choices told by what they are not": (
        rule("require bike.class is not classic"),
        rule("require bike.class is one of road, race"), "same", "", "",
    ),
    "a grade": (
        rule("require bike.wear is less than bald"), rule("require bike.wear is new"),
        "stricter", "bike.wear is worn", "",
    ),
    "a grade against another fact": (
        rule("require bike.wear is at most bike.limit"),
        rule("require bike.wear is less than bike.limit"),
        "stricter", "bike.wear is new; bike.limit is new", "",
    ),
    "members of a set": (
        rule("require bike.labels includes any of first, second"),
        rule("require bike.labels includes all of first, second"),
        "stricter", "bike.labels is second", "",
    ),
    "a count has nothing between two": (
        rule("require bike.links is more than 100"), rule("require bike.links is at least 101"),
        "same", "", "",
    ),
    "a count": (
        rule("require bike.links is at most 110"), rule("require bike.links is less than 110"),
        "stricter", "bike.links is 110", "",
    ),
    "a range that nothing lies beyond": (
        rule("require bike.tread is at most 20 mm or bike.clean"),
        rule("require bike.tread is at least 0 mm or bike.clean"), "same", "", "",
    ),
    "a past date": (
        rule("require age of bike.serviced is at most 2 years"),
        rule("require age of bike.serviced is less than 2 years"),
        "stricter", "bike.serviced is 2024-06-01", "",
    ),
    "an age to the month": (
        rule("require age of bike.serviced to the month is at most 1 years"),
        rule("require age of bike.serviced is at most 1 years"),
        "stricter", "bike.serviced is 2025-06-01", "",
    ),
    "no past date lies after the event": (
        rule("require bike.serviced is on or before event.date"),
        rule("require bike.serviced is on or before 2026-12-31"), "same", "", "",
    ),
    "a date may": (
        rule("require bike.until is on or after event.date"),
        rule("require bike.until is on or after 2026-06-10"),
        "differs both ways", "bike.until is 2026-06-09", "bike.until is 2026-06-10",
    ),
    "a week code": (
        rule("require age of bike.tyre is at most 5 years"),
        rule("require age of bike.tyre is at most 6 years"),
        "looser", "", 'bike.tyre is "2121"',
    ),
    "an age of a week code, a day more": (
        # No week has Sunday the 7th for some events and not for others: told by days.
        rule("require bike.tyre is on or after 2021-06-06"),
        rule("require bike.tyre is on or after 2021-06-05"), "same", "", "",
    ),
    "completed years": (
        rule("require completed years of bike.serviced is at least 2"),
        rule("require age of bike.serviced is at least 2 years"), "same", "", "",
    ),
    # ---- arithmetic ----
    "a line in one fact": (
        rule("require bike.tread * 2 + 1 mm is at least 5 mm"),
        rule("require bike.tread is at least 2 mm"), "same", "", "",
    ),
    "several facts that can never differ": (
        rule("require bike.tread - bike.depth is at least 2 mm"),
        rule("require bike.tread is at least bike.depth + 2 mm"), "same", "", "",
    ),
    "several facts": (
        rule("require bike.tread - bike.depth is at least 2 mm"),
        rule("require bike.tread - bike.depth is at least 2 mm and bike.tread is at least 5 mm"),
        "stricter", "bike.tread is 4.9 mm; bike.depth is 0 mm", "",
    ),
    "a ratio": (
        rule("require bike.tread / bike.depth is at least 50 %"),
        rule("require bike.tread * 2 is at least bike.depth"),
        "looser", "", "bike.tread is 10 mm; bike.depth is 0 mm",
    ),
    "rounding": (
        rule("require bike.tread rounded to 1 mm is at least 3 mm"),
        rule("require bike.tread is at least 2.5 mm"), "same", "", "",
    ),
    "a formula by rows": (
        'formula grip(deep in mm) "Grip" in mm\n  as deep when deep is more than 5 mm\n'
        "  as deep / 2 otherwise\n  source house rule\n"
        + rule("require grip(bike.tread) is at least 2 mm"),
        rule("require bike.tread is at least 4 mm"), "same", "", "",
    ),
    "a table": (
        'table least "Least" from bike-class to mm\n  row road is 2 mm\n  row race is 3 mm\n'
        "  row classic is 1 mm\n  source house rule\n"
        + rule("require bike.tread is at least least(bike.class)"),
        rule("require bike.tread is at least 2 mm"),
        "differs both ways", "bike.tread is 1 mm; bike.class is classic",
        "bike.tread is 2 mm; bike.class is race",
    ),
    "a table without a row": (
        'table least "Least" from bike-class to mm\n  row road is 2 mm\n  row race is 2 mm\n'
        "  row classic is none\n  source house rule\n"
        + rule("require bike.tread is at least least(bike.class)"),
        rule("require bike.tread is at least 2 mm"), "looser", "",
        "bike.tread is 2 mm; bike.class is classic",
    ),
    "a limit by rows": (
        "limit least is 2 mm when bike.class is road, 3 mm otherwise\n"
        + rule("require bike.tread is at least least"),
        "limit least is 2 mm\n" + rule("require bike.tread is at least least"),
        "looser", "", "bike.tread is 2 mm; bike.class is race",
    ),
    # ---- conditions ----
    "asked of fewer": (
        rule("require bike.clean"), rule("when bike.class is race", "require bike.clean"),
        "looser", "", "bike.class is road; bike.clean is no",
    ),
    "at least two of three": (
        rule("require at least 2 of bike.clean, bike.washed is yes"),
        rule("require bike.clean and bike.washed"), "same", "", "",
    ),
    # ---- what the event settles ----
    "settled here by the second": (
        rule("require bike.clean or track.surface is dry"),
        "here track.surface is wet\n" + rule("require bike.clean or track.surface is dry"),
        "stricter", "bike.clean is no; track.surface is dry", "",
    ),
    "settled here by both": (
        "here track.surface is dry\n" + rule("require bike.clean or track.surface is wet"),
        "here track.surface is dry\n" + rule("require bike.clean"), "same", "", "",
    ),
}  # fmt: skip


def difference(one: trackprep.Ruleset, other: trackprep.Ruleset) -> RuleDifference:
    (found,) = compared(one.rules, other.rules).rules
    return found


def checked_again(
    shown: Shown | None, rulesets: tuple[trackprep.Ruleset, ...], found: RuleDifference
) -> str:
    """The declaration's text, once the public check has said of it what the comparison says."""
    if shown is None:
        return ""
    facts = SharedFacts.of([ruleset.rules for ruleset in rulesets]).facts
    text = text_of(shown.witness, facts, "Shown")
    pairs = zip(rulesets, (found.one, found.other), (shown.one, shown.other), strict=True)
    for read_by, its, status in pairs:
        if its is None:
            assert status == ""
            continue
        declaration = trackprep.parse_declaration(text, read_by)
        report = read_by.check(declaration, on=shown.witness.event)
        assert [a.status for a in report.answers if a.rule == its.name] == [status]
    return "; ".join(text.splitlines()[2:])


@pytest.mark.parametrize("title", ROWS)
def test_a_difference_is_named_and_shown(title: str) -> None:
    first, second, kind, lost, gained = ROWS[title]
    one, other = ruleset(first), ruleset(second)
    found = difference(one, other)
    assert (found.kind, found.undecided) == (kind, "")
    shown = [
        checked_again(its, (one, other), found) for its in (found.lost, found.gained, found.more)
    ]
    if kind.startswith("asks"):
        assert shown == ["", "", lost or gained]
    else:
        assert shown == [lost, gained, ""]


@pytest.mark.parametrize("title", ROWS)
def test_a_difference_mirrors_itself(title: str) -> None:
    first, second, kind, lost, gained = ROWS[title]
    found = difference(ruleset(second), ruleset(first))
    assert found.kind == MIRRORED[kind]
    if not kind.startswith("asks"):
        assert (bool(found.lost), bool(found.gained)) == (bool(gained), bool(lost))


def test_the_table_has_every_kind() -> None:
    named = {kind for _, _, kind, _, _ in ROWS.values()} | {"undecided"}
    assert named == set(MIRRORED)


# ---- facts that the two define differently ------------------------------------


def with_type(its_type: str) -> str:
    return FACTS.replace("measured in mm from 0 mm to 20 mm", its_type, 1)


def test_values_that_both_can_read_are_compared() -> None:
    clauses = rule("require bike.tread is at most 15 mm or bike.clean")
    one, other = (
        ruleset(clauses),
        ruleset(rule("require bike.tread is at most 14 mm or bike.clean")),
    )
    assert difference(one, other).kind == "stricter"
    narrow = with_type("measured in cm from 0 cm to 1.4 cm")
    other = ruleset(rule("require bike.tread is at most 14 mm or bike.clean"), facts=narrow)
    assert difference(one, other).kind in ("same", "reworded")


def test_types_that_share_no_value_are_undecided() -> None:
    one = ruleset(rule("require bike.tread is at least 2 mm"))
    other = ruleset(rule("require bike.tread"), facts=with_type("yes or no"))
    found = compared(one.rules, other.rules)
    assert [clash.path for clash in found.clashes] == ["bike.tread"]
    assert [rule.kind for rule in found.rules] == ["undecided"]
    assert "no value can be read by both" in found.rules[0].undecided
    assert (found.lost, found.gained) == (None, None)
    assert len(found.undecided) == 1
    back = compared(other.rules, one.rules)
    assert (back.rules[0].kind, back.undecided) == ("undecided", found.undecided)


def test_what_does_not_hang_on_them_is_found_all_the_same() -> None:
    more = rule("require bike.clean", name="clean", title="Clean")
    one = ruleset(rule("require bike.tread is at least 2 mm or bike.washed"))
    body = rule("require bike.tread or bike.washed") + more
    other = ruleset(body, facts=with_type("yes or no"))
    found = compared(one.rules, other.rules)
    assert found.lost is not None
    assert found.lost.rules == ("clean",)
    assert found.gained is None
    assert found.undecided


# ---- rules of other names, and rules that restate ------------------------------


def test_rules_of_other_names_are_paired_by_what_they_are_about() -> None:
    one = ruleset(rule("require bike.tread is at least 2 mm", name="tread"))
    other = ruleset(rule("require bike.tread is at least 3 mm", name="depth-of-tread"))
    found = difference(one, other)
    assert (found.kind, found.renamed) == ("stricter", True)


def test_a_rule_that_others_ask_already_restates() -> None:
    clean, tread = (
        rule("require bike.clean", name="clean"),
        rule("require bike.tread is at least 2 mm"),
    )
    more = rule("require bike.clean or bike.washed", name="washed")
    found = compared(ruleset(clean + tread).rules, ruleset(clean + tread + more).rules)
    added = [rule for rule in found.rules if rule.kind == "added"]
    assert [(rule.rule.name, rule.restates) for rule in added] == [("washed", True)]
    assert (found.lost, found.gained, found.undecided) == (None, None, ())
    new = rule("require bike.washed", name="washed")
    found = compared(ruleset(clean + tread).rules, ruleset(clean + tread + new).rules)
    assert [rule.restates for rule in found.rules if rule.kind == "added"] == [False]
    assert found.lost is not None
    assert (found.lost.verdict, found.lost.rules) == ("not-ready", ("washed",))


# ---- the days ------------------------------------------------------------------


def test_a_difference_on_one_day_of_the_season_is_found() -> None:
    """An age of a year falls short of a fixed day on some days of June alone."""
    one = ruleset(rule("require age of bike.serviced is at most 1 years"))
    other = ruleset(
        rule("require age of bike.serviced is at most 1 years or bike.serviced is 2025-05-29")
    )
    found = difference(one, other)
    assert found.kind == "looser"
    assert found.gained is not None
    assert found.gained.witness.event == date(2026, 6, 1)
    late = "2026-06-29 to 2026-06-30"
    other = ruleset(
        rule("require age of bike.serviced is at most 1 years or bike.serviced is 2025-06-29"),
        valid=late,
    )
    found = difference(one, other)
    assert found.kind == "looser"
    assert found.gained is not None
    assert found.gained.witness.event == date(2026, 6, 30)


def test_a_single_day_may_be_asked_for() -> None:
    one = ruleset(rule("require bike.until is on or after event.date"))
    other = ruleset(rule("require bike.until is on or after 2026-06-10"))
    kinds = [
        compared(one.rules, other.rules, on=date(2026, 6, day)).rules[0].kind for day in (9, 10, 11)
    ]
    assert kinds == ["stricter", "same", "looser"]


@pytest.mark.parametrize(
    ("second", "first_day", "last_day", "why"),
    [
        ("2026-06-15 to 2026-07-31", "2026-06-15", "2026-06-30", "the days on which all are valid"),
        ("2027-03-01 to 2027-03-31", "2027-03-01", "2027-03-31",
         "no day has all of them valid: the days of the latest"),
    ],
)  # fmt: skip
def test_period_is_told(second: str, first_day: str, last_day: str, why: str) -> None:
    one, other = (
        ruleset(rule("require bike.clean")),
        ruleset(rule("require bike.clean"), valid=second),
    )
    period = compared(one.rules, other.rules).period
    assert (period.first.isoformat(), period.last.isoformat(), period.why) == (
        first_day, last_day, why,
    )  # fmt: skip


def test_a_day_that_one_reads_as_past_is_compared_where_both_read_it() -> None:
    """A date that may lie after the event at one, and may not at the other."""
    clause = rule("require bike.until is on or before event.date")
    one = ruleset(clause)
    other = ruleset(clause, facts=FACTS.replace('"Valid until" date', '"Valid until" past date'))
    assert difference(one, other).kind == "same"
    stricter = rule("require bike.until is on or before 2026-05-31")
    other = ruleset(stricter, facts=FACTS.replace('"Valid until" date', '"Valid until" past date'))
    found = difference(one, other)
    assert found.kind == "stricter"
    assert checked_again(found.lost, (one, other), found) == "bike.until is 2026-06-01"


def test_what_the_event_settles_for_later_counts_as_undeclared() -> None:
    """Until the day comes on which the venue's own past date lies, nothing settles it."""
    served = "require age of bike.serviced is at most 1 years or bike.clean"
    one = ruleset("here bike.serviced is 2026-06-10\n" + rule(served))
    other = ruleset(rule("require bike.clean"))
    kinds = [
        compared(one.rules, other.rules, on=date(2026, 6, day)).rules[0].kind for day in (9, 10)
    ]
    assert kinds == ["same", "stricter"]
    assert difference(one, other).kind == "stricter"
