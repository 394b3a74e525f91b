"""Were parallel papers equally hard?"""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from papers_room import BANK
from waterleaf.marking.classfile import Student
from waterleaf.marking.classmarks import ClassMarks, StudentMarks
from waterleaf.marking.issuebook import Issued, IssuedPaper, IssuedQuestion, IssuedSheet
from waterleaf.marking.paperfigures import paper_questions
from waterleaf.marking.sheetmarks import Outcome
from waterleaf.sheets.report_extras import papers_section

KEYS = ("feed/daily_feed", "sugar/cool_juice")
QUESTIONS = tuple(IssuedQuestion(key, 1, {}) for key in KEYS)
PAPERS = tuple(IssuedPaper(name, QUESTIONS, ("1", "1")) for name in "AB")


def outcome(label: str, marks: float, of: int) -> Outcome:
    """What a student got for a part."""
    return Outcome(label, KEYS[int(label[0]) - 1], "x", "1", "right", "", "", marks, of)


def class_of(marks: Sequence[tuple[str, float, float, float]]) -> ClassMarks:
    """A class from (paper, marks of 1a, 1b, 2)."""
    students = tuple(
        StudentMarks(
            Student(f"S{n}", ""), IssuedSheet("ABCD-EFGH", f"S{n}", ("1", "1"), (), paper),
            (outcome("1a", a, 3), outcome("1b", b, 3), outcome("2", c, 3)), True,
        )
        for n, (paper, a, b, c) in enumerate(marks)
    )
    issued = Issued("t", "T", "metric", "a4", "point", False, QUESTIONS, (), "", PAPERS)
    return ClassMarks(issued, {"1a": 3, "1b": 3, "2": 3}, students, (), ())


def test_shares_are_those_of_each_paper() -> None:
    """All parts of a question together, paper by paper."""
    first, second = paper_questions(class_of([("A", 3, 0, 3), ("A", 3, 3, 0), ("B", 0, 0, 3)]))
    assert (first.copies, first.shares) == ((2, 1), (0.75, 0.0))
    assert second.shares == (0.5, 1.0)


def test_a_harder_paper_is_named() -> None:
    """Everybody on B fails question 1 and does as well as the others on question 2."""
    marks = [("A", 3.0, 3.0, float(n % 4)) for n in range(20)] + [("B", 0.0, 0.0, float(n % 4)) for n in range(20)]
    found = paper_questions(class_of(marks))
    assert found[0].uneven
    section = papers_section(class_of(marks), BANK)
    assert section is not None
    assert section["rows"][0][:4] == ["1", "Feed for the raft beds", "100 %, 20 copies", "0 %, 20 copies"]
    assert section["rows"][0][4].endswith(", uneven")
    assert "Look at question 1" in section["notes"][-1]


def test_stronger_students_do_not_make_a_paper_look_easy() -> None:
    """Whoever has A does better in everything by as much; no question is called uneven."""
    marks = [
        (paper, float(level), float((level + n // 4) % 2 + level - 1), float(level))
        for paper, level in (("A", 2), ("B", 1)) for n in range(20)
    ]
    found = paper_questions(class_of(marks))
    assert [question.shares[0] > question.shares[1] for question in found] == [True, True]  # type: ignore[operator]
    assert not any(question.uneven for question in found)


@pytest.mark.parametrize("count", [14, 4])
def test_a_small_class_is_shown_but_not_tested(count: int) -> None:
    """Below thirty copies a difference means little."""
    found = paper_questions(class_of([("A", 3, 3, 3)] * count + [("B", 0, 0, 0)] * count))
    assert [question.p for question in found] == [None, None]
    assert not any(question.uneven for question in found)


def test_marks_that_are_all_the_same_are_not_tested() -> None:
    """Ranks of equal numbers say nothing."""
    found = paper_questions(class_of([("A", 3, 3, 3)] * 20 + [("B", 3, 3, 3)] * 20))
    assert [question.p for question in found] == [None, None]


def test_a_class_without_papers_has_no_such_table() -> None:
    """Sheets with numbers of their own are looked at draw by draw instead."""
    marked = class_of([("", 3, 3, 3)])
    assert papers_section(replace(marked, issued=replace(marked.issued, papers=())), BANK) is None
