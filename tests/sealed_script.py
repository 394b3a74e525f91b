"""Holds the self-check's scripts to the Python judge: runs them in node, and has answers to try on any exercise."""

import json
import math
import shutil
import subprocess
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.checklink import as_digits, link_bytes
from waterleaf.marking.choices import MESSAGES
from waterleaf.marking.judge import tables
from waterleaf.marking.labels import labelled
from waterleaf.marking.partmarks import Reader, judge_part
from waterleaf.marking.sealed import slow_hash
from waterleaf.sheets.paper import Sheet

ASSETS = Path(__file__).parents[1] / "generator" / "waterleaf" / "site" / "assets"
JUDGE = [ASSETS / f"{name}.js" for name in ("characters", "reading", "units", "judge")]
SCRIPTS = [*JUDGE, *(ASSETS / f"{name}.js" for name in ("letters", "slowhash", "sealed"))]
_LOOP = """
globalThis.window = globalThis;
const fs = require("fs"), given = JSON.parse(fs.readFileSync(process.argv[1], "utf8"));
for (const path of given.scripts) require("vm").runInThisContext(fs.readFileSync(path, "utf8"));
const bytes = (hex) => Uint8Array.from(Buffer.from(hex, "hex"));
const hex = (found) => Buffer.from(found).toString("hex");
const slow = Waterleaf.slow.pbkdf2;
if (given.rounds) Waterleaf.slow.pbkdf2 = (secret, salt) => slow(secret, salt, given.rounds);
const does = {
  sha256: (text) => hex(Waterleaf.slow.sha256(bytes(text))),
  pbkdf2: (secret, salt, rounds) => hex(slow(bytes(secret), bytes(salt), rounds)),
  cells: (cases) => cases.map(([value, grid]) => {
    const view = new DataView(new ArrayBuffer(8));
    view.setFloat64(0, Waterleaf.sealed.cell(Number(value), grid));
    return hex(new Uint8Array(view.buffer));
  }),
  read: (digits) => Waterleaf.sealed.read(digits, given.tables),
  judge: async (digits, place, texts) => {
    const sheet = Waterleaf.sealed.read(digits, given.tables), found = [];
    for (const text of texts) {
      found.push(await Waterleaf.sealed.judge(sheet.parts[place], text, sheet, given.tables, async () => {}));
    }
    return found;
  }
};
require("readline").createInterface({ input: process.stdin }).on("line", async (line) => {
  const [name, ...words] = JSON.parse(line);
  process.stdout.write(JSON.stringify(await does[name](...words)) + "\\n");
});
"""


class Script:
    """The scripts in a node of their own."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        self._process = process

    def __call__(self, name: str, *words: Any) -> Any:
        """What a function of the scripts returns."""
        assert self._process.stdin and self._process.stdout
        self._process.stdin.write(json.dumps([name, *words]) + "\n")
        self._process.stdin.flush()
        return json.loads(self._process.stdout.readline())

    def judged(self, digits: str, place: int, texts: Sequence[str]) -> list[dict[str, str]]:
        """The verdicts on some answers to one part of a link."""
        found: list[dict[str, str]] = self("judge", digits, place, list(texts))
        return found


@contextmanager
def running(folder: Path, rounds: int = 0) -> Iterator[Script]:
    """The scripts at work; `rounds` replaces the number of rounds of the slow hash."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("needs node on the PATH; none was found")
    given = folder / "given.json"
    given.write_text(json.dumps({
        "scripts": [path.as_posix() for path in SCRIPTS], "rounds": rounds,
        "tables": {**tables(), "letters": MESSAGES},
    }), encoding="utf-8")
    with subprocess.Popen(
        [node, "-e", _LOOP, given.as_posix()], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        encoding="utf-8",
    ) as process:
        yield Script(process)
        assert process.stdin
        process.stdin.close()


# Verdicts on some answers to one part of a link.
Judged = Callable[[str, int, Sequence[str]], list[dict[str, str]]]


def quick(secret: bytes, salt: bytes) -> bytes:
    """The slow hash with a single round: what is tried here does not hang on its slowness."""
    return slow_hash(secret, salt, 1)


def neighbours(end: float) -> list[float]:
    """A number, and those one bit below and above it."""
    return [math.nextafter(end, -math.inf), end, math.nextafter(end, math.inf)]


def told_apart(kind: str, message: str) -> str:
    """The verdicts that a student is told apart on the page."""
    if kind in ("right", "right_no_unit", "blank"):
        return kind
    if kind == "wrong_unit" or (kind == "other_dimension" and message.startswith("Your number is right")):
        return "wrong_unit"
    return "doubtful" if kind in ("unreadable", "unknown_unit", "two_ways", "doubtful") else "not yet"


def texts_for(part: PosedPart) -> list[str]:
    """Answers to try on a part: right, at both ends of the band and beyond, slips, other units, and nonsense."""
    if part.options:
        letters = [option.letter for option in part.options]
        return [part.key_text, part.key_text.lower(), *letters, ", ".join(letters), "", "Z", "?"]
    if part.kind == "times":
        times = part.key_text.split(", ")
        fewer, turned = ", ".join(times[1:]), ", ".join(times[::-1])
        return [part.key_text, " ".join(times), fewer, turned, "6:00", "x", ", ,", "24:00"]
    ends = [*neighbours(part.low), *neighbours(part.high)]
    bare = [*(repr(end) for end in ends), part.key_text, *(repr(slip.value) for slip in part.slips)]
    hairs = [repr(end * (1 + hair)) for end in (part.low, part.high) for hair in (-1.1e-9, -9e-10, 9e-10, 1.1e-9)]
    key = part.key_text
    return [
        *bare, *hairs, f"{key} {part.unit}", f"{key} kg", f"{key} L", f"{float(key) / 1000!r} kg/day",
        f"{key} furlongs", f"-{key}", f"{key}-{key}", f"{float(key) / 100!r}", "", f"{float(key):,.3f}",
    ]


def compared(judged: Judged, exercise: Exercise, comma: bool, ask_unit: bool) -> list[str]:
    """A line for each answer of which the page and the judge think differently."""
    sheet = Sheet((exercise,))
    (data,) = link_bytes(sheet.code, sheet.exercises, comma, ask_unit, quick)
    reader = Reader("comma" if comma else "point", ask_unit)
    lines = []
    for place, item in enumerate(labelled(sheet.exercises)):
        texts = texts_for(item.part)
        for text, theirs in zip(texts, judged(as_digits(data), place, texts), strict=True):
            ours = judge_part(item.part, text, reader)
            if told_apart(ours.kind, ours.message) != told_apart(theirs["kind"], theirs["message"]):
                lines.append(f"{exercise.family.key} {item.label} {text!r}: {ours.kind}, but {theirs}")
    return lines
