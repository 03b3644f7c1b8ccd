"""The script of the page: the back end that answers, and the form around it."""

from functools import cache
from pathlib import Path

from trackprep.backends.page import pieces

_FILES = (
    "elements", "amounts", "days", "tokens", "entries", "declaration", "edits", "questions", "work",
    "ahead", "pressures", "pressure-working", "pressure-advice", "pressure-fields", "pressure-view",
    "keeping", "fields", "results", "lists", "declare-view", "keep-view", "form",
)  # fmt: skip
_START = """
new App(JSON.parse(byId("data").textContent)).start();
byId("without").hidden = true;
"""
LOADER = """(async () => {
"use strict";
for (const id of ["data", "script"]) {
const place = document.getElementById(id);
const bytes = Uint8Array.from(atob(place.textContent), (one) => one.charCodeAt(0));
const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
place.textContent = await new Response(plain).text();
}
const script = document.createElement("script");
script.textContent = document.getElementById("script").textContent;
document.body.append(script);
})();
"""
"""Unpacks the data and the script, and runs the script: the policy of the page knows both."""


@cache
def form_script() -> str:
    """All of it in one frame, so that the page sees no name of it."""
    return f'(() => {{\n"use strict";\n{without_comments(form_pieces())}{_START}}})();\n'


def without_comments(script: str) -> str:
    """The script without what only its readers need: comments of a line, and indentation.

    No string of it goes over a line, so that this changes none.
    """
    lines = (line.strip() for line in script.splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//")) + "\n"


@cache
def form_pieces() -> str:
    """All of it without a frame, the back end first."""
    folder = Path(__file__).parent
    own = (folder.joinpath(f"{name}.js").read_text(encoding="utf-8") for name in _FILES)
    return "\n".join((pieces(), *own))
