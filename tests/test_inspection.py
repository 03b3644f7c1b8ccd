"""The inspection sheet as an inspector gets it, blank and by rider."""

import re
import shutil
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from processes import call
from test_handout import ATTACK, FEIGNED, words
from thorough import THOROUGH

import trackprep
from trackprep.explanations.wording import value_text
from trackprep.publishing.closely import NEAR
from trackprep.publishing.inspection import blank_sheet, riders_sheet
from trackprep.publishing.margins import MARGINS
from trackprep.publishing.marks import carried
from trackprep.publishing.presented import Presented
from trackprep.reports.checks.discreet import discreetly_told, is_private
from trackprep.reports.pages.blocks import Page, Tick
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown
from trackprep.reports.pages.plain import page_text
from trackprep.ruleset import Ruleset

HERE = Path(__file__).parent / "inspections"
RULESETS = Path(__file__).parents[1] / "rulesets"
VENUES = ("common-practice", "fenwhistle", "marrowfell", "sallowgate", "tarn-hollow")
DEMOS = ("dale", "ilse", "nadia", "petra", "sam")
EVENT = date(2026, 6, 14)
MADE = ("heath-day-inspection.md", "heath-day-inspection-riders.md")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(HERE / "heath-day.trackrules", tmp_path)
    shutil.copytree(HERE / "riders", tmp_path / "riders")
    return tmp_path


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheets of three riders, of whom one's declaration has problems."""
    folder = tmp_path_factory.mktemp("inspection")
    shutil.copy(HERE / "heath-day.trackrules", folder)
    shutil.copytree(HERE / "riders", folder / "riders")
    (folder / "said.txt").write_text(
        "\n".join(map(str, handed_out(folder, "--riders", "riders", "--on", "2026-06-14")))
    )
    return folder


def papers(folder: Path) -> list[Path]:
    """What is handed out of the inspection."""
    return sorted((folder / "out").glob("*-inspection*"))


def handed_out(folder: Path, *words: str) -> tuple[int, str]:
    done = call(folder, "handout", "heath-day.trackrules", "-o", "out", *words)
    return done.code, " ".join(done.err.split())


def by_rider(ruleset: Ruleset, *texts: str, on: date = EVENT) -> Page:
    """The pages of riders with these declarations."""
    reports = [ruleset.check(trackprep.parse_declaration(text, ruleset), on=on) for text in texts]
    riders = [Presented(report.declaration.title, report) for report in reports]
    return riders_sheet(ruleset.rules, riders, on)


def boxes(page: Page) -> list[str]:
    """The titles of the points, in order."""
    found = (block.label for block in page.blocks if isinstance(block, Tick))
    return [label.removesuffix(" (recommended)") for label in found]


# ---- what it says ----


@pytest.mark.parametrize("name", MADE)
def test_it_reads_so(made: Path, name: str) -> None:
    assert (made / "out" / name).read_text() == (HERE / name).read_text()


@pytest.mark.parametrize("name", MADE)
def test_html_and_text_say_what_markdown_says(made: Path, name: str) -> None:
    html = words((made / "out" / name).with_suffix(".html").read_text())
    shown = (made / "out" / name).read_text().rpartition("\n```\n")[0].rpartition("\n```\n")[0]
    for line in shown.splitlines():
        plain = re.sub(r"^ *- (\[ \])?|^[-# ]+|\*\*|\\", "", line)
        for part in plain.split(": "):
            assert part.strip() in html, part


def test_as_text_a_rule_has_its_box_and_its_reasons() -> None:
    ruleset = trackprep.read_ruleset(HERE / "heath-day.trackrules")
    page = by_rider(ruleset, (HERE / "riders" / "ann.rider").read_text())
    lines = [line.strip() for line in page_text(page, width=200).splitlines()]
    at = lines.index("☐ Young helmet: Read the label inside.")
    assert lines[at + 2] == "Declared: July 2021"
    assert lines[at + 3].startswith("- Look closely: Near a limit: met up to 31 July 2026")


