"""What several tests of the site do on a page: watch it, look up its keys, answer, and read what is kept."""

import json
from typing import Any

NAME = "waterleaf-practice"
# What axe holds a page against.
STANDARD = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]},
    "preload": False,
}


class Watched:
    """A page whose console and requests are watched; `complaints` holds what a quiet, offline page would not do."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.complaints: list[str] = []
        page.on("console", lambda m: self.complaints.append(m.text) if m.type in ("error", "warning") else None)
        page.on("pageerror", lambda e: self.complaints.append(str(e)))
        page.on(
            "request",
            lambda r: self.complaints.append(r.url) if not r.url.startswith(("file:", "data:", "blob:")) else None,
        )


def drawn(page: Any, key: str, system: str = "metric", index: int = 0) -> Any:
    """A drawn set as the page has it, with what all sets share under `same`."""
    return page.evaluate(
        """([key, system, index]) => new Promise((found, missing) => Waterleaf.sets.need(
            key, system, index, (data, set) => found({ ...set, same: data.same }), () => missing(Error("none"))))""",
        [key, system, index],
    )


def shown(page: Any) -> tuple[str, int]:
    """Key and set of the exercise that a round shows."""
    return tuple(page.evaluate("""() => {
        const state = Waterleaf.memory.state(), record = Waterleaf.progress.record(state, state.last);
        return [state.last, record ? record.next % Waterleaf.catalogue.sets : 0];
    }"""))


def answer(page: Any, text: str, question: int = 0) -> str:
    """Type an answer by keyboard, press Enter, and read the verdict."""
    section = page.locator(".wl-question").nth(question)
    box = section.locator("input[type=text]").first
    box.focus()
    box.fill(text)
    page.keyboard.press("Enter")
    verdict: str = section.locator(".wl-verdict").inner_text()
    return verdict


def middle(expected: dict[str, Any]) -> float:
    """A number in the middle of the accepted band."""
    return float(expected["low"] + expected["high"]) / 2


def kept(page: Any) -> Any:
    """What the device has stored."""
    text = page.evaluate("name => localStorage.getItem(name)", NAME)
    return json.loads(text) if text else None
