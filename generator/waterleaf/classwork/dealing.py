"""Deals parallel papers so that people who sit side by side have different ones."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from waterleaf.faults import Fault, Faults
from waterleaf.marking.classfile import Student
from waterleaf.marking.seats import place_of


@dataclass(frozen=True, slots=True)
class Dealt:
    """Which paper each student gets, by id, and which neighbours could not be kept apart."""

    papers: Mapping[str, str]
    alike: tuple[tuple[str, str], ...]


def deal(students: Sequence[Student], names: Sequence[str], given: Mapping[str, str], file: str = "class") -> Dealt:
    """A paper for every student; what was given out before stays.

    With seats, the paper goes by row and place: with two or three papers the sum of both decides, so that left, right,
    front and back differ; from four on the row counts twice, and diagonals differ too. Without seats, papers go round
    in the order of the list, section by section. A late student gets one that no neighbour has, if there is one.

    Raises Faults where two students of a section have one seat.
    """
    _refuse_shared_seats(students, file)
    near = neighbours(students)
    papers = {student.id: given[student.id] for student in students if student.id in given}
    counts: dict[str, int] = {}
    for student in students:
        section = student.section
        position = counts.get(section, 0)
        counts[section] = position + (not student.seat)
        if student.id in papers:
            continue
        wished = _by_seat(student, names) if student.seat else names[position % len(names)]
        beside = {papers[other] for other in near[student.id] if other in given}
        choice = [name for name in (wished, *names) if name not in beside]
        papers[student.id] = choice[0] if choice else wished
    alike = tuple(
        (one, other) for one, others in near.items() for other in others
        if one < other and papers[one] == papers[other]
    )
    return Dealt(papers, alike)


def _by_seat(student: Student, names: Sequence[str]) -> str:
    row, place = place_of(student.seat) or (0, 0)
    return names[(place + row * (2 if len(names) >= 4 else 1)) % len(names)]


def neighbours(students: Sequence[Student]) -> dict[str, list[str]]:
    """For each student, who sits left, right, in front and behind; without seats, before and after in the list.

    Sections do not sit together.
    """
    found: dict[str, list[str]] = {student.id: [] for student in students}
    seats = {(s.section, place_of(s.seat)): s.id for s in students if s.seat}
    last: dict[str, str] = {}
    for student in students:
        here = place_of(student.seat)
        if here is not None:
            for row, place in ((0, 1), (0, -1), (1, 0), (-1, 0)):
                other = seats.get((student.section, (here[0] + row, here[1] + place)))
                if other:
                    found[student.id].append(other)
            continue
        before = last.get(student.section)
        if before is not None:
            found[student.id].append(before)
            found[before].append(student.id)
        last[student.section] = student.id
    return found


def seating_order(students: Sequence[Student]) -> list[Student]:
    """The order in which papers are handed out: by section, row and place; without seats as in the list."""
    return sorted(students, key=lambda s: (s.section, place_of(s.seat) or (0, 0)))


def _refuse_shared_seats(students: Sequence[Student], file: str) -> None:
    first: dict[tuple[str, tuple[int, int] | None], str] = {}
    faults = []
    for student in students:
        if not student.seat:
            continue
        seat = (student.section, place_of(student.seat))
        if seat in first:
            faults.append(
                Fault(file, "seat", f"{student.id!r} and {first[seat]!r} both sit at {student.seat}. Give each a seat.")
            )
        first.setdefault(seat, student.id)
    if faults:
        raise Faults(faults)
