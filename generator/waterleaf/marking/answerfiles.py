"""Answer files that students saved on the self-check page and handed in.

Such a file comes from a stranger's device and may hold anything. It is read with limits on size and depth, and held to
its form. What does not fit goes to the instructor's short list with the file's name and the reason; nothing is dropped
in silence, and no file is ever changed. The form, version 1:

    {"format": "waterleaf-answers", "version": 1, "sheet": "TD63-XM47", "name": "", "saved": "2026-03-09T08:15:00Z",
     "answers": {"1a": "12 kg", "2": "B"}}

The name may be empty. Several files of one sheet are put together like several rows of a table: where they answer a
part alike, or only one of them answers it, that counts; where they differ, neither counts until a person decides.
Neither the time of saving nor the time of the file is proof of anything, so the later one does not simply win.
"""

import datetime
import json
import os
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from waterleaf.marking.classfile import Student
from waterleaf.marking.issuebook import IssueBook, Issued
from waterleaf.marking.responses import LONGEST_ANSWER, Response, plain_code

FOLDER: Final = "answers"
FORMAT: Final = "waterleaf-answers"
VERSION: Final = 1
LARGEST_FILE: Final = 100_000
MOST_FILES: Final = 20_000
_FIELDS: Final[dict[str, type]] = {
    "format": str, "version": int, "sheet": str, "name": str, "saved": str, "answers": dict,
}
_LONGEST_NAME: Final = 120
_UNSEEN: Final = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")


class _Unfit(ValueError):
    """A file that cannot be taken: what was found in it, and what is accepted. `code` is its sheet, where known."""

    def __init__(self, reason: str, code: str = "") -> None:
        super().__init__(reason)
        self.code = code


@dataclass(frozen=True, slots=True)
class AnswerFiles:
    """What was found in the folder: an entry for each file of this assignment, and remarks for the instructor."""

    responses: Sequence[Response]
    remarks: Sequence[str]


def read_answer_files(
    folder: Path, issued: Issued, book: IssueBook, labels: Sequence[str], roll: Sequence[Student]
) -> AnswerFiles:
    """Every answer file below the class folder's `answers`; files of other assignments are left for their own turn."""
    place = folder / FOLDER
    if not place.is_dir():
        return AnswerFiles((), ())
    responses: list[Response] = []
    remarks: list[str] = []
    elsewhere = {
        code for other in book.assignments.values() if other.id != issued.id for code in other.by_code
    }
    paths = sorted(path for path in place.rglob("*") if path.is_file() or path.is_symlink())
    for path in paths[:MOST_FILES]:
        name = _shown_name(path.relative_to(folder))
        if path.name.startswith("."):
            continue
        if path.suffix.lower() != ".json":
            remarks.append(f"{name}: not an answer file; those end in .json")
            continue
        found = _response(path, name, labels)
        if found.code in elsewhere:
            continue
        if not found.fault and not any(found.answers.values()):
            remarks.append(f"{name}: holds no answer, and counts as not handed in")
            continue
        responses.append(_owned(found, issued, roll, remarks))
    if len(paths) > MOST_FILES:
        remarks.append(f"{FOLDER}: only the first {MOST_FILES} of {len(paths)} files were read")
    return AnswerFiles(responses, remarks)


def _shown_name(path: Path) -> str:
    """The name of a file as it can stand in a table: without letters that cannot be seen or written."""
    return _UNSEEN.sub("?", os.fsencode(path.as_posix()).decode("utf-8", "replace"))


def _response(path: Path, name: str, labels: Sequence[str]) -> Response:
    """The file as an entry; a file that cannot be taken becomes one with a fault."""
    try:
        data = _fields(_parsed(_text(path)))
        code = plain_code(_clean(data["sheet"]))
        try:
            answers, doubts = _answers(data["answers"], labels)
        except _Unfit as error:
            raise _Unfit(str(error), code) from None
        return Response(name, 1, code, _clean(data["name"]), answers, doubts)
    except _Unfit as error:
        return Response(name, 1, error.code, "", {}, {}, str(error))


def _text(path: Path) -> str:
    if path.is_symlink():
        raise _Unfit("is a link to another file. Put the file itself here.")
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except OSError as error:
        raise _Unfit(f"cannot be read ({error.strerror}). Check its permissions.") from None
    if len(raw) > LARGEST_FILE:
        raise _Unfit(f"is larger than {LARGEST_FILE // 1000} kB, so it is no answer file.")
    coding = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return raw.decode(coding)
    except UnicodeDecodeError:
        raise _Unfit("is not text in UTF-8. Ask for the file as the page saved it.") from None


