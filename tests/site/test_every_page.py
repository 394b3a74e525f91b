"""Every page of the site, in both colour schemes, wide and narrow, from a folder and from a plain server.

These walks take minutes, so the suite leaves them out; `pytest -m whole` runs them.
"""

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from on_a_page import STANDARD, Watched
from waterleaf.calc import TOPICS

pytestmark = [pytest.mark.browser, pytest.mark.whole]


def pages_of(site: Path) -> list[str]:
    """Every page but the one that only a server shows, whose links start at the server's root."""
    return sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html") if path.name != "404.html")


class Silent(http.server.SimpleHTTPRequestHandler):
    """A plain server that writes no log."""

    def log_message(self, *_: Any) -> None:
        """Say nothing."""


@pytest.fixture
def served(site: Path) -> Iterator[str]:
    """Address of the site on a plain static server of this machine."""
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Silent, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.mark.parametrize("half", [0, 1])
@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (320, "dark")])
def test_no_page_breaks_an_accessibility_rule(opened: Any, site: Path, width: int, scheme: str, half: int) -> None:
    """axe finds no WCAG 2.2 A or AA violation on any page; at 320 pixels none scrolls sideways."""
    found = []
    page = opened("index.html", width, scheme)
    for path in pages_of(site)[half::2]:
        page.goto((site / path).as_uri())
        page.wait_for_load_state("load")
        if page.evaluate("document.documentElement.scrollWidth") > width:
            found.append(f"{path}: wider than {width} pixels")
        found += [
            f"{path}: {violation['id']} {violation['nodes'][0]['target']}"
            for violation in Axe().run(page, options=STANDARD).response["violations"]
        ]
    assert found == []


def test_every_page_is_quiet_on_a_plain_server(browser: Any, site: Path, served: str) -> None:
    """No word on the console and no request to anywhere else."""
    watched = Watched(browser.new_page())
    for path in pages_of(site):
        watched.page.goto(f"{served}/{path}")
        watched.page.wait_for_load_state("load")
    watched.page.close()
    assert [complaint for complaint in watched.complaints if not complaint.startswith(served)] == []


def test_search_and_practice_work_on_a_plain_server(browser: Any, served: str) -> None:
    """As they do from a folder."""
    page = browser.new_page()
    page.goto(f"{served}/index.html")
    page.keyboard.press("/")
    page.keyboard.type("clarifier", delay=20)
    page.wait_for_selector(".md-search-result__item")
    page.goto(f"{served}/feed/daily_feed.html")
    page.locator(".wl-question input[type=text]").first.fill("1")
    page.locator(".wl-question button").first.click()
    assert page.locator(".wl-verdict").first.inner_text().startswith("Not yet.")
    page.close()


@pytest.mark.parametrize("topic", TOPICS)
def test_lesson_prints_clean(opened: Any, topic: str) -> None:
    """No navigation, header or search on paper; working, figures and sources are there, and nothing is cut off."""
    page = opened(f"{topic}/index.html", 794)  # the width of A4 at 96 dots an inch
    page.emulate_media(media="print")
    for furniture in (".md-header", ".md-sidebar", ".md-search", ".md-tabs", ".md-footer__inner", ".md-top"):
        assert not any(node.is_visible() for node in page.locator(furniture).all()), furniture
    for wanted in (".wl-worked", "figure svg", ".wl-formula", "#sources"):
        assert page.locator(wanted).first.is_visible(), wanted
    cut = page.evaluate(
        "() => [...document.querySelectorAll('article *')].filter(n => getComputedStyle(n).overflowX !== 'visible'"
        " && n.scrollWidth > n.clientWidth + 1).map(n => n.outerHTML.slice(0, 80))"
    )
    assert cut == []
