"""The pages of the course as plain Markdown for mkdocs alone, to measure the kit's own build against."""

import shutil
from pathlib import Path
from typing import Any, Final

import yaml

from waterleaf.site import pages
from waterleaf.site.builder import own_parts, with_practice
from waterleaf.site.pages import Course

_FRONT: Final = "---\n"


def lay_down_bare(course: Course, place: Path) -> None:
    """All that mkdocs needs to build the same site by itself: pages whose directives are carried out, and no hook."""
    docs = place / "course"
    shutil.copytree(course.home / "course", docs)
    for path in docs.rglob("*.md"):
        path.write_text(_carried_out(course, path, path.relative_to(docs).as_posix()), encoding="utf-8")
    for name, text in pages.generated(course):
        written = docs / name
        written.parent.mkdir(parents=True, exist_ok=True)
        written.write_text(text, encoding="utf-8")
    (place / "mkdocs.yml").write_text(yaml.safe_dump(_config(course, place), sort_keys=False), encoding="utf-8")


def _carried_out(course: Course, path: Path, name: str) -> str:
    text = path.read_text(encoding="utf-8")
    needed = pages.scripts_of(text)
    front = f"{_FRONT}scripts: {needed}\n{_FRONT}\n" if needed else ""
    return front + pages.expand(course, text, name)


def _config(course: Course, place: Path) -> dict[str, Any]:
    with (course.home / "mkdocs.yml").open(encoding="utf-8") as handle:
        plain: dict[str, Any] = yaml.safe_load(handle)
    return {
        **plain, "site_name": course.settings.title, "docs_dir": str(place / "course"), "site_dir": str(place / "site"),
        "theme": own_parts(course.home)["theme"], "hooks": [], "nav": with_practice(plain["nav"], course),
    }
