"""Comparing two rulesets: what people read, what programs read, and what the exit code says."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from comparing import DEEP, FACTS, NAMES, PADS, PAIRS, pair, ruleset, texts
from processes import call
from test_terminal import COLOUR, shown

import trackprep
from trackprep.analysis.comparisons import MIRRORED
from trackprep.published import grammar_folder
from trackprep.reports.pages.html import page_html
from trackprep.reports.pages.markdown import page_markdown

GOLDEN = Path(__file__).parent / "comparisons"
SCHEMA = json.loads((grammar_folder() / "comparison.schema.json").read_text())
VENUES = ("tarn-hollow", "marrowfell", "sallowgate", "fenwhistle")
HOSTILE = "<script>alert(1)</script> & *stars* [link](x) `tick` | pipe # hash"


def valid(form: dict[str, Any]) -> dict[str, Any]:
    jsonschema.Draft202012Validator(SCHEMA).validate(form)
    return form


# ---- what each kind says ----------------------------------------------------


@pytest.mark.parametrize("kind", PAIRS)
def test_each_kind_reads_as_it_should(kind: str) -> None:
    report = trackprep.compare(*pair(kind))
    assert {each.kind for each in report.rules if each.rule.name == "tread"} == {kind}
    name = kind.replace(" ", "-")
    assert report.text() == (GOLDEN / f"{name}.txt").read_text()


@pytest.mark.parametrize("kind", ["stricter", "differs both ways", "undecided"])
def test_the_same_as_markdown(kind: str) -> None:
    report = trackprep.compare(*pair(kind))
    golden = GOLDEN / f"{kind.replace(' ', '-')}.md"
    assert page_markdown(report.page) == golden.read_text()


def test_every_kind_has_its_pair() -> None:
    assert set(PAIRS) == set(MIRRORED)


# ---- laws -------------------------------------------------------------------


@pytest.mark.parametrize("kind", PAIRS)
def test_changed_over_it_says_the_mirror_image(kind: str) -> None:
    one, other = pair(kind)
    forth, back = (
        valid(trackprep.compare(*each).to_dict()) for each in ((one, other), (other, one))
    )
    assert forth["outcome"] == back["outcome"]
    assert forth["counts"] == {MIRRORED[name]: back["counts"][name] for name in MIRRORED}
    assert forth["ready_at_one_only"] == back["ready_at_other_only"]
    mirrored = {rule["rule"]: rule for rule in back["rules"]}
    for rule in forth["rules"]:
        image = mirrored[rule["rule"]]
        assert MIRRORED[rule["kind"]] == image["kind"]
        assert (rule["one"], rule["other"]) == (image["other"], image["one"])
        assert (rule["lost"] is None) == (image["gained"] is None)


@pytest.mark.parametrize("kind", PAIRS)
def test_what_it_shows_is_what_a_check_answers(kind: str) -> None:
    one, other = pair(kind)
    for rule in trackprep.compare(one, other).to_dict()["rules"]:
        for witness in filter(None, (rule["lost"], rule["gained"], rule["left_open"])):
            for rules, side in ((one, "one"), (other, "other")):
                if rule[side] is not None:
                    declaration = trackprep.parse_declaration(witness["rider"], rules)
                    day = date.fromisoformat(witness["event_date"])
                    answers = rules.check(declaration, on=day).answers
                    status = {answer.rule: answer.status for answer in answers}
                    assert status[rule[side]["name"]] == witness[side]


def test_shipped_venues_differ_and_say_how() -> None:
    report = trackprep.compare(*map(trackprep.read_ruleset, ("tarn-hollow", "fenwhistle")))
    form = valid(report.to_dict())
    assert form["outcome"] == "differs"
    for venue, key in (("tarn-hollow", "ready_at_one_only"), ("fenwhistle", "ready_at_other_only")):
        found = form[key]
        if found is not None:
            rules = trackprep.read_ruleset(venue)
            declaration = trackprep.parse_declaration(found["rider"], rules)
            checked = rules.check(declaration, on=date.fromisoformat(found["event_date"]))
            assert checked.verdict == "ready"


# ---- limits, lists and whole machines ---------------------------------------

LIMITED = 'limit least "Least tread" is {}\n\n' + DEEP.format("least") + PADS


def test_a_changed_limit_is_named_with_both_values_and_places() -> None:
    one, other = (ruleset(LIMITED.format(value), name) for value, name in
                  (("2 mm", "north"), ("3 mm when slick, 4 mm otherwise", "south")))  # fmt: skip
    report = trackprep.compare(one, other)
    said = " ".join(report.text().split())
    assert (
        "Least tread: north: 2 mm (north.trackrules:12); south: 3 mm if “Slick tyre” is"
        " answered yes, otherwise 4 mm (south.trackrules:12)"
    ) in said
    (change,) = report.to_dict()["changes"]
    assert (change["kind"], change["name"], change["one"]) == ("limit", "least", "2 mm")


def test_a_long_machine_is_shortened_to_what_decides() -> None:
    one, other = ruleset(LIMITED.format("2 mm"), "north"), ruleset(LIMITED.format("3 mm"), "south")
    report = trackprep.compare(one, other)
    assert "Pad thickness" not in report.text()
    assert "--whole" in report.text()
    assert "Pad thickness: 2 mm [pad is 2 mm]" in report.text(whole=True)
    assert "--whole" not in report.text(whole=True)


def test_an_age_says_the_day_it_is_for() -> None:
    old = 'rule helmet "Helmet not old"\n  require age of made is at most {} years\n'
    report = trackprep.compare(ruleset(old.format(5), "a"), ruleset(old.format(4), "b"))
    assert "Shown by this, on 1 April 2026 (a lets it through; b turns it away):" in report.text()
    assert "Helmet made: 31 March 2022 [made is 2022-03-31]" in report.text()


def test_a_rule_that_says_nothing_new_is_no_difference() -> None:
    again = 'rule again "Tread again"\n  require tread is at least 1 mm\n'
    one, other = (ruleset(DEEP.format("2 mm") + more, name) for more, name in
                  (("", "north"), (again, "south")))  # fmt: skip
    report = trackprep.compare(one, other)
    assert report.outcome == "same"
    assert "== Only at one, but nothing new ==" in report.text()
    assert "It says nothing new: other rules of north ask it already." in report.text()


# ---- editions ---------------------------------------------------------------


def edition(number: str, rules: str) -> trackprep.Ruleset:
    text = f'ruleset day "Day"\n  edition "{number}"\n\n{FACTS}{rules}'
    if not number:
        text = text.replace('  edition ""\n', "")
    return trackprep.parse_ruleset(text, name="day.trackrules")


@pytest.mark.parametrize(
    "before, after, changed, judgement",
    [
        ("2026.1", "2026.2", True, "raised"),
        ("2026.9", "2026.10", True, "raised"),
        ("2026.1", "2026.1", True, "not-raised"),
        ("2026.2", "2026.1", True, "lowered"),
        ("2026.1", "2026.2", False, "raised-without-change"),
        ("2026.1", "2026.1", False, "unchanged"),
        ("", "2026.1", True, "missing"),
        ("spring", "summer", True, "without-order"),
    ],
)
def test_editions_are_compared_by_their_numbers(
    before: str, after: str, changed: bool, judgement: str
) -> None:
    one = edition(before, DEEP.format("2 mm"))
    other = edition(after, DEEP.format("3 mm" if changed else "2 mm"))
    form = valid(trackprep.compare(one, other).to_dict())
    assert form["editions"]["judgement"] == judgement
    assert form["editions"]["warns"] == (judgement in ("not-raised", "lowered", "missing"))


def test_different_rulesets_are_no_editions() -> None:
    assert trackprep.compare(*pair("stricter")).to_dict()["editions"] is None


BEFORE = LIMITED.format("2 mm") + 'rule slick "Slicks"\n  recommend slick\n'
AFTER = LIMITED.format("1 mm").replace("at least 2 mm", "at least 3 mm") + (
    'rule slick "Slicks"\n  require slick\n'
    'rule made "Helmet"\n  require age of made is at most 5 years\n'
)


def test_a_change_log_can_be_pasted() -> None:
    report = trackprep.compare(edition("1", BEFORE), edition("2", AFTER))
    assert page_markdown(report.changes) == (GOLDEN / "change-log.md").read_text()


# ---- pages ------------------------------------------------------------------


def test_hostile_titles_stay_words() -> None:
    escaped = HOSTILE.replace('"', "'")
    rules = DEEP.format("2 mm").replace("Enough tread", escaped)
    other = DEEP.format("3 mm").replace("Enough tread", escaped)
    report = trackprep.compare(
        ruleset(rules, "a", f"{escaped} one"), ruleset(other, "b", f"{escaped} two")
    )
    html = page_html(report.page)
    assert "<script" not in html
    assert "<script" not in report._repr_html_()
    assert "&lt;script&gt;alert(1)&lt;/script&gt; &amp; *stars*" in html
    markdown = page_markdown(report.page)
    assert r"\<script\>alert(1)\</script\> & \*stars\* \[link\](x) \`tick\` \| pipe" in markdown


def test_a_page_asks_nobody_for_anything() -> None:
    html = page_html(trackprep.compare(*pair("stricter")).page)
    assert "http" not in html.replace("http-equiv", "")
    assert "src=" not in html
    assert "style=" not in html
    assert "default-src 'none'; style-src 'sha256-" in html


def test_a_notebook_shows_a_table() -> None:
    table = trackprep.compare(*pair("stricter"))._repr_html_()
    assert table.startswith("<table")
    for words in ("Enough tread [tread]", "▲ stricter", "at least 3 mm", "Front tread depth: 2 mm"):
        assert words in table


# ---- the front door ---------------------------------------------------------


def test_what_is_no_ruleset_is_told() -> None:
    one, other = pair("same")
    with pytest.raises(TypeError, match="rulesets"):
        trackprep.compare(one, "tarn-hollow")  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="the day of the event"):
        trackprep.compare(one, other, on="2026-04-01")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="vocabulary"):
        trackprep.compare(one, trackprep.read_ruleset("standard"))
    on = trackprep.compare(one, other, on=date(2026, 5, 1))
    assert on.to_dict()["period"]["first"] == "2026-05-01"


# ---- the command ------------------------------------------------------------


def written(folder: Path, kind: str) -> list[str]:
    """Two files that differ in the way of that kind."""
    names = [f"{name}.trackrules" for name in NAMES]
    for text, name in zip(texts(kind), names, strict=True):
        (folder / name).write_text(text)
    return names


@pytest.mark.parametrize(
    "kind, code",
    [("same", 0), ("reworded", 0), ("stricter", 1), ("asks for more", 1), ("added", 1),
     ("undecided", 3)],
)  # fmt: skip
def test_the_exit_code_tells(tmp_path: Path, kind: str, code: int) -> None:
    files = written(tmp_path, kind)
    for form in ("text", "json"):
        done = call(tmp_path, "compare", *files, "--as", form)
        assert (done.code, done.err) == (code, "")
    assert valid(json.loads(done.out))["rules"]


@pytest.mark.parametrize(
    "words, says",
    [
        (("tarn-hollow",), "takes two rulesets or more, and here is one"),
        (("tarn-hollow", "no-such"), "no ruleset called `no-such`"),
        (("tarn-hollow", "standard"), "is a vocabulary"),
        (("tarn-hollow", "marrowfell", "--on", "June"), "--on"),
        (("tarn-hollow", "bad.trackrules"), "bad.trackrules"),
        (("tarn-hollow", "missing.trackrules"), "missing.trackrules"),
    ],
)
def test_a_bad_call_is_told(tmp_path: Path, words: tuple[str, ...], says: str) -> None:
    (tmp_path / "bad.trackrules").write_text("ruleset bad\nrule x require\n")
    done = call(tmp_path, "compare", *words)
    assert done.code == 2
    assert says in done.err
    assert done.out == ""


def test_a_file_is_written_and_never_over_another(tmp_path: Path) -> None:
    files = written(tmp_path, "stricter")
    words = ("compare", *files, "--as", "html", "-o", "page.html")
    assert call(tmp_path, *words).code == 1
    page = (tmp_path / "page.html").read_text()
    assert page.startswith("<!doctype html>")
    (tmp_path / "page.html").write_text("mine")
    done = call(tmp_path, *words)
    assert (done.code, (tmp_path / "page.html").read_text()) == (2, "mine")
    assert "--overwrite" in done.err
    assert call(tmp_path, *words, "--overwrite").code == 1
    assert (tmp_path / "page.html").read_text() == page


def test_a_terminal_gets_colour_and_its_width(tmp_path: Path) -> None:
    said, code = shown(tmp_path, "compare", *written(tmp_path, "stricter"), columns=50)
    assert code == 1
    assert COLOUR.search(said)
    plain = COLOUR.sub("", said)
    assert "STRICTER  Enough tread [tread]" in plain
    assert max(map(len, plain.splitlines())) <= 50
