"""Small workshops in which commands are run and killed: a bank of two families, a class, a trial, and their outputs."""

import csv
import io
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.faults import Faults
from waterleaf.marking.decisions import read_decisions
from waterleaf.marking.issuebook import NAME, read_book
from waterleaf.trial.frozen import thaw

FAMILIES: Final = ("feed/daily_feed", "solids/flush_times")
_ASSIGNMENT: Final = "id: week-3\ntitle: Feed and solids\nquestions:\n" + "".join(
    f"  - family: {key}\n" for key in FAMILIES
)
_TASK: Final = "weigh_feed"
_PEOPLE: Final = ("A1,Ines Okafor", "A2,Tomas Brandvold", "A3,Wren Adeyemi")
# A frozen plan bears its day; a kill before midnight and a run after it are no difference.
_DAY: Final = re.compile(rb'"date": "[0-9-]{10}",')
_LATE: Final = ("A4,Priya Rao", "A5,Soren Lund")


def _nothing(_place: Path) -> None:
    """No change: the command makes its output for the first time."""


def _sound(_place: Path) -> list[str]:
    return []


@dataclass(frozen=True)
class Scene:
    """A command, what it needs, what changes before the run that is killed, and what may not be torn.

    `units` are the files and folders that take the place of old ones as a whole; `loose` ones may come in another
    number after an interruption, and `sound` says what must hold of them instead.
    """

    name: str
    words: tuple[str, ...]
    units: tuple[str, ...]
    prior: tuple[tuple[str, ...], ...] = ()
    first: bool = True
    change: Callable[[Path], None] = _nothing
    readable: Callable[[Path], list[str]] = _sound
    sound: Callable[[Path], list[str]] = _sound
    loose: frozenset[str] = frozenset()
    fine: tuple[int, ...] = (0, 1)
    once: bool = False  # refuses, rightly, where its output is there already

    def kept(self, place: Path) -> dict[str, dict[str, bytes]]:
        """The bytes of every file of each unit, by its place in the unit; nothing where the unit is not there."""
        return {unit: _bytes(place / unit) for unit in self.units}

    def aside(self, place: Path, unit: str) -> dict[str, bytes]:
        """What lies aside of a folder between two renames."""
        path = place / unit
        return _bytes(path.with_name(f".{path.name}-old"))


def _bytes(path: Path) -> dict[str, bytes]:
    if path.is_file():
        return {"": _DAY.sub(b"", path.read_bytes())}
    return {
        file.relative_to(path).as_posix(): file.read_bytes() for file in sorted(path.rglob("*")) if file.is_file()
    }


def lay_out(scene: Scene, home: Path, place: Path) -> None:
    """A kit of its own with all that the command needs, in a new folder."""
    for key in FAMILIES:
        target = place / "question_bank" / f"{key}.yaml"
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(home / "question_bank" / f"{key}.yaml", target)
    if scene.name == "build":
        _bare_course(home, place)
    (place / "course" / "practicals").mkdir(parents=True, exist_ok=True)
    shutil.copy(home / "course" / "practicals" / f"{_TASK}.yaml", place / "course" / "practicals")
    _settings(place, 1)
    (place / "class.csv").write_text("\n".join(("id,name", *_PEOPLE, "")), encoding="utf-8")
    (place / "assignment.yaml").write_text(_ASSIGNMENT, encoding="utf-8")
    for name in ("trial-lettuce.yaml", "trial-lettuce-rehearsal.csv"):
        shutil.copy(home / "course" / "demo" / name, place / name)
    for words in scene.prior:
        subprocess.run(
            [sys.executable, "-P", "-m", "waterleaf", *words], cwd=place, check=True, capture_output=True, text=True
        )
    if scene.name == "mark":
        _answer(place, "1")
        _decide(place)


def _bare_course(home: Path, place: Path) -> None:
    """The course with the headings of its pages alone, which other pages point to."""
    shutil.copytree(home / "course", place / "course")
    shutil.copy(home / "mkdocs.yml", place / "mkdocs.yml")
    for path in (place / "course").rglob("*.md"):
        heads = [line for line in path.read_text(encoding="utf-8").splitlines() if line.startswith("#")]
        path.write_text("\n\n".join(heads) + "\n", encoding="utf-8")


def _settings(place: Path, seed: int) -> None:
    (place / "course" / "settings.yaml").write_text(f"school: Ostrel Quay College\nseed: {seed}\n", encoding="utf-8")


def _other_seed(place: Path) -> None:
    _settings(place, 2)


def _late_students(place: Path) -> None:
    (place / "class.csv").write_text("\n".join(("id,name", *_PEOPLE, *_LATE, "")), encoding="utf-8")


