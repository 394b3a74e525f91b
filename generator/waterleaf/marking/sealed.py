"""Sealed answers: enough to tell a right answer from another one, and not the answer itself.

A band of accepted answers is cut by a grid whose cells are at least as wide as the band, so the band touches one cell
or two. Each end of the band is sealed with a slow hash of the cell in which it lies: the seal holds a tag, by which
that cell is known again, and the end itself, hidden under further digits of the hash. To look at an answer, its own
cell is hashed. If the tag is another one, the answer is outside. If it is the same, the end of the band comes to light,
and the answer is compared with it exactly as the judge compares: nothing that the judge accepts is refused, and the
other way round only a chance agreement of a 32-bit tag (one in four thousand million) could go wrong.

The grid is chosen by the tolerance, which stands in the public exercise, and not by the answer: cells are a share of
the number where the tolerance is a share, and of one width where it is an amount. A letter, or letters in order, are
sealed as a tag alone.

What this protects from: nobody can read an answer off, and no table made for one sheet helps with another, since the
hash is salted with the code of the sheet and the label of the part. What it does not protect from: somebody who tries
answers one by one. A band of two per cent leaves a few hundred cells to try between a tenth and ten times the answer; a
program does that in seconds, and a choice of four letters is found by hand. Once an answer falls into the right cell,
a program can read the ends of the band. And whoever has this kit can work the whole sheet out. So a sealed answer
serves a student who wants to learn, and is no lock on an examination.
"""

import hashlib
import math
import struct
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.marking.expected import HAIR, Expected

# How often the hash is repeated: a tenth of a second or so on a phone, in plain JavaScript.
ROUNDS: Final = 20_000
TAG: Final = 4  # bytes
END: Final = 8  # bytes of a double

# Grids are numbered: up to 20, so many binary digits of the number's own; from here on, a width of a power of two.
FINEST: Final = 20
_EVEN: Final = 128
_WIDEST: Final = 127

Slow = Callable[[bytes, bytes], bytes]


class Unsealable(ValueError):
    """A band that no grid fits: it is judged by the instructor alone."""


@dataclass(frozen=True, slots=True)
class SealedBand:
    """An accepted band under seal: which grid cuts it, and the two sealed ends."""

    grid: int
    ends: bytes


def slow_hash(secret: bytes, salt: bytes, rounds: int = ROUNDS) -> bytes:
    """32 bytes by PBKDF2-HMAC-SHA256 (RFC 8018)."""
    return hashlib.pbkdf2_hmac("sha256", secret, salt, rounds)


def salt_of(code: str, label: str, place: int = 0) -> bytes:
    """What makes the hashes of this part of this sheet differ from all others."""
    return f"{code} {label} {place}".encode("ascii")


def cell(value: float, grid: int) -> float:
    """The edge that names the cell of a value; both languages find it without rounding.

    Examples
    --------
    >>> cell(1437.0, 5), cell(1437.0, 128 + 3)
    (1408.0, 1432.0)
    """
    if not math.isfinite(value):
        return math.inf
    if grid <= FINEST:
        high = struct.unpack(">I", struct.pack(">d", value + 0.0)[:4])[0]
        kept = high >> (FINEST - grid) << (FINEST - grid)
        found: float = struct.unpack(">d", struct.pack(">II", kept, 0))[0]
        return found + 0.0
    width = math.ldexp(1.0, grid - _EVEN)
    scaled = value / width
    return math.floor(scaled) * width + 0.0 if math.isfinite(scaled) else math.inf


def ends_of(expected: Expected) -> tuple[float, float]:
    """The lowest and the highest number that the judge accepts, its hair of room included."""
    room = 0.0 if expected.offset is None or expected.kind == "clock" else expected.offset / expected.factor
    hair = HAIR * max(abs(expected.low), abs(expected.high), room)
    return expected.low - hair, expected.high + hair


def grid_for(expected: Expected, share: float) -> int:
    """The grid of a part, by its tolerance: a share of the answer, or an amount where `share` is nought.

    Raises Unsealable where the band would touch more than two cells, as with a tolerance of more than a third.
    """
    low, high = ends_of(expected)
    width = expected.high - expected.low
    if expected.kind == "whole":
        grid = _even(max(1.0, high - low))
    elif share or width == 0:
        wide = (high - low) / max(abs(low), abs(high)) if high > low else 0.0
        grid = FINEST if wide == 0 else max(0, min(FINEST, math.floor(-math.log2(wide)) - 1))
    else:
        grid = _even(high - low)
    _check(low, high, grid)
    return grid


def _even(width: float) -> int:
    """The grid of the smallest power of two that is as wide."""
    part, power = math.frexp(width)
    power -= part == 0.5
    if not -_WIDEST + FINEST < power < _WIDEST:
        raise Unsealable(f"a band {width!r} wide fits no grid")
    return _EVEN + power


def _check(low: float, high: float, grid: int) -> None:
    """A band must lie in one cell or in two that touch."""
    lower, upper = cell(low, grid), cell(high, grid)
    if not (math.isfinite(lower) and math.isfinite(upper)):
        raise Unsealable("the band is too far from nought")
    if lower == upper:
        return
    if grid > FINEST:
        touching = upper - lower == math.ldexp(1.0, grid - _EVEN)
    else:
        step = 1 << (FINEST - grid)
        first, second = (struct.unpack(">I", struct.pack(">d", edge)[:4])[0] for edge in (lower, upper))
        touching = (lower < 0) == (upper < 0) and abs(first - second) == step
    if not touching:
        raise Unsealable("the band touches more than two cells")


def seal_band(expected: Expected, grid: int, salt: bytes, slow: Slow = slow_hash) -> SealedBand:
    """The band of accepted answers under seal."""
    low, high = ends_of(expected)
    digests: dict[float, bytes] = {}
    for end in (low, high):
        edge = cell(end, grid)
        if edge not in digests:
            digests[edge] = slow(struct.pack(">d", edge), salt)
    first, second = digests[cell(low, grid)], digests[cell(high, grid)]
    half = TAG + END
    lower = first[:TAG] + _hidden(low, first[TAG:half])
    upper = second[half : half + TAG] + _hidden(high, second[half + TAG : 2 * half])
    return SealedBand(grid, lower + upper)


def in_sealed_band(value: float, sealed: SealedBand, salt: bytes, slow: Slow = slow_hash) -> bool:
    """Whether a value lies in a sealed band: what the browser's script does, in the same steps."""
    edge = cell(value, sealed.grid)
    if not math.isfinite(edge):
        return False
    digest = slow(struct.pack(">d", edge), salt)
    half = TAG + END
    ends = [
        _shown(sealed.ends[start + TAG : start + half], digest[start + TAG : start + half])
        if sealed.ends[start : start + TAG] == digest[start : start + TAG] else None
        for start in (0, half)
    ]
    low, high = ends
    return not (low is None and high is None) and (low is None or value >= low) and (high is None or value <= high)


def seal_letters(letters: Sequence[str], salt: bytes, slow: Slow = slow_hash) -> bytes:
    """The tag of a letter, or of letters in order."""
    return slow(",".join(letters).encode("ascii"), salt)[:TAG]


def _hidden(end: float, mask: bytes) -> bytes:
    return bytes(a ^ b for a, b in zip(struct.pack(">d", end), mask, strict=True))


def _shown(hidden: bytes, mask: bytes) -> float:
    found: float = struct.unpack(">d", bytes(a ^ b for a, b in zip(hidden, mask, strict=True)))[0]
    return found