@pytest.mark.parametrize("venue", VENUES)
def test_blank_every_rule_has_one_box(venue: str) -> None:
    rules = trackprep.read_ruleset(venue).rules
    page = blank_sheet(rules)
    assert boxes(page) == [rule.title for rule in rules.rules]
    text = page_markdown(page)
    for rule in rules.rules:
        assert rule.inspect in text
        assert all(caution in text for caution in rule.cautions)


@pytest.mark.parametrize("venue", VENUES)
@pytest.mark.parametrize("demo", DEMOS)
def test_every_rule_that_is_asked_of_a_rider_has_one_box(venue: str, demo: str) -> None:
    ruleset = trackprep.read_ruleset(venue)
    text = (RULESETS / f"{demo}.rider").read_text()
    answers = ruleset.check(trackprep.parse_declaration(text, ruleset), on=EVENT).answers
    page = by_rider(ruleset, text)
    assert boxes(page) == [one.title for one in answers if one.status != "not-asked"]
    said = page_markdown(page)
    spared = [one.title for one in answers if one.status == "not-asked"]
    assert f"**Not asked of this rider, as declared:** {'; '.join(spared)}." in said
    for one in answers:
        if one.status == "not-met":
            assert re.search(rf"\*\*{re.escape(one.title)}.*\n(  .*\n)*.*Not met as declared", said)


@pytest.mark.parametrize("venue", VENUES)
def test_nothing_ever_passed(venue: str) -> None:
    """Who is ready is ready to present, and the inspector decides."""
    ruleset = trackprep.read_ruleset(venue)
    page = by_rider(ruleset, *((RULESETS / f"{demo}.rider").read_text() for demo in DEMOS))
    said = page_markdown(page)
    assert not re.search(r"\bpass(ed|es)?\b", said, re.IGNORECASE)
    for sheet in (said, page_markdown(blank_sheet(ruleset.rules))):
        assert "**Who decides:** The inspector, always" in sheet
        assert "Machine and helmet are presented again, before the next session" in sheet
    assert said.count("**After a fall:**") == len(DEMOS)


# ---- near a limit ----


def small(*facts: str, demand: str, more: str = "") -> Ruleset:
    lines = [f'fact {fact.partition(" ")[0]} "{fact.partition(" ")[0].capitalize()}" '
             f'{fact.partition(" ")[2]}' for fact in facts]  # fmt: skip
    return trackprep.parse_ruleset(
        "\n".join(['ruleset small "Small"', *lines, more, f'rule r "R" require {demand}'])
    )


def near(ruleset: Ruleset, *values: str, on: date = EVENT) -> list[str]:
    text = page_markdown(by_rider(ruleset, "\n".join(['declaration "D"', *values]), on=on))
    return re.findall(rf"{NEAR}[^\n]*?(?=\.\n|\. {NEAR})", text)


LENGTH = "a measured in mm from 0 mm to 900 mm"
OTHER = "b measured in mm from 0 mm to 900 mm"
LEVEL = "a measured in dB from 0 dB to 200 dB"
HEAT = "a measured in °C from 0 °C to 900 °C"


