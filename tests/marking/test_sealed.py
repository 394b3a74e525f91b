"""Sealed answers: what the page on a phone says agrees with the judge for every answer, and gives none away."""

import hashlib
import itertools
import random
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from classroom import BANK
from sealed_script import Script, compared, neighbours, quick, running, told_apart
from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import System
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.marking.checklink import CODE_LETTERS, LARGEST, as_digits, base_address, check_links, link_bytes
from waterleaf.marking.expected import Expected, Tolerance, expected_for, inside
from waterleaf.marking.labels import labelled
from waterleaf.marking.partmarks import Reader, judge_part
from waterleaf.marking.sealed import (
    ROUNDS,
    Unsealable,
    cell,
    ends_of,
    grid_for,
    in_sealed_band,
    salt_of,
    seal_band,
    slow_hash,
)
from waterleaf.sheets.paper import Sheet

CODE = "TD63-XM47"
WHOLE_BANK = Path(__file__).parents[2] / "question_bank"
# RFC 7914, section 11, the first 32 bytes of each: published.
RFC_7914 = [
    (b"passwd", b"salt", 1, "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc"),
    (b"Password", b"NaCl", 80000, "4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56"),
]


@pytest.fixture(scope="module")
def script(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Script]:
    """The browser's scripts with a single round."""
    with running(tmp_path_factory.mktemp("script"), rounds=1) as found:
        yield found


# ---- The hash ----


@pytest.mark.parametrize(("secret", "salt", "rounds", "wanted"), RFC_7914, ids=["RFC 7914 #1", "RFC 7914 #2"])
def test_the_slow_hash_gives_the_published_values(
    script: Script, secret: bytes, salt: bytes, rounds: int, wanted: str
) -> None:
    """Both languages reproduce the test vectors of RFC 7914, section 11."""
    assert slow_hash(secret, salt, rounds).hex() == wanted
    assert script("pbkdf2", secret.hex(), salt.hex(), rounds) == wanted


def test_the_plain_hash_gives_the_published_value(script: Script) -> None:
    """FIPS 180-4, example of SHA-256 for the message "abc"."""
    wanted = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert script("sha256", b"abc".hex()) == wanted


def test_hashes_of_every_length_agree_with_python(script: Script) -> None:
    """Messages, secrets and salts around the ends of a block, against Python's hashlib."""
    chance = random.Random("blocks")
    for size in (*range(130), 1000):
        message, salt = chance.randbytes(size), chance.randbytes(size * 7 % 131)
        assert script("sha256", message.hex()) == hashlib.sha256(message).hexdigest()
        wanted = hashlib.pbkdf2_hmac("sha256", message, salt, 1 + size % 4).hex()
        assert script("pbkdf2", message.hex(), salt.hex(), 1 + size % 4) == wanted


# ---- The grid and the seal ----

numbers = st.floats(allow_nan=False, allow_infinity=False) | st.floats(-1e6, 1e6) | st.integers(-5000, 5000).map(float)
grids = st.integers(0, 20) | st.integers(100, 160)


@given(cases=st.lists(st.tuples(numbers, grids), min_size=1, max_size=40))
def test_cells_are_found_alike(script: Script, cases: list[tuple[float, int]]) -> None:
    """The edge of a number's cell has the same bits in both languages."""
    ours = [struct.pack(">d", cell(value, grid)).hex() for value, grid in cases]
    assert script("cells", [[repr(value), grid] for value, grid in cases]) == ours


def _kin(expected: Expected) -> list[float]:
    """Both ends of the accepted numbers, their nearest neighbours, and numbers in the cells around."""
    low, high = ends_of(expected)
    wide = high - low
    around = [low + wide * share for share in (-2, -0.5, 0.5, 1.5, 3)]
    return [*neighbours(low), *neighbours(high), expected.low, expected.high, *around, 0.0]


shares = st.builds(
    lambda key, share: (expected_for(key, "L", Tolerance(relative=share), 3), share),
    st.floats(1e-6, 1e9) | st.floats(-1e9, -1e-6), st.floats(1e-6, 0.3),
)
amounts = st.builds(
    lambda key, reach: (expected_for(key, "degC", Tolerance(absolute=reach), 3), 0.0),
    st.floats(-1e6, 1e6), st.floats(1e-3, 1e4),
)
wholes = st.builds(
    lambda key, reach: (expected_for(float(key), "plant", Tolerance(absolute=reach), 3, kind="whole"), 0.0),
    st.integers(-500, 100_000), st.integers(0, 30),
)


