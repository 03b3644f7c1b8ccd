"""The way of the README from nothing to a page of one's own rules, as it is written there."""

import re
import shlex
from pathlib import Path

from processes import call

README = Path(__file__).parent.parent / "README.md"
HEADING = "### Ten minutes to a page of your own rules"


def steps() -> list[tuple[str, str]]:
    """The blocks of that part: commands of a shell, or lines for the end of the rule file."""
    part = README.read_text(encoding="utf-8").partition(HEADING)[2].partition("\n### ")[0]
    return re.findall(r"^```(\w*)\n(.*?)^```$", part, re.MULTILINE | re.DOTALL)


def test_every_step_does_what_it_says(tmp_path: Path) -> None:
    file = tmp_path / "spring.trackrules"
    for kind, text in steps():
        if kind == "sh":
            for line in text.splitlines():
                _, *arguments = shlex.split(line, comments=True)
                done = call(tmp_path, *arguments)
                assert done.code == 0, (line, done.out, done.err)
        elif text.startswith("section"):
            drafted = file.read_text(encoding="utf-8")
            own = re.sub(r"^  # (organizer|venue|contact)", r"  \1", drafted, flags=re.MULTILINE)
            file.write_text(f"{own}\n{text}", encoding="utf-8")
    page = (tmp_path / "out" / "spring-day-declare.html").read_text(encoding="utf-8")
    for word in (
        "Your club",
        "Your circuit",
        "office@your-club.example",
        "A mat under the machine",
    ):
        assert word in page


def test_every_paper_that_it_names_is_written(tmp_path: Path) -> None:
    drafted = call(
        tmp_path, "draft", "Spring day", "--like", "common-practice", "-o", "a.trackrules"
    )
    assert drafted.code == 0, drafted.err
    assert call(tmp_path, "handout", "a.trackrules", "marrowfell", "-o", "out").code == 0
    assert call(tmp_path, "handout", "a.trackrules", "-o", "out/one").code == 0
    named = set(
        re.findall(r"`((?:spring-day-)?(?:declare|sheet|inspection)\.html)`", README.read_text())
    )
    assert named >= {"declare.html", "spring-day-declare.html"}
    written = {path.name for path in tmp_path.rglob("*.html")}
    assert named <= written
