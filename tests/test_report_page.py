"""The page of a report, and the season: as blocks and JSON, as processes, and in a real browser."""

import json
import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import browsing
import jsonschema
import pytest
from browsing import DESK, PHONE, SHEET
from explained import report as explained
from processes import call
from test_terminal import shown

import trackprep
from trackprep.dates import long_form
from trackprep.published import grammar_folder, rulesets_folder
from trackprep.reports.checks.page import report_page
from trackprep.reports.pages.html import page_html
from trackprep.reports.season.report import SeasonReport
from trackprep.reports.would_do.page import would_do_blocks
from trackprep.ruleset import Ruleset

if TYPE_CHECKING:
    from playwright.sync_api import Browser


RULES = """\
ruleset spring "Spring day"
  edition "2"
  valid from 2024-01-01 to 2024-12-31

fact tyre.built "Tyre built" week code
fact helmet.made "Helmet made" past date
fact licence.until "Licence valid until" date private
fact plate "Registration plate" one of fitted "Fitted", absent "Off the machine"
fact pads "Pad thickness" measured in mm from 0 mm to 20 mm check again
fact seen "Machine seen" yes or no for the inspector

rule tyre-age "Tyre not too old"
  require age of tyre.built is at most 5 years
  fix "Have a new tyre fitted." takes 1 h
  caution "Steady the machine on its stand."

rule helmet-age "Helmet not too old"
  require age of helmet.made to the month is at most 5 years

rule licence "Licence in force"
  require licence.until is on or after event.date
  reason "No cover without it."

rule plate "Plate off"
  require plate is absent
  undo "Screw the plate on again."
    caution "Without a plate the road is closed to you."

rule pads "Enough pad"
  recommend pads is at least 2 mm

rule seen "Seen by the inspector"
  require seen

rule track "A rule for others"
  when plate is fitted
  require pads is at least 3 mm
"""
RIDER = """\
declaration "Mo Vane, track bike"
declared on 2024-05-01

tyre.built is 2319
helmet.made is 2019-07
licence.until is 2024-08-20
plate is absent
pads is 1.5 mm
"""
SECRET = ("20 August 2024", "2024-08-20")
"""The value of the private fact."""
TURNS = ("21 August 2024", "2024-08-21")
"""The day on which it turns an answer, which would tell it."""


@pytest.fixture
def place(tmp_path: Path) -> Path:
    (tmp_path / "spring.trackrules").write_text(RULES)
    (tmp_path / "mo.rider").write_text(RIDER)
    return tmp_path


def ahead(rules: str = RULES, rider: str = RIDER, folder: Path | None = None) -> SeasonReport:
    assert folder is not None
    (folder / "own.rider").write_text(rider)
    ruleset = trackprep.parse_ruleset(rules)
    return trackprep.look_ahead(
        folder / "own.rider", ruleset, first=date(2024, 5, 1), last=date(2024, 9, 30)
    )


# ---- the season ----------------------------------------------------------------------


def test_a_season_in_full(place: Path) -> None:
    result = call(place, "check", "mo.rider", "--for", "spring.trackrules",
                  "--season", "2024-05..2024-09")  # fmt: skip
    assert (result.code, result.err) == (1, "")
    assert (
        result.out
        == """\
Mo Vane, track bike: the season, 1 May to 30 September 2024
  - Spring day: ready to present from 1 May to 9 June 2024, incomplete from 10 to 15 June 2024, not
    ready from 16 June to 30 September 2024.
|May              |Jun              |Jul               |Aug              |Sep
Spring day
========================????XXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXX
- Tyre not too old
========================????XXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXX
- Helmet not too old
=======================================================XXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXXX
- Licence in force
===================================================================XXXXXXXXXXXXXXXXXXXXXXXXX
= ready, met   ? incomplete, unsettled   X not ready, not met   . not asked
A bar for each event, with a narrower one for each rule whose answer turns. 4 answers turn in the
season.
What starts when, with nothing changed:
  10 June 2024
    Rule: Tyre not too old (required)
    What starts: unsettled
    Why: Tyre built: week code 2319 (9 to 15 June 2019) leaves it open, since the answer turns on 10
      June 2019. A week code cannot say more: the inspector will tell.
  16 June 2024
    Rule: Tyre not too old (required)
    What starts: not met
    Why: Tyre built: week code 2319 (9 to 15 June 2019). Asked: at most 5 years before the event;
      too old since 16 June 2024, by 1 day. What would do: week code 2419 or later (16 June 2019 or
      later).
  1 August 2024
    Rule: Helmet not too old (required)
    What starts: not met
    Why: Helmet made: July 2019. Asked: at most 5 years before the event, counted to the month; too
      old since 1 August 2024, by 1 day. What would do: 1 August 2019 or later.
  21 August 2024
    Rule: Licence in force (required)
    What starts: not met
    Why: Licence valid until: kept private. Asked: on or after the day of the event (21 August
      2024). What would do: on or after 21 August 2024.

== What this does not say ==
  - Foreseen is what dates and ages settle, with nothing else changed. Wear, leaks and what works
    loose are not: look again before each event.

The organizer's inspector, the manual of your machine, local law and a qualified mechanic come
before anything said here. This report says what the rules ask and what was declared; it does not
say that a machine or its gear is safe.
"""
    )


