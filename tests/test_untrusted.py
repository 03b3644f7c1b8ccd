"""Files from strangers: whatever is in them, problems come of it, and within bounds.

The large and the malicious run in a process of their own whose memory and time are
limited; Hypothesis looks for the small and the odd.
"""

import json
import os
import re
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import trackprep
from trackprep import DeclarationError, Problem, RulesetError

EVENT = date(2026, 6, 14)
SUITE = Path(__file__).parent / "conformance"
HEAD = 'ruleset hostile "Hostile"\n'
FACTS = (
    HEAD + 'fact x.a "A" measured in mm\nfact x.b "B" yes or no\nfact x.c "C" one of red, blue\n'
)

# ---- the large and the malicious ------------------------------------------------

MOST_MEMORY = 1_500_000_000  # bytes
MOST_SECONDS = 60  # of processor time; each takes one or two
READ = f"""
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, ({MOST_MEMORY}, {MOST_MEMORY}))
resource.setrlimit(resource.RLIMIT_CPU, ({MOST_SECONDS}, {MOST_SECONDS}))
from datetime import date
import trackprep
try:
    ruleset = trackprep.read_ruleset(sys.argv[1])
    declared = trackprep.read_declaration(sys.argv[2], ruleset) if sys.argv[2:] else (
        trackprep.parse_declaration("", ruleset))
    report = ruleset.check(declared, on=date(2026, 6, 14))
    str(report), report.to_dict()
except (trackprep.RulesetError, trackprep.DeclarationError) as error:
    for problem in error.problems:
        print(problem.code)
    str(error)
else:
    print("sound")
"""


