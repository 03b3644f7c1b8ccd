"""What proofreading finds: each in a small file that has it, and in one that just has not."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from proofreading import BASE, alone, read, supplement

import trackprep
from trackprep.analysis import solving
from trackprep.analysis.advice import ADVICE
from trackprep.analysis.findings import Finding
from trackprep.analysis.proofreading import proofread
from trackprep.analysis.witnesses import text_of
from trackprep.rules.acceptances import WEIGHTS
from trackprep.rules.own_file import OwnFile

RULE = 'rule deep "Enough tread"\n  require front is at least 2 mm\n'
FOUND: dict[str, tuple[str, str, str]] = {
    # finding: what it is about, statements that have it, and such that just have not
    "never-asked": (
        "rule deep",
        'rule deep "D"\n  when tyre is wet and tyre is race\n  require front is at least 2 mm',
        'rule deep "D"\n  when tyre is wet or tyre is race\n  require front is at least 2 mm',
    ),
    "never-met": (
        "rule deep",
        'rule deep "D"\n  require front is more than 3 mm and front is less than 3.1 mm'
        "\n  require front is at most 3 mm",
        'rule deep "D"\n  require front is at least 3 mm and front is less than 3.1 mm'
        "\n  require front is at most 3 mm",
    ),
    "never-fails": (
        "rule deep",
        'rule deep "D"\n  require front is at most 12 mm',
        'rule deep "D"\n  require front is less than 12 mm',
    ),
    "cannot-both-be-met": (
        "rule wet",
        RULE + 'rule wet "W"\n  when tyre is wet\n  require front is less than 2 mm',
        RULE + 'rule wet "W"\n  when tyre is wet\n  require front is at most 2 mm',
    ),
    "implied": (
        "rule deep",
        RULE + 'rule deeper "D"\n  require front is at least 2.1 mm',
        RULE + 'rule deeper "D"\n  when tyre is wet\n  require front is at least 2.1 mm',
    ),
    "unused-limit": (
        "limit least",
        "limit least is 2 mm\n" + RULE,
        "limit least is 2 mm\n" + RULE.replace("2 mm", "least"),
    ),
    "unused-list": (
        "list marks",
        'list marks is road, wet\nrule marked "M"\n  require tyre is one of road, wet',
        'list marks is road, wet\nrule marked "M"\n  require tyre is one of marks',
    ),
    "unused-fact": (
        "fact wired",
        'fact wired "Wired" yes or no\n' + RULE,
        'fact wired "Wired" yes or no\n' + RULE + "  require wired",
    ),
    "unused-formula": (
        "formula twice",
        "formula twice(depth in mm) in mm as depth * 2\n" + RULE,
        "formula twice(depth in mm) in mm as depth * 2\n"
        + RULE.replace("front is", "twice(front) is"),
    ),
    "unused-table": (
        "table depths",
        'kind mark one of a, b\nfact marked "M" mark\ntable depths from mark to mm\n'
        "  row a is 1 mm\n  row b is 2 mm\n" + RULE + "  require marked is a",
        'kind mark one of a, b\nfact marked "M" mark\ntable depths from mark to mm\n'
        "  row a is 1 mm\n  row b is 2 mm\n" + RULE + "  require front is at least depths(marked)",
    ),
    "example-tells-nothing": (
        'example "Shallow"',
        RULE + 'example "Shallow"\n  declare rear is 1 mm\n  expect deep is unsettled',
        RULE + 'example "Shallow"\n  declare front is 1 mm\n  expect deep is not met',
    ),
    "accepts-nothing": (
        "rule deep",
        RULE + '  accept never-met "It is meant so."',
        RULE + '  fix "Fit a tyre."\n  source common practice',
    ),
    "without-fix": (
        "rule deep",
        RULE,
        RULE + '  fix "Fit a tyre."',
    ),
    "without-source": (
        "rule deep",
        RULE,
        RULE + "  source common practice",
    ),
    "without-example": (
        "rule deep",
        RULE + 'example "Shallow"\n  declare front is 1 mm\n  expect deep is not met',
        RULE + 'example "Shallow"\n  declare front is 1 mm\n  expect deep is not met\n'
        'example "Deep"\n  declare front is 2 mm\n  expect deep is met',
    ),
}  # fmt: skip
CHANGED: dict[str, tuple[str, str, str]] = {
    # the same for what only a supplement can have
    "not-stricter": (
        "limit tread",
        "stricter limit tread is 1.9 mm",
        "stricter limit tread is 2.1 mm",
    ),
    "not-looser": (
        "rule age",
        "looser rule age\n  require age of made is at most oldest\n  require shell is full-face",
        "looser rule age\n  require age of made is at most oldest or shell is full-face",
    ),
    "core-weakened": (
        "rule shell",
        "stricter rule shell\n  require shell is one of full-face, modular",
        "stricter rule shell\n  require shell is full-face",
    ),
    "same-as-base": (
        "limit oldest",
        "stricter limit oldest is 60 months",
        "stricter limit oldest is 59 months",
    ),
    "states-old-value": (
        "limit tread",
        "amend limit tread is 2.5 mm",
        'amend limit tread is 2.5 mm\namend rule deep "Front tread of 2.5 mm"',
    ),
}


def names(own: OwnFile) -> list[tuple[str, str]]:
    return [(finding.name, finding.about) for finding in proofread(own).findings]


@pytest.mark.parametrize("name", FOUND)
def test_a_finding_is_found_where_it_is_and_nowhere_else(name: str, tmp_path: Path) -> None:
    about, has, has_not = FOUND[name]
    assert (name, about) in names(alone(tmp_path, has))
    assert (name, about) not in names(alone(tmp_path, has_not))


@pytest.mark.parametrize("name", CHANGED)
def test_a_finding_about_a_change(name: str, tmp_path: Path) -> None:
    about, has, has_not = CHANGED[name]
    assert (name, about) in names(supplement(tmp_path, has))
    assert (name, about) not in names(supplement(tmp_path, has_not))


def test_every_finding_has_its_case_and_its_page() -> None:
    assert set(FOUND) | set(CHANGED) | {"undecided"} == set(WEIGHTS) == set(ADVICE)


def test_what_takes_too_much_work_is_undecided_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = supplement(tmp_path, "stricter limit tread is 3 mm\n" + RULE.replace("deep", "deeper"))
    assert proofread(own).of("problem", "fault") == proofread(own).of("fault")
    monkeypatch.setattr(solving, "MOST_CONFLICTS", 0)
    undecided = [f for f in proofread(own).findings if f.name == "undecided"]
    assert [finding.about for finding in undecided] == ["limit tread", "rule deeper"]
    assert all("more work than is allowed" in finding.text for finding in undecided)


# ---- claims -----------------------------------------------------------------

TRUE = {
    "a limit made stricter": "stricter limit loudest is 94 dB",
    "a limit made looser": "looser limit loudest is 96 dB",
    "an age made stricter": "stricter limit oldest is 59 months",
    "a limit by rows, through a derived fact": (
        "stricter limit inner is 1.6 mm when style is mini, 2 mm otherwise"
    ),
    "a list made shorter": "stricter list covered is absent",
    "a list made longer": "looser list covered is absent, taped, bare",
    "a list that a core rule uses": "stricter list shells is full-face",
    "a core rule made stricter": "stricter rule shell\n  require shell is full-face",
    "more asked": ("stricter rule dry\n  require leaks is no\n  require front is at least 1 mm"),
    "asked of fewer": "looser rule deep\n  when style is mini",
    "another way to meet it": (
        "looser rule deep\n  require front is at least tread or tyre is wet"
    ),
    "required, no longer recommended": "stricter rule mirror\n  require mirror is one of covered",
    "recommended, no longer required": "looser rule loud\n  recommend sound is at most loudest",
}


@pytest.mark.parametrize("change", TRUE.values(), ids=TRUE)
def test_nothing_is_said_of_a_true_claim(change: str, tmp_path: Path) -> None:
    said = {finding.name for finding in proofread(supplement(tmp_path, change)).findings}
    assert said.isdisjoint({"not-stricter", "not-looser", "core-weakened", "same-as-base"})


FALSE: dict[str, tuple[str, str, str, str]] = {
    # the change: what is found, what the witness declares, how the base and this file answer
    "stricter limit loudest is 96 dB": (
        "not-stricter", "sound is 9", "loud: not-met", "loud: met",
    ),
    "looser limit loudest is 94 dB": ("not-looser", "sound is 9", "loud: met", "loud: not-met"),
    "stricter limit inner is 1.4 mm when style is mini, 3 mm otherwise": (
        "not-stricter", "style is mini", "whole: not-met", "whole: met",
    ),
    "stricter list shells is full-face, modular": (
        "core-weakened", "shell is modular", "shell: not-met", "shell: met",
    ),
    "stricter list covered is taped, bare": (
        "not-stricter", "mirror is bare", "mirror: not-met", "mirror: met",
    ),
    "looser list covered is taped, bare": (
        "not-looser", "mirror is absent", "mirror: met", "mirror: not-met",
    ),
    "stricter rule dry\n  require leaks is no or front is at least 3 mm": (
        "core-weakened", "leaks is yes\nfront is 3 mm", "dry: not-met", "dry: met",
    ),
    "stricter rule mirror\n  require mirror is one of covered or tyre is race": (
        "", "", "mirror: not-met", "mirror: met",
    ),
    "stricter rule loud\n  recommend sound is at most loudest": (
        "not-stricter", "sound is 95.1 dB", "loud: not-met", "loud: not-met",
    ),
    "looser rule mirror\n  require mirror is one of covered": (
        "not-looser", "mirror is bare", "mirror: not-met", "mirror: not-met",
    ),
    "looser rule deep\n  require front is at least tread\n  require rear is more than 0 mm": (
        "not-looser", "front is 2 mm\nrear is 0 mm", "deep: met", "deep: not-met",
    ),
    "stricter limit oldest is 61 months": (
        "not-stricter", "made is ", "age: not-met", "age: met",
    ),
}  # fmt: skip


@pytest.mark.parametrize("change", FALSE)
def test_a_false_claim_is_shown_by_a_declaration_that_slips_through(
    change: str, tmp_path: Path
) -> None:
    name, declares, base_says, own_says = FALSE[change]
    own = supplement(tmp_path, change)
    problems = proofread(own).of("problem")
    assert [problem.name for problem in problems] == ([name] if name else [])
    for problem in problems:
        assert problem.witness is not None
        rider = text_of(problem.witness, own.rules.facts, "Shown")
        assert all(line in rider for line in declares.splitlines()), rider
        assert answers("base.trackrules", rider, problem, tmp_path) == base_says
        assert answers("own.trackrules", rider, problem, tmp_path) == own_says


def answers(file: str, rider: str, problem: Finding, folder: Path) -> str:
    """What the ordinary check says of the declaration, of the rule that the problem is shown by."""
    ruleset = trackprep.read_ruleset(folder / file)
    assert problem.witness is not None
    declaration = trackprep.parse_declaration(rider, ruleset)
    report = ruleset.check(declaration, on=problem.witness.event)
    rule = problem.shown.split("`")[1]
    return next(f"{a.rule}: {a.status}" for a in report.answers if a.rule == rule)


STRENGTHS = st.sampled_from(["stricter", "looser"])


def claimed(folder: Path, change: str) -> str:
    """What is said of the only claim of a supplement; nothing where it is so."""
    told = {"not-stricter", "not-looser", "core-weakened", "same-as-base"}
    said = [f.name for f in proofread(supplement(folder, change)).findings if f.name in told]
    return ", ".join(said)


@given(tenths=st.integers(1, 119), strength=STRENGTHS)
@settings(max_examples=25)
def test_a_claim_on_a_limit_is_judged_as_by_arithmetic(
    shared: Path, tenths: int, strength: str
) -> None:
    wanted = "same-as-base" if tenths == 20 else f"not-{strength}"
    if (tenths > 20) == (strength == "stricter") and tenths != 20:
        wanted = ""
    assert claimed(shared, f"{strength} limit tread is {tenths / 10} mm") == wanted


@given(words=st.sets(st.sampled_from(["absent", "taped", "bare"]), min_size=1), strength=STRENGTHS)
@settings(max_examples=25)
def test_a_claim_on_a_list_is_judged_as_sets_are(
    shared: Path, words: set[str], strength: str
) -> None:
    base = {"absent", "taped"}
    holds = words <= base if strength == "stricter" else words >= base
    wanted = "same-as-base" if words == base else "" if holds else f"not-{strength}"
    assert claimed(shared, f"{strength} list covered is {', '.join(sorted(words))}") == wanted


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for all examples of a property; every example writes its file anew."""
    return tmp_path_factory.mktemp("shared")