def test_the_days_are_those_of_the_week_code_and_the_label(place: Path) -> None:
    """49 CFR 574.5(b)(3): 2319 is the week from 9 to 15 June 2019."""
    (event,) = ahead(folder=place).events
    told = [(str(one.day), one.rule.name, one.after) for one in event.changes]
    assert told == [
        ("2024-06-10", "tyre-age", "unsettled"),
        ("2024-06-16", "tyre-age", "not-met"),
        ("2024-08-01", "helmet-age", "not-met"),
        ("2024-08-21", "licence", "not-met"),
    ]
    assert [(str(s.first), s.verdict) for s in event.stretches] == [
        ("2024-05-01", "ready"), ("2024-06-10", "incomplete"), ("2024-06-16", "not-ready"),
    ]  # fmt: skip


def test_until_is_told_of_the_report_and_of_each_answer(place: Path) -> None:
    ruleset = trackprep.parse_ruleset(RULES)
    report = ruleset.check(trackprep.parse_declaration(RIDER, ruleset), on=date(2024, 5, 1))
    assert report.until == date(2024, 6, 10)
    assert {answer.rule: answer.until for answer in report.answers if answer.until} == {
        "tyre-age": date(2024, 6, 10),
        "helmet-age": date(2024, 8, 1),
        "licence": date(2024, 8, 21),
    }
    form = report.to_dict()
    assert form["until"] == "2024-06-10"
    assert {rule["rule"]: rule["until"] for rule in form["rules"]}["licence"] == "2024-08-21"


def test_json_is_as_the_schema_publishes_it(place: Path) -> None:
    schema = json.loads((grammar_folder() / "report.schema.json").read_text(encoding="utf-8"))
    validator = jsonschema.Draft202012Validator(schema)
    words = ("--season", "2024-05-01..2024-09-30", "--as", "json")
    one = call(place, "check", "mo.rider", "--for", "spring.trackrules", *words)
    form = json.loads(one.out)
    validator.validate(form)
    assert (one.code, form["season"]["worst"], len(form["season"]["changes"])) == (
        1, "not-ready", 4,
    )  # fmt: skip
    sam = str(rulesets_folder() / "sam.rider")
    two = call(place, "check", sam, "--for", "tarn-hollow", "--for", "common-practice",
               "--season", "2026-06..2026-07", "--as", "json")  # fmt: skip
    form = json.loads(two.out)
    validator.validate(form)
    assert [report["ruleset"]["name"] for report in form["reports"]] == [
        "tarn-hollow", "common-practice",
    ]  # fmt: skip


@pytest.mark.parametrize("form", ["json", "html"])
def test_beside_a_season_the_report_is_for_today_or_its_first_day(place: Path, form: str) -> None:
    def told(season: str, *more: str) -> tuple[str, str]:
        words = ("check", "mo.rider", "--for", "spring.trackrules", "--as", form, *more)
        result = call(place, *words, "--season", season)
        return result.out, " ".join(result.err.split())

    def stands(day: date, out: str) -> bool:
        said = (
            f'"event_date": "{day.isoformat()}"'
            if form == "json"
            else f"Event</dt><dd>{long_form(day)}</dd>"
        )
        return said in out

    before = date.today()
    out, note = told(str(before.year))
    days = (before, date.today())
    assert any(stands(day, out) and f"is for {long_form(day)}, as no" in note for day in days)
    out, note = told("2024-05..2024-09")  # today lies outside of it
    assert stands(date(2024, 5, 1), out)
    assert note == "The report is for 1 May 2024, as no other day was asked for with --on."
    out, note = told("2024-05..2024-09", "--on", "2024-06-14")
    assert (stands(date(2024, 6, 14), out), note) == (True, "")


