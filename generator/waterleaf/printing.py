"""Makes worksheets and keys as files: draws, poses, prints, in batches that keep memory flat."""

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from waterleaf.bank.family import Family
from waterleaf.draw import check_room, distinct_draws, draw
from waterleaf.exercise import pose
from waterleaf.sharing import Hands
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Sheet, Style

Progress = Callable[[int], None]
T = TypeVar("T")


def make_sheets(families: Sequence[Family], seed: int, count: int, style: Style) -> Iterator[Sheet]:
    """`count` sheets, each with one exercise of every family, no two with the same numbers of a family.

    Raises NoDraw, while they are taken, where a family has too few different values.
    """
    for family in families:
        check_room(family, count)
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
    size = _sheets_a_file(separate)

    def jobs() -> Iterator[tuple[str, Mapping[str, Any]]]:
        for number, run in enumerate(_runs(sheets, size), start=1):
            part = _part(run[0].code, number, count, separate)
            # Keys take longest; whoever begins with them is not left waiting for the last one.
            files.append((keys / f"{name}{part}-key.pdf", len(run)))
            yield "key", paper.keys(run, style)
            files.append((worksheets / f"{name}{part}.pdf", len(run)))
            yield "worksheet", paper.worksheets(run, style)

    made: list[Path] = []
    for pdf in press.printed(jobs()):
        path, held = files[len(made)]
        path.write_bytes(pdf)
        made.append(path)
        progress(held)
    return made


@dataclass(frozen=True, slots=True)
class _Piece:
    """Sheets to be printed somewhere: their families, and for each sheet the numbers of its draws."""

    families: tuple[Family, ...]
    numbers: tuple[tuple[str, ...], ...]
    style: Style
    size: int


def print_shared(
    families: Sequence[Family],
    seed: int,
    count: int,
    style: Style,
    worksheets: Path,
    keys: Path,
    name: str,
    hands: Hands,
    progress: Progress = lambda _n: None,
    *,
    separate: bool = False,
) -> list[Path]:
    """The files of `print_packet`, byte for byte, each fifty sheets posed and printed by one of several hands.

    Which numbers nobody has had yet can only be found out in order, so it is found out here; that is the lesser part.
    """
    for family in families:
        check_room(family, count)
    columns = [distinct_draws(family, seed, count) for family in families]
    rows = (tuple(drawn.number for drawn in row) for row in zip(*columns, strict=True))
    size = _sheets_a_file(separate)
    pieces = (_Piece(tuple(families), tuple(run), style, size) for run in _runs(rows, press.SHEETS_AT_ONCE))
    made: list[Path] = []
    for number, (code, held, *pdfs) in enumerate(itertools.chain.from_iterable(hands.in_order(_printed, pieces)), 1):
        part = _part(code, number, count, separate)
        for path, pdf in zip((worksheets / f"{name}{part}.pdf", keys / f"{name}{part}-key.pdf"), pdfs, strict=True):
            path.write_bytes(pdf)
            made.append(path)
            progress(held)
    return made


def _printed(piece: _Piece) -> list[tuple[str, int, bytes, bytes]]:
    """For each file of a piece the code of its first sheet, how many it holds, and the PDFs of sheets and keys."""
    sheets = [
        Sheet(tuple(
            pose(draw(family, number), piece.style.system)
            for family, number in zip(piece.families, numbers, strict=True)
        ))
        for numbers in piece.numbers
    ]  # fmt: skip
    return [
        (
            run[0].code,
            len(run),
            press.print_here("worksheet", paper.worksheets(run, piece.style)),
            press.print_here("key", paper.keys(run, piece.style)),
        )
        for run in _runs(sheets, piece.size)
    ]


def _sheets_a_file(separate: bool) -> int:
    return 1 if separate else press.SHEETS_AT_ONCE


def _part(code: str, number: int, count: int, separate: bool) -> str:
    """What tells a file of a packet from its others."""
    if separate:
        return f"-{code}"
    return f"-{number:03d}" if count > press.SHEETS_AT_ONCE else ""


def _runs(items: Iterable[T], size: int) -> Iterator[list[T]]:
    source = iter(items)
    while run := list(itertools.islice(source, size)):
        yield run
