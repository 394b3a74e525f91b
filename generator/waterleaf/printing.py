"""Makes worksheets and keys as files: draws, poses, prints, in batches that keep memory flat."""

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from waterleaf.bank.family import Family
from waterleaf.draw import distinct_draws
from waterleaf.exercise import pose
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Sheet, Style

Progress = Callable[[int], None]


def make_sheets(families: Sequence[Family], seed: int, count: int, style: Style) -> Iterator[Sheet]:
    """`count` sheets, each with one exercise of every family, no two with the same numbers of a family.

    Raises NoDraw, while they are taken, where a family has too few different values.
    """
    columns = [distinct_draws(family, seed, count) for family in families]
    return (Sheet(tuple(pose(drawn, style.system) for drawn in row)) for row in zip(*columns, strict=True))


def print_packet(
    sheets: Iterable[Sheet],
    count: int,
    style: Style,
    worksheets: Path,
    keys: Path,
    name: str,
    progress: Progress = lambda _n: None,
    *,
    separate: bool = False,
) -> list[Path]:
    """Worksheets into one folder and keys into another; returns the files made.

    A packet of more than fifty sheets comes in several numbered files. With `separate`, each sheet has its own file,
    named by its code. Sheets are taken as they are printed: a long run never lies in memory as a whole.
    """
    files: list[tuple[Path, int]] = []

    def jobs() -> Iterator[tuple[str, Mapping[str, Any]]]:
        for number, run in enumerate(_runs(sheets, 1 if separate else press.SHEETS_AT_ONCE), start=1):
            part = f"-{run[0].code}" if separate else f"-{number:03d}" if count > press.SHEETS_AT_ONCE else ""
            files.append((worksheets / f"{name}{part}.pdf", len(run)))
            yield "worksheet", paper.worksheets(run, style)
            files.append((keys / f"{name}{part}-key.pdf", len(run)))
            yield "key", paper.keys(run, style)

    made: list[Path] = []
    for pdf in press.printed(jobs()):
        path, held = files[len(made)]
        path.write_bytes(pdf)
        made.append(path)
        progress(held)
    return made


def _runs(sheets: Iterable[Sheet], size: int) -> Iterator[list[Sheet]]:
    source = iter(sheets)
    while run := list(itertools.islice(source, size)):
        yield run
