"""Invented answers show what marking makes of a class before anybody has handed in a thing."""

import csv
from collections import Counter
from pathlib import Path

import pytest

from classroom import BANK, issued_to, marked_from, small_bank
from waterleaf.classwork.rehearsal import invented_answers
from waterleaf.classwork.tables import write_response_tables
from waterleaf.commands.mark import mark_class
from waterleaf.marking.classmarks import ClassMarks, full_marks
from waterleaf.marking.issuebook import IssueBook, write_book


@pytest.fixture(scope="module")
def rehearsed(tmp_path_factory: pytest.TempPathFactory) -> ClassMarks:
    """Sixty invented students, marked."""
    folder = tmp_path_factory.mktemp("rehearsal")
    issued = issued_to(60)
    labels = list(full_marks(issued, BANK))
    write_response_tables(folder, labels, issued.sheets)
    (folder / "responses.xlsx").unlink()
    with (folder / "responses.csv").open("w", encoding="utf-8", newline="") as handle:
        rows = csv.writer(handle)
        rows.writerow(["sheet", "id", *labels])
        for code, student, answers in invented_answers(issued, BANK, 1):
            rows.writerow([code, student, *(answers.get(label, "") for label in labels)])
    return marked_from(folder, issued)


def test_an_invented_class_does_everything_that_marking_has_a_word_for(rehearsed: ClassMarks) -> None:
    """Right, slips, wrong, blank, and right going on from an own wrong answer; some hand in nothing."""
    outcomes = [outcome for entry in rehearsed.students if entry.handed_in for outcome in entry.outcomes]
    kinds = Counter(outcome.kind for outcome in outcomes)
    assert min(kinds[kind] for kind in ("right", "slip", "wrong", "blank")) > 0
    assert any(outcome.follows for outcome in outcomes)
    assert 0 < sum(not entry.handed_in for entry in rehearsed.students) < 20
    assert not rehearsed.doubts


def test_the_same_seed_invents_the_same_answers() -> None:
    """Another seed invents others."""
    issued = issued_to(5)
    once, again, other = (list(invented_answers(issued, BANK, seed)) for seed in (1, 1, 2))
    assert once == again
    assert once != other


def test_a_rehearsal_stands_apart_and_leaves_real_answers_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its folder says that it is one; the tables and marks of the class are not touched."""
    small_bank(monkeypatch, BANK, "mark")
    issued = issued_to(6)
    write_book(tmp_path, IssueBook({}).with_issued(issued))
    place = tmp_path / issued.id
    place.mkdir()
    write_response_tables(place, list(full_marks(issued, BANK)), issued.sheets)
    before = {path: path.read_bytes() for path in place.iterdir()}
    said, _undecided = mark_class(tmp_path, None, False, lambda _share: None, rehearse=True)
    assert "rehearsal, invented answers" in said
    assert {path: path.read_bytes() for path in before} == before
    assert {path.name for path in place.iterdir()} == {path.name for path in before} | {"rehearsal"}
    assert "invented answers" in (place / "rehearsal" / "marked" / "report.html").read_text(encoding="utf-8")