@pytest.mark.parametrize(
    ("fact", "demand", "value", "is_near"),
    [
        # A tenth of a limit, from memory.
        (LENGTH, "a is at least 10 mm", "10 mm", True),
        (LENGTH, "a is at least 10 mm", "11 mm", True),
        (LENGTH, "a is at least 10 mm", "11.001 mm", False),
        (LENGTH, "a is at least 10 mm", "0.433 in", True),
        (LENGTH, "a is at least 10 mm", "7/16 in", False),
        (LENGTH, "a is at most 10 mm", "9 mm", True),
        (LENGTH, "a is at most 10 mm", "8.999 mm", False),
        (LENGTH, "a is less than 10 mm", "9.9 mm", True),
        (LENGTH, "a is between 10 mm and 40 mm", "11 mm", True),
        (LENGTH, "a is between 10 mm and 40 mm", "20 mm", False),
        (LENGTH, "a is between 10 mm and 40 mm", "36 mm", True),
        (LENGTH, "not a is more than 10 mm", "9.5 mm", True),
        # Nothing is near a limit that it does not keep: that is told as not met.
        (LENGTH, "a is at least 10 mm", "9.9 mm", False),
        # A tenth of nothing is nothing.
        (LENGTH, "a is at least 0 mm", "0 mm", False),
        # Levels and temperatures have no zero to count a tenth from.
        (LEVEL, "a is at most 95 dB", "92 dB", True),
        (LEVEL, "a is at most 95 dB", "91.9 dB", False),
        (HEAT, "a is at most 100 °C", "95 °C", True),
        (HEAT, "a is at most 100 °C", "94.9 °C", False),
        (HEAT, "a is at most 100 °C", "203 °F", True),
        # Counts are right or wrong.
        ("a count from 0 to 90", "a is at least 10", "10", False),
    ],
)
def test_near_a_limit(fact: str, demand: str, value: str, is_near: bool) -> None:
    assert bool(near(small(fact, demand=demand), f"a is {value}")) is is_near


def test_how_near_is_said_in_the_rules_unit_and_of_the_limit() -> None:
    (said,) = near(small(LENGTH, demand="a is at least 10 mm"), "a is 10.7 mm")
    assert said == "Near a limit: a 10.7 mm, asked at least 10 mm: 0.7 mm away, 7 % of the limit"
    (said,) = near(small(LENGTH, demand="a is at least 10 mm"), "a is 10 mm")
    assert said.endswith(": just at it")
    (said,) = near(small(LEVEL, demand="a is at most 95 dB"), "a is 94 dB")
    assert said.endswith(": 1 dB away")


@pytest.mark.parametrize(
    ("demand", "a", "b", "is_near"),
    [
        ("a is at least 10 mm or b is at least 10 mm", 10.5, 50, False),
        ("a is at least 10 mm or b is at least 10 mm", 10.5, 5, True),
        ("a is at least 10 mm or b is at least 10 mm", 10.5, 10.5, True),
        ("a is at least 10 mm and b is at least 10 mm", 10.5, 50, True),
        ("at least 1 of a, b is at least 10 mm", 10.5, 50, False),
        ("a is at least b", 50, 49, True),
        ("a is at least b", 50, 20, False),
    ],
)
def test_of_several_ways_only_what_the_answer_hangs_on(
    demand: str, a: float, b: float, is_near: bool
) -> None:
    found = near(small(LENGTH, OTHER, demand=demand), f"a is {a} mm", f"b is {b} mm")
    assert bool(found) is is_near


def test_of_a_limit_by_rows_the_row_that_holds() -> None:
    more = "limit least is 10 mm when b is at least 50 mm, 30 mm otherwise"
    ruleset = small(LENGTH, OTHER, demand="a is at least least", more=more)
    assert near(ruleset, "a is 31 mm", "b is 20 mm")
    assert not near(ruleset, "a is 31 mm", "b is 80 mm")


AGE = small("a date", demand="age of a is at most 1 year")


@pytest.mark.parametrize(
    ("made", "is_near"),
    [
        ("2025-06-14", True),  # a year old on the day, too old the day after
        ("2025-08-12", True),  # too old from 13 August: 60 days after the event
        ("2025-08-13", False),
        ("2025-06-13", False),  # too old: not met
    ],
)
def test_an_age_is_near_within_sixty_days(made: str, is_near: bool) -> None:
    assert bool(near(AGE, f"a is {made}")) is is_near


def test_the_margins_are_told_where_something_is_near_alone() -> None:
    ruleset = small(LENGTH, demand="a is at least 10 mm")
    pages = [page_markdown(by_rider(ruleset, f"a is {size} mm")) for size in (10.5, 20)]
    assert [MARGINS in page for page in pages] == [True, False]


# ---- private facts ----

