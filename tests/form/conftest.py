"""A browser that has the scripts of the form, and nothing else."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TypeAlias

import pytest
from pages import DAY, Opened, written

import trackprep
from trackprep.published import rulesets_folder
from trackprep.publishing.form.script import form_pieces

Call: TypeAlias = Callable[..., Any]
"""Calls a JavaScript function, given as text, with arguments that JSON can say."""


@pytest.fixture(scope="module")
def call(browser: Any) -> Iterator[Call]:
    """`call("(a, b) => …", a, b)` in a page that has every function of the scripts."""
    opened = browser.new_page()
    opened.on("request", lambda asked: pytest.fail(f"the script asks for {asked.url}"))
    opened.set_content(f"<script>{form_pieces()}</script>")

    def called(function: str, *given: Any) -> Any:
        text = opened.evaluate(
            f"text => JSON.stringify(({function})(...JSON.parse(text)) ?? null)", json.dumps(given)
        )
        return json.loads(text)

    yield called
    opened.close()


@pytest.fixture(scope="module")
def marrowfell(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a shipped ruleset."""
    ruleset = trackprep.read_ruleset(rulesets_folder() / "marrowfell.trackrules")
    return written(tmp_path_factory.mktemp("form"), ruleset.rules)


@pytest.fixture
def rider(browser: Any, marrowfell: Path) -> Iterator[Opened]:
    """A rider's phone, with that page open for the day of the event."""
    opened = Opened(browser, marrowfell, accept_downloads=True)
    opened.on(DAY)
    yield opened
    opened.close()