@given(task=shares | amounts | wholes, others=st.lists(numbers, max_size=5))
def test_the_seal_accepts_exactly_what_the_judge_accepts(task: tuple[Expected, float], others: list[float]) -> None:
    """At both ends of the band, one bit beyond them, in the cells around, and anywhere."""
    expected, share = task
    salt = salt_of(CODE, "1a")
    sealed = seal_band(expected, grid_for(expected, share), salt, quick)
    room = 0.0 if expected.offset is None else expected.offset / expected.factor
    for value in (*_kin(expected), *others):
        wanted = inside(value, expected.low, expected.high, room)
        assert in_sealed_band(value, sealed, salt, quick) == wanted, value


def test_an_exact_number_can_be_sealed() -> None:
    """No tolerance at all leaves the judge's hair of room, at nought as elsewhere."""
    for key in (0.0, 1.0, -7.25, 1e-9):
        expected = expected_for(key, "L", Tolerance(), 3)
        sealed = seal_band(expected, grid_for(expected, 0.0), salt_of(CODE, "1"), quick)
        found = [in_sealed_band(value, sealed, salt_of(CODE, "1"), quick) for value in (key, -key or 0.0, key + 1)]
        assert found == [True, key == 0, False]


def test_a_band_too_wide_for_its_grid_is_left_to_the_instructor() -> None:
    """A share of nearly all, across several powers of two, fits no grid and is refused."""
    with pytest.raises(Unsealable, match="more than two cells"):
        grid_for(expected_for(100.0, "L", Tolerance(relative=0.99), 3), 0.99)


def test_the_grid_says_nothing_of_the_answer() -> None:
    """Answers a thousand times apart have the same grid, because their tolerance is the same."""
    shares_ = {grid_for(expected_for(key, "L", Tolerance(relative=0.02), 3), 0.02) for key in (0.37, 12.0, 8190.0)}
    amounts_ = {grid_for(expected_for(key, "L", Tolerance(absolute=0.5), 3), 0.0) for key in (0.75, 12.0, 8190.0)}
    counts = {grid_for(expected_for(key, "plant", Tolerance(), 3, kind="whole"), 0.0) for key in (3.0, 120.0, 9000.0)}
    assert (len(shares_), len(amounts_), len(counts)) == (1, 1, 1)


def test_another_sheet_or_part_is_sealed_otherwise() -> None:
    """The same answer on two sheets, or in two parts, has no byte of the seal in common by design."""
    expected = expected_for(1437.0, "g/day", Tolerance(relative=0.01), 3)
    seals = {
        seal_band(expected, 5, salt_of(code, name, place), quick).ends
        for code, name, place in ((CODE, "1a", 0), (CODE, "1b", 0), (CODE, "1a", 1), ("AAAA-AAAA", "1a", 0))
    }
    assert len(seals) == 4


# ---- The link ----


def test_the_page_agrees_with_the_judge_on_every_family(script: Script) -> None:
    """Every part of the bank, systems of units by turns, with and without units asked, at the ends of the bands."""
    systems: tuple[System, ...] = ("metric", "us")
    ways = itertools.cycle([(False, False), (True, False), (False, True)])
    found = []
    for family, system in zip(load_bank(WHOLE_BANK).values(), itertools.cycle(systems), strict=False):
        found += compared(script.judged, pose(draw(family, f"check {system}"), system), *next(ways))
    assert found == []


@given(number=st.integers(0, 10**6), family=st.sampled_from(sorted(BANK)), typed=st.lists(st.tuples(
    st.floats(-0.3, 0.3) | st.floats(-1e-8, 1e-8), st.sampled_from(["", " g/day", " kg/day", " L", " lb a day", " %"])
), min_size=1, max_size=8))
def test_the_page_agrees_with_the_judge_on_any_draw(
    script: Script, number: int, family: str, typed: list[tuple[float, str]]
) -> None:
    """Numbers around the key of any draw, bare and with units that fit and do not."""
    exercise = pose(draw(BANK[family], number))
    (data,) = link_bytes(CODE, (exercise,), False, False, quick)
    for place, part in enumerate(exercise.parts):
        if part.kind in ("number", "whole"):
            texts = [f"{part.key * (1 + off)!r}{unit}" for off, unit in typed]
            for text, theirs in zip(texts, script.judged(as_digits(data), place, texts), strict=True):
                ours = judge_part(part, text, Reader())
                assert told_apart(ours.kind, ours.message) == told_apart(theirs["kind"], theirs["message"]), text


def test_the_page_agrees_with_the_full_number_of_rounds(tmp_path: Path) -> None:
    """One sheet as it is really issued, through the slow hash of both languages."""
    sheet = Sheet(tuple(pose(draw(BANK[key], 5)) for key in ("feed/daily_feed", "solids/flush_times")))
    (link,) = check_links(sheet.code, sheet.exercises, "https://growing.example", False, False)
    digits = link.partition("#")[2]
    with running(tmp_path) as script:
        assert script("read", digits)["code"] == sheet.code
        for place, item in enumerate(labelled(sheet.exercises)):
            texts = [item.part.key_text, "F" if item.part.options else "7"]
            right, other = script.judged(digits, place, texts)
            assert (right["kind"], other["kind"] in ("wrong", "unreadable")) == ("right", True)
    assert ROUNDS >= 20_000