@pytest.mark.parametrize(("season", "code"), [
    ("2024-05-01..2024-06-09", 0),
    ("2024-05-01..2024-06-10", 3),
    ("2024-05-01..2024-06-16", 1),
    ("2018-01-01..2018-12-31", 2),  # before the helmet was made: no day knows the date
])  # fmt: skip
def test_the_exit_code_is_the_worst_of_the_season(place: Path, season: str, code: int) -> None:
    words = ("check", "mo.rider", "--for", "spring.trackrules", "--season", season)
    assert call(place, *words).code == code


@pytest.mark.parametrize(("season", "said"), [
    ("2024-05-01", "is no season"),
    ("2024-09-30..2024-05-01", "lies before"),
    ("1.5.2024..1.9.2024", "2024-05-01"),
    ("2000..2024", "longer than ten years"),
    ("..", "2026-06-14"),
])  # fmt: skip
def test_a_season_that_is_none_is_explained(place: Path, season: str, said: str) -> None:
    result = call(place, "check", "mo.rider", "--for", "spring.trackrules", "--season", season)
    assert (result.code, result.out) == (2, "")
    assert said in result.err.replace("\n    ", " ")


def test_no_bad_day_is_lost_in_a_long_season(place: Path) -> None:
    """Ten years on 92 columns: the six unsettled days are a column of their own."""
    result = call(place, "check", "mo.rider", "--for", "spring.trackrules",
                  "--season", "2020-01..2029-12")  # fmt: skip
    ruler = next(line for line in result.out.splitlines() if line.startswith("|"))
    assert re.findall("[0-9]+", ruler) == [str(year) for year in range(2020, 2030)]
    bar = result.out.split("- Tyre not too old\n")[1].splitlines()[0]
    assert re.fullmatch("=+[?X]X+", bar)


def test_a_terminal_draws_the_bars_and_no_color_asks_for_plain_ones(place: Path) -> None:
    words = ("check", "mo.rider", "--for", "spring.trackrules", "--season", "2024-05..2024-09")
    said, code = shown(place, *words, columns=60)
    bars = re.sub(r"\x1b\[[0-9;]*m", "", said).splitlines()
    assert code == 1
    assert any(re.fullmatch("━+▒+█+", bar) for bar in bars)
    assert "\x1b[31m█" in said
    assert max(map(len, bars)) <= 60
    plain, _ = shown(place, *words, columns=60, NO_COLOR="1")
    bars = re.sub(r"\x1b\[[0-9;]*m", "", plain).splitlines()
    assert any(re.fullmatch(r"=+\?+X+", bar) for bar in bars)
    assert not set("━▒█") & set(plain)


# ---- the page, as text ---------------------------------------------------------------


def pages(place: Path) -> dict[str, str]:
    season = ahead(folder=place)
    (report,) = season.reports
    return {
        "html": season.html(), "markdown": report.markdown(), "text": season.text(),
        "notebook": report._repr_html_() + season._repr_html_(),
    }  # fmt: skip


def test_a_private_value_stands_nowhere(place: Path) -> None:
    for shape, text in pages(place).items():
        for secret in SECRET if shape == "text" else (*SECRET, *TURNS):
            assert secret not in text, shape


def test_the_day_on_which_a_private_date_turns_an_answer_is_for_the_rider_alone(
    place: Path,
) -> None:
    """A page holds the rule as it answers in the report, and says so; text and JSON tell."""
    told = pages(place)
    assert TURNS[0] in told["text"]
    assert "Not foreseen here" not in told["text"]
    season = ahead(folder=place)
    for page in (season.html(), season.page.blocks[1].text):  # type: ignore[union-attr]
        assert "Rules that look at private facts are taken as they answer on 1 May 2024" in page
        assert "“Licence in force”" in page
    assert TURNS[1] in json.dumps(season.to_dict())
    assert "rules that look at private facts are not counted" in told["markdown"]


def test_the_page_says_ready_to_present_and_never_passed(place: Path) -> None:
    html = ahead(folder=place).html()
    assert "ready to present" in html
    assert "passed" not in html
    assert html.index("ready to present") < html.index("inspector, the manual of your machine")