def test_a_claim_on_a_limit_is_one_on_what_its_rows_decide(tmp_path: Path) -> None:
    base = (
        BASE
        + """
limit quiet "Quiet" is 99 dB when front is at least tread, 90 dB otherwise
rule quiet-enough "Quiet enough"
  require sound is at most quiet
"""
    )
    (tmp_path / "base.trackrules").write_text(base, encoding="utf-8")
    own = supplement(tmp_path, "looser limit tread is 1.5 mm")
    assert proofread(own).of("problem") == ()
    own = supplement(tmp_path, "stricter limit tread is 1.5 mm")
    (problem,) = proofread(own).of("problem")
    assert "in the rule `deep` and in `behind` and `quiet-enough`" in problem.text


def test_a_claim_on_a_base_that_does_not_stand_alone_is_undecided(tmp_path: Path) -> None:
    base = BASE.replace("is 95 dB", "is 95 mm")
    (tmp_path / "base.trackrules").write_text(base, encoding="utf-8")
    own = supplement(tmp_path, "amend limit loudest is 95 dB\nstricter limit tread is 3 mm")
    (finding,) = [f for f in proofread(own).findings if f.name == "undecided"]
    assert finding.about == "limit tread"
    assert "base.trackrules has mistakes of its own" in finding.text


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("amend rule lean\n  require front is at least 4 mm", "title of `lean` still says 5 mm"),
        ("amend rule lean\n  require front is at least 5.0 mm", None),
        ('amend rule lean "From 4 mm"\n  require front is at least 4 mm', None),
        (
            "amend rule old\n  require age of made is at most 2 years",
            "fix of `old` still says 3 years",
        ),
        ('amend rule old\n  require age of made is at most 2 years\n  fix "Buy one."', None),
    ],
)  # fmt: skip
def test_words_that_state_what_a_rule_no_longer_asks(
    change: str, said: str | None, tmp_path: Path
) -> None:
    base = (
        BASE
        + """
rule lean "From 5 mm, not 15 mm"
  require front is at least 5 mm
rule old "Young"
  require age of made is at most 3 years
  fix "Bring one of less than 3 years."
"""
    )
    (tmp_path / "base.trackrules").write_text(base, encoding="utf-8")
    found = proofread(supplement(tmp_path, change)).findings
    stale = [finding.text for finding in found if finding.name == "states-old-value"]
    assert stale == ([f"the {said}, which is changed here"] if said else [])


