"""What pages weigh: the bytes of every file that the browser really asks for, uncompressed."""

from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest

pytestmark = pytest.mark.browser
FIRST_PAGE, PRACTICE_PAGE = 400_000, 600_000


class Scales:
    """Weighs pages in one browser window, without a cache between them."""

    def __init__(self, page: Any, site: Path) -> None:
        self.page, self.site = page, site
        self.paths: set[Path] = set()
        page.on("request", self._add)

    def _add(self, request: Any) -> None:
        if request.url.startswith("file:"):
            self.paths.add(Path(unquote(urlsplit(request.url).path)))

    def weigh(self, path: str, ready: str = "") -> int:
        """Bytes of all files that the page asks for until it is ready."""
        self.paths.clear()
        self.page.goto((self.site / path).as_uri())
        # The search worker is asked for after the page is there, and counts as well.
        self.page.wait_for_function("document.querySelector('iframe') !== null")
        self.page.wait_for_load_state("networkidle")
        if ready:
            self.page.locator(ready).first.wait_for()
        assert len(self.paths) > 6
        return sum(file.stat().st_size for file in self.paths)


@pytest.fixture
def scales(opened: Any, site: Path) -> Scales:
    """A window of its own to weigh pages in."""
    return Scales(opened("practice/record.html"), site)


def keys_of(site: Path) -> list[str]:
    """The families that have a practice page."""
    files = site.glob("assets/sets/*/*-metric-1.js")
    return sorted(f"{file.parent.name}/{file.name.removesuffix('-metric-1.js')}" for file in files)


def own_bytes(site: Path, key: str, system: str) -> int:
    """What a practice page has for itself: its HTML and the heavier of its files of sets."""
    sets = site.glob(f"assets/sets/{key}-{system}-*.js")
    return (site / f"{key}.html").stat().st_size + max(file.stat().st_size for file in sets)


def test_the_first_page_is_light(scales: Scales) -> None:
    """The start page with theme, scripts and search worker stays below 400 kB."""
    assert scales.weigh("index.html") <= FIRST_PAGE


def test_the_search_worker_is_on_the_scales(scales: Scales) -> None:
    """What the theme loads later is counted too, so that the sums above are honest."""
    scales.weigh("index.html")
    assert any("search" in file.name for file in scales.paths)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_heaviest_practice_pages_are_light_enough(scales: Scales, site: Path, system: str) -> None:
    """Practice pages differ in their own files alone; the three heaviest stay below 600 kB."""
    keys = sorted(keys_of(site), key=lambda key: own_bytes(site, key, system))[-3:]
    scales.page.evaluate("system => { Waterleaf.memory.change((state) => { state.units = system; }); }", system)
    weights = {}
    for key in keys:
        weights[key] = scales.weigh(f"{key}.html", ".wl-question")
        assert any(f"-{system}-" in file.name for file in scales.paths)
    assert {key: weight for key, weight in weights.items() if weight > PRACTICE_PAGE} == {}


def test_all_practice_pages_ask_for_the_same_shared_files(site: Path) -> None:
    """Every family's page names the same scripts, so that the heaviest ones speak for all."""
    scripts = {
        tuple(part.split('"')[0] for part in (site / f"{key}.html").read_text(encoding="utf-8").split('src="')[1:])
        for key in keys_of(site)
    }
    assert len(keys_of(site)) > 50
    assert len(scripts) == 1


def test_round_and_overview_are_light(scales: Scales) -> None:
    """A round before its first exercise, and the overview, stay below 600 kB."""
    assert scales.weigh("practice/round.html", ".wl-topics") <= PRACTICE_PAGE
    assert scales.weigh("practice/record.html", "table") <= PRACTICE_PAGE


def test_a_round_with_the_heaviest_exercise_is_light_enough(scales: Scales, site: Path) -> None:
    """With the heaviest file of sets on top, the page of the round stays below 600 kB."""
    heaviest = max(file.stat().st_size for file in site.glob("assets/sets/*/*.js"))
    assert scales.weigh("practice/round.html", ".wl-topics") + heaviest <= PRACTICE_PAGE


@pytest.mark.parametrize("path", ["feed/index.html", "lookup/glossary.html"])
def test_pages_to_read_do_not_load_the_judge(scales: Scales, path: str) -> None:
    """Lessons and look-up pages leave out what only practice needs."""
    scales.weigh(path)
    assert not {"judge.js", "judge-tables.js", "exercise.js"} & {file.name for file in scales.paths}
