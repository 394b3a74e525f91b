"""Papers that were given out outlive the secret that they came from."""

from pathlib import Path

import pytest

from classroom import quiet, small_bank
from papers_room import BANK, fish_class
from waterleaf.commands.papers import make_papers
from waterleaf.faults import Faults
from waterleaf.marking.issuebook import SECRET, class_to_itself


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A class folder after `papers`."""
    small_bank(monkeypatch, BANK, "papers")
    folder = fish_class(tmp_path / "class")
    make_papers(folder, "test-plan.yaml", quiet)
    return folder


def test_papers_come_from_the_book_when_the_secret_is_lost(folder: Path) -> None:
    """Keys and papers byte for byte, and the loss is told."""
    printed = [path for name in ("keys", "papers") for path in (folder / "mid-term" / name).rglob("*.pdf")]
    before = {path: path.read_bytes() for path in printed}
    assert len(before) > 6
    (folder / SECRET).unlink()
    assert f"{SECRET} was gone, so a new one was made" in make_papers(folder, "test-plan.yaml", quiet)
    assert {path: path.read_bytes() for path in printed} == before


def test_papers_wait_for_another_run_on_the_class(folder: Path) -> None:
    """Like sheets, they read and write the one book."""
    with class_to_itself(folder), pytest.raises(Faults, match="another run is at work on this class"):
        make_papers(folder, "test-plan.yaml", quiet)
