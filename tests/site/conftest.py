"""The built site, made once for all workers of a run, and pages opened from its folder without a network."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock

from on_a_page import Watched
from waterleaf.bank.builder import load_bank
from waterleaf.home import Settings
from waterleaf.site.builder import build_site

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site, built by the first worker that asks; the others wait for it."""
    common = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        common = common.parent
    place, done = common / "site", common / "site.done"
    with FileLock(common / "site.lock"):
        if not done.exists():
            build_site(ROOT, Settings(), load_bank(ROOT / "question_bank"), place)
            done.touch()
    return place


@pytest.fixture
def opened(browser: Any, site: Path) -> Iterator[Any]:
    """Opens pages of the site from the folder, offline, at a width and in a scheme; `before` is a script run first."""
    contexts = []
    watched: list[Watched] = []

    def open_page(path: str, width: int = 1280, scheme: str = "light", before: str = "", day: str = "") -> Any:
        context = browser.new_context(
            viewport={"width": width, "height": 800}, color_scheme=scheme, offline=True, reduced_motion="reduce",
            timezone_id="UTC",
        )
        contexts.append(context)
        if before:
            context.add_init_script(before)
        if day:
            context.clock.set_fixed_time(f"{day}T12:00:00Z")
        one = Watched(context.new_page())
        watched.append(one)
        one.page.goto((site / path).as_uri())
        one.page.wait_for_load_state("load")
        return one.page

    yield open_page
    for context in contexts:
        context.close()
    assert [complaint for one in watched for complaint in one.complaints] == []
