"""The script of the page as a whole: nothing twice, nothing idle, nothing unsafe, nothing lost."""

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeAlias

import pytest

import trackprep.backends.page
import trackprep.publishing.form
from trackprep.publishing.form.script import form_pieces, form_script, without_comments

FOLDERS = [Path(its.__path__[0]) for its in (trackprep.backends.page, trackprep.publishing.form)]
FILES = sorted(file for folder in FOLDERS for file in folder.glob("*.js"))

every_file = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)


# ---- file by file --------------------------------------------------------------------


@every_file
def test_a_file_is_in_the_script(file: Path) -> None:
    assert file.read_text(encoding="utf-8") in form_pieces()


UNSAFE = re.compile(
    r"(inner|outer)HTML|insertAdjacentHTML|DOMParser|createContextualFragment|setHTMLUnsafe|srcdoc"
    r"|\beval\b|\bFunction\s*\(|document\.write|set(Timeout|Interval)\(\s*[\"'`]"
    r"|\bstyle\s*[:=]|[\"'`]style[\"'`]|cssText|[\"'`]?\bon[a-z]+[\"'`]?\s*:\s*[\"'`]"
    r"|\b(fetch|XMLHttpRequest|WebSocket|EventSource|sendBeacon|importScripts)\b|\bimport\s*\("
)


@every_file
def test_no_text_becomes_markup_or_script_and_nothing_asks_a_network(file: Path) -> None:
    found = UNSAFE.findall(file.read_text(encoding="utf-8"))
    assert not found


@pytest.mark.parametrize("unsafe", [
    "node.innerHTML = text", "place.insertAdjacentHTML(where, text)", "eval(text)",
    'new Function("a", text)', "document.write(text)", 'element("p", { style: "color: red" })',
    "node.style = text", "node.style.cssText = text", 'node.setAttribute("style", text)',
    'setTimeout("run()", 1)', '{ onclick: "run()" }', "fetch(address)", "import(address)",
])  # fmt: skip
def test_what_is_unsafe_is_found(unsafe: str) -> None:
    assert UNSAFE.search(unsafe)


@every_file
def test_a_file_can_be_read_at_one_go(file: Path) -> None:
    lines = file.read_text(encoding="utf-8").splitlines()
    assert len(lines) < 300
    assert lines[0].startswith("// "), "says what it is"
    too_long = [place for place, line in enumerate(lines, 1) if len(line) > 100]
    assert not too_long


# ---- all files in one scope -----------------------------------------------------------


@pytest.fixture(scope="module")
def page(browser: Any) -> Iterator[Any]:
    """A page without any script."""
    opened = browser.new_page()
    yield opened
    opened.close()


def mistake(page: Any, script: str) -> str | None:
    """Why a script is none, read strictly and as a block, in which no name may stand twice."""
    found: str | None = page.evaluate(
        """(script) => {
          try {
            new Function(`"use strict"; {${script}\\n}`);
            return null;
          } catch (why) {
            return why.message;
          }
        }""",
        script,
    )
    return found


def test_no_name_stands_twice(page: Any) -> None:
    assert mistake(page, form_pieces()) is None
    assert mistake(page, without_comments(form_pieces())) is None
    again = mistake(page, f"{form_pieces()}\nfunction readDeclaration() {{}}")
    assert again == "Identifier 'readDeclaration' has already been declared"


def on_line_ends(script: str, written: str) -> str:
    return script.replace("\n", f"{written}\n")


def test_no_text_of_the_script_goes_over_a_line_end(page: Any) -> None:
    """So that indentation and lines of comment are none of it, and may be left out.

    What is written on each line end is a comment there, and a mistake in a text.
    """
    comment = r" // \u{none}"
    assert mistake(page, on_line_ends(form_pieces(), comment)) is None
    for text in ("const a = `\n`;", "const a = `${1}\n  // b`;", 'const a = "b\\\n  c";'):
        assert mistake(page, text) is None
        assert mistake(page, on_line_ends(text, comment)), text
    assert "String.raw" not in form_pieces()  # a text with a tag may hold anything


# ---- what it defines ------------------------------------------------------------------

Defined: TypeAlias = tuple[str, str, list[str]]
"""What a name stands for: its type, its source if it can be called, the methods of a class."""

DEFINED = """(names) => names.map((name) => {
  const its = (0, eval)(name);
  const isClass = /^class\\b/.test(its);
  return [
    name, typeof its, typeof its === "function" ? `${its}` : "",
    isClass ? Object.getOwnPropertyNames(its.prototype) : [],
  ];
})"""


def defined(browser: Any, script: str) -> dict[str, Defined]:
    """What a script defines in a page of its own."""
    page = browser.new_page()
    before = set(page.evaluate("() => Object.getOwnPropertyNames(window)"))
    page.add_script_tag(content=script)
    functions = set(page.evaluate("() => Object.getOwnPropertyNames(window)")) - before
    others = page.context.new_cdp_session(page).send("Runtime.globalLexicalScopeNames")["names"]
    found = page.evaluate(DEFINED, sorted({*functions, *others}))
    page.close()
    return {name: (kind, source, methods) for name, kind, source, methods in found}


@pytest.fixture(scope="module")
def names(browser: Any) -> dict[str, Defined]:
    return defined(browser, form_pieces())


WORD = re.compile(r"(?<![\w$])(?<!(?<!\.\.)\.)[A-Za-z_$][\w$]*")  # but no member


def words_of(script: str) -> Counter[str]:
    return Counter(WORD.findall(re.sub(r"\s// .*", "", without_comments(script))))


def idle(names: dict[str, Defined], script: str) -> list[str]:
    """The names that stand nowhere besides in their own definition."""
    said = words_of(script)
    found = []
    for name, (_, source, _) in names.items():
        named = source.startswith((f"function {name}", f"async function {name}", f"class {name}"))
        if said[name] - words_of(source)[name] < (1 if named else 2):
            found.append(name)
    return found


IDLE = """
function idleCall(n) { return n && idleCall(n - 1); }
class IdleClass { other() { return this.idleCall ?? IdleClass; } }
const idleArrow = (n) => idleArrow(n);
const IDLE_WORD = 1;  // IDLE_WORD
"""


def test_every_name_is_of_use(browser: Any) -> None:
    """What tests alone would call is idle."""
    script = form_script() + IDLE
    names = defined(browser, form_pieces() + IDLE)
    assert len(names) > 300
    assert sorted(idle(names, script)) == ["IDLE_WORD", "IdleClass", "idleArrow", "idleCall"]


def test_every_method_is_called(names: dict[str, Defined]) -> None:
    script = form_script()
    idle = [
        f"{name}.{method}"
        for name, (_, _, methods) in names.items()
        for method in methods
        if method != "constructor" and not re.search(rf"\.{method}(?![\w$])", script)
    ]
    assert not idle


def test_the_page_has_all_that_the_files_define(browser: Any, names: dict[str, Defined]) -> None:
    bare = {
        name: (kind, without_comments(source).rstrip("\n"), methods)
        for name, (kind, source, methods) in names.items()
    }
    assert defined(browser, without_comments(form_pieces())) == bare


def test_the_page_sees_no_name_of_it(browser: Any) -> None:
    """All stands in one frame; without the page around it, it stops where it starts."""
    assert "function readDeclaration" in form_script()
    assert not defined(browser, form_script())