def _parsed(text: str) -> Any:
    try:
        return json.loads(text, object_pairs_hook=_once, parse_constant=_no_number)
    except RecursionError:
        raise _Unfit("is nested too deeply, so it is no answer file.") from None
    except _Unfit:
        raise
    except ValueError:  # also a number of more digits than Python reads
        raise _Unfit("is not JSON. Ask for the file as the page saved it.") from None


def _once(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise _Unfit(f"has {_short(name)} twice. Keep one.")
        found[name] = value
    return found


def _no_number(word: str) -> Any:
    raise _Unfit(f"holds {word}, which is no text.")


def _fields(data: Any) -> dict[str, Any]:
    """The fields of a file of this form and version, each of its type."""
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise _Unfit("is not an answer file: it does not say that it is one.")
    version = data.get("version")
    if isinstance(version, int) and not isinstance(version, bool) and version > VERSION:
        raise _Unfit(
            f"was saved by a newer self-check page (version {str(version)[:12]} of the form, and {VERSION} is known "
            "here). Mark it with the newer kit."
        )
    code = plain_code(_clean(data["sheet"])) if isinstance(data.get("sheet"), str) else ""
    if isinstance(version, bool) or version != VERSION:
        raise _Unfit(f"has version {_short(version)}. Known is {VERSION}.", code)
    missing = [name for name in _FIELDS if name not in data]
    strange = [name for name in data if name not in _FIELDS]
    if missing or strange:
        raise _Unfit(f"has fields {_short(', '.join(data))}. An answer file has {', '.join(_FIELDS)}.", code)
    for name, kind in _FIELDS.items():
        if not isinstance(data[name], kind):
            raise _Unfit(f"{name} is {_short(data[name])}, not {'text' if kind is str else 'a list of parts'}.", code)
    if len(data["name"]) > _LONGEST_NAME:
        raise _Unfit(f"name is longer than {_LONGEST_NAME} letters.", code)
    try:
        datetime.datetime.fromisoformat(data["saved"][:40])
    except ValueError:
        raise _Unfit(f"saved is {_short(data['saved'])}, not a time as 2026-03-09T08:15:00Z.", code) from None
    return data


def _answers(given: Mapping[str, Any], labels: Sequence[str]) -> tuple[dict[str, str], dict[str, str]]:
    """Answers by label, and why some need a person's eye."""
    strange = [name for name in given if name not in labels]
    if strange:
        parts = ", ".join(labels)
        raise _Unfit(f"answers part {_short(strange[0])}, which this assignment has not. Parts are {parts}.")
    wrong = [name for name, value in given.items() if not isinstance(value, str)]
    if wrong:
        raise _Unfit(f"the answer to {wrong[0]} is {_short(given[wrong[0]])}, not text.")
    answers = {label: _clean(given.get(label, "")) for label in labels}
    doubts = {
        label: f"longer than {LONGEST_ANSWER} letters" for label, text in answers.items() if len(text) > LONGEST_ANSWER
    }
    return {label: text[:LONGEST_ANSWER] for label, text in answers.items()}, doubts


def _owned(found: Response, issued: Issued, roll: Sequence[Student], remarks: list[str]) -> Response:
    """The entry under the id of the student whom its name fits, so that a swapped sheet is seen.

    A name that fits nobody is no proof of anything: the sheet's code decides, and a remark says so.
    """
    name, entry = found.student, issued.by_code.get(found.code)
    if not name or entry is None or found.fault:
        return _under(found, "")
    people = {student.id: student for student in roll}
    own = people.get(entry.student)
    if _same_name(name, entry.student) or (own is not None and _same_name(name, own.name)):
        return _under(found, entry.student)
    others = [student for student in roll if _same_name(name, student.name) or _same_name(name, student.id)]
    if others:
        return _under(found, others[0].id)
    if roll:
        remarks.append(
            f"{found.file}: {_short(name)} is not on the class list; taken as sheet {entry.code} of {entry.student}"
        )
    return _under(found, "")


def _under(found: Response, student: str) -> Response:
    return Response(found.file, found.line, found.code, student, found.answers, found.doubts, found.fault)


def _same_name(one: str, other: str) -> bool:
    return bool(_folded(one)) and _folded(one) == _folded(other)


def _folded(name: str) -> str:
    """A name without case, accents written apart, spaces, points and marks that cannot be seen."""
    plain = unicodedata.normalize("NFKC", name).casefold()
    return "".join(letter for letter in plain if letter.isalnum())


def _clean(text: str) -> str:
    """The text without what cannot be written into a table: control characters and halves of a letter."""
    return _UNSEEN.sub(" ", text).strip()


def _short(value: Any) -> str:
    """A value as it can be shown in a line: cut, and with everything that cannot be seen written out."""
    text = ascii(value) if not isinstance(value, str) else repr(value[:60])
    return text if len(text) <= 64 else f"{text[:60]}…"
