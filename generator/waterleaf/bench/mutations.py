"""Spoils files and answers in the ways that accidents and ill will do; the same number spoils in the same way."""

import copy
import io
import json
import random
import re
import zipfile
from collections.abc import Callable, Iterator, Sequence
from typing import Any, Final

import yaml

# Values that have broken readers of one kind or another somewhere.
NASTY: Final = (
    "", "~", "null", "true", "no", "0", "-1", "-0.0", "1e308", "1e99", "9" * 15, "9" * 400, ".5e-99", "nan", ".inf",
    "1_000", "0x1F", "6:30", "[]", "{}", "[1, 2]", "{a: 1}", "[[[[[[1]]]]]]", "[" * 40 + "]" * 40, "&a [1]", "*a",
    "!!python/object/apply:os.system [id]", "!!binary aGk=", "<<: *a", "../../../etc/passwd", "/dev/zero", "C:\\x",
    "x" * 5000, "[0]*9999999999", "max([1],[2])*9999999999", "count([0]*999999999)", "mean(5)", "bed_area*bed_area[0]",
    "(" * 120 + "1" + ")" * 120, "-" * 200 + "1", "'{{ " + "(" * 3000 + "'", "'{{ " + "not " * 900 + "x }}'", "{{ x }}",
    "'{% for i in x %}'", "m**99999999", "10**10**10", "m^2^99", "kg*" * 200 + "kg", "g/day/", "1/0", "%s%n%x",
    "2026-99-99", "9999-12-31", "0001-01-01", "20260302", "2026-W10-1", "\u202e\u200b", "\U0001f41f", "é\u0301",
    "'\\e[31m'", '"\\e[31mred\\a"', '"\\0"', "'=cmd|x'", "1/2", "1,5", "١٢", "２", "12 m^2", "1e400 m^2", "5 %",
    "0 L", "-5 L/min", "furlong",
)
_KINDS: Final[tuple[Any, ...]] = (
    0, 1, -1, 7, 10**15, 10**9, 1e308, -1e308, 5e-324, float("nan"), float("inf"), True, False, None, [], {}, [1, 2],
    ["x", "x"], [["x"]], [None], {"a": 1}, {"number": 3}, [{}], [[[[[[[[1]]]]]]]], "x", "A", "1", "12", "0",
)
_FAR_OFF: Final = (
    ("A1:B2", "A1:XFD1048576"), ('r="A2"', 'r="XFD1048576"'), ('r="B1"', 'r="ZZZZ99999999"'), ("<v>", "<v>9"),
    ("</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>'),
    ("</sheetData>", '</sheetData><mergeCells count="1"><mergeCell ref="A2:C3"/></mergeCells>'), ("t=\"s\"", 't="n"'),
    ("t=\"inlineStr\"", 't="s"'), ("<worksheet", "<worksheet broken"), ("<sheetData>", "<sheetData><row r='0'/>"),
    ("<?xml", '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><?xml'),
)
_PIECES: Final = (
    "1", "7", "12", "1437", "0", ".", ",", " ", "\xa0", "\u2009", "e", "E", "10^", "\xd710", "x10^", "\xbd", "\xbc",
    "-", "\u2212", "+", "/", ":", "g", "kg", "g/day", "L/min", "m^2", "m\xb2", "per", "a day", "%", "\xb0C", "$",
    "07:00", "A", "b)", "(", "=", "ca.", "about", "nan", "inf", "1_0", "\uff11\uff12", "\u0661\u0662", "\x00",
    "\x1b[31m", "\u202e", "\U0001f41f", "\ud83d", "'", '"', "<script>", "{}", "\n", "\t", "\r",
)


def spoilt_answer(chance: random.Random) -> str:
    """Something typed into an answer box, from nearly right to monstrous."""
    kind = chance.random()
    if kind < 0.03:
        return chance.choice(_PIECES) * chance.choice((500, 2000, 20_000))
    if kind < 0.08:
        return chance.choice(NASTY)
    text = "".join(chance.choice(_PIECES) for _ in range(chance.choice((1, 2, 3, 5, 8, 13, 60))))
    return text if kind < 0.9 else text * chance.choice((2, 10, 100))


def spoilt_data(raw: bytes, chance: random.Random) -> bytes:
    """A file of fields that is well-formed, with one to three of its fields gone, moved or of another kind."""
    data = json.loads(raw) if raw[:1] in b"{[" else yaml.safe_load(raw)
    for _ in range(chance.choice((1, 1, 2, 3))):
        around, step = chance.choice(list(_places(data)))
        kind = chance.random()
        if kind < 0.15:
            around.pop(step)
            if not data:
                break
        elif kind < 0.25:
            around[step] = copy.deepcopy(chance.choice([place[step] for place, step in _places(data)]))
        elif kind < 0.35 and isinstance(around, dict):
            around[chance.choice(NASTY)] = around.pop(step)
        else:
            around[step] = copy.deepcopy(chance.choice((*NASTY, *_KINDS)))
    if raw[:1] in b"{[":
        return json.dumps(data, default=str).encode("utf-8", "replace")
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True).encode("utf-8", "replace")


