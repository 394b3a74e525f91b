"""What comes of marking: feedback, the class report, and the sheet to teach again."""

import csv
import re
import subprocess
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from classroom import BANK, SECRET, exercises, issued_to, key_answers, marked_from
from waterleaf.classwork.packets import printable_names
from waterleaf.classwork.report_page import report_page
from waterleaf.classwork.results import print_again, print_feedback, write_report
from waterleaf.marking import feedback as found
from waterleaf.marking.classfile import Student
from waterleaf.marking.classmarks import ClassMarks
from waterleaf.marking.labels import labelled
from waterleaf.sheets.paper import Style
from waterleaf.sheets.report import class_report

COUNT = 34
ISSUED = issued_to(COUNT)
STYLE = Style(title=ISSUED.title)


def marked_class(folder: Path, **own: str) -> ClassMarks:
    """A class in which every second student takes the first wrong turn of 1a; `own` goes to the first student."""
    labels = list(key_answers(ISSUED))
    with (folder / "responses.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["sheet", "id", *labels])
        for place, sheet in enumerate(ISSUED.sheets):
            answers = key_answers(ISSUED, place)
            if place % 2:
                answers["1a"] = exercises(ISSUED, place)[0].parts[0].slips[1].text
            if place == 0:
                answers |= {label.removeprefix("p"): text for label, text in own.items()}
            writer.writerow([sheet.code, sheet.student, *answers.values()])
    return marked_from(folder, ISSUED)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> ClassMarks:
    """The class, marked once."""
    return marked_class(tmp_path_factory.mktemp("class"))


def text_of(path: Path) -> str:
    """Text of a PDF as pdftotext reads it."""
    ran = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True)
    return ran.stdout


