"""Answer files that students hand in: each is taken, or told to the instructor with its reason, and never changed."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from classroom import BANK, issued_to, key_answers, students
from waterleaf.marking.answerfiles import LARGEST_FILE, AnswerFiles, read_answer_files
from waterleaf.marking.classfile import Student
from waterleaf.marking.classmarks import ClassMarks, full_marks, mark_all
from waterleaf.marking.decisions import read_decisions
from waterleaf.marking.issuebook import IssueBook, Issued
from waterleaf.marking.responses import Response, collect, read_responses
from waterleaf.marking.tableout import write_csv

ISSUED = issued_to(3)
CODE = ISSUED.sheets[0].code
LABELS = list(full_marks(ISSUED, BANK))
ROLL = students(3)


def as_saved(issued: Issued = ISSUED, place: int = 0, **fields: Any) -> dict[str, Any]:
    """A file as the page saves it, with the printed keys as answers."""
    return {
        "format": "waterleaf-answers", "version": 1, "sheet": issued.sheets[place].code, "name": "",
        "saved": "2026-03-09T08:15:00.123Z", "answers": key_answers(issued, place), **fields,
    }


def put(folder: Path, name: str, data: Any) -> Path:
    """A file in the folder of answers: as JSON, or as the bytes given."""
    path = folder / "answers" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data if isinstance(data, bytes) else json.dumps(data).encode())
    return path


def read(folder: Path, issued: Issued = ISSUED, book: IssueBook | None = None) -> AnswerFiles:
    """The answer files of the class."""
    return read_answer_files(folder, issued, book or IssueBook({issued.id: issued}), LABELS, ROLL)


def marked(folder: Path, roll: tuple[Student, ...] = ROLL) -> ClassMarks:
    """The class marked from tables and answer files."""
    place = folder / ISSUED.id
    place.mkdir(exist_ok=True)
    labels = full_marks(ISSUED, BANK)
    files = read_answer_files(folder, ISSUED, IssueBook({ISSUED.id: ISSUED}), list(labels), roll)
    rows = read_responses(place, list(labels), ISSUED.decimal, needed=not files.responses)
    collected = collect(ISSUED, [*rows, *files.responses])
    return mark_all(ISSUED, roll, collected, read_decisions(place, ISSUED, labels), BANK)


def reasons(found: ClassMarks) -> list[tuple[str, str, str]]:
    """Sheet, file and reason of each line of the short list."""
    return [(doubt.sheet, doubt.file, doubt.reason) for doubt in found.doubts]


def test_a_class_is_marked_from_files_alone(tmp_path: Path) -> None:
    """Without a table, with files in folders below, one of them with a byte-order mark."""
    put(tmp_path, "one.json", as_saved(place=0))
    put(tmp_path, "group a/two.JSON", b"\xef\xbb\xbf" + json.dumps(as_saved(place=1)).encode())
    put(tmp_path, "three.json", json.dumps(as_saved(place=2)).encode("utf-16"))
    found = marked(tmp_path)
    assert found.doubts == ()
    assert all(entry.state == "complete" and entry.total == sum(found.labels.values()) for entry in found.students)


def test_files_and_table_are_put_together(tmp_path: Path) -> None:
    """What only one of them answers counts; what they answer differently waits, with both texts and places."""
    answers = key_answers(ISSUED)
    first, second = LABELS[:2]
    place = tmp_path / ISSUED.id
    place.mkdir()
    write_csv(place / "responses.csv", ["sheet", "id", *LABELS], [[CODE, "S000", "1 g/day", *[""] * (len(LABELS) - 1)]])
    put(tmp_path, "a.json", as_saved(answers=answers))
    found = marked(tmp_path)
    outcomes = {outcome.label: outcome for outcome in found.students[0].outcomes}
    assert outcomes[first].kind == "doubtful"
    assert outcomes[first].doubt == f"'1 g/day' at responses.csv:2, but {answers[first]!r} at answers/a.json:1"
    assert outcomes[second].kind in ("right", "doubtful")
    assert any("sheet" in remark and "put together" in remark for remark in found.remarks)


def test_the_same_file_twice_counts_once(tmp_path: Path) -> None:
    """Handed in twice under two names: marked once, with a remark."""
    for name in ("a.json", "a (1).json"):
        put(tmp_path, name, as_saved())
    found = marked(tmp_path)
    assert found.doubts == ()
    assert found.students[0].state == "complete"
    assert len(found.remarks) == 1


def test_a_later_file_does_not_simply_win(tmp_path: Path) -> None:
    """Two files of a sheet that differ in one part: that part waits, whichever was saved last; the rest counts."""
    part = LABELS[-1]
    put(tmp_path, "early.json", as_saved(saved="2026-03-01T08:00:00Z", answers={**key_answers(ISSUED), part: "A"}))
    put(tmp_path, "late.json", as_saved(saved="2026-03-09T08:00:00Z", answers={**key_answers(ISSUED), part: "B"}))
    found = marked(tmp_path)
    assert [(doubt.part, doubt.file) for doubt in found.doubts] == [(part, "answers/early.json")]
    assert "'A'" in found.doubts[0].reason
    assert "answers/late.json" in found.doubts[0].reason


def test_an_early_save_that_is_part_of_a_later_one_is_no_conflict(tmp_path: Path) -> None:
    """A student who saved half way and again at the end is marked by the whole."""
    whole = key_answers(ISSUED)
    put(tmp_path, "half.json", as_saved(answers=dict(list(whole.items())[:2])))
    put(tmp_path, "whole.json", as_saved(answers=whole))
    assert marked(tmp_path).students[0].state == "complete"


def test_a_name_of_another_student_is_told(tmp_path: Path) -> None:
    """The code says one student and the name another: both sheets wait for the instructor."""
    put(tmp_path, "a.json", as_saved(name="student  2"))
    found = marked(tmp_path)
    assert {entry.student.id for entry in found.students if entry.state == "to be decided"} == {"S000", "S002"}
    assert any("'S002'" in reason for _, _, reason in reasons(found))


@pytest.mark.parametrize("name", ["Student 0", "STUDENT 0", "student0", "S000", "\u202eStudent 0\u202c", ""])
def test_the_own_name_however_typed_is_fine(tmp_path: Path, name: str) -> None:
    """Case, spaces and marks that turn the text do not make another person."""
    put(tmp_path, "a.json", as_saved(name=name))
    assert (marked(tmp_path).doubts, list(read(tmp_path).remarks)) == ((), [])


def test_a_name_that_fits_nobody_is_remarked_on(tmp_path: Path) -> None:
    """An emoji is no proof of a swap: the code decides, and the report says so with the name written out."""
    put(tmp_path, "a.json", as_saved(name="🐟 \u202eevil"))
    assert marked(tmp_path).doubts == ()
    assert list(read(tmp_path).remarks) == [
        f"answers/a.json: '🐟 \\u202eevil' is not on the class list; taken as sheet {CODE} of S000"
    ]


def test_files_of_another_assignment_are_left_for_it(tmp_path: Path) -> None:
    """One folder serves a whole term."""
    other = issued_to(1, secret="f" * 64, id="week-4")
    book = IssueBook({"week-3": ISSUED, "week-4": other})
    put(tmp_path, "old.json", as_saved())
    put(tmp_path, "new.json", as_saved(other))
    assert [found.file for found in read(tmp_path, ISSUED, book).responses] == ["answers/old.json"]
    assert [found.file for found in read(tmp_path, other, book).responses] == ["answers/new.json"]


@pytest.mark.parametrize("code", ["ZZZZ-ZZZZ", "../../etc", "..\\..\\x", "/etc/passwd", "constructor", "", "x" * 5000])
def test_an_unknown_code_goes_to_the_short_list(tmp_path: Path, code: str) -> None:
    """Whatever it looks like, it is text to be shown and never a path."""
    put(tmp_path, "a.json", as_saved(sheet=code))
    ((sheet, file, reason),) = reasons(marked(tmp_path))
    assert (sheet, file) == (code, "answers/a.json")
    assert "code" in reason
    assert len(reason) < 120


DEEP = b'{"format": ' + b"[" * 40_000 + b"]" * 40_000 + b"}"
UNFIT: dict[str, tuple[Any, str]] = {
    "nothing": (b"", "is not JSON"),
    "no JSON": (b"PK\x03\x04", "is not"),
    "other text": (b"\xe9\xe8\xff{", "is not text in UTF-8"),
    "ten megabytes": (b"[" + b"1," * 5_000_000 + b"1]", f"larger than {LARGEST_FILE // 1000} kB"),
    "deep": (DEEP, "is nested too deeply"),
    "a list": ([1, 2], "is not an answer file"),
    "another form": ({"format": "letter"}, "is not an answer file"),
    "newer": (as_saved(version=2, more=1), "newer self-check page (version 2"),
    "newest": (as_saved(version=10**30), "newer self-check page"),
    "older": (as_saved(version=0), "has version 0. Known is 1."),
    "version true": (as_saved(version=True), "has version True"),
    "version text": (as_saved(version="1"), "has version '1'"),
    "field too many": (as_saved(__proto__={"a": 1}), "has fields"),
    "field missing": ({k: v for k, v in as_saved().items() if k != "saved"}, "has fields"),
    "name a number": (as_saved(name=7), "name is 7, not text"),
    "name too long": (as_saved(name="x" * 500), "name is longer than 120"),
    "answers a list": (as_saved(answers=["1a"]), "answers is ['1a'], not a list of parts"),
    "answer a number": (as_saved(answers={"1a": 1437}), "the answer to 1a is 1437, not text"),
    "answer nothing": (as_saved(answers={"1a": None}), "the answer to 1a is None, not text"),
    "prototype": (as_saved(answers={"__proto__": "x"}), "answers part '__proto__', which this assignment has not"),
    "unknown part": (as_saved(answers={"99z": "x"}), "answers part '99z', which this assignment has not"),
    "no time": (as_saved(saved="yesterday"), "saved is 'yesterday', not a time"),
    "not a number": (json.dumps(as_saved()).replace('"version": 1', '"version": NaN').encode(), "holds NaN"),
    "a key twice": (b'{"format": "waterleaf-answers", "format": "waterleaf-answers"}', "has 'format' twice"),
    "a number of a million digits": (b'{"format": ' + b"9" * 90_000 + b"}", "is not JSON"),
}


@pytest.mark.parametrize("name", UNFIT)
def test_a_file_that_does_not_fit_goes_to_the_short_list(tmp_path: Path, name: str) -> None:
    """With its name and one clear reason; the other files are marked as ever, and no file is touched."""
    data, reason = UNFIT[name]
    path = put(tmp_path, "odd.json", data)
    put(tmp_path, "sound.json", as_saved(place=1))
    before = path.read_bytes()
    found = marked(tmp_path)
    whys = {why for _, file, why in reasons(found) if file == "answers/odd.json"}
    assert len(whys) == 1
    assert reason in whys.pop()
    assert found.students[1].state == "complete"
    assert path.read_bytes() == before


def test_a_spoilt_file_of_a_known_sheet_keeps_that_sheet_open(tmp_path: Path) -> None:
    """The student did hand in: the sheet waits to be decided instead of standing as not handed in."""
    put(tmp_path, "odd.json", as_saved(answers={"1a": 1437}))
    assert marked(tmp_path).students[0].state == "to be decided"


def test_letters_that_no_table_can_hold_are_replaced(tmp_path: Path) -> None:
    """Control characters and halves of letters become spaces, and the answer is read without them."""
    key = key_answers(ISSUED)[LABELS[0]]
    put(tmp_path, "a.json", as_saved(answers={LABELS[0]: f"\x00{key}\ud83d\x1b"}))
    (found,) = read(tmp_path).responses
    assert found.answers[LABELS[0]] == key


def test_a_very_long_answer_waits_for_a_person(tmp_path: Path) -> None:
    """It is cut for the tables and told to the instructor."""
    put(tmp_path, "a.json", as_saved(answers={LABELS[0]: "7 " * 3000}))
    (found,) = read(tmp_path).responses
    assert found.doubts == {LABELS[0]: "longer than 2000 letters"}
    assert len(found.answers[LABELS[0]]) == 2000


def test_what_is_no_answer_file_is_remarked_on(tmp_path: Path) -> None:
    """A photo beside the files, an empty file of answers, and a link out of the folder are all told."""
    put(tmp_path, "photo.jpg", b"\xff\xd8")
    put(tmp_path, "blank.json", as_saved(answers={"1a": "  "}))
    put(tmp_path, ".hidden.json", b"x")
    secret = tmp_path / "elsewhere.json"
    secret.write_text(json.dumps(as_saved()), encoding="utf-8")
    (tmp_path / "answers" / "link.json").symlink_to(secret)
    found = read(tmp_path)
    assert list(found.remarks) == [
        "answers/blank.json: holds no answer, and counts as not handed in",
        "answers/photo.jpg: not an answer file; those end in .json",
    ]
    (only,) = found.responses
    assert only.fault.startswith("is a link to another file")


def test_no_folder_of_answers_is_no_fault(tmp_path: Path) -> None:
    """Most classes hand in paper."""
    assert read(tmp_path) == AnswerFiles((), ())


values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=8), inner, max_size=2), max_leaves=3,
)
fields = st.dictionaries(st.sampled_from(["format", "version", "sheet", "name", "saved", "answers", "more"]), values)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(changes=fields, raw=st.binary(max_size=60))
def test_no_file_stops_the_marking(tmp_path: Path, changes: dict[str, Any], raw: bytes) -> None:
    """Whatever the fields hold, and whatever the bytes are, there is an entry or a remark for the file."""
    put(tmp_path, "changed.json", json.dumps(as_saved() | changes, allow_nan=True).encode())
    put(tmp_path, "raw.json", raw)
    found = read(tmp_path)
    told = [response.file for response in found.responses] + [remark.split(":")[0] for remark in found.remarks]
    assert {"answers/changed.json", "answers/raw.json"} <= set(told)
    assert all(isinstance(response, Response) for response in found.responses)
    collect(ISSUED, found.responses)
