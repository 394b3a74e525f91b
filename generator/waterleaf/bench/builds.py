"""What the whole build costs when little or nothing has changed, against mkdocs alone on the same pages."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Final

from waterleaf.bank.builder import load_bank
from waterleaf.bench.bare import lay_down_bare
from waterleaf.bench.figures import Row
from waterleaf.bench.runs import Run, in_turn, run
from waterleaf.home import load_settings
from waterleaf.site.builder import course_of

_LESSON: Final = Path("course", "feed", "index.md")


def bench_build(home: Path, times: int) -> Iterator[Row]:
    """The first build of a copy of the kit, then builds with nothing and with one word changed, and mkdocs alone."""
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    with tempfile.TemporaryDirectory(prefix="waterleaf-bench-") as place:
        kit, out, bare = (Path(place, name) for name in ("kit", "out", "bare"))
        _copy(home, kit)
        build = partial(run, "waterleaf", "build", "--out", str(out), home=kit)
        cold = build()
        lay_down_bare(course_of(kit, load_settings(kit), load_bank(kit / "question_bank")), bare)
        alone = partial(run, "mkdocs", "build", "-q", "-f", str(bare / "mkdocs.yml"), home=kit)

        def after_a_word() -> Run:
            add_a_word(kit / _LESSON)
            return build()

        costs = in_turn({"warm": build, "word": after_a_word, "mkdocs": alone}, times)
        pages, plain = (sum(1 for _ in folder.rglob("*.html")) for folder in (out / "site", bare / "site"))
    if pages != plain:
        raise ValueError(f"mkdocs alone made {plain} pages, the kit {pages}")
    yield Row("whole build, the first", pages, cold, 1, note="nothing kept yet; site, worksheets, keys")
    for name, what in (("warm", "nothing changed"), ("word", "one word of a lesson changed")):
        note = "an item is a page; the same pages"
        yield Row(f"whole build, {what}", pages, costs[name], times, "mkdocs alone", costs["mkdocs"], note)


def _copy(home: Path, kit: Path) -> None:
    """Course, bank and check values in a folder of their own: the bench changes a lesson."""
    for name in ("course", "question_bank", "tests/published"):
        if (home / name).is_dir():
            shutil.copytree(home / name, kit / name)
    shutil.copy(home / "mkdocs.yml", kit / "mkdocs.yml")


def add_a_word(lesson: Path) -> None:
    """One more word at the end of the first paragraph."""
    heading, first, *rest = lesson.read_text(encoding="utf-8").split("\n\n")
    lesson.write_text("\n\n".join((heading, f"{first} Again.", *rest)), encoding="utf-8")
