"""A new class folder is ready for work, and nothing that exists is touched."""

from pathlib import Path

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.commands.start import start_folder
from waterleaf.faults import Faults
from waterleaf.growing.crew import read_crew
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.classfile import read_class
from waterleaf.trial.plan import load_plan

BANK = Path(__file__).parents[1] / "question_bank"


def test_files_of_a_new_class_are_read_without_a_fault(tmp_path: Path) -> None:
    """As they are laid down, before anything has been changed."""
    folder = tmp_path / "klass é 1"
    said = start_folder(folder, with_course=False)
    assert sorted(path.name for path in folder.iterdir()) == [
        "assignment.yaml", "class.csv", "crew.yaml", "growing.yaml", "test-plan.yaml", "trial.yaml",
    ]
    assert len(read_class(folder).students) == 2
    assert len(read_assignment(folder / "assignment.yaml", load_bank(BANK))[1]) == 3
    assert read_crew(folder / "crew.yaml")
    assert load_plan(folder / "trial.yaml").name == "our-trial"
    assert f'waterleaf assign "{folder.as_posix()}"' in said
    assert not any("{" in path.read_text(encoding="utf-8") for path in folder.glob("c*"))


def test_demo_class_is_laid_down_whole_and_says_that_it_is_invented(tmp_path: Path) -> None:
    """Students, work, growing system and trial, all read without a fault."""
    folder = tmp_path / "demo class"
    said = start_folder(folder, with_course=False, demo=True)
    assert len(read_class(folder).students) == 10
    assert read_assignment(folder / "assignment.yaml", load_bank(BANK))[1]
    assert read_crew(folder / "crew.yaml")
    assert load_plan(folder / "trial.yaml").question
    assert "nobody in it exists" in said
    assert "nvented" in (folder / "class.csv").read_text(encoding="utf-8")


def test_course_of_ones_own_is_laid_down_on_wish(tmp_path: Path) -> None:
    """Lessons, bank and the order of the pages, whole."""
    start_folder(tmp_path / "own", with_course=True)
    for name in ("course/feed/index.md", "question_bank/feed/daily_feed.yaml", "mkdocs.yml"):
        assert (tmp_path / "own" / name).read_bytes() == (BANK.parent / name).read_bytes()


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    """Even a single file."""
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(Faults, match="there is something here already"):
        start_folder(tmp_path, with_course=False)
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]