def codes_in_a_process(*files: Path) -> list[str]:
    """The codes of the problems, or `sound`, from a process with little memory and time."""
    pytest.importorskip("resource")
    done = subprocess.run(
        [sys.executable, "-c", READ, *map(str, files)],
        capture_output=True, text=True, timeout=10 * MOST_SECONDS, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout.split()


def _doubling(count: int, line: str, first: str) -> str:
    """A chain in which each name uses the one before it twice."""
    return first + "".join(line.format(here=n, before=n - 1) for n in range(1, count + 1))


def _require(condition: str) -> str:
    return FACTS + f'rule one "One" require {condition}\n'


REFUSED: dict[str, Callable[[], str]] = {
    "parentheses": lambda: _require("(" * 100_000 + "x.b" + ")" * 100_000),
    "open-parentheses": lambda: _require("(" * 100_000),
    "brackets": lambda: _require("[" * 100_000 + "x.a" + "]" * 100_000 + " is at least 1 mm"),
    "nots": lambda: _require("not " * 100_000 + "x.b"),
    "nots-and-parentheses": lambda: _require("not (" * 50_000 + "x.b" + ")" * 50_000),
    "number-of-100-megabytes": lambda: _require(f"x.a is at least {'9' * 100_000_000} mm"),
    "number-of-a-megabyte": lambda: _require(f"x.a is at least {'9' * 1_000_000} mm"),
    "number-of-5000-digits": lambda: _require(f"x.a is at least {'9' * 5_000} mm"),
    "decimals": lambda: _require(f"x.a is at least 0.{'0' * 5_000}1 mm"),
    "fraction": lambda: _require(f"x.a is at least 1/{'9' * 3_000} mm"),
    "exponent": lambda: _require("x.a is at least 1e999999999 mm"),
    "powers": lambda: _require("x.a is at least 9**9**9 mm"),
    "comma": lambda: _require("x.a is at least 1,5 mm"),
    "string-of-a-megabyte": lambda: FACTS + f'note "{"a" * 1_000_000}"\n',
    "open-string": lambda: FACTS + 'note "' + "a" * 1_000_000,
    "backslashes": lambda: FACTS + 'note "' + "\\" * 1_000_000,
    "quotes": lambda: FACTS + '"' * 1_000_001,
    "name-of-a-megabyte": lambda: FACTS + f'rule {"a" * 1_000_000} "One" require x.b\n',
    "path-of-a-megabyte": lambda: _require("a." * 500_000 + "a"),
    "hyphens": lambda: _require("a-" * 500_000),
    "minuses": lambda: _require("-" * 1_000_000),
    "numbers-with-commas": lambda: _require("x.a is at least " + "1," * 300_000 + "1 mm"),
    "numbers-with-points": lambda: _require("x.a is at least " + "1." * 300_000 + "1 mm"),
    "numbers-with-slashes": lambda: _require("x.a is at least " + "1/" * 300_000 + "1 mm"),
    "numbers-with-spaces": lambda: _require("x.a is at least " + "1 " * 150_000 + "mm"),
    "keywords-on-one-line": lambda: FACTS + "rule " * 190_000,
    "keywords-on-lines": lambda: FACTS + "rule\n" * 190_000,
    "units": lambda: _require("x.a is at least 1 " + "in " * 150_000),
    "every-line-wrong": lambda: FACTS + "".join(f"limit is {n}\n" for n in range(40_000)),
    "every-fact-unknown": lambda: (
        FACTS + "".join(f'rule r{n} "R" require nowhere.{n}x is yes\n' for n in range(15_000))
    ),
    "two-megabytes-of-marks": lambda: "<>" * 900_000,
    "nul-bytes": lambda: FACTS + "\0" * 100_000,
    "nul-byte-in-a-name": lambda: _require("x.\0b"),
    "nul-byte-in-a-file-name": lambda: FACTS + 'use "a\0.trackrules"\n',
    "derived-in-a-long-circle": lambda: (
        FACTS
        + _doubling(3_000, 'derived d.n{here} "D" in mm as d.n{before} + 1 mm\n', "")
        + 'derived d.n0 "D" in mm as d.n3000 + 1 mm\n'
    ),
    "after-in-a-long-circle": lambda: (
        FACTS
        + "".join(
            f'rule r{n} "R" require x.b fix "F." after r{(n + 1) % 5_000}\n' for n in range(5_000)
        )
    ),
}
"""Rule files that must be refused, whatever the reason."""

BOUNDED: dict[str, Callable[[], str]] = {
    "empty-lines": lambda: HEAD + "\n" * 1_900_000,
    "spaces": lambda: HEAD + " " * 1_900_000,
    "comments": lambda: HEAD + "#\n" * 900_000,
    "one-long-comment": lambda: HEAD + "#" * 1_900_000,
    "rules": lambda: FACTS + "".join(f'rule r{n} "R" require x.b\n' for n in range(10_000)),
    "sections": lambda: FACTS
    + "".join(f'section "S{n}" when x.b\nrule r{n} "R" require x.b\n' for n in range(5_000)),
    "limits": lambda: FACTS + "".join(f"limit l{n} is {n} mm\n" for n in range(20_000)),
    "long-list": lambda: FACTS + "list long is " + ", ".join(f"w{n}" for n in range(50_000)) + "\n",
    "many-choices": lambda: HEAD
    + 'fact x.a "A" one of ' + ", ".join(f"w{n}" for n in range(20_000))
    + '\nrule one "One" require x.a is one of ' + ", ".join(f"w{n}" for n in range(20_000)),
    "many-grades": lambda: HEAD
    + 'fact x.a "A" graded ' + " < ".join(f"w{n}" for n in range(10_000))
    + '\nrule one "One" require x.a is at least w5000\n',
    "long-or": lambda: _require(" or ".join(["x.b"] * 60_000)),
    "long-and-of-ors": lambda: _require(" and ".join(["(x.b or not x.b)"] * 15_000)),
    "long-sum": lambda: _require(" + ".join(["x.a"] * 50_000) + " is at least 1 mm"),
    "long-difference": lambda: _require("1 mm " + "- x.a " * 50_000 + "is at most 1 mm"),
    "long-product": lambda: _require("x.a / 1 mm " + "* 9999999999 " * 50_000 + "is at least 1"),
    "long-power": lambda: _require(" * ".join(["x.a"] * 20_000) + " is at least 1 mm"),
    "deepest-nesting": lambda: _require("(" * 30 + "x.b" + ")" * 30),
    "many-parts": lambda: HEAD
    + "".join(f'fact p{n}.a "A" yes or no\n' for n in range(5_000))
    + 'rule one "One" for each of ' + ", ".join(f"p{n}" for n in range(5_000)) + " require it.a\n",
    "many-rules-for-each": lambda: HEAD
    + "".join(f'fact p{n}.a "A" yes or no\n' for n in range(300))
    + "".join(
        f'rule r{n} "R" for each of ' + ", ".join(f"p{m}" for m in range(300)) + " require it.a\n"
        for n in range(300)
    ),
    "many-facts-by-pattern": lambda: HEAD
    + "".join(f'fact p.a{n} "A" yes or no\n' for n in range(5_000))
    + 'rule one "One" require at least 2500 of p.* is yes\n',
    "patterns-times-rules": lambda: HEAD
    + "".join(f'fact p.a{n} "A" yes or no\n' for n in range(2_000))
    + "".join(f'rule r{n} "R" require each of p.* is yes\n' for n in range(2_000)),
    "patterns-in-a-condition": lambda: HEAD
    + "".join(f'fact p.a{n} "A" yes or no\n' for n in range(2_000))
    + 'rule one "One" require ' + " or ".join(["each of p.* is yes"] * 5_000) + "\n",
    "derived-chain": lambda: FACTS
    + _doubling(5_000, 'derived d.n{here} "D" in mm as d.n{before} + 1 mm\n',
                'derived d.n0 "D" in mm as x.a\n')
    + 'rule one "One" require d.n5000 is at least 1 mm\n',
    "means-chain": lambda: FACTS
    + _doubling(5_000, 'derived d.n{here} "D" means not d.n{before}\n',
                'derived d.n0 "D" means x.b\n')
    + 'rule one "One" require d.n5000\n',
    "derived-doubling": lambda: FACTS
    + _doubling(60, 'derived d.n{here} "D" in mm as d.n{before} + d.n{before}\n',
                'derived d.n0 "D" in mm as x.a\n')
    + 'rule one "One" require d.n60 is at least 1 mm\n',
    "derived-squaring": lambda: FACTS
    + _doubling(60, 'derived d.n{here} "D" as d.n{before} * d.n{before}\n',
                'derived d.n0 "D" as x.a / 3 mm\n')
    + 'rule one "One" require d.n60 is at least 1\n',
    "means-doubling": lambda: FACTS
    + _doubling(60, 'derived d.n{here} "D" means d.n{before} and not d.n{before}\n',
                'derived d.n0 "D" means x.b\n')
    + 'rule one "One" require d.n60\n',
    "limits-doubling": lambda: FACTS
    + _doubling(
        60,
        "limit l{here} is 1 mm when x.a is at least l{before} and x.a is at most l{before},"
        " 2 mm otherwise\n",
        "limit l0 is 1 mm when x.b, 2 mm otherwise\n",
    )
    + 'rule one "One" require x.a is at least l60\n',
    "limits-multiplied": lambda: FACTS
    + "".join(
        f"limit l{n} is 1 mm when x.b, 2 mm when x.c is red, 3 mm otherwise\n" for n in range(40)
    )
    + 'rule one "One" require x.a is at least ' + " + ".join(f"l{n}" for n in range(40)) + "\n",
    "limits-in-derived": lambda: FACTS
    + "".join(
        f"limit l{n} is 1 mm when x.b, 2 mm otherwise\n"
        f'derived d.n{n} "D" in mm as l{n} + {f"d.n{n - 1}" if n else "x.a"}\n'
        for n in range(40)
    )
    + 'rule one "One" require d.n39 is at least 1 mm\n',
    "rows": lambda: FACTS
    + "limit l is " + "".join(f"{n} mm when x.b, " for n in range(10_000)) + "1 mm otherwise\n"
    + 'rule one "One" require x.a is at least l\n',
    "works": lambda: FACTS
    + 'rule one "One" require x.b\n'
    + '  fix "F." takes 5 min parts "p" tools "t" when x.b\n' * 5_000,
    "after-chain": lambda: FACTS
    + "".join(f'rule r{n} "R" require x.b fix "F." after r{n + 1}\n' for n in range(5_000))
    + 'rule r5000 "R" require x.b\n',
    "after-doubling": lambda: FACTS
    + "".join(
        f'rule r{n} "R" require x.b fix "F." after r{n + 1}, r{n + 2}\n' for n in range(60)
    )
    + 'rule r60 "R" require x.b\nrule r61 "R" require x.b\n',
    "examples": lambda: FACTS
    + "rule one \"One\" require x.b\n"
    + "".join(
        f'example "E{n}" on 2026-06-14 declare x.b is yes expect one is met\n' for n in range(5_000)
    ),
    "kinds": lambda: HEAD
    + "kind k0 one of red, blue\n"
    + "".join(f"kind k{n} k{n - 1}\n" for n in range(1, 5_000))
    + 'fact x.a "A" k4999\nrule one "One" require x.a is red\n',
}  # fmt: skip
"""Rule files that may be sound or refused, but must end."""


@pytest.mark.parametrize("name", REFUSED)
def test_refused(name: str, tmp_path: Path) -> None:
    file = tmp_path / "hostile.trackrules"
    file.write_text(REFUSED[name](), encoding="utf-8")
    codes = codes_in_a_process(file)
    assert codes
    assert "sound" not in codes
    assert len(codes) <= 500


@pytest.mark.parametrize("name", BOUNDED)
def test_bounded(name: str, tmp_path: Path) -> None:
    file = tmp_path / "hostile.trackrules"
    file.write_text(BOUNDED[name](), encoding="utf-8")
    assert codes_in_a_process(file)


SOUND_RULES = SUITE / "bad" / "companions" / "gear.trackrules"

DECLARATIONS: dict[str, Callable[[], str]] = {
    "100-megabytes.rider": lambda: f"ring.front.tread is {'9' * 100_000_000} mm",
    "exponent.rider": lambda: "ring.front.tread is 1e999999999 mm",
    "powers.rider": lambda: "ring.front.tread is 9**9**9 mm",
    "brackets.rider": lambda: "ring.front.tread is " + "(" * 100_000,
    "minuses.rider": lambda: "ring.front.tread is " + "-" * 1_000_000,
    "commas.rider": lambda: "ring.front.tread is " + "1," * 300_000,
    "values.rider": lambda: "marks is " + ", ".join(["a-mark"] * 90_000),
    "nul.rider": lambda: "ring.front.tread is 3 mm\0",
    "unknown.rider": lambda: "".join(f"nowhere.{n}x is yes\n" for n in range(30_000)),
    "twice.rider": lambda: "snap.back is yes\n" * 30_000,
    "nested.json": lambda: "[" * 100_000,
    "nested-objects.json": lambda: '{"a":' * 100_000 + "1" + "}" * 100_000,
    "nested-values.json": lambda: '{"marks":' + "[" * 100_000 + "]" * 100_000 + "}",
    "long-number.json": lambda: '{"teeth": ' + "9" * 1_000_000 + "}",
    "number.json": lambda: '{"teeth": ' + "9" * 5_000 + "}",
    "exponent.json": lambda: '{"teeth": 1e999999999}',
    "small-exponent.json": lambda: '{"teeth": 1e-999999999}',
    "nan.json": lambda: '{"teeth": NaN}',
    "infinity.json": lambda: '{"teeth": -Infinity}',
    "twice.json": lambda: '{"teeth": 15, "teeth": 16}',
    "twice-by-dots.json": lambda: (
        '{"ring": {"front.tread": "3 mm"}, "ring.front": {"tread": "4 mm"}}'
    ),
    "list.json": lambda: "[]",
    "null.json": lambda: "null",
    "null-value.json": lambda: '{"teeth": null}',
    "surrogate.json": lambda: '{"lid.shell": "\\ud800"}',
    "surrogate-key.json": lambda: '{"\\ud800": "full-face"}',
    "empty.json": lambda: "",
    "empty-key.json": lambda: '{"": 1, ".": 2, "..": {"": 3}}',
    "nul.json": lambda: '{"lid.shell": "full-face\\u0000"}',
    "quantity.json": lambda: '{"ring.front.tread": "9**9**9 mm"}',
    "quantity-comma.json": lambda: '{"ring.front.tread": "1,5 mm"}',
    "quantity-long.json": lambda: '{"ring.front.tread": "' + "9" * 1_000_000 + ' mm"}',
    "bare-quantity.json": lambda: '{"ring.front.tread": 3.5}',
    "flag-for-count.json": lambda: '{"teeth": true}',
    "text-for-count.json": lambda: '{"teeth": "15"}',
    "wide.json": lambda: json.dumps({f"nowhere.{n}": 1 for n in range(50_000)}),
    "nested.toml": lambda: "teeth = " + "[" * 50_000,
    "nested-tables.toml": lambda: "a" + ".a" * 50_000 + " = 1",
    "inline-tables.toml": lambda: "teeth = " + "{a = " * 20_000 + "1" + "}" * 20_000,
    "exponent.toml": lambda: "teeth = 1e999999999",
    "number.toml": lambda: "teeth = " + "9" * 5_000,
    "nan.toml": lambda: "teeth = nan",
    "twice.toml": lambda: "teeth = 15\nteeth = 16",
    "time.toml": lambda: "lid.made = 10:00:00",
    "far-date.toml": lambda: "lid.made = 9999-12-31",
    "empty-key.toml": lambda: '"" = 1\n"." = 2',
    "unknown.yaml": lambda: "a: 1",
}


@pytest.mark.parametrize("name", DECLARATIONS)
def test_refused_declaration(name: str, tmp_path: Path) -> None:
    file = tmp_path / name
    file.write_text(DECLARATIONS[name](), encoding="utf-8")
    codes = codes_in_a_process(SOUND_RULES, file)
    assert codes
    assert "sound" not in codes
    assert len(codes) <= 500


@pytest.mark.parametrize("ending", ["rider", "toml", "json"])
@pytest.mark.parametrize(
    "data",
    [b"\xff\xfe\x00", b"\x80", b"\xed\xa0\x80", "teeth is 15".encode("utf-16"), b"\x00" * 1000],
    ids=["bom-of-utf-16", "lone-byte", "surrogate", "utf-16", "nul"],
)
def test_no_text(ending: str, data: bytes, tmp_path: Path) -> None:
    file = tmp_path / f"no.{ending}"
    file.write_bytes(data)
    with pytest.raises(DeclarationError):
        trackprep.read_declaration(file, trackprep.read_ruleset(SOUND_RULES))


_CIRCLE: dict[str, Any] = {}
_CIRCLE["ring"] = _CIRCLE


@pytest.mark.parametrize(
    "data",
    [
        {"teeth": None}, {"teeth": 15.0}, {"teeth": float("nan")}, {"teeth": True},
        {"teeth": Decimal("15.5")}, {"teeth": 10**6000}, {"teeth": -1}, {"teeth": b"15"},
        {"teeth": [15]}, {"teeth": {}}, {1: 2}, {None: "x"}, {("a",): "x"}, {"": "x"},
        {"lid.made": datetime(2023, 4, 1, 12, 0)}, {"lid.made": 20230401}, {"lid.shell": 5},
        {"marks": "a-mark, b-mark"}, {"marks": [["a-mark"]]}, {"marks": {"a-mark": True}},
        {"marks": [None]}, {"ring.front.tread": 3}, {"ring.front.tread": object()},
        {"ring": "x"}, {"ring": {"front": "x"}}, {"lid": {"shell": {"x": 1}}}, _CIRCLE,
        {"ring.front.tread": "3 mm", "ring": {"front": {"tread": "4 mm"}}},
        {"ring.front.tread": "\ud800"}, {"ring.front.tread": "9" * 5000 + " mm"},
        {"declaration": 5}, {"declared-on": "yesterday"},
    ],
    ids=lambda data: ascii(list(data))[:40],
)  # fmt: skip
def test_odd_mappings(data: Any) -> None:
    with pytest.raises(DeclarationError):
        trackprep.parse_declaration(data, trackprep.read_ruleset(SOUND_RULES))


# ---- what lies outside ----------------------------------------------------------


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """A folder for the rule file, and one beside it with a file that is none of its business."""
    inside, outside = tmp_path / "inside", tmp_path / "outside"
    inside.mkdir()
    outside.mkdir()
    (outside / "secret.trackrules").write_text(
        'vocabulary secret "Secret"\nfact secret.word "Secret word" yes or no\n', encoding="utf-8"
    )
    return inside, outside


def refused_for(folder: Path, statement: str) -> tuple[Problem, ...]:
    file = folder / "day.trackrules"
    file.write_text(HEAD + statement + "\n", encoding="utf-8")
    with pytest.raises(RulesetError) as refused:
        trackprep.read_ruleset(file)
    return refused.value.problems


@pytest.mark.parametrize("keyword", ["use", "supplements"])
@pytest.mark.parametrize(
    "name",
    [
        "../../x", "../outside/secret.trackrules", "..\\\\outside\\\\secret.trackrules",
        "a/../../outside/secret.trackrules", "/etc/passwd", "/etc/passwd.trackrules",
        "//host/share/x.trackrules", "C:\\\\x.trackrules", "~/x.trackrules", "$HOME/x.trackrules",
        "file:///etc/x.trackrules", "https://example.org/x.trackrules", "", ".", "..",
        ".trackrules", "../standard", "standard.trackrules/../x", "con.trackrules",
        "x\u0000.trackrules", "a" * 3000 + ".trackrules", "day.trackrules",
    ],
)  # fmt: skip
def test_names_that_lead_out(keyword: str, name: str, folders: tuple[Path, Path]) -> None:
    inside, _ = folders
    problems = refused_for(inside, f'{keyword} "{name}"')
    assert "secret" not in "".join(p.message for p in problems).replace("secret.trackrules", "")


def test_a_link_that_leads_out(folders: tuple[Path, Path]) -> None:
    inside, outside = folders
    (inside / "link.trackrules").symlink_to(outside / "secret.trackrules")
    assert refused_for(inside, 'use "link.trackrules"')


def test_a_folder_that_leads_out(folders: tuple[Path, Path]) -> None:
    inside, outside = folders
    (inside / "sub").symlink_to(outside, target_is_directory=True)
    assert refused_for(inside, 'use "sub/secret.trackrules"')


def test_links_in_a_circle(folders: tuple[Path, Path]) -> None:
    inside, _ = folders
    (inside / "one.trackrules").symlink_to(inside / "two.trackrules")
    (inside / "two.trackrules").symlink_to(inside / "one.trackrules")
    assert refused_for(inside, 'use "one.trackrules"')


def test_a_folder_for_a_file(folders: tuple[Path, Path]) -> None:
    inside, _ = folders
    (inside / "sub.trackrules").mkdir()
    assert refused_for(inside, 'use "sub.trackrules"')


def test_a_pipe_for_a_file(folders: tuple[Path, Path]) -> None:
    inside, _ = folders
    os.mkfifo(inside / "pipe.trackrules")
    file = inside / "day.trackrules"
    file.write_text(HEAD + 'use "pipe.trackrules"\n', encoding="utf-8")
    assert "sound" not in codes_in_a_process(file)


def test_an_example_from_outside(folders: tuple[Path, Path]) -> None:
    inside, outside = folders
    (outside / "secret.rider").write_text("x.b is yes\n", encoding="utf-8")
    (inside / "link.rider").symlink_to(outside / "secret.rider")
    for name in ("../outside/secret.rider", "link.rider", str(outside / "secret.rider")):
        rule = FACTS.removeprefix(HEAD) + 'rule one "One" require x.b\n'
        example = f'example "E" from "{name}" on 2026-06-14\n  expect one is met'
        assert refused_for(inside, rule + example)


def test_a_link_inside_is_followed(folders: tuple[Path, Path]) -> None:
    inside, _ = folders
    (inside / "real.trackrules").write_text(
        'vocabulary real "Real"\nfact y.a "A" yes or no\n', encoding="utf-8"
    )
    (inside / "link.trackrules").symlink_to(inside / "real.trackrules")
    file = inside / "day.trackrules"
    file.write_text(HEAD + 'use "link.trackrules"\nrule one "One" require y.a\n', encoding="utf-8")
    assert trackprep.read_ruleset(file).name == "hostile"


@pytest.mark.parametrize("keyword", ["use", "supplements"])
@pytest.mark.parametrize("length", [1, 2, 5])
def test_files_in_a_circle(keyword: str, length: int, tmp_path: Path) -> None:
    heading = "ruleset" if keyword == "supplements" else "vocabulary"
    for n in range(length):
        text = f'{heading} f{n} "F"\n{keyword} "f{(n + 1) % length}.trackrules"\n'
        (tmp_path / f"f{n}.trackrules").write_text(text, encoding="utf-8")
    assert refused_for(tmp_path, f'{keyword} "f0.trackrules"')


@pytest.mark.parametrize("keyword", ["use", "supplements"])
def test_files_one_below_the_other(keyword: str, tmp_path: Path) -> None:
    heading = "ruleset" if keyword == "supplements" else "vocabulary"
    for n in range(500):
        text = f'{heading} f{n} "F"\n{keyword} "f{n + 1}.trackrules"\n'
        (tmp_path / f"f{n}.trackrules").write_text(text, encoding="utf-8")
    (tmp_path / "f500.trackrules").write_text(f'{heading} f500 "F"\n', encoding="utf-8")
    assert refused_for(tmp_path, f'{keyword} "f0.trackrules"')


def test_files_that_use_two_each(tmp_path: Path) -> None:
    """Each uses the next two: read once each, not twice as often at each step."""
    for n in range(60):
        uses = "".join(f'use "f{m}.trackrules"\n' for m in (n + 1, n + 2))
        text = f'vocabulary f{n} "F"\n{uses if n < 58 else ""}fact f{n}.a "A" yes or no\n'
        (tmp_path / f"f{n}.trackrules").write_text(text, encoding="utf-8")
    file = tmp_path / "day.trackrules"
    file.write_text(HEAD + 'use "f0.trackrules"\n', encoding="utf-8")
    assert codes_in_a_process(file)


def test_many_files(tmp_path: Path) -> None:
    for n in range(1_000):
        text = f'vocabulary f{n} "F"\nfact f{n}.a "A" yes or no\n'
        (tmp_path / f"f{n}.trackrules").write_text(text, encoding="utf-8")
    uses = "\n".join(f'use "f{n}.trackrules"' for n in range(1_000))
    assert refused_for(tmp_path, uses)


def test_a_text_without_a_folder_reads_no_file(folders: tuple[Path, Path]) -> None:
    _, outside = folders
    for name in ("secret.trackrules", str(outside / "secret.trackrules")):
        with pytest.raises(RulesetError):
            trackprep.parse_ruleset(HEAD + f'use "{name}"\n')


# ---- the small and the odd ------------------------------------------------------

_PIECES = re.compile(r'\s+|"[^"\n]*"?|[\w.-]+|.', re.DOTALL)
_QUICK = settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


def _texts() -> Iterator[str]:
    for file in sorted((SUITE / "good").glob("*.toml")):
        yield tomllib.loads(file.read_text(encoding="utf-8"))["rules"]
    for file in sorted((SUITE / "bad").glob("*.trackrules")):
        text = file.read_text(encoding="utf-8")
        if "supplements" not in text and "use " not in text:
            yield text


@cache
def good_texts() -> list[str]:
    return [text for text in _texts() if len(text) < 6_000]


@cache
def gear() -> trackprep.Ruleset:
    return trackprep.read_ruleset(SOUND_RULES)


GOOD_RIDER = """declaration "Sam Ferrow, blue mini"
declared on 2026-06-10
lid.shell is full-face
lid.made is 2023-04   # a month
ring.front.tread is 3.5 mm
ring.front.pressure is 31 psi
ring.front.built is "2319"
snap.back is yes
marks is a-mark, b-mark
teeth is 15
heat.a is -5 °C
"""
GOOD_TOML = """declaration = "Sam Ferrow, blue mini"
teeth = 15
marks = ["a-mark", "b-mark"]
[lid]
shell = "full-face"
made = 2023-04-17
[ring.front]
tread = "3.5 mm"
built = "2319"
[snap]
back = true
"""
GOOD_JSON = json.dumps(
    {
        "declaration": "Sam Ferrow, blue mini",
        "teeth": 15,
        "marks": ["a-mark"],
        "lid": {"shell": "full-face", "made": "2023-04"},
        "ring": {"front": {"tread": "3.5 mm"}},
        "snap.back": True,
    }  # fmt: skip
)
_STRAY = st.sampled_from(
    [
        "",
        " ",
        "\n",
        "#",
        '"',
        "“",
        "(",
        ")",
        "[",
        "]",
        ",",
        ".",
        "-",
        "–",
        "*",
        "/",
        "<",
        "is",
        "not",
        "of",
        "each of",
        "at least",
        "and",
        "or",
        "when",
        "rule",
        "fact",
        "limit",
        "list",
        "it",
        "it.a",
        "none",
        "yes",
        "otherwise",
        "0",
        "1/0",
        "1e9",
        "3 mm",
        "5 years",
        "°C",
        "2026-02-30",
        "2319",
        "\0",
        "\ufeff",
        "\u202e",
        "\ud800",
        "é",
        "x" * 50,
        "{",
        "}",
        ":",
        "=",
        "[[a]]",
        "null",
        "NaN",
        "event.date",
        "standard",
        "completed years of",
        "age of",
    ]  # fmt: skip
)


@st.composite
def mutated(draw: st.DrawFn, texts: Callable[[], list[str]]) -> str:
    """A sound text with some pieces taken out, doubled, swapped, or put in."""
    pieces = _PIECES.findall(draw(st.sampled_from(texts())))
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(pieces) - 1)) if pieces else 0
        match draw(st.sampled_from(["delete", "double", "swap", "replace", "insert", "cut"])):
            case "delete":
                del pieces[at : at + draw(st.integers(1, 6))]
            case "double":
                pieces[at:at] = pieces[at : at + draw(st.integers(1, 12))]
            case "swap" if pieces:
                other = draw(st.integers(0, len(pieces) - 1))
                pieces[at], pieces[other] = pieces[other], pieces[at]
            case "replace" if pieces:
                pieces[at] = draw(_STRAY | st.sampled_from(pieces))
            case "insert":
                pieces.insert(at, draw(_STRAY))
            case "cut":
                del pieces[at:]
            case _:
                pass
    return "".join(pieces)


