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
# The same jobs, filled in: the invented class of the demo, with its trial of three growing methods.
_DEMO: Final = {
    "class.csv": "class.csv",
    "assignment.yaml": "assignment.yaml",
    "test-plan.yaml": "test-plan.yaml",
    "crew.yaml": "crew.yaml",
    "growing.yaml": "growing.yaml",
    "trial.yaml": "trial-lettuce.yaml",
}
# The parts of a kit that a school may want to change: lessons, exercises, and the order of the pages.
_COURSE: Final = ("course", "question_bank", "mkdocs.yml")


def start_folder(folder: Path, with_course: bool, demo: bool = False) -> str:
    """Lay down the files of a class, and with them a course of one's own if wished; nothing that exists is touched.

    With `demo` the files are those of an invented class, to try the way through before one's own term.

    Raises Faults where the folder holds anything already, or cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise refuse(folder.as_posix(), "there is something here already. Give the name of a new folder.")
    typed = _as_typed(folder)
    starters = {name: find_home() / "course" / "demo" / file for name, file in _DEMO.items()} if demo else _STARTERS
    with swapped_in(folder) as fresh:
        for name, starter in starters.items():
            text = starter.read_text(encoding="utf-8")
            for gap, filling in (("{folder}", typed), ("{file}", _as_typed(folder / name)), ("{name}", "our-trial")):
                text = text.replace(gap, filling)
            (fresh / name).write_text(text, encoding="utf-8")
        if with_course:
            _copy_course(find_home(), fresh)
    lines = [
        f"{folder}: {', '.join(_STARTERS)}",
        *(_demo_steps(folder) if demo else _steps(typed)),
    ]
    if with_course:
        lines.append("Your own course and question bank stand in it too; `waterleaf build` in this folder uses them.")
    return "\n".join(lines)


def _steps(typed: str) -> list[str]:
    return [
        "  1. put your students into class.csv",
        f"  2. waterleaf assign {typed}",
        f"  3. type their answers into the table that it lays down, then: waterleaf mark {typed}",
        f"     (waterleaf mark {typed} --rehearse shows beforehand what comes of it, with invented answers)",
        "Keep this folder where only you can read it: it will hold names and marks.",
    ]


def _demo_steps(folder: Path) -> list[str]:
    typed = _as_typed(folder)
    return [
        "The class is invented: nobody in it exists.",
        f"  1. waterleaf assign {typed}",
        f"  2. waterleaf mark {typed} --rehearse      marks invented answers",
        f"  3. waterleaf growing check {_as_typed(folder / 'growing.yaml')}",
        f"  4. waterleaf trial plan {_as_typed(folder / 'trial.yaml')}",
    ]


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