def test_no_answer_stands_in_a_link() -> None:
    """Neither the printed key nor the bits of the key or of an end of its band are among the bytes."""
    exercise = pose(draw(BANK["feed/daily_feed"], 5))
    (data,) = link_bytes(CODE, (exercise,), False, False, quick)
    for part in exercise.parts:
        ends = ends_of(expected_for(part.key, part.unit, Tolerance(part.share), 3))
        for number in (part.key, part.low, part.high, *ends):
            for form in (">d", "<d", ">f", "<f"):
                assert struct.pack(form, number)[:3] not in data
        assert part.key_text.encode() not in data


def test_a_long_sheet_has_several_links(script: Script) -> None:
    """Each holds whole questions under their own numbers and stays small enough for a code that phones read."""
    family = BANK["feed/daily_feed"]
    exercises = tuple(pose(draw(family, number)) for number in range(30))
    data = link_bytes(CODE, exercises, False, False, quick)
    assert len(data) > 1
    assert all(len(one) < LARGEST + 40 for one in data)
    labels = [part["label"] for one in data for part in script("read", as_digits(one))["parts"]]
    assert labels == [item.label for item in labelled(exercises)]


@pytest.mark.parametrize("digits", [
    "", "0", "7", "1" * 200, "9" * 4999, "9" * 100_000, "-5", "1e9", "12a", "١٢٣", " 12", "__proto__", "%00",
    "<script>",
])
def test_what_is_no_link_is_told_as_such(script: Script, digits: str) -> None:
    """Nothing is read from it, and nothing breaks."""
    assert script("read", digits) is None


@given(place=st.integers(0, 10_000), digit=st.integers(0, 9))
def test_a_damaged_link_is_never_read(script: Script, place: int, digit: int) -> None:
    """One wrong digit anywhere, or a lost end, is noticed by the checksum."""
    (data,) = link_bytes(CODE, (pose(draw(BANK["feed/daily_feed"], 5)),), False, False, quick)
    good = as_digits(data)
    place %= len(good)
    bad = good[:place] + str(digit) + good[place + 1 :]
    assert (script("read", bad) is None) == (bad != good)
    assert script("read", good[: place + 1]) is None or place == len(good) - 1


def test_a_forged_link_with_a_good_checksum_is_held_to_its_form(script: Script) -> None:
    """Parts beyond the end, unknown kinds and unknown units are refused although the checksum is right."""
    head = b"\1\0" + bytes(5)

    def read(body: bytes) -> Any:
        return script("read", as_digits(body + hashlib.sha256(body).digest()[:4]))

    bodies = [
        b"\1", head, b"\2\0" + bytes(5) + b"\0\0\1\1\5\xff", head + b"\0\0\0",
        *(head + rest for rest in (b"\0\0\1\1\0", b"\0\0\1\1\7", b"\1\x05weird\0\1\1\5\0", b"\0\0\1\1\5\x09")),
        *(head + rest for rest in (b"\1\2\xff\xfe\0\1\1\5\0", b"\0\0\1\1\5\xff\0", b"\0\0\xff\xff")),
        head + b"\0\0\1\1\2\5\xff",
    ]
    assert [body for body in bodies if read(body) is not None] == []
    assert read(head + b"\0\0\1\1\5\xff")["code"] == "AAAA-AAAA"


def test_codes_are_read_back(script: Script) -> None:
    """Every letter of the alphabet of codes comes back from a link."""
    for start in range(0, 32, 8):
        code = f"{CODE_LETTERS[start : start + 4]}-{CODE_LETTERS[start + 4 : start + 8]}"
        (data,) = link_bytes(code, (pose(draw(BANK["feed/daily_feed"], 5)),), True, True, quick)
        sheet = script("read", as_digits(data))
        assert (sheet["code"], sheet["comma"], sheet["askUnit"]) == (code, True, True)


@pytest.mark.parametrize(
    "text", ["", "growing.example", "ftp://x.example", "https://x.example/?a", "https://x/#b", "javascript:1"]
)
def test_an_address_that_is_none_is_refused(text: str) -> None:
    """One sentence says what an address looks like."""
    with pytest.raises(ValueError, match="is not the address of a site"):
        base_address(text)


def test_an_address_loses_its_last_slash() -> None:
    """Both ways to write it give the same link."""
    assert base_address("https://growing.example/course/") == base_address(" https://growing.example/course")
    assert base_address("file:///S:/course") == "file:///S:/course"