# ---- what is the base's own business ----------------------------------------


def test_a_supplement_does_not_repeat_what_the_base_has_already(tmp_path: Path) -> None:
    base = BASE + '\nrule deeper "Deeper"\n  require front is at least 3 mm\n'
    (tmp_path / "base.trackrules").write_text(base, encoding="utf-8")
    assert ("implied", "rule deep") in names(read(tmp_path, base, "base.trackrules"))
    assert names(supplement(tmp_path, "stricter limit loudest is 90 dB")) == [
        ("without-source", "limit loudest")
    ]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("stricter limit loudest is 90 dB", "does not say where what it asks now comes from"),
        (
            "amend rule deep\n  when tyre is wet",
            "its source is still that of the base",
        ),
    ],
)
def test_a_change_is_told_what_became_of_the_source(tmp_path: Path, change: str, said: str) -> None:
    found = proofread(supplement(tmp_path, change)).findings
    (finding,) = [each for each in found if each.name == "without-source"]
    assert said in finding.text


def test_a_supplement_tells_what_it_does_to_an_inherited_rule(tmp_path: Path) -> None:
    own = supplement(tmp_path, 'rule deeper "Deeper"\n  require front is at least 3 mm')
    (finding,) = [f for f in proofread(own).findings if f.name == "implied"]
    assert (finding.about, finding.origin.file) == ("rule deep", "base.trackrules")