def _places(data: Any) -> Iterator[tuple[Any, Any]]:
    """Every field, by what holds it and its name or number there."""
    steps = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, value in list(steps):
        yield data, step
        yield from _places(value)


def spoilt_text(raw: bytes, chance: random.Random) -> bytes:
    """A text file with one to three things wrong."""
    for _ in range(chance.choice((1, 1, 2, 3))):
        raw = chance.choice(_WAYS)(raw, chance)
    return raw


def _flipped(raw: bytes, chance: random.Random) -> bytes:
    found = bytearray(raw)
    for _ in range(chance.randint(1, 6)):
        if found:
            found[chance.randrange(len(found))] ^= 1 << chance.randrange(8)
    return bytes(found)


def _lines(change: Callable[[list[bytes], int, random.Random], None]) -> Callable[[bytes, random.Random], bytes]:
    def changed(raw: bytes, chance: random.Random) -> bytes:
        lines = raw.split(b"\n")
        change(lines, chance.randrange(len(lines)), chance)
        return b"\n".join(lines)

    return changed


def _deleted(lines: list[bytes], place: int, _chance: random.Random) -> None:
    del lines[place]


def _doubled(lines: list[bytes], place: int, chance: random.Random) -> None:
    lines[place:place] = [lines[place]] * chance.choice((1, 2, 1000))


def _moved(lines: list[bytes], place: int, chance: random.Random) -> None:
    lines.insert(chance.randrange(len(lines)), lines.pop(place))


def _indented(lines: list[bytes], place: int, chance: random.Random) -> None:
    lines[place] = b" " * chance.choice((1, 2, 40)) + lines[place]


def _replaced(lines: list[bytes], place: int, chance: random.Random) -> None:
    """Another value, of another kind as likely as not, after the colon of a line or in place of a cell."""
    value = chance.choice(NASTY).encode("utf-8", "replace")
    cells = re.split(rb"([:,;]\s?)", lines[place])
    cells[-1 if chance.random() < 0.5 else 2 * chance.randrange((len(cells) + 1) // 2)] = value
    lines[place] = b"".join(cells)


def _cut(raw: bytes, chance: random.Random) -> bytes:
    return raw[: chance.randrange(len(raw) + 1)]


def _nested(raw: bytes, chance: random.Random) -> bytes:
    deep = chance.choice((13, 200, 5000))
    opener, closer = chance.choice(((b"[", b"]"), (b'{"a":', b"}"), (b"- ", b""), (b"? ", b"")))
    return raw + b"\ndeep: " + opener * deep + closer * deep + b"\n"


def _recoded(raw: bytes, chance: random.Random) -> bytes:
    coding = chance.choice(("utf-16", "utf-16-le", "utf-8-sig", "latin-1", "cp1252", "utf-32", "utf-7"))
    return raw.decode("utf-8", "replace").encode(coding, "replace")


def _long(raw: bytes, chance: random.Random) -> bytes:
    return raw * chance.choice((2, 5, 40))


def _inserted(raw: bytes, chance: random.Random) -> bytes:
    place = chance.randrange(len(raw) + 1)
    return raw[:place] + chance.choice(NASTY).encode("utf-8", "replace") + raw[place:]


def _other_ends(raw: bytes, chance: random.Random) -> bytes:
    return raw.replace(b"\n", chance.choice((b"\r\n", b"\r", b"\x85", b"\xe2\x80\xa8", b"\0")))


_WAYS: Final = (
    _flipped, _cut, _nested, _recoded, _long, _inserted, _other_ends, _lines(_deleted), _lines(_doubled),
    _lines(_moved), _lines(_indented), *[_lines(_replaced)] * 6,
)


def spoilt_sheet(raw: bytes, chance: random.Random) -> bytes:
    """A spreadsheet that is damaged as a file, or whose inside says what no spreadsheet would."""
    if chance.random() < 0.4:
        return chance.choice((_flipped, _cut, _long))(raw, chance)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        names = old.namelist()
        struck = chance.choice([name for name in names if "sheet1" in name] or names)
        struck = chance.choice(names) if chance.random() < 0.3 else struck
        for name in names:
            data = old.read(name)
            if name == struck:
                if chance.random() < 0.1:
                    continue
                data = _spoilt_inside(data, chance)
            new.writestr(name, data)
    return out.getvalue()


def _spoilt_inside(data: bytes, chance: random.Random) -> bytes:
    if chance.random() < 0.5:
        old, new = chance.choice(_FAR_OFF)
        return data.replace(old.encode(), new.encode(), 1)
    if chance.random() < 0.5:
        values: Sequence[bytes] = re.findall(rb">([^<>]+)<", data) or [b"x"]
        return data.replace(chance.choice(values), chance.choice(NASTY).encode("utf-8", "replace"), 1)
    return spoilt_text(data, chance)
