"""Finished work is put in place whole, by one run at a time."""

import errno
from pathlib import Path

import pytest

from waterleaf.faults import Faults
from waterleaf.home import swapped_in


def test_two_runs_never_write_one_folder_at_once(tmp_path: Path) -> None:
    """The second is told so and leaves; the first goes on undisturbed."""
    place = tmp_path / "site"
    with swapped_in(place) as fresh:
        (fresh / "page.html").write_text("whole", encoding="utf-8")
        with pytest.raises(Faults, match="another run is writing here just now"), swapped_in(place):
            raise AssertionError("two runs wrote at once")
    assert (place / "page.html").read_text(encoding="utf-8") == "whole"


def test_a_run_that_fails_leaves_the_last_good_folder(tmp_path: Path) -> None:
    """And the next run starts afresh."""
    place = tmp_path / "site"
    with swapped_in(place) as fresh:
        (fresh / "page.html").write_text("good", encoding="utf-8")
    with pytest.raises(ZeroDivisionError), swapped_in(place) as fresh:
        (fresh / "page.html").write_text("half", encoding="utf-8")
        raise ZeroDivisionError
    assert (place / "page.html").read_text(encoding="utf-8") == "good"
    with swapped_in(place) as fresh:
        assert list(fresh.iterdir()) == []


def test_a_run_that_died_between_two_renames_is_mended(tmp_path: Path) -> None:
    """The good output that it had moved aside comes back, and its scraps go."""
    place = tmp_path / "site"
    aside = tmp_path / ".site-old"
    aside.mkdir()
    (aside / "page.html").write_text("good", encoding="utf-8")
    (tmp_path / ".site-new-x").mkdir()
    with pytest.raises(ZeroDivisionError), swapped_in(place):
        raise ZeroDivisionError
    assert (place / "page.html").read_text(encoding="utf-8") == "good"
    assert sorted(path.name for path in tmp_path.iterdir()) == [".site-lock", "site"]


def test_a_folder_that_was_not_made_here_is_never_replaced(tmp_path: Path) -> None:
    """A slip of --out costs nobody their class folder."""
    own = tmp_path / "spring"
    own.mkdir()
    (own / "class.csv").write_text("id,name\n", encoding="utf-8")
    with pytest.raises(Faults, match="holds files that were not made here"), swapped_in(own):
        raise AssertionError("a stranger's folder was replaced")
    assert [path.name for path in own.iterdir()] == ["class.csv"]


def test_the_folder_at_hand_is_one_like_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A point for --out is refused where something lies there, in one line."""
    (tmp_path / "notes.txt").touch()
    monkeypatch.chdir(tmp_path)
    with pytest.raises(Faults, match="not made here"), swapped_in(Path()):
        raise AssertionError("the folder at hand was replaced")


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path) -> None:
    """What it points to is replaced, twice over."""
    (tmp_path / "link").symlink_to(tmp_path / "far", target_is_directory=True)
    for text in ("one", "two"):
        with swapped_in(tmp_path / "link") as fresh:
            (fresh / "page").write_text(text, encoding="utf-8")
        assert (tmp_path / "far" / "page").read_text(encoding="utf-8") == text
    assert (tmp_path / "link").is_symlink()


def test_a_full_disk_leaves_the_last_good_folder(tmp_path: Path) -> None:
    """It is told in one line, and the next run finds nothing in its way."""
    place = tmp_path / "site"
    with swapped_in(place) as fresh:
        (fresh / "page").write_text("good", encoding="utf-8")
    with pytest.raises(Faults, match="the disk is full"), swapped_in(place) as fresh:
        (fresh / "page").write_text("half", encoding="utf-8")
        raise OSError(errno.ENOSPC, "No space left on device")
    assert (place / "page").read_text(encoding="utf-8") == "good"
    assert sorted(path.name for path in tmp_path.iterdir()) == [".site-lock", "site"]
