"""The page that checks itself, made of rulesets and opened in a browser."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from trackprep.published import rulesets_folder
from trackprep.publishing.papers import Event, declaring
from trackprep.rules.model import Rules

PHONE = 390  # px: a usual phone, held upright
PAGE = "declare.html"
VIEWS = ("declare", "answers", "work", "gate", "ahead", "pressures", "road", "keep", "rules")
DAY = date(2026, 6, 20)
RIDER = (rulesets_folder() / "ilse.rider").read_text(encoding="utf-8")


def written(folder: Path, *rulesets: Rules) -> Path:
    """The page of some events as a file."""
    file = folder / PAGE
    file.write_text(declaring([Event(rules) for rules in rulesets]).text, encoding="utf-8")
    return file


class Opened:
    """A page in a browser, which asks no network for anything and has no fault."""

    def __init__(self, browser: Any, file: Path, *, view: str = "", **context: Any) -> None:
        self.context = browser.new_context(
            viewport={"width": context.pop("width", PHONE), "height": 844}, **context
        )
        self.faults: list[str] = []
        self.address = file.as_uri()
        self.page = self.context.new_page()
        self.page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        self.page.on("console", lambda said: self.faults.append(said.text))
        self.page.on("dialog", lambda shown: self.faults.append(shown.message))
        self.page.on("request", self.asked)
        self.go(view)

    def asked(self, request: Any) -> None:
        """Files of its own apart, nothing is fetched."""
        if not request.url.startswith((self.address, "blob:")):
            self.faults.append(request.url)

    def go(self, view: str) -> None:
        """Opens a view of it."""
        self.page.goto(f"{self.address}#{view}" if view else self.address)
        self.ready()

    def again(self) -> None:
        """Loads it anew."""
        self.page.reload()
        self.ready()

    def ready(self) -> None:
        """Waits until the form is there."""
        try:
            self.page.wait_for_selector("#app", state="visible", timeout=10_000)
        except Exception as why:
            raise AssertionError(self.faults) from why

    def take(self, text: str) -> None:
        """Pastes a declaration and takes it over."""
        self.go("keep")
        self.page.fill("#paste", text)
        self.page.click("#take")

    def on(self, day: date) -> None:
        """Says which day the event is."""
        self.go("declare")
        self.page.fill("#day", day.isoformat())
        self.page.dispatch_event("#day", "change")

    def question(self, path: str) -> Any:
        """The question about a fact."""
        return self.page.locator(f"[id='q-{path}']")

    def box(self, path: str) -> Any:
        """Where its answer is typed."""
        return self.page.locator(f"[id='q-{path}-in']")

    def answers(self, event: str = "") -> dict[str, str]:
        """What each rule answers, at an event or at the only one."""
        self.go("answers")
        where = f"#answers [data-event='{event}']" if event else "#answers"
        found = self.page.eval_on_selector_all(
            f"{where} article", "all => all.map(one => [one.dataset.rule, one.dataset.status])"
        )
        return dict(found)

    def verdicts(self) -> list[str]:
        """What each event answers."""
        found: list[str] = self.page.eval_on_selector_all(
            "#verdicts p", "all => all.map(one => one.dataset.verdict)"
        )
        return found

    def declared(self) -> str:
        """The declaration's text."""
        self.go("keep")
        return str(self.page.text_content("#declaration"))

    def close(self) -> None:
        """Ends with a look whether anything went wrong."""
        self.context.close()
        assert not self.faults, self.faults


def needs(*names: str) -> Sequence[Any]:
    """Modules that not everybody has."""
    return [pytest.importorskip(name) for name in names]
