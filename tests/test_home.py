"""Finished work is put in place whole, by one run at a time."""

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
