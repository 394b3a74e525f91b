"""Makes worksheets and keys as files: draws, poses, prints, in batches that keep memory flat."""

from collections.abc import Callable, Sequence
from pathlib import Path

from waterleaf.bank.family import Family
from waterleaf.draw import distinct_draws
from waterleaf.exercise import pose
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Sheet, Style

Progress = Callable[[int], None]


def make_sheets(families: Sequence[Family], seed: int, count: int, style: Style) -> list[Sheet]:
    """`count` sheets, each with one exercise of every family, no two with the same numbers of a family.

    Raises NoDraw where a family has too few different values.
    """
    columns = [distinct_draws(family, seed, count) for family in families]
    return [Sheet(tuple(pose(drawn, style.system) for drawn in row)) for row in zip(*columns, strict=True)]


def print_packet(
    sheets: Sequence[Sheet],
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
    named by its code.
    """
    runs: list[Sequence[Sheet]] = (
        [[sheet] for sheet in sheets] if separate else list(paper.in_batches(sheets, press.SHEETS_AT_ONCE))
    )
    names = (
        [f"{name}-{sheet.code}" for sheet in sheets]
        if separate
        else [name]
        if len(runs) == 1
        else [f"{name}-{i:03d}" for i in range(1, len(runs) + 1)]
    )
    made: list[Path] = []
    for template, folder, lay_out in (("worksheet", worksheets, paper.worksheets), ("key", keys, paper.keys)):
        documents = (lay_out(run, style) for run in runs)
        for file_name, run, pdf in zip(names, runs, press.packets(template, documents), strict=True):
            path = folder / f"{file_name}{'-key' if template == 'key' else ''}.pdf"
            path.write_bytes(pdf)
            made.append(path)
            progress(len(run))
    return made
