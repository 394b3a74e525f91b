"""The readers of the kit, each with sound files to spoil: what an instructor writes, and what comes back."""

import hashlib
import io
import json
import random
import zipfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.bank.builder import build, load_bank
from waterleaf.bank.family import Family, System
from waterleaf.bank.marked_yaml import parse
from waterleaf.bench.mutations import spoilt_answer, spoilt_data, spoilt_sheet, spoilt_text
from waterleaf.classwork.issue import Defaults, issue
from waterleaf.classwork.paperplan import read_paper_plan
from waterleaf.draw import NoDraw, draw
from waterleaf.exercise import pose
from waterleaf.growing.check import check
from waterleaf.growing.crew import read_crew
from waterleaf.growing.duties import plan as plan_duties
from waterleaf.growing.log import drifts, read_log
from waterleaf.growing.system import read_growing
from waterleaf.marking.answerfiles import read_answer_files
from waterleaf.marking.assignment import Assignment, Question, read_assignment
from waterleaf.marking.classfile import Student, read_class
from waterleaf.marking.classmarks import full_marks
from waterleaf.marking.decisions import NAME as DECISIONS
from waterleaf.marking.decisions import read_decisions
from waterleaf.marking.expectations import expectations
from waterleaf.marking.issuebook import NAME as BOOK
from waterleaf.marking.issuebook import (
    IssueBook,
    Issued,
    IssuedPage,
    IssuedQuestion,
    IssuedTask,
    drawn,
    exercises_of,
    read_book,
    write_book,
)
from waterleaf.marking.judge import judge
from waterleaf.marking.labels import labelled
from waterleaf.marking.practical import read_practical
from waterleaf.marking.responses import collect, read_responses
from waterleaf.marking.tableout import write_csv, write_xlsx
from waterleaf.trial.frozen import frozen_path, thaw
from waterleaf.trial.intake import take_in
from waterleaf.trial.layout import lay_out
from waterleaf.trial.plan import load_plan

_SYSTEMS: Final[tuple[System, System]] = ("metric", "us")
_KEYS: Final = ("feed/daily_feed", "solids/flush_times", "solids/which_settler", "sugar/mean_and_spread")
_PEOPLE: Final = (Student("A1", "Ines Okafor"), Student("A2", "Tomas Brandvold"), Student("A3", "Wren Adeyemi"))
_CLASS: Final = b"""id,name,section,seat,accommodations
A1,Ines Okafor,b,A1,large print
A2,"Tomas ""T"" Brandvold",b,A2,
A3,Wren Adeyemi,a,B1,a3 / extra space
"""
_CLASS_YAML: Final = b"""students:
  - {id: "A1", name: Ines Okafor, section: b, seat: A1}
  - id: "007"
    name: Tomas Brandvold
    accommodations: [large print, a3]
"""


_QUESTIONS: Final = """questions:
  - family: feed/daily_feed
    marks:
      meal: {method: 1, result: 1, unit: 0}
  - {topic: solids, level: 3}
  - family: sugar/mean_and_spread
"""
_ASSIGNMENT: Final = f"""id: week-3
title: Feed and solids
seed: 7
units: metric
site: https://school.example/growing
given: 2026-03-02
due: 2026-03-09
{_QUESTIONS}"""
_TEST_PLAN: Final = f"""id: mid-term
title: Mid-term test
date: 2026-03-20
minutes: 45
papers: 2
instructions:
  - Answer in the boxes.
{_QUESTIONS}"""


@dataclass(frozen=True, slots=True)
class Reader:
    """Something that reads, and how a case for it is made from chance."""

    name: str
    case: Callable[[random.Random, Path], Callable[[], object]]


def judge_of(home: Path) -> Reader:
    """The judge, before answers to every kind of question."""
    bank = load_bank(home / "question_bank", _KEYS)
    wanted = [
        expected for family in bank.values() for system in _SYSTEMS for part in pose(draw(family, 1), system).parts
        if not part.options for expected in expectations(part)
    ]

    def case(chance: random.Random, _folder: Path) -> Callable[[], object]:
        text, expected, comma = spoilt_answer(chance), chance.choice(wanted), chance.random() < 0.5
        return lambda: judge(text, expected, "comma" if comma else "point")

    return Reader("judge", case)