def lies_in(problem: Problem, text: str) -> bool:
    """Whether the problem has a place, and a real one."""
    assert str(problem)
    assert json.dumps(problem.to_dict())
    if problem.line is None:
        return True
    lines = text.split("\n")
    assert problem.column is not None
    return (
        1 <= problem.line <= len(lines) and 1 <= problem.column <= len(lines[problem.line - 1]) + 1
    )


def take_rules(text: str) -> None:
    """Reads the text as rules; if it is sound, checks a declaration that says nothing."""
    try:
        ruleset = trackprep.parse_ruleset(text, name="odd.trackrules")
    except RulesetError as error:
        assert error.problems
        assert all(
            lies_in(problem, text) for problem in error.problems if problem.file == "odd.trackrules"
        )
        return
    report = ruleset.check(trackprep.parse_declaration({}, ruleset), on=EVENT)
    assert str(report)
    assert json.dumps(report.to_dict())


def take_rider(text: str) -> None:
    """Reads the text as a declaration for the gear of the suite; if it is sound, checks it."""
    try:
        declaration = trackprep.parse_declaration(text, gear())
    except DeclarationError as error:
        assert error.problems
        assert all(lies_in(problem, text) for problem in error.problems)
        return
    assert str(gear().check(declaration, on=EVENT))


