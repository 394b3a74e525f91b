"""Pages that take long to make are kept between builds, and made anew when what they come from has changed."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from waterleaf.site.store import kept_pages


class Kitchen:
    """Makes a page of a file and counts how often."""

    def __init__(self, folder: Path) -> None:
        self.source, self.kept, self.made = folder / "source.yaml", folder / "kept", 0
        self.source.write_text("one", encoding="utf-8")

    def make(self) -> Iterator[tuple[str, str]]:
        """The page."""
        self.made += 1
        yield "page.md", self.source.read_text(encoding="utf-8")

    def serve(self) -> dict[str, str]:
        """The page, kept or fresh."""
        return kept_pages(self.kept, "demo", [self.source], self.make)


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    """One that has not cooked yet."""
    return Kitchen(tmp_path)


def test_a_page_is_made_once(kitchen: Kitchen) -> None:
    """The second build takes it from the store."""
    assert kitchen.serve() == kitchen.serve() == {"page.md": "one"}
    assert kitchen.made == 1


def test_a_changed_source_makes_it_anew_and_forgets_the_old(kitchen: Kitchen) -> None:
    """One file stays in the store."""
    kitchen.serve()
    kitchen.source.write_text("two", encoding="utf-8")
    assert kitchen.serve() == {"page.md": "two"}
    assert len(list(kitchen.kept.iterdir())) == 1


def test_a_damaged_store_is_made_afresh(kitchen: Kitchen) -> None:
    """Half a file is no page."""
    kitchen.serve()
    (kept,) = kitchen.kept.iterdir()
    kept.write_text('{"page.md": "on', encoding="utf-8")
    assert kitchen.serve() == {"page.md": "one"}
    assert kitchen.made == 2


def test_a_store_that_cannot_be_written_only_costs_time(kitchen: Kitchen) -> None:
    """A file in the way of the folder."""
    kitchen.kept.write_text("in the way", encoding="utf-8")
    assert kitchen.serve() == kitchen.serve() == {"page.md": "one"}
    assert kitchen.made == 2
