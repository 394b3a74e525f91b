"""Issuing: every student another sheet, and a book from which each can be made again."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from classroom import BANK, KEYS, SECRET, exercises, issued_to
from waterleaf.faults import Faults
from waterleaf.marking.issuebook import NAME, IssueBook, class_secret, exercises_of, read_book, write_book


def test_every_student_gets_other_numbers() -> None:
    """No two sheets share a code or the numbers of a question."""
    issued = issued_to(40)
    assert len({sheet.code for sheet in issued.sheets}) == 40
    for place in range(len(KEYS)):
        prints = {exercises(issued, student)[place].draw.fingerprint for student in range(40)}
        assert len(prints) == 40


def test_a_family_asked_twice_gives_two_different_draws() -> None:
    """Within a sheet and across the class, the numbers differ."""
    issued = issued_to(10, questions=[{"family": KEYS[0], "count": 1}, {"family": KEYS[0]}])
    drawn = [exercise.draw.fingerprint for place in range(10) for exercise in exercises(issued, place)]
    assert len(set(drawn)) == 20


def test_a_late_student_changes_nobody_elses_sheet() -> None:
    """Sheets that were given out stay, and the new one differs from all of them."""
    first = issued_to(5)
    later = issued_to(7, IssueBook({first.id: first}))
    assert later.sheets[:5] == first.sheets
    assert len({sheet.code for sheet in later.sheets}) == 7
    assert later == issued_to(7)


def test_another_secret_gives_other_sheets() -> None:
    """Who knows the assignment but not the secret of the class cannot make its sheets."""
    mine, other = issued_to(3), issued_to(3, secret="f" * 64)
    assert not {sheet.code for sheet in mine.sheets} & {sheet.code for sheet in other.sheets}
    assert SECRET not in json.dumps([sheet.draws for sheet in mine.sheets])


def test_a_key_is_made_again_from_the_book_alone(tmp_path: Path) -> None:
    """Written and read back, the book leads to the same keys."""
    issued = issued_to(3)
    write_book(tmp_path, IssueBook({issued.id: issued}))
    back = read_book(tmp_path).assignments["week-3"]
    assert back == issued
    for old, new in zip(issued.sheets, back.sheets, strict=True):
        assert [e.keys for e in exercises_of(issued, old, BANK)] == [e.keys for e in exercises_of(back, new, BANK)]


def test_a_changed_family_is_named_and_not_used() -> None:
    """With another version the values would differ, so no key is made."""
    issued = issued_to(1)
    questions = (replace(issued.questions[0], version=99), *issued.questions[1:])
    with pytest.raises(Faults, match="is at version 1, but these sheets were drawn from version 99"):
        exercises(replace(issued, questions=questions))


def test_issued_questions_cannot_be_changed() -> None:
    """Other questions under the same id would make issued sheets worthless."""
    first = issued_to(2)
    with pytest.raises(Faults, match="was issued before with other questions"):
        issued_to(2, IssueBook({first.id: first}), ask_unit=True)


def test_the_book_only_grows(tmp_path: Path) -> None:
    """A sheet on the disk is never lost to a book that does not know it."""
    write_book(tmp_path, IssueBook({"week-3": issued_to(3)}))
    before = (tmp_path / NAME).read_bytes()
    with pytest.raises(Faults, match="has changed on the disk meanwhile"):
        write_book(tmp_path, IssueBook({}))
    assert (tmp_path / NAME).read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == [NAME]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("{", "not a sound issue book"),
        ("[]", "does not say that it is one"),
        ('{"format": "waterleaf-issue-book", "version": 99}', "was written by a newer kit"),
        ('{"format": "waterleaf-issue-book", "version": 1, "assignments": [{}]}', "not a sound issue book"),
    ],
)
def test_a_damaged_book_is_refused(tmp_path: Path, text: str, message: str) -> None:
    """Nothing is issued or marked from a book that cannot be trusted."""
    (tmp_path / NAME).write_text(text, encoding="utf-8")
    with pytest.raises(Faults, match=message):
        read_book(tmp_path)


def test_the_secret_is_made_once(tmp_path: Path) -> None:
    """A second call reads the first one's secret, which others on the machine may not."""
    secret = class_secret(tmp_path)
    assert class_secret(tmp_path) == secret
    assert len(secret) == 64
    assert (tmp_path / "class-secret.txt").stat().st_mode & 0o077 == 0


def test_marks_of_the_assignment_replace_those_of_the_family() -> None:
    """The sheet prints them, so that student and mark scheme agree."""
    marks = {"feed": {"method": 3, "result": 1, "unit": 0}}
    issued = issued_to(1, questions=[{"family": KEYS[0], "marks": marks}])
    feed, meal = exercises(issued)[0].parts
    assert (feed.marks.total, meal.marks.total) == (4, 3)