def _file(name: str, file: str, seeds: Sequence[bytes], read: Callable[[Path], object]) -> Reader:
    """A reader of a text file with this name, from sound ones to spoil."""

    def case(chance: random.Random, folder: Path) -> Callable[[], object]:
        path = folder / name / file
        path.parent.mkdir(exist_ok=True)
        seed = _picked(chance, seeds)
        fields = path.suffix in (".yaml", ".json") and chance.random() < 0.6
        path.write_bytes(spoilt_data(seed, chance) if fields else spoilt_text(seed, chance))
        return lambda: read(path)

    return Reader(name, case)


def _picked(chance: random.Random, seeds: Sequence[bytes]) -> bytes:
    """One of some files. Where one of them is changed, most cases still begin with the file that they had."""
    key = str(chance.random()).encode()
    return min(seeds, key=lambda seed: hashlib.blake2b(seed, digest_size=8, key=key).digest())


def readers_of(home: Path) -> tuple[Reader, ...]:
    """The readers of files that an instructor writes."""
    bank = load_bank(home / "question_bank", _KEYS)
    demo = home / "course" / "demo"
    import scipy.stats  # noqa: F401 - what a family loads at its first draw is no slowness of a case

    families = [path.read_bytes() for path in sorted((home / "question_bank").glob("*/*.yaml"))]
    system = read_growing(demo / "growing.yaml")

    def one(name: str) -> list[bytes]:
        return [(demo / name).read_bytes()]

    return (
        _file("family", "try.yaml", families, _family),
        _file("class", "class.csv", [_CLASS], lambda path: read_class(path.parent)),
        _file("class yaml", "class.yaml", [_CLASS_YAML], lambda path: read_class(path.parent)),
        _file("assignment", "assignment.yaml", [_ASSIGNMENT.encode()], lambda path: read_assignment(path, bank)),
        _file("growing", "growing.yaml", one("growing.yaml"), lambda path: check(read_growing(path))),
        _file("trial plan", "trial.yaml", one("trial-lettuce.yaml"), lambda path: lay_out(load_plan(path))),
        _file("test plan", "test-plan.yaml", [_TEST_PLAN.encode()], lambda path: read_paper_plan(path, bank)),
        _file("crew", "crew.yaml", one("crew.yaml"), lambda path: plan_duties(system, read_crew(path), 2)),
        _file(
            "practical", "task.yaml", [p.read_bytes() for p in sorted((home / "course/practicals").glob("*.yaml"))],
            lambda path: read_practical(path, bank),
        ),
    )


def _family(path: Path) -> None:
    """Read a family and draw from it in both systems, as the check of the bank does."""
    family = build(parse(path.read_bytes(), "question_bank/feed/try.yaml"), "feed/try", "feed")
    try:
        drawn = draw(family, 1)
        for system in _SYSTEMS:
            pose(drawn, system)
    except NoDraw:
        return


def _issued(bank: Mapping[str, Family]) -> Issued:
    questions = [Question(bank[key], {}) for key in _KEYS]
    file = Assignment.model_validate({"id": "week-3", "title": "t", "questions": [{"family": key} for key in _KEYS]})
    return issue(_PEOPLE, file, questions, IssueBook({}), "0123456789abcdef" * 4, Defaults("metric", "a4"))


def table_readers(home: Path) -> tuple[Reader, ...]:
    """The readers of what comes back: tables, answer files, decisions, and the files that the kit keeps."""
    bank = load_bank(home / "question_bank", _KEYS)
    issued = _issued(bank)
    labels = full_marks(issued, bank)
    answers = [
        {item.label: item.part.key_text for item in labelled(exercises_of(issued, sheet, bank))}
        for sheet in issued.sheets
    ]
    csv_file, sheet_file = _tables(issued, list(labels), answers)
    saved = json.dumps({
        "format": "waterleaf-answers", "version": 1, "sheet": issued.sheets[0].code, "name": "",
        "saved": "2026-03-09T08:15:00Z", "answers": answers[0],
    }, indent=1).encode()
    decided = f"sheet,part,marks,note\n{issued.sheets[0].code},1a,1,fine\n{issued.sheets[1].code},all,accept,\n"

    def table(path: Path) -> None:
        collect(issued, read_responses(path.parent, list(labels), "point"))

    def answer_file(path: Path) -> None:
        found = read_answer_files(path.parents[1], issued, IssueBook({issued.id: issued}), list(labels), _PEOPLE)
        collect(issued, found.responses)

    return (
        _file("table", "responses.csv", [csv_file], table),
        _sheets("spreadsheet", sheet_file, table),
        _file("answers", "saved.json", [saved], answer_file),
        _file(DECISIONS, DECISIONS, [decided.encode()], lambda path: read_decisions(path.parent, issued, labels)),
        *_kept_readers(home, bank, issued),
    )


