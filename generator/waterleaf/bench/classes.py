"""What a class costs: giving out sheets to forty students, and marking from a hundred students to many thousands."""

import csv
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.bench.runs import run
from waterleaf.classwork.issue import Defaults, issue
from waterleaf.classwork.tables import write_response_tables
from waterleaf.home import load_settings
from waterleaf.marking.assignment import read_assignment
from waterleaf.marking.classfile import read_class
from waterleaf.marking.issuebook import IssueBook, class_secret, exercises_of, write_book
from waterleaf.marking.labels import labelled, labels_of

# Twenty answers in five questions, each with millions of different draws.
TWENTY_PARTS: Final = (
    "solids/which_settler", "loop/two_pumps", "loop/pump_head", "feed/three_cohorts", "energy/panel_roof",
)
TWELVE: Final = (
    *TWENTY_PARTS, "feed/room_for_fish", "feed/feed_conversion", "solids/sludge_store", "crops/standing_order",
    "returns/batch_under_air", "air/which_blower", "sugar/two_beds",
)


def lay_down(folder: Path, students: int, families: Sequence[str]) -> None:
    """A class folder with invented students, and an assignment of these families."""
    lines = ["id,name", *(f"S{place:06d},Student {place}" for place in range(students))]
    (folder / "class.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    questions = "".join(f"  - family: {key}\n" for key in families)
    (folder / "assignment.yaml").write_text(f"id: week-1\ntitle: Bench\nquestions:\n{questions}", encoding="utf-8")


def bench_assign(home: Path, students: int = 40) -> str:
    """Packet, separate sheets, key book, answer grid and tables of a class, twelve questions each."""
    with tempfile.TemporaryDirectory() as place:
        lay_down(Path(place), students, TWELVE)
        cost = run("waterleaf", "assign", place, home=home)
    asked = f"assign {students} students, {len(TWELVE)} questions"
    return f"{asked}   {cost.seconds:8.2f} s   peak {cost.megabytes:6.0f} MB"


def bench_marking(home: Path, bank: Mapping[str, Family], students: int) -> str:
    """Marks table, verdicts and class report for twenty answers a student, all of them typed from the keys."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        lay_down(folder, students, TWENTY_PARTS)
        _give_out_and_answer(home, bank, folder)
        cost = run("waterleaf", "mark", place, "--no-feedback", home=home)
    answers = students * len(labels_of([bank[key] for key in TWENTY_PARTS]))
    return (
        f"mark {students:>6} students, {answers:>8} answers   {cost.seconds:8.2f} s   "
        f"{1e6 * cost.seconds / answers:6.0f} microseconds an answer   peak {cost.megabytes:6.0f} MB"
    )


def _give_out_and_answer(home: Path, bank: Mapping[str, Family], folder: Path) -> None:
    """What `assign` leaves behind, without the printing, and the table of answers filled in."""
    settings = load_settings(home)
    assignment, questions = read_assignment(folder / "assignment.yaml", bank)
    issued = issue(
        read_class(folder).students, assignment, questions, IssueBook({}), class_secret(folder),
        Defaults(settings.units, settings.paper),
    )
    write_book(folder, IssueBook({}).with_issued(issued))
    (folder / issued.id).mkdir()
    labels = labels_of([question.family for question in questions])
    write_response_tables(folder / issued.id, labels, issued.sheets)
    table = folder / issued.id / "responses.csv"
    with table.open(encoding="utf-8-sig", newline="") as handle:
        head = next(csv.reader(handle))
    with table.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.writer(handle)
        writer.writerow(head)
        for sheet in issued.sheets:
            answers = {item.label: item.part.key_text for item in labelled(exercises_of(issued, sheet, bank))}
            known = {"sheet": sheet.code, "id": sheet.student, **answers}
            writer.writerow([known.get(column, "") for column in head])
