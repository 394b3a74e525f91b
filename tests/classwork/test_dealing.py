"""Who gets which paper."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waterleaf.classwork.dealing import deal, neighbours, seating_order
from waterleaf.faults import Faults
from waterleaf.marking.classfile import Student
from waterleaf.marking.seats import place_of


def room(rows: int, places: int, section: str = "") -> list[Student]:
    """A full room."""
    return [
        Student(f"{section}{row}.{place}", "", section, (), f"{row}-{place}")
        for row in range(1, rows + 1) for place in range(1, places + 1)
    ]


@given(st.integers(1, 9), st.integers(1, 9), st.integers(2, 6))
def test_nobody_beside_in_front_or_behind_has_the_same_paper(rows: int, places: int, papers: int) -> None:
    """In any full room, with any number of papers."""
    assert deal(room(rows, places), "ABCDEF"[:papers], {}).alike == ()


@pytest.mark.parametrize("papers", [4, 5, 6])
def test_from_four_papers_on_diagonals_differ_too(papers: int) -> None:
    """Eight neighbours, and none has the same."""
    dealt = deal(room(6, 6), "ABCDEF"[:papers], {}).papers
    for row in range(1, 6):
        for place in range(1, 6):
            assert dealt[f"{row}.{place}"] != dealt[f"{row + 1}.{place + 1}"]
            assert dealt[f"{row + 1}.{place}"] != dealt[f"{row}.{place + 1}"]


def test_without_seats_papers_go_round_section_by_section() -> None:
    """Sections that are mixed in the list are dealt apart."""
    students = [Student(f"S{n}", "", "early" if n % 3 else "late") for n in range(12)]
    dealt = deal(students, "AB", {})
    assert dealt.alike == ()
    assert [dealt.papers[s.id] for s in students if s.section == "late"] == ["A", "B", "A", "B"]


def test_what_was_dealt_stays_and_a_late_student_avoids_the_neighbours() -> None:
    """A new student in a gap gets a paper that neither side has, if there is one."""
    full = room(1, 3)
    before = {"1.1": "A", "1.3": "B"}
    dealt = deal(full, "ABC", before)
    assert dealt.papers == {"1.1": "A", "1.2": "C", "1.3": "B"}


def test_neighbours_that_cannot_be_kept_apart_are_named() -> None:
    """With two papers and one on each side, somebody has to move."""
    assert deal(room(1, 3), "AB", {"1.1": "A", "1.3": "B"}).alike != ()


def test_two_on_one_seat_are_refused() -> None:
    """A seat stands once in a section; another section may use it too."""
    deal([*room(1, 2, "a"), *room(1, 2, "b")], "AB", {})
    with pytest.raises(Faults, match=r"class.csv: seat: 'x2' and 'x1' both sit at A1"):
        deal([Student("x1", "", "", (), "A1"), Student("x2", "", "", (), "A1")], "AB", {}, "class.csv")


def test_papers_are_handed_out_along_the_rows() -> None:
    """Section, row, place: number 10 comes after 9."""
    students = [Student(seat, "", "", (), seat) for seat in ("B1", "A10", "A9")]
    assert [student.id for student in seating_order(students)] == ["A9", "A10", "B1"]


def test_a_gap_between_two_people_keeps_them_apart() -> None:
    """An empty seat is no neighbour."""
    students = [Student("l", "", "", (), "A1"), Student("r", "", "", (), "A3")]
    assert neighbours(students) == {"l": [], "r": []}


@pytest.mark.parametrize(
    ("seat", "place"), [("b12", (2, 12)), ("C 4", (3, 4)), ("3-7", (3, 7)), ("33", None), ("=A1", None)]
)
def test_seats_are_read_as_row_and_place(seat: str, place: tuple[int, int] | None) -> None:
    """A letter or a number for the row; anything else is no seat."""
    assert place_of(seat) == place
