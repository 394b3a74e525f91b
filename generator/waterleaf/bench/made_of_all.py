"""Makes some of everything and prints a digest of each: `python -m waterleaf.bench.made_of_all HOME`.

What a class gets, what its instructor keeps, what the site offers, and what comes of answers and readings. Under the
same packages the digests are the same whatever the machine, the Python, the locale and the number of workers.
"""

import csv
import hashlib
import io
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family, System
from waterleaf.commands.assign import assign_sheets
from waterleaf.commands.growing import tell_ahead
from waterleaf.commands.mark import mark_class
from waterleaf.commands.trial import report_trial
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.marking.issuebook import SECRET
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import PaperSize, Style
from waterleaf.site.practice import practice_files

_KEYS: Final = ("feed/daily_feed", "solids/flush_times", "sugar/mean_and_spread")
_DRAWS: Final = 5
_SYSTEMS: Final[tuple[tuple[System, PaperSize], ...]] = (("metric", "a4"), ("us", "letter"))
_CLASS: Final = "id,name\nA1,Ines Okafor\nA2,Tomas Brandvold\nA3,Wren Adeyemi\n"
_ASSIGNMENT: Final = "id: week-3\ntitle: Feed and solids\nsite: https://school.example/growing\nquestions:\n" + "".join(
    f"  - family: {key}\n" for key in _KEYS
)
_ANSWERS: Final = ("1437", "2.1 kg", "07:00, 12:30", "C", "")


def everything(home: Path) -> Iterator[tuple[str, bytes]]:
    """Each thing by its name."""
    bank = load_bank(home / "question_bank")
    yield from _exercises(bank)
    families = [bank[key] for key in _KEYS]
    for system, size in _SYSTEMS:
        style = Style("Ostrel Quay College", "Worksheet", size, system)
        sheets = list(make_sheets(families, 3, 3, style))
        for kind, lay_out in (("worksheet", paper.worksheets), ("key", paper.keys)):
            for place, pdf in enumerate(press.packets(kind, [lay_out([sheet], style) for sheet in sheets])):
                yield f"{kind} {place} {system}", pdf
    for family in families:
        yield from ((path, text.encode()) for path, text in sorted(practice_files(family, 1).items()))
    with tempfile.TemporaryDirectory() as folder:
        _classwork(Path(folder))
        _reports(home / "course" / "demo", Path(folder))
        for path in sorted(Path(folder).rglob("*")):
            if path.is_file() and "-lock" not in path.name:
                yield path.relative_to(folder).as_posix(), path.read_bytes()


def _exercises(bank: Mapping[str, Family]) -> Iterator[tuple[str, bytes]]:
    """A few draws of every family in both systems, to the last digit of every value."""
    for key, family in bank.items():
        posed = [
            pose(draw(family, number), system) for number in range(1, _DRAWS + 1) for system, _ in _SYSTEMS
        ]
        shown = [
            (one.draw.values, one.draw.keys, [(part.name, part.key, part.key_text, part.answer) for part in one.parts])
            for one in posed
        ]
        yield f"draws of {key}", repr(shown).encode()


def _classwork(place: Path) -> None:
    """Sheets, keys and links for a class, and the marks of its answers."""
    (place / "class.csv").write_text(_CLASS, encoding="utf-8")
    (place / "assignment.yaml").write_text(_ASSIGNMENT, encoding="utf-8")
    (place / SECRET).write_text("0123456789abcdef" * 4, encoding="utf-8")
    assign_sheets(place, "assignment.yaml", None, lambda _done: None)
    table = place / "week-3" / "responses.csv"
    head, *rows = csv.reader(io.StringIO(table.read_text(encoding="utf-8-sig")))
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(head)
        for number, row in enumerate(rows):
            writer.writerow([*row[:2], *(_ANSWERS[(number + cell) % len(_ANSWERS)] for cell in range(len(row) - 2))])
    mark_class(place, None, True, lambda _done: None)


def _reports(demo: Path, place: Path) -> None:
    """The report of a trial, and a look ahead."""
    for name in ("growing.yaml", "trial-lettuce.yaml", "trial-lettuce.frozen.json", "trial-lettuce-rehearsal.csv"):
        shutil.copy(demo / name, place / name)
    report_trial(
        place / "trial-lettuce.yaml", place / "trial-lettuce-rehearsal.csv", place / "trial.html", place / "trial.pdf"
    )
    tell_ahead(place / "growing.yaml", 28, [], place / "ahead.html", place / "ahead.pdf", False)


def main() -> None:
    """Print a name and a digest a line."""
    home = Path(sys.argv[1]).resolve()
    os.chdir(home)
    for name, made in everything(home):
        print(name, hashlib.sha256(made).hexdigest())


if __name__ == "__main__":
    main()
