"""A file is put in place whole or not at all, whatever the disk, the permissions or the clock do."""

import errno
import os
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from waterleaf.faults import Faults
from waterleaf.marking.issuebook import class_to_itself
from waterleaf.writing import one_at_a_time, written_whole


@pytest.fixture
def read_only() -> Iterator[Path]:
    """A folder with a file, in which nothing can be written; all the way to it is open to everybody."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "stick"
        folder.mkdir()
        (folder / "book.json").write_text("old", encoding="utf-8")
        Path(name).chmod(0o755)
        folder.chmod(0o555)
        yield folder
        folder.chmod(0o755)


@pytest.fixture
def powerless() -> Iterator[None]:
    """For this test the process is nobody, since the administrator may write everywhere."""
    if os.geteuid() == 0:
        os.seteuid(65534)
        yield
        os.seteuid(0)
    else:
        yield


@pytest.mark.parametrize(
    ("number", "said"),
    [(errno.ENOSPC, "the disk is full"), (errno.EDQUOT, "the disk is full"), (errno.EIO, "cannot be written")],
)
@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_full_or_broken_disk_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, said: str, call: str
) -> None:
    """Whether the disk fails while writing or while renaming, the old file stays and no scrap is left."""
    path = tmp_path / "book.json"
    path.write_text("old", encoding="utf-8")

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patch:
        patch.setattr(os, call, refuse)
        with pytest.raises(Faults, match=said):
            written_whole(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["book.json"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_device_is_written_to_and_never_replaced() -> None:
    """The device that is always full says so, and is a device still."""
    with pytest.raises(Faults, match="the disk is full"):
        written_whole(Path("/dev/full"), "text")
    assert stat.S_ISCHR(Path("/dev/full").stat().st_mode)


def test_a_read_only_folder_is_told_and_keeps_its_file(read_only: Path, powerless: None) -> None:
    """A stick with the switch set, or a folder of somebody else."""
    with pytest.raises(Faults, match="cannot be written") as caught:
        written_whole(read_only / "book.json", "new")
    assert "\n" not in str(caught.value)
    assert [(path.name, path.read_text(encoding="utf-8")) for path in read_only.iterdir()] == [("book.json", "old")]


def test_a_class_folder_that_cannot_be_written_is_refused_at_once(read_only: Path, powerless: None) -> None:
    """Before anything is drawn, and not by a traceback."""
    with pytest.raises(Faults, match="cannot be written"), class_to_itself(read_only):
        raise AssertionError("a lock was made where nothing can be")


def test_a_file_for_its_owner_alone_is_never_open_to_others(tmp_path: Path) -> None:
    """Neither a new one nor one that was open to all before."""
    path = tmp_path / "secret.txt"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o644)
    written_whole(path, "new", private=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_permissions_and_links_stay(tmp_path: Path) -> None:
    """A file keeps its permissions, and a link goes on pointing at the file that was replaced."""
    path, link = tmp_path / "marks.csv", tmp_path / "link.csv"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    link.symlink_to(path)
    written_whole(link, "new")
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_scraps_of_a_killed_run_go_and_others_stay(tmp_path: Path) -> None:
    """Only an old half-written copy of the same file is cleared away; a clock set back does not keep it for ever."""
    scraps = [tmp_path / f".book-{letter * 8}.part" for letter in "abc"]
    for scrap, age in zip(scraps, (7200, 0, -90_000), strict=True):
        scrap.write_text("half", encoding="utf-8")
        now = scrap.stat().st_mtime
        os.utime(scrap, (now - age, now - age))
    written_whole(tmp_path / "book", "whole")
    assert sorted(path.name for path in tmp_path.iterdir()) == [scraps[1].name, "book"]


def test_the_second_at_a_lock_is_told_and_the_next_is_let_in(tmp_path: Path) -> None:
    """A lock is let go of even where its block fails."""
    lock = tmp_path / ".lock"
    with pytest.raises(ZeroDivisionError), one_at_a_time(lock, tmp_path, "busy."):
        with pytest.raises(Faults, match="busy"), one_at_a_time(lock, tmp_path, "busy."):
            raise AssertionError("two at once")
        raise ZeroDivisionError
    with one_at_a_time(lock, tmp_path, "busy."):
        pass