@_QUICK
@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    take_rules(text)
    take_rider(text)


@_QUICK
@given(st.lists(_STRAY | st.text(max_size=5), max_size=40))
def test_any_words(words: list[str]) -> None:
    text = " ".join(words)
    take_rules(text)
    take_rules(HEAD + text)
    take_rider(text)


@_QUICK
@given(st.binary(max_size=300), st.sampled_from(["trackrules", "rider", "toml", "json"]))
def test_any_bytes(tmp_path: Path, data: bytes, ending: str) -> None:
    file = tmp_path / f"odd.{ending}"
    file.write_bytes(data)
    try:
        if ending == "trackrules":
            trackprep.read_ruleset(file)
        else:
            trackprep.read_declaration(file, gear())
    except (RulesetError, DeclarationError) as error:
        assert all(str(problem) for problem in error.problems)


@settings(_QUICK, max_examples=300)
@given(mutated(good_texts))
def test_mutated_rules(text: str) -> None:
    take_rules(text)


@settings(_QUICK, max_examples=300)
@given(mutated(lambda: [GOOD_RIDER]))
def test_mutated_rider(text: str) -> None:
    take_rider(text)


@settings(_QUICK, max_examples=200)
@given(mutated(lambda: [GOOD_TOML]))
def test_mutated_toml(tmp_path: Path, text: str) -> None:
    file = tmp_path / "odd.toml"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    take_file(file)