def test_what_the_venue_says_of_itself_is_no_fault_of_inherited_rules(tmp_path: Path) -> None:
    assert names(supplement(tmp_path, "here leaks is no\nhere shell is motocross")) == []


def test_a_core_rule_is_held_against_the_same_event(tmp_path: Path) -> None:
    """A wet track settles what the base asks; it weakens nothing."""
    own = supplement(tmp_path, "here leaks is no\nstricter list shells is full-face")
    assert proofread(own).of("problem", "fault") == ()


def test_a_claim_holds_on_every_day_or_is_asked_of_one(tmp_path: Path) -> None:
    """Thirty days are less than a month but for the days around 1 March."""
    (tmp_path / "base.trackrules").write_text(BASE.replace("is 5 years", "is 1 month"))
    own = supplement(tmp_path, "stricter limit oldest is 30 days")
    (problem,) = proofread(own).of("problem")
    assert problem.name == "not-stricter"
    assert problem.witness is not None
    assert problem.witness.event.month == 3
    assert proofread(own, on=date(2026, 8, 14)).of("problem", "fault") == ()


# ---- accepting in place -----------------------------------------------------

ACCEPTED = {
    "rule": ("never-fails", 'rule deep "D"\n  require front is at most 12 mm'),
    "limit": ("unused-limit", "limit deep is 2 mm"),
    "list": ("unused-list", "list deep is road"),
    "fact": ("unused-fact", 'fact deep "D" yes or no'),
    "derived": ("unused-fact", 'derived deep "D" means front is at least 2 mm'),
    "formula": ("unused-formula", "formula deep(depth in mm) in mm as depth * 2"),
    "table": ("unused-table", 'kind mark one of a\ntable deep from mark to mm\n  row a is 1 mm'),
    "example": (
        "example-tells-nothing",
        'rule deep "D"\n  require front is at least 2 mm\n'
        'example "deep"\n  declare rear is 1 mm\n  expect deep is unsettled',
    ),
}  # fmt: skip


