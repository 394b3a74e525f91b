"""The link of a sheet's self-check: everything the page needs to look at answers, and no answer.

All of it travels behind the `#` of the address, which a browser keeps to itself: no server is asked and none is told.
The text is a row of bytes written as one decimal number, because a QR code packs digits tightest. The bytes are

    1       version of this form
    1       bit 0: decimal comma; bit 1: the student writes the unit
    5       code of the sheet
    1       number of units, then each as its length and its text in UTF-8
    1, 1    number of the first question less one, number of questions, then for each
    1         number of parts, then for each
    1           kind, see KINDS; what follows hangs on it
                  number, whole   place of the unit, grid, sealed band
                  times           grid, number of times, a sealed band for each
                  choice          tag of the letter
                  order           number of letters, tag of the letters in order
                  open            place of the unit; such a part is judged by the instructor alone
    4       the first bytes of the SHA-256 of all before, so that a damaged link is known as such

What a sealed answer protects from, and what not, stands in `sealed`.
"""

import hashlib
import re
from collections.abc import Sequence
from typing import Final

from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.expectations import expectations
from waterleaf.marking.expected import Expected
from waterleaf.marking.labels import label
from waterleaf.marking.sealed import SealedBand, Slow, Unsealable, grid_for, salt_of, seal_band, seal_letters, slow_hash
from waterleaf.marking.units import read_unit
from waterleaf.working import units

PAGE: Final = "self-check.html"
VERSION: Final = 1
KINDS: Final = ("number", "whole", "times", "choice", "order", "open")
# The letters of a sheet's code, by their worth.
CODE_LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"
_COMMA, _ASK_UNIT = 1, 2
_CHECKSUM: Final = 4
# With an address of ordinary length this many bytes fill a QR code of version 23 or so, which phones read from paper.
LARGEST: Final = 800
_NO_UNIT: Final = 255
_HALF_DAY: Final = 12.0

_ADDRESS: Final = re.compile(r"(?:https?|file)://[A-Za-z0-9._~:/\[\]%@!$&'()*+,;=-]+")
LONGEST_ADDRESS: Final = 120


def base_address(text: str) -> str:
    """The address of the site without a slash at its end.

    Raises ValueError saying what is accepted.
    """
    plain = text.strip().rstrip("/")
    if len(plain) > LONGEST_ADDRESS or not _ADDRESS.fullmatch(plain):
        raise ValueError(
            f"{text!r} is not the address of a site. Give one of at most {LONGEST_ADDRESS} letters that starts with "
            "https://, http:// or file://, as in https://school.example/growing."
        )
    return plain


def check_links(
    code: str, exercises: Sequence[Exercise], site: str, comma: bool, ask_unit: bool, slow: Slow = slow_hash,
) -> tuple[str, ...]:
    """The links of a sheet: one, or several of whole questions where one would be too long for a QR code."""
    return tuple(
        f"{site}/{PAGE}#{as_digits(data)}" for data in link_bytes(code, exercises, comma, ask_unit, slow)
    )


def as_digits(data: bytes) -> str:
    """Bytes as one decimal number; the first byte is never nought."""
    return str(int.from_bytes(data, "big"))


def link_bytes(
    code: str, exercises: Sequence[Exercise], comma: bool, ask_unit: bool, slow: Slow = slow_hash,
) -> list[bytes]:
    """What the links of a sheet hold, each within `LARGEST` bytes unless a single question is longer."""
    found: list[_Link] = []
    for place, exercise in enumerate(exercises):
        if not found or found[-1].size + 30 * len(exercise.parts) > LARGEST:
            found.append(_Link(code, place, comma, ask_unit, slow))
        found[-1].add(exercise)
    return [link.whole() for link in found]


class _Link:
    """One link as it grows, question by question."""

    def __init__(self, code: str, first: int, comma: bool, ask_unit: bool, slow: Slow) -> None:
        self._code, self._first, self._slow = code, first, slow
        self._flags = comma * _COMMA | ask_unit * _ASK_UNIT
        self._units: list[bytes] = []
        self._questions: list[bytes] = []

    @property
    def size(self) -> int:
        """Bytes so far, but for a few at both ends."""
        return sum(map(len, self._questions)) + sum(map(len, self._units))

    def add(self, exercise: Exercise) -> None:
        """Take on the next question."""
        place = self._first + len(self._questions)
        parts = [
            self._part(part, label(place, index, len(exercise.parts))) for index, part in enumerate(exercise.parts)
        ]
        self._questions.append(bytes([len(parts)]) + b"".join(parts))

    def whole(self) -> bytes:
        """The whole link."""
        head = bytes([VERSION, self._flags]) + _code_bytes(self._code) + bytes([len(self._units)])
        units = b"".join(bytes([len(unit)]) + unit for unit in self._units)
        body = head + units + bytes([self._first, len(self._questions)]) + b"".join(self._questions)
        return body + hashlib.sha256(body).digest()[:_CHECKSUM]

    def _part(self, part: PosedPart, name: str) -> bytes:
        if part.options:
            letters = part.key_text.split(", ")
            tag = seal_letters(letters, salt_of(self._code, name), self._slow)
            return _kind(part.kind) + (bytes([len(letters)]) if part.kind == "order" else b"") + tag
        wanted = expectations(part)
        try:
            if part.kind == "times":
                bands = self._times(wanted, name)
                return _kind("times") + bytes([bands[0].grid, len(bands)]) + b"".join(band.ends for band in bands)
            grid = grid_for(wanted[0], part.share)
            band = seal_band(wanted[0], grid, salt_of(self._code, name), self._slow)
        except Unsealable:
            return _kind("open") + bytes([self._unit(part, wanted[0])])
        return _kind(part.kind) + bytes([self._unit(part, wanted[0]), band.grid]) + band.ends

    def _times(self, wanted: Sequence[Expected], name: str) -> list[SealedBand]:
        if any(expected.high - expected.low >= _HALF_DAY for expected in wanted):
            raise Unsealable("the times are wider than half a day")
        grid = max(grid_for(expected, 0.0) for expected in wanted)
        return [
            seal_band(expected, grid, salt_of(self._code, name, place), self._slow)
            for place, expected in enumerate(wanted)
        ]

    def _unit(self, part: PosedPart, expected: Expected) -> int:
        """The place of a unit in the link's list; the word beside the answer box, where the judge reads it alike."""
        if not expected.unit or not expected.shown:
            return _NO_UNIT
        text, plain = units.label(part.unit), read_unit(expected.unit)
        beside = read_unit(text)
        same = not beside.fault and (beside.factor, beside.offset, beside.dims) == (
            plain.factor, plain.offset, plain.dims
        )
        written = (text if same and beside.shown else expected.unit).encode()
        if written not in self._units:
            self._units.append(written)
        return self._units.index(written)


def _kind(kind: str) -> bytes:
    return bytes([KINDS.index(kind)])


def _code_bytes(code: str) -> bytes:
    number = 0
    for letter in code.replace("-", ""):
        number = number * 32 + CODE_LETTERS.index(letter)
    return number.to_bytes(5, "big")