@settings(_QUICK, max_examples=200)
@given(mutated(lambda: [GOOD_JSON]))
def test_mutated_json(tmp_path: Path, text: str) -> None:
    file = tmp_path / "odd.json"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    take_file(file)


_LEAVES = (
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8)
    | st.dates() | st.datetimes() | st.sampled_from(["3 mm", "full-face", "2319", "yes", "2023-04"])
)  # fmt: skip
_KEYS = st.sampled_from(
    ["lid", "shell", "made", "ring", "front", "tread", "ring.front.tread", "marks", "teeth",
     "declaration", "declared-on", "lid.age", ""]
) | st.text(max_size=4)  # fmt: skip


@_QUICK
@given(
    st.dictionaries(
        _KEYS,
        st.recursive(
            _LEAVES,
            lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_KEYS, inner, max_size=3),
            max_leaves=8,
        ),
        max_size=5,
    )
)
def test_any_mapping(data: dict[str, Any]) -> None:
    try:
        declaration = trackprep.parse_declaration(data, gear())
    except DeclarationError as error:
        assert all(str(problem) for problem in error.problems)
        return
    assert str(gear().check(declaration, on=EVENT))


def take_file(file: Path) -> None:
    """Reads a declaration; if it is sound, checks it."""
    try:
        declaration = trackprep.read_declaration(file, gear())
    except DeclarationError as error:
        assert all(str(problem) for problem in error.problems)
        return
    assert str(gear().check(declaration, on=EVENT))