@pytest.mark.parametrize("kind", ACCEPTED)
def test_a_finding_is_accepted_below_what_it_is_about(kind: str, tmp_path: Path) -> None:
    name, statement = ACCEPTED[kind]
    own = alone(tmp_path, f'{statement}\n  accept {name} "It is meant so."')
    proof = proofread(own)
    assert proof.of("problem", "fault") == ()
    assert [(a.finding.name, a.reason) for a in proof.accepted] == [(name, "It is meant so.")]


def test_only_what_is_named_is_accepted(tmp_path: Path) -> None:
    own = alone(tmp_path, RULE + '  accept without-source "Ours."')
    assert ("without-fix", "rule deep") in names(own)
    assert ("without-source", "rule deep") not in names(own)


def test_what_the_base_accepts_is_not_accepted_for_its_supplements(tmp_path: Path) -> None:
    base = BASE.replace(
        '"Front tread of 2 mm"\n', '"Front tread of 2 mm"\n  accept implied "So."\n'
    )
    base += '\nrule deeper "Deeper"\n  require front is at least tread\n'
    base += "  require rear is at least 0 mm\n"
    (tmp_path / "base.trackrules").write_text(base, encoding="utf-8")
    assert ("implied", "rule deep") not in names(read(tmp_path, base, "base.trackrules"))
    amended = "amend rule deep\n  require front is more than 0 mm"
    assert ("implied", "rule deep") in names(supplement(tmp_path, amended))


def test_a_core_rule_may_be_amended_by_what_is_accepted_of_it(tmp_path: Path) -> None:
    change = 'looser limit tread is 0 mm\nrule leaky "L"\n  require leaks is no\n'
    assert ("implied", "rule dry") in names(supplement(tmp_path, change))
    accepting = 'amend rule dry\n  accept implied "Said twice, so that everybody hears it."\n'
    assert ("implied", "rule dry") not in names(supplement(tmp_path, accepting + change))