def _kept_readers(home: Path, bank: Mapping[str, Family], issued: Issued) -> tuple[Reader, ...]:
    demo = home / "course" / "demo"
    frozen, data = demo / "trial-lettuce.frozen.json", (demo / "trial-lettuce-rehearsal.csv").read_bytes()
    plan = thaw(demo / "trial-lettuce.yaml")
    assert plan is not None

    def book(path: Path) -> None:
        found = read_book(path.parent)
        for entry in found.assignments.values():
            for sheet in entry.sheets:
                exercises_of(entry, sheet, bank)
        for question, page in ((task.question, page) for task in found.tasks.values() for page in task.pages):
            if question is not None:
                pose(drawn(question, page.draw, bank), "metric")

    log = (
        b"date,duty,planned,unit,done,by,note\n2026-03-02,feed meal 1,400,g,400,A,\n2026-03-02,pH,,,7.1,B,\n"
        b"2026-03-03,flush,16,L,12.5,A,late\n"
    )
    return (
        _file("issue book", BOOK, [_book_text(issued)], book),
        _file("frozen plan", frozen_path(Path("trial.yaml")).name, [frozen.read_bytes()],
              lambda path: thaw(path.with_name("trial.yaml"))),
        _file("trial table", "readings.csv", [data], lambda path: take_in(plan.plan, plan.layout, path)),
        _file("log", "log.csv", [log], lambda path: drifts(read_log(path))),
    )


def _book_text(issued: Issued) -> bytes:
    import tempfile

    task = IssuedTask(
        issued.id, "weigh_feed", "0" * 64, "metric",
        tuple(IssuedPage(sheet.code, sheet.student, sheet.draws[0]) for sheet in issued.sheets),
        IssuedQuestion(_KEYS[0], 1, {}, {"bed_area": 16.0}), "own bed_area 16 m2",
    )
    with tempfile.TemporaryDirectory() as folder:
        write_book(Path(folder), IssueBook({issued.id: issued}).with_task(task))
        return (Path(folder) / BOOK).read_bytes()


def _tables(issued: Issued, labels: list[str], answers: list[dict[str, str]]) -> tuple[bytes, bytes]:
    """The table of answers filled in with the keys, as CSV and as a spreadsheet."""
    import tempfile

    rows = [
        [sheet.code, sheet.student, *own.values()] for sheet, own in zip(issued.sheets, answers, strict=True)
    ]
    with tempfile.TemporaryDirectory() as folder:
        for name, write in (("t.csv", write_csv), ("t.xlsx", lambda p, h, r: write_xlsx(p, "Answers", h, r))):
            write(Path(folder) / name, ["sheet", "id", *labels], rows)
        return (Path(folder) / "t.csv").read_bytes(), (Path(folder) / "t.xlsx").read_bytes()


def _sheets(name: str, raw: bytes, read: Callable[[Path], object]) -> Reader:
    """A reader of spreadsheets. The sound one is not packed, so that its bytes are the same wherever it is made."""
    held = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(held, "w") as new:
        for entry in old.infolist():
            new.writestr(zipfile.ZipInfo(entry.filename), old.read(entry.filename))
    seed = held.getvalue()

    def case(chance: random.Random, folder: Path) -> Callable[[], object]:
        path = folder / name / "responses.xlsx"
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(spoilt_sheet(seed, chance))
        return lambda: read(path)

    return Reader(name, case)