def test_the_page_has_what_can_hurt_in_front_of_the_work_and_what_is_undone() -> None:
    ruleset = trackprep.parse_ruleset(RULES)
    report = ruleset.check(trackprep.parse_declaration(RIDER, ruleset), on=date(2024, 7, 1))
    text = report.markdown()
    assert text.index("Steady the machine") < text.index("Have a new tyre fitted")
    assert text.index("Without a plate the road") < text.index("Screw the plate on again")
    headings = re.findall(r"^## (.*)$", text, re.MULTILINE)
    assert headings[1:] == [
        "To know", "Not met", "For the inspector to decide", "Recommended", "Met",
    ]  # fmt: skip
    assert "Not asked of you: 1 rule" in text


def test_a_page_is_never_written_over_a_file(place: Path) -> None:
    words = ("check", "mo.rider", "--for", "spring.trackrules", "--on", "2024-05-01",
             "--as", "html", "-o", "page.html")  # fmt: skip
    assert call(place, *words).code == 0
    first = (place / "page.html").read_text()
    refused = call(place, *words)
    assert (refused.code, "--overwrite" in refused.err) == (2, True)
    assert (place / "page.html").read_text() == first
    assert call(place, *words, "--overwrite").code == 0


# ---- in a browser --------------------------------------------------------------------


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A small report with its season, a shipped one with everything, and two events.

    And two with what would do: a shipped one, and one of which nothing is declared yet.
    """
    folder = tmp_path_factory.mktemp("pages")
    rulesets = rulesets_folder()
    first, last = date(2025, 3, 1), date(2026, 10, 31)
    marrowfell, fenwhistle = map(trackprep.read_ruleset, ("marrowfell", "fenwhistle"))
    made = {
        "small": ahead(folder=folder).html(),
        "ilse": trackprep.look_ahead(
            rulesets / "ilse.rider", marrowfell, first=first, last=last
        ).html(),
        "two": trackprep.look_ahead(
            rulesets / "petra.rider", marrowfell, fenwhistle, first=first, last=last
        ).html(),
    }
    made |= {
        "would": with_what_would_do((rulesets / "ilse.rider").read_text(), marrowfell),
        "bare": with_what_would_do('declaration "Bo Vane, nothing yet"\n', marrowfell),
    }
    for name, text in made.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: folder / f"{name}.html" for name in made}


def with_what_would_do(rider: str, ruleset: Ruleset) -> str:
    report = ruleset.check(trackprep.parse_declaration(rider, ruleset), on=date(2026, 6, 14))
    found = report.what_would_do()
    return page_html(report_page(report, would_do=would_do_blocks(found.would_do, report)))


def opened(browser: "Browser", file: Path, width: int = DESK, scheme: Any = "light") -> Any:
    """The file in a window of that width, with everything unfolded."""
    page = browsing.opened(browser, file, width, scheme)
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = true)")
    return page


@pytest.mark.parametrize("name", ["small", "ilse", "two", "would", "bare"])
@pytest.mark.parametrize(("scheme", "width"), [("light", PHONE), ("dark", DESK)])
def test_axe_finds_nothing(
    browser: "Browser", files: dict[str, Path], name: str, scheme: str, width: int
) -> None:
    """By WCAG 2.2 AA and the best practices of axe-core, with everything unfolded."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(opened(browser, files[name], width, scheme))
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("name", ["small", "ilse", "two"])
@pytest.mark.parametrize("width", [320, PHONE, DESK])
def test_nothing_runs_out_of_the_window(
    browser: "Browser", files: dict[str, Path], name: str, width: int
) -> None:
    page = opened(browser, files[name], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    box = page.locator("svg.season").bounding_box()
    assert box is not None
    assert box["width"] <= width
    assert page.evaluate("""() => {
        const svg = document.querySelector('svg.season').getBoundingClientRect();
        return [...document.querySelectorAll('svg.season text')]
            .every(one => one.getBoundingClientRect().right <= svg.right + 1
                       && one.getBoundingClientRect().bottom <= svg.bottom + 1);
    }""")


@pytest.mark.parametrize("name", ["would", "bare"])
@pytest.mark.parametrize("width", [320, PHONE, DESK])
def test_what_would_do_runs_not_out_of_the_window_either(
    browser: "Browser", files: dict[str, Path], name: str, width: int
) -> None:
    page = opened(browser, files[name], width)
    assert page.get_by_role("heading", name="The least to be ready to present").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_of_a_bare_declaration_a_phone_shows_a_line_for_each_rule_that_waits(
    browser: "Browser", files: dict[str, Path]
) -> None:
    """What each asks opens without a script, and print has all of it."""
    page = opened(browser, files["bare"], PHONE)
    unfolded = page.evaluate("document.documentElement.scrollHeight")
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = false)")
    assert page.evaluate("document.documentElement.scrollHeight") < unfolded / 5
    asked = page.get_by_text("Asked: on the list “Helmet shells admitted”")
    line = page.get_by_text("A helmet with a fixed chin bar: declare helmet shell")
    assert not asked.is_visible()
    line.press("Enter")
    assert asked.is_visible()
    line.press("Enter")
    page.emulate_media(media="print")
    assert asked.is_visible()
    entries = page.locator("details.whole article")
    assert entries.count() > 60
    assert all(one.bounding_box() for one in entries.all())