def _answer(place: Path, text: str) -> None:
    """Everybody gives the same answer to everything."""
    path = place / "week-3" / "responses.csv"
    head, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *([*row[:2], *[text] * len(row[2:])] for row in rows)])


def _other_answers(place: Path) -> None:
    _answer(place, "2 kg")


def _decide(place: Path) -> None:
    code = read_book(place).assignments["week-3"].sheets[0].code
    (place / "week-3" / "decisions.csv").write_text(f"sheet,part,marks\n{code},1a,1\n", encoding="utf-8")


def _other_reading(place: Path) -> None:
    """One reading of the trial is another one."""
    path = place / "trial-lettuce-rehearsal.csv"
    head, *rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    rows[0][head.index("value")] = "4.4" if rows[0][head.index("value")] != "4.4" else "4.5"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([head, *rows])


def _book_reads(place: Path) -> list[str]:
    """Issue book and decisions parse, and no sheet that was given out is missing."""
    try:
        issued = read_book(place).assignments["week-3"]
        parts = dict.fromkeys(("1a", "1b", "2a", "2b"), 20)
        read_decisions(place / "week-3", issued, parts)
    except (Faults, KeyError) as error:
        return [f"{NAME}: {error}"]
    known = [sheet.student for sheet in issued.sheets]
    return [] if known[: len(_PEOPLE)] == [f"A{number}" for number in range(1, len(_PEOPLE) + 1)] else [
        f"{NAME}: sheets that were given out are gone"
    ]


def _all_have_a_row(place: Path) -> list[str]:
    """After the next run every sheet stands in a table of answers, once in each kind of table at most."""
    codes = sorted(sheet.code for sheet in read_book(place).assignments["week-3"].sheets)
    found = sorted(
        row["sheet"] for path in (place / "week-3").glob("responses*.csv")
        for row in csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    )
    return [] if found == codes else [f"tables of answers hold {found}, not {codes}"]


def _pages_stay(place: Path) -> list[str]:
    """After the next run everybody has a page of the task in the book and a row for its marks."""
    found = [page.student for page in read_book(place).tasks["week-3", _TASK].pages]
    rows = [
        row["id"] for path in (place / "week-3" / "tasks" / _TASK).glob("results*.csv")
        for row in csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    ]
    wanted = [f"A{number}" for number in range(1, len(_PEOPLE) + len(_LATE) + 1)]
    return [] if found == sorted(rows) == wanted else [f"pages {found} and rows {rows}, not {wanted}"]


def _plan_reads(place: Path) -> list[str]:
    try:
        thaw(place / "trial-lettuce.yaml")
    except (Faults, json.JSONDecodeError) as error:
        return [f"frozen plan: {error}"]
    return []


_FREEZE: Final = ("trial", "plan", "trial-lettuce.yaml", "--freeze")
SCENES: Final = (
    Scene(
        "sheets", ("sheets", "--count", "3", "--families", ",".join(FAMILIES), "--out", "out"), ("out",),
        change=_other_seed,
    ),
    Scene(
        "assign", ("assign", "."), ("issue-book.json", "class-secret.txt", "week-3/keys", "week-3/sheets", "class.csv"),
        change=_late_students, readable=_book_reads, sound=_all_have_a_row,
    ),
    Scene(
        "practicals", ("practicals", ".", "--tasks", _TASK, "--beside", "week-3"),
        ("issue-book.json", "class-secret.txt", f"week-3/tasks/{_TASK}/print", f"week-3/tasks/{_TASK}/task.yaml"),
        prior=(("assign", "."),), change=_late_students, readable=_book_reads, sound=_pages_stay,
    ),
    Scene(
        "mark", ("mark", "."),
        ("week-3/marked", "issue-book.json", "class-secret.txt", "week-3/responses.csv", "week-3/decisions.csv"),
        prior=(("assign", "."),), change=_other_answers, readable=_book_reads,
    ),
    Scene("trial freeze", _FREEZE, ("trial-lettuce.frozen.json",), first=False, readable=_plan_reads),
    Scene(
        "trial print", ("trial", "print", "trial-lettuce.yaml", "--out", "printed"),
        ("printed", "trial-lettuce.frozen.json"), prior=(_FREEZE,), first=False, readable=_plan_reads, once=True,
    ),
    Scene(
        "trial report",
        ("trial", "report", "trial-lettuce.yaml", "trial-lettuce-rehearsal.csv", "--html", "r.html", "--pdf", "r.pdf"),
        ("r.html", "r.pdf", "trial-lettuce.frozen.json"), prior=(_FREEZE,), change=_other_reading,
        readable=_plan_reads,
    ),
    Scene("build", ("build",), ("build/site", "build/worksheets", "build/keys"), change=_other_seed),
)
