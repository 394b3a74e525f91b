"""What the whole suite shares: the browser, and how many examples a property is tried on."""

import os
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Literal, Protocol

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

# Derandomized, so that a run can be repeated; no deadline, since a busy machine is not a fault of the code.
settings.register_profile("suite", deadline=None, derandomize=True, max_examples=60)
settings.load_profile("suite")

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
MISSING = f"needs a Chromium on the PATH ({', '.join(BROWSERS)}); none was found"
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


Scheme = Literal["light", "dark"]


class PageAt(Protocol):
    """Opens a blank page of a given width and colour scheme; further options go to the browser's context."""

    def __call__(self, width: int = 1280, scheme: Scheme = "light", **options: Any) -> "Page":
        """A new page; it is closed when the test ends."""


def find_browser() -> str | None:
    """The path of the first Chromium on this machine."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


@pytest.hookimpl(tryfirst=True)  # before `-m "not browser"` looks at the markers
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A test that asks for a browser is a browser test, marked or not."""
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Without a browser its tests are skipped, unless the environment says that they must run."""
    if item.get_closest_marker("browser") is None or find_browser():
        return
    if os.environ.get("WATERLEAF_BROWSER") == "required":
        pytest.fail(MISSING, pytrace=False)
    pytest.skip(MISSING)


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """One headless Chromium for the whole run."""
    from playwright.sync_api import sync_playwright  # loaded late: most runs of a part of the suite need none

    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=find_browser(), headless=True, args=list(QUIET))
        yield chromium
        chromium.close()


@pytest.fixture
def page_at(browser: "Browser") -> Iterator[PageAt]:
    """Pages of a chosen width and colour scheme, each in a context of its own."""
    contexts = []

    def open_page(width: int = 1280, scheme: Scheme = "light", **options: Any) -> "Page":
        settled: dict[str, Any] = {"reduced_motion": "reduce", "locale": "en-US", "timezone_id": "UTC", **options}
        context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme, **settled)
        contexts.append(context)
        return context.new_page()

    yield open_page
    for context in contexts:
        context.close()