@pytest.mark.parametrize(("unsettled", "folded"), [(6, 0), (7, 7)])
def test_few_rules_that_wait_are_told_in_full(unsettled: int, folded: int) -> None:
    numbers = range(unsettled)
    facts = "".join(f'fact f{n} "F{n}" yes or no\nrule r{n} "R{n}" require f{n}\n' for n in numbers)
    ruleset = trackprep.parse_ruleset(
        f'ruleset few "Few"\n{facts}fact made "Made" past date\n'
        'rule new "New" require made is on or after 2020-03-01\n'
    )
    declaration = trackprep.parse_declaration("made is 2020", ruleset)
    report = ruleset.check(declaration, on=date(2026, 6, 14))
    html, markdown = report.html(), report.markdown()
    assert html.count('<details class="whole">') == folded
    for number in numbers:
        assert f"F{number}: not declared (f{number})" in html
        assert f"F{number}: not declared (f{number})" in markdown
    # What is declared too coarsely says why, and stands in front of lines.
    assert (html.index("leaves it open") < html.index("F0: not declared")) is bool(folded)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_states_differ_in_more_than_colour(
    browser: "Browser", files: dict[str, Path], scheme: str
) -> None:
    """Filled, dotted and hatched; each is named in the picture, and told in words below."""
    page = opened(browser, files["small"], PHONE, scheme)
    fills = page.eval_on_selector_all(
        "svg.season > rect:not(.line)", "all => all.map(one => getComputedStyle(one).fill)"
    )
    kinds = {"season-unsettled", "season-not-met"}
    assert {kind for kind in kinds for fill in fills if kind in fill} == kinds
    assert any(fill.startswith("rgb") for fill in fills)
    said = page.locator("svg.season").text_content() or ""
    assert all(word in said for word in ("ready to present", "incomplete", "not ready"))


def test_print_keeps_the_verdict_and_the_season_and_leaves_out_what_is_folded(
    browser: "Browser", files: dict[str, Path]
) -> None:
    page = opened(browser, files["small"], SHEET, "dark")
    page.eval_on_selector_all("details", "all => all.forEach(one => one.open = false)")
    page.emulate_media(media="print")
    assert not page.locator("nav").is_visible()
    assert not page.locator("details").first.is_visible()
    assert page.locator("svg.season").is_visible()
    assert page.locator("article").first.is_visible()
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"
    assert page.evaluate("document.documentElement.scrollWidth") <= SHEET


def test_nothing_that_a_file_says_runs(browser: "Browser", tmp_path: Path) -> None:
    """Titles that would be scripts: they are shown, and the policy would stop them besides."""
    attack = "<img src=x onerror=document.title='owned'><script>document.title='owned'</script>"
    svg = "</text></svg><svg onload=document.title='owned'>"
    rules = (
        RULES.replace("Spring day", attack).replace("Helmet not too old", svg + attack)
        .replace("Tyre built", attack).replace("Have a new tyre fitted.", attack)
        .replace("Off the machine", attack)
    )  # fmt: skip
    season = ahead(rules, RIDER.replace("Mo Vane, track bike", attack), tmp_path)
    file = tmp_path / "attack.html"
    file.write_text(season.html() + season._repr_html_() + season.reports[0]._repr_html_())
    page = opened(browser, file)
    assert "owned" not in page.title().replace("document.title='owned'", "")
    assert page.locator("img, script").count() == 0
    assert page.locator("svg").count() == 2
    assert attack in page.locator("h1").inner_text()


def test_a_report_shows_itself_in_a_notebook() -> None:
    shown = explained("rule lid \"Lid\"\n  require lid.shell is full-face\n",
                      "lid.shell is modular")._repr_html_()  # fmt: skip
    assert "1 required rule not met" in shown
    assert '<table role="table">' in shown