PRIVATE = trackprep.parse_ruleset(
    'ruleset secrets "Secrets"\n'
    'fact size "Size" measured in mm from 0 mm to 900 mm private\n'
    'fact open-size "Open size" measured in mm from 0 mm to 900 mm\n'
    'fact born "Born" past date private\n'
    'fact rank "Rank" graded low < middle < high private\n'
    'limit least is 10 mm when size is at least 50 mm, 30 mm otherwise\n'
    'rule size-least "Size" require size is at least 40 mm\n'
    'rule old "Old" require completed years of born is at least 18\n'
    'rule young "Young" require completed years of born is at most 60\n'
    'rule same "Same" require open-size is at least size\n'
    'rule by-row "By row" require open-size is at least least\n'
    'rule graded "Graded" require rank is at least middle\n'
    'fact bought "Bought" past date private\n'
    'derived share "Share" as 100 mm / [size - 60 mm]\n'
    'rule shared "Shared" require share is at least 1\n'
    'rule new "New" require age of bought is at most 10 years\n'
    'rule coarse "Coarse" require bought is on or after 2015-03-04\n'
)  # fmt: skip

_SIZES = st.decimals(0, 900, places=2).map(lambda size: f"{size} mm")
_DAYS = st.dates(date(1940, 1, 1), date(2025, 12, 31)).map(str)
_SECRETS = st.fixed_dictionaries({
    "size": _SIZES,
    "born": _DAYS,
    "bought": st.one_of(_DAYS, _DAYS.map(lambda day: day[:7]), st.just("2015")),
    "rank": st.sampled_from(["low", "middle", "high"]),
})  # fmt: skip


@settings(max_examples=1_000 if THOROUGH else 40, deadline=None)
@given(_SECRETS, _SECRETS, _SIZES)
def test_only_what_follows_from_private_facts_is_told(
    one: dict[str, str], other: dict[str, str], size: str
) -> None:
    """Two riders with other secrets, of which the same follows, have the same page and reasons."""
    texts = [
        "\n".join(['declaration "D"', f"open-size is {size}", *(
            f"{path} is {value}" for path, value in secrets.items()
        )])
        for secrets in (one, {**one, "size": other["size"]}, {**other, "size": one["size"]})
    ]  # fmt: skip
    found: dict[tuple[str, ...], str] = {}
    for text in texts:
        declaration = trackprep.parse_declaration(text, PRIVATE)
        report = PRIVATE.check(declaration, on=EVENT)
        sentences = [discreetly_told(one.explanation, PRIVATE.rules) for one in report.answers]
        page = f"{page_markdown(by_rider(PRIVATE, text))}{sentences}"
        assert found.setdefault(report.statuses, page) == page


@pytest.mark.parametrize("venue", VENUES)
def test_no_private_date_of_the_demo_riders_is_told(venue: str) -> None:
    ruleset = trackprep.read_ruleset(venue)
    seen = 0
    for demo in DEMOS:
        text = (RULESETS / f"{demo}.rider").read_text()
        declaration = trackprep.parse_declaration(text, ruleset)
        said = page_markdown(by_rider(ruleset, text))
        for path, value in declaration.values.items():
            shown = value_text(path, value, ruleset.rules)
            if is_private(path, ruleset.rules) and shown[-1].isdigit():
                seen += 1
                assert shown not in said
    assert seen


# ---- riders on the command line ----


def test_a_problem_is_told_and_everything_is_written(made: Path) -> None:
    code, said = (made / "said.txt").read_text().split("\n")
    assert code == "2"
    assert "Cora Vane, old four: riders/cora.rider:3: there is no fact called `helmet.shel`" in said
    assert "5.17" not in said
    page = (made / "out" / MADE[1]).read_text()
    assert "riders/cora.rider:3: there is no fact called" in page
    assert "5.17" not in page
    assert len(papers(made)) == 4


