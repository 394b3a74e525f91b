"""Pages that take long to make are kept between builds, and made anew when what they come from has changed."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from waterleaf.site import store
from waterleaf.site.store import Shelf, digest_of, kept_pages


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


def test_a_shelf_keeps_what_was_laid_by_again(tmp_path: Path) -> None:
    """The rest is forgotten, so that it does not grow for ever."""
    shelf = Shelf(tmp_path / "shelf.json")
    assert shelf.kept("one") is None
    assert (shelf.keep("one", "1"), shelf.keep("two", "2")) == ("1", "2")
    shelf.close()
    second = Shelf(tmp_path / "shelf.json")
    assert (second.kept("one"), second.kept("two")) == ("1", "2")
    second.keep("two", "2")
    second.close()
    assert Shelf(tmp_path / "shelf.json").kept("one") is None


@pytest.mark.parametrize("text", ["", "{", "[]", '{"one": 7}', '{"one": null}'])
def test_a_damaged_shelf_holds_nothing(tmp_path: Path, text: str) -> None:
    """Texts only are taken from it."""
    (tmp_path / "shelf.json").write_text(text, encoding="utf-8")
    assert Shelf(tmp_path / "shelf.json").kept("one") is None


def test_texts_that_are_cut_elsewhere_have_another_digest() -> None:
    """What ends one text must not look like the start of the next."""
    assert len({digest_of("ab", "c"), digest_of("a", "bc"), digest_of("abc"), digest_of("abc", "")}) == 4


@pytest.mark.parametrize("what", ["source", "package", "python"])
def test_another_kit_has_another_fingerprint(what: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A changed formula or template, another version of a library, another Python: nothing kept is used."""
    package = tmp_path / "waterleaf"
    (package / "site").mkdir(parents=True)
    (package / "sheet.typ").write_text("one", encoding="utf-8")
    monkeypatch.setattr(store, "__file__", str(package / "site" / "store.py"))
    monkeypatch.setattr(sys, "path", [str(tmp_path / "lib")])
    (tmp_path / "lib" / "typst-1.0.dist-info").mkdir(parents=True)
    fresh = store.kit_fingerprint.__wrapped__
    before = fresh()
    assert fresh() == before
    if what == "source":
        (package / "sheet.typ").write_text("two", encoding="utf-8")
    elif what == "package":
        (tmp_path / "lib" / "typst-1.0.dist-info").rename(tmp_path / "lib" / "typst-1.1.dist-info")
    else:
        monkeypatch.setattr(sys, "version", "another")
    assert fresh() != before
