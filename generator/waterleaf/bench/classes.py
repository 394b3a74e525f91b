"""What a class costs: giving out sheets to forty students, and marking from a hundred students to many thousands."""

import csv
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.bench.figures import Row
from waterleaf.bench.runs import median, run
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
FIVE_PARTS: Final = TWENTY_PARTS[:1]
# Above this many students the questions are fewer, so that a run ends within minutes.
MANY: Final = 10_000
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


def bench_assign(home: Path, times: int, students: int = 40) -> Iterator[Row]:
    """Packet, separate sheets, key book, answer grid and tables of a class, twelve questions each."""
    costs = []
    for _ in range(times):
        with tempfile.TemporaryDirectory() as place:
            lay_down(Path(place), students, TWELVE)
            costs.append(run("waterleaf", "assign", place, home=home))
    yield Row("assign a class", students, median(costs), times, note=f"{len(TWELVE)} questions a student")


def bench_marking(home: Path, bank: Mapping[str, Family], students: int, times: int) -> Iterator[Row]:
    """Marks table, verdicts and class report for the answers of a class, all of them typed from the keys."""
    families = TWENTY_PARTS if students <= MANY else FIVE_PARTS
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        lay_down(folder, students, families)
        _give_out_and_answer(home, bank, folder)
        cost = median([run("waterleaf", "mark", place, "--no-feedback", home=home) for _ in range(times)])
    parts = len(labels_of([bank[key] for key in families]))
    yield Row(
        f"mark {students:,} students", students * parts, cost, times, note=f"{parts} answers a student; an item is one"
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
