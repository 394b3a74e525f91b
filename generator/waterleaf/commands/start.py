"""`waterleaf start`: a new folder for a class, with a commented file for each job."""

import shutil
from pathlib import Path
from typing import Final

from waterleaf.faults import refuse
from waterleaf.home import find_home, swapped_in

_PACKAGE: Final = Path(__file__).parents[1]
_STARTERS: Final = {
    "class.csv": _PACKAGE / "commands/starters/class.csv",
    "assignment.yaml": _PACKAGE / "commands/starters/assignment.yaml",
    "test-plan.yaml": _PACKAGE / "commands/starters/test-plan.yaml",
    "crew.yaml": _PACKAGE / "commands/starters/crew.yaml",
    "growing.yaml": _PACKAGE / "growing/new_growing.yaml",
    "trial.yaml": _PACKAGE / "trial/new_trial.yaml",
}
# The parts of a kit that a school may want to change: lessons, exercises, and the order of the pages.
_COURSE: Final = ("course", "question_bank", "mkdocs.yml")


def start_folder(folder: Path, with_course: bool) -> str:
    """Lay down the files of a class, and with them a course of one's own if wished; nothing that exists is touched.

    Raises Faults where the folder holds anything already, or cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise refuse(folder.as_posix(), "there is something here already. Give the name of a new folder.")
    typed = _as_typed(folder)
    with swapped_in(folder) as fresh:
        for name, starter in _STARTERS.items():
            text = starter.read_text(encoding="utf-8")
            for gap, filling in (("{folder}", typed), ("{file}", _as_typed(folder / name)), ("{name}", "our-trial")):
                text = text.replace(gap, filling)
            (fresh / name).write_text(text, encoding="utf-8")
        if with_course:
            _copy_course(find_home(), fresh)
    lines = [
        f"{folder}: {', '.join(_STARTERS)}",
        "  1. put your students into class.csv",
        f"  2. waterleaf assign {typed}",
        f"  3. type their answers into the table that it lays down, then: waterleaf mark {typed}",
        "Keep this folder where only you can read it: it will hold names and marks.",
    ]
    if with_course:
        lines.append("Your own course and question bank stand in it too; `waterleaf build` in this folder uses them.")
    return "\n".join(lines)


def _as_typed(path: Path) -> str:
    """A path as it is typed on a command line: in quotes where it has a space."""
    text = path.as_posix()
    return f'"{text}"' if " " in text else text


def _copy_course(home: Path, fresh: Path) -> None:
    for name in _COURSE:
        if (home / name).is_dir():
            shutil.copytree(home / name, fresh / name)
        else:
            shutil.copy(home / name, fresh / name)