def test_the_commonest_slip_is_found(marked: ClassMarks) -> None:
    """Half of the class took the same turn, out of all who answered."""
    slip = found.commonest_slips(marked)[0]
    turn = exercises(ISSUED)[0].parts[0].slips[1].turn
    assert (slip.label, slip.turn, slip.count, slip.answered) == ("1a", turn, COUNT // 2, COUNT)
    assert found.families_again([slip]) == ["feed/daily_feed"]


def test_topics_are_ordered_by_what_was_earned(marked: ClassMarks) -> None:
    """Feed lost half of its first part; solids lost nothing."""
    feed, solids = found.topic_shares(marked, BANK)
    assert (feed.topic, feed.share, solids.share) == ("feed", pytest.approx(0.75), 1)
    assert not feed.again


def test_figures_leave_out_what_is_not_decided(tmp_path: Path) -> None:
    """An open answer is neither right nor wrong, so its sheet waits."""
    figures = found.class_figures(marked_class(tmp_path, p3a="12 or 13"))
    assert figures is not None
    assert figures.students == COUNT - 1


def test_a_draw_that_makes_a_question_harder_is_named(marked: ClassMarks) -> None:
    """Marks that fall with the bed area are seen; in the class as it was, nothing is."""
    assert not [draw for draw in found.uneven_draws(marked) if draw.given == "bed_area"]
    areas = sorted(entry.givens[0]["bed_area"] for entry in marked.students)
    middle = areas[len(areas) // 2]

    def marks(entry: object, area: float) -> float:
        return 0.0 if area > middle else 3.0

    students = tuple(
        replace(entry, outcomes=tuple(
            replace(o, marks=marks(entry, entry.givens[0]["bed_area"])) if o.label == "1a" else o
            for o in entry.outcomes
        ))
        for entry in marked.students
    )
    uneven = found.uneven_draws(replace(marked, students=students))
    assert [(draw.question, draw.given) for draw in uneven] == [(1, "bed_area")]
    assert uneven[0].rho < -0.5


def test_feedback_shows_the_students_own_numbers(marked: ClassMarks, tmp_path: Path) -> None:
    """Own values, own answer, verdict, the named wrong turn, and the worked answer, all on the sheet's own file."""
    few = replace(marked, students=marked.students[:2])
    print_feedback(few, BANK, STYLE, tmp_path / "out", lambda _n: None)
    entry = few.students[1]
    text = " ".join(text_of(tmp_path / "out" / f"{entry.sheet.code}.pdf").split())
    feed = exercises(ISSUED, 1)[0].parts[0]
    for expected in (entry.student.name, feed.slips[1].text, feed.slips[1].say, f"Answer: {feed.answer}", "known slip"):
        assert " ".join(expected.split()) in text, expected
    other = few.students[0]
    assert other.student.name not in text
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(
        [f"{entry.sheet.code}.pdf", f"{other.sheet.code}.pdf", "packet.pdf"]
    )


@pytest.mark.parametrize(
    "answer",
    ["#panic()", '$x^2$ *b* <script>alert("x")</script>', "名前 12 g/day", "\u202e21", "🐟🐟", "\x01\x02", "a" * 1900],
)
def test_nothing_typed_stops_or_steers_the_printing(answer: str, tmp_path: Path) -> None:
    """Markup, letters that no font has, and turned text are shown or replaced, never obeyed."""
    one = marked_class(tmp_path, p1a=answer)
    one = replace(one, students=one.students[:1])
    print_feedback(one, BANK, STYLE, tmp_path / "out", lambda _n: None)
    text = text_of(tmp_path / "out" / f"{one.students[0].sheet.code}.pdf")
    assert "your feedback" in text
    if answer.startswith("#"):
        assert "#panic()" in text


def test_a_name_that_cannot_be_printed_gives_way_to_the_id() -> None:
    """The others keep their names, and the instructor is told which."""
    shown, failed = printable_names({"1": "Ines", "2": "名前", "3": "مريم", "4": "Øyvind 'O\"x' <b>"})
    assert shown["1"] == "Ines"
    assert shown["4"] == "Øyvind 'O\"x' <b>"
    assert "2" in failed
    assert shown["2"] == "2"


class _Page(HTMLParser):
    """Collects tags and whatever would be asked for from elsewhere."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.asked: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.asked += [
            value or "" for name, value in attrs
            if name in ("src", "href", "xlink:href", "action", "data") and not (value or "").startswith("#")
        ]


def test_the_report_asks_for_nothing_and_runs_nothing(marked: ClassMarks) -> None:
    """One file: no script, no address, three figures with a text alternative, and no name of a student."""
    text = report_page(class_report(marked, BANK, STYLE))
    page = _Page()
    page.feed(text)
    assert not page.asked
    assert "script" not in page.tags
    assert page.tags.count("svg") == 3
    assert len(re.findall(r'role="img" aria-label="[^"]{20,}"', text)) == 3
    assert "url(http" not in text
    assert not [entry for entry in marked.students if entry.student.name in text]


def test_the_report_escapes_its_texts(marked: ClassMarks) -> None:
    """A title is a title, whatever it looks like."""
    text = report_page(class_report(marked, BANK, replace(STYLE, title="<script>alert(1)</script>")))
    assert "<script" not in text
    assert "&lt;script&gt;" in text


def test_parts_that_lie_in_one_place_are_named_in_short(marked: ClassMarks) -> None:
    """A class that has everything right puts all points into one corner, and their names would push the figure out."""
    data = class_report(marked, BANK, STYLE)
    one = data["items"][0] | {"difficulty": 1.0, "discrimination": 0.0}
    alike = [one | {"label": f"{number}"} for number in range(1, 31)]
    text = report_page(data | {"items": alike, "totals": [20.0] * 34})
    assert "1, 2, 3, 4 and 26 more" in text
    for number in range(1, 31):
        assert f">{number}</text>" in text


def test_the_report_says_what_its_figures_are_worth(marked: ClassMarks) -> None:
    """The tie rule and the number of students stand beside the figures; a small class gets a warning first."""
    large = class_report(marked, BANK, STYLE)
    assert any("share them evenly" in note for note in large["notes"])
    assert "fewer than 30" not in large["notes"][0]
    small = class_report(replace(marked, students=marked.students[:12]), BANK, STYLE)
    assert "fewer than 30 students" in small["notes"][0]
    none = class_report(replace(marked, students=()), BANK, STYLE)
    assert none["notes"] == ["Fewer than two sheets are complete, so there are no figures of the test yet."]


def test_the_report_is_printed_and_repeatable(marked: ClassMarks, tmp_path: Path) -> None:
    """Both files come out the same a second time."""
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        write_report(marked, BANK, STYLE, tmp_path / name)
    for name in ("report.html", "report.pdf"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    assert "Commonest slips" in text_of(tmp_path / "one" / "report.pdf")


def test_the_sheet_to_teach_again_has_fresh_numbers(marked: ClassMarks, tmp_path: Path) -> None:
    """It asks for what went wrong, with values that nobody in the class has had."""
    assert print_again(marked, BANK, STYLE, SECRET, tmp_path / "again") == ["feed/daily_feed"]
    text = text_of(tmp_path / "again" / "worksheet.pdf")
    assert "Feed, once more" in text
    for place in range(COUNT):
        first = labelled(exercises(ISSUED, place))[0]
        assert " ".join(first.exercise.story.split()) not in " ".join(text.split())


def test_a_class_without_slips_gets_no_extra_sheet(tmp_path: Path) -> None:
    """Nothing to teach again, no folder."""
    labels = list(key_answers(ISSUED))
    (tmp_path / "responses.csv").write_text(f"sheet,id,{','.join(labels)}\n", encoding="utf-8")
    empty = marked_from(tmp_path, ISSUED)
    assert print_again(empty, BANK, STYLE, SECRET, tmp_path / "again") == []
    assert not (tmp_path / "again").exists()


def test_hostile_names_go_through_feedback(marked: ClassMarks, tmp_path: Path) -> None:
    """A path, a formula and an unprintable name end neither in a file's name nor in a stop."""
    names = ["../../x", "=cmd", "名前"]
    students = tuple(
        replace(entry, student=Student(entry.student.id, name))
        for entry, name in zip(marked.students[:3], names, strict=True)
    )
    print_feedback(replace(marked, students=students), BANK, STYLE, tmp_path / "out", lambda _n: None)
    assert {path.parent for path in tmp_path.rglob("*.pdf")} == {tmp_path / "out"}
    assert "../../x" in text_of(tmp_path / "out" / f"{students[0].sheet.code}.pdf")
