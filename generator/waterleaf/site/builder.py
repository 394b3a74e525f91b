"""Runs mkdocs. Another site builder would be put in here and in `hook`, and nowhere else."""

import logging
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.calc import TOPICS
from waterleaf.faults import Fault, Faults
from waterleaf.home import Settings, find_home, load_settings, output_folder
from waterleaf.site import pages
from waterleaf.site.figures import FIGURES
from waterleaf.site.pages import Course
from waterleaf.site.store import Shelf, digest_of, family_fingerprint, kept_pages, practice_scripts


@dataclass(frozen=True)
class _Work:
    """The course being built, and its pages as they were carried out by the last build.

    `origin` stands for all that a page comes from besides its own text.
    """

    course: Course
    origin: str
    shelf: Shelf


_current: _Work | None = None


def current_course() -> Course:
    """The course being built; read from the folder when mkdocs was started by hand."""
    return _current_work().course


def expanded(text: str, path: str) -> str:
    """A page with its directives carried out: by the last build where nothing that they stand for has changed."""
    if not pages.has_directives(text):
        return text
    work = _current_work()
    origin = digest_of(work.origin, path, text)
    kept = work.shelf.kept(origin)
    return work.shelf.keep(origin, pages.expand(work.course, text, path) if kept is None else kept)


def close() -> None:
    """Leave the pages for the next build."""
    _current_work().shelf.close()


def _current_work() -> _Work:
    global _current
    if _current is None:
        home = find_home()
        _current = _work(home, load_settings(home), load_bank(home / "question_bank"))
    return _current


def course_of(home: Path, settings: Settings, bank: Mapping[str, Family]) -> Course:
    """The course with its practice scripts and figures, kept or fresh."""
    kept = output_folder(home) / ".kept"
    figures = kept_pages(kept / "pages", "figures", (), lambda: ((name, draw()) for name, draw in FIGURES.items()))
    return Course(home, settings, bank, practice_scripts(home, bank, settings.seed, kept / "practice"), figures)


def _work(home: Path, settings: Settings, bank: Mapping[str, Family]) -> _Work:
    families = (family_fingerprint(home, family) for family in bank.values())
    return _Work(
        course_of(home, settings, bank), digest_of(settings.model_dump_json(), *families),
        Shelf(output_folder(home) / ".kept" / "expanded.json"),
    )


class _Collected(logging.Handler):
    """Keeps the builder's warnings, to be told as faults."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


def build_site(home: Path, settings: Settings, bank: Mapping[str, Family], place: Path) -> int:
    """Build the site into a folder and return the number of pages.

    Raises Faults with every broken link or other warning of the builder.
    """
    global _current
    os.environ["NO_MKDOCS_2_WARNING"] = "1"  # the theme's notice about its own future is not the reader's business
    from mkdocs.commands.build import build
    from mkdocs.config import load_config

    _current = _work(home, settings, bank)
    collected = _Collected()
    log = logging.getLogger("mkdocs")
    log.addHandler(collected)
    log.propagate = False
    try:
        served = settings.site if settings.site.startswith("http") else ""  # a folder serves no page for a wrong address
        config = load_config(
            str(home / "mkdocs.yml"), site_dir=str(place), site_url=served, strict=False, **own_parts(home)
        )
        config.plugins.on_startup(command="build", dirty=False)
        build(config)
        config.plugins.on_shutdown()
    finally:
        log.removeHandler(collected)
        _current = None
    if collected.messages:
        raise Faults(Fault("course", "", message) for message in collected.messages)
    return sum(1 for _ in place.rglob("*.html"))


def own_parts(home: Path) -> dict[str, Any]:
    """The theme folder and the hook by where they really lie: an installed kit has no `generator` beside its course."""
    from mkdocs.utils.yaml import yaml_load

    with (home / "mkdocs.yml").open(encoding="utf-8") as handle:
        theme = yaml_load(handle)["theme"]
    here = Path(__file__).parent
    return {"theme": theme | {"custom_dir": str(here / "theme")}, "hooks": [str(here / "hook.py")]}


def with_practice(nav: Any, course: Course) -> Any:
    """The navigation with each topic's practice pages after its lesson."""
    if isinstance(nav, list):
        found = []
        for item in nav:
            found.append({k: with_practice(v, course) for k, v in item.items()} if isinstance(item, dict) else item)
            topic = item.removesuffix("/index.md") if isinstance(item, str) and item.endswith("/index.md") else ""
            found += [{family.file.title: pages.practice_page(family)} for family in course.of_topic(topic)]
            if item == "lookup/relations.md":
                found += [{topic.capitalize(): f"lookup/relations-{topic}.md"} for topic in TOPICS]
        return found
    return nav