def test_a_date_after_the_event_is_told_without_its_value(folder: Path) -> None:
    (folder / "riders" / "cora.rider").unlink()
    ann = folder / "riders" / "ann.rider"
    ann.write_text(
        f"{ann.read_text()}rider.born is 2031-03-07\nbrake.fluid.changed is 2030-02-03\n"
    )
    code, said = handed_out(folder, "--riders", str(ann), "--on", "2026-06-14")
    page = (folder / "out" / MADE[1]).read_text()
    assert code == 2
    assert (
        "Ann Thistlewood, green twin: Rider born: the declared date lies after the event." in said
    )
    assert "**Problem:** Rider born: the declared date lies after the event." in page
    assert "2031" not in said + page


def test_without_riders_there_is_the_blank_sheet_alone(folder: Path) -> None:
    assert handed_out(folder)[0] == 0
    names = [path.name for path in papers(folder)]
    assert names == ["heath-day-inspection.html", "heath-day-inspection.md"]
    blank = (folder / "out" / MADE[0]).read_text()
    assert "**Event:** Heath day\n" in blank
    assert "**Day:** …" in blank


def test_without_a_day_it_is_for_today(folder: Path) -> None:
    code, said = handed_out(folder, "--riders", "riders/ann.rider")
    assert code == 0
    assert "For riders as of today, " in said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--riders", "out-of-sight.rider"), "out-of-sight.rider"),
        (("--riders", "empty"), "has no declaration in it"),
        (("--on", "2026-06"), "is not one day"),
    ],
)
def test_calls_that_cannot_be_carried_out(folder: Path, words: tuple[str, ...], said: str) -> None:
    (folder / "empty").mkdir()
    code, told = handed_out(folder, *words)
    assert code == 2
    assert said in told


def test_no_page_of_riders_is_overwritten(folder: Path) -> None:
    (folder / "out").mkdir()
    mine = folder / "out" / MADE[1]
    mine.write_text("mine")
    code, said = handed_out(folder, "--riders", "riders/ann.rider", "--on", "2026-06-14")
    assert code == 2
    assert "is there already, and nothing is written" in said
    assert [path.name for path in (folder / "out").iterdir()] == [MADE[1]]


def test_each_is_known_again_and_an_altered_one_too(made: Path, tmp_path: Path) -> None:
    files = [str(path) for path in papers(made)]
    same = call(made, "same-edition", *files, "--of", "heath-day.trackrules")
    assert same.code == 0
    assert " ".join(same.out.split()).count("the same edition: made of the very file") == 4
    page = tmp_path / MADE[1]
    page.write_text((made / "out" / MADE[1]).read_text().replace("2.2 mm", "3.2 mm"))
    altered = call(made, "same-edition", str(page), "--of", "heath-day.trackrules")
    assert altered.code == 1
    assert "altered" in altered.out


# ---- texts of strangers ----


def hostile_pages() -> Iterable[Page]:
    ruleset = trackprep.parse_ruleset(
        f'ruleset bad "{ATTACK}" edition "{FEIGNED}" venue "{ATTACK}"\n'
        f'fact a "{ATTACK}" one of b "{ATTACK}", c "{ATTACK}"\n'
        f'section "{ATTACK}"\nrule r "{ATTACK}" require a is b\n'
        f'inspect "{ATTACK}" caution "{ATTACK}"\n'
        f'rule s "# {FEIGNED}" require a is c\n'
    )
    yield blank_sheet(ruleset.rules)
    yield by_rider(ruleset, f'declaration "{ATTACK}"\na is c\n', f'declaration "- {FEIGNED}"\n')


@pytest.mark.parametrize("page", list(hostile_pages()))
def test_no_text_gets_out_of_its_place(page: Page) -> None:
    html, markdown = page_html(page), page_markdown(page)
    assert "<img" not in html
    assert "<script" not in html
    assert html.count('type="checkbox"') == len(boxes(page))
    assert markdown.count("\n- [ ] ") == len(boxes(page))
    assert not re.search(r"(?<!\\)<(img|script)", markdown)
    assert carried(html) is None
    assert carried(markdown) is None
