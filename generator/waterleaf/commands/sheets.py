"""`waterleaf sheets`: worksheets with keys, each with its own numbers."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from waterleaf.bank.family import Family
from waterleaf.commands import options
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.home import find_home, load_settings, output_folder, swapped_in
from waterleaf.printing import Progress, make_sheets, print_packet, print_shared
from waterleaf.sharing import shared
from waterleaf.sheets.paper import Style, counted, system_in_words
from waterleaf.sheets.press import PressFault


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line."""

    count: int
    families: str = ""
    seed: str | None = None
    paper: str | None = None
    units: str | None = None
    title: str = "Worksheet"
    separate: bool = False
    growing: Path | None = None
    out: Path | None = None
    workers: str | None = None


def make_packets(wish: Wish, progress: Progress) -> str:
    """Print the packets and say what was made."""
    home = find_home()
    settings = load_settings(home)
    families = options.families(wish.families, home / "question_bank")
    seed = options.seed(wish.seed, settings.seed)
    style = Style(
        settings.school, wish.title, options.paper(wish.paper, settings.paper),
        options.units(wish.units, settings.units),
    )  # fmt: skip
    notes: list[str] = []
    if wish.growing is not None:
        from waterleaf.growing.posing import pose_bank  # slow to load, and few sheets need it
        from waterleaf.growing.system import read_growing

        families, notes = pose_bank(families, read_growing(wish.growing), [(seed, wish.count)])
    place = wish.out or output_folder(home) / "sheets"
    try:
        with swapped_in(place) as fresh:
            made = _printed(wish, families, seed, style, fresh, progress)
    except (NoDraw, PressFault) as error:
        raise refuse("sheets", str(error)) from None
    return "\n".join((
        f"{counted(wish.count, 'worksheet')} of {counted(len(families), 'exercise')} each, "
        f"{system_in_words(style.system)} units, seed {seed}: {counted(made, 'PDF file')}",
        f"  for students    {place / 'worksheets'}",
        f"  for instructors {place / 'keys'}",
        *(f"  {note}" for note in notes),
    ))


def _printed(
    wish: Wish, families: Sequence[Family], seed: int, style: Style, place: Path, progress: Progress
) -> int:
    """Print sheets and keys into two folders of a place; how many files came of it."""
    worksheets, keys = place / "worksheets", place / "keys"
    worksheets.mkdir()
    keys.mkdir()
    if wish.workers is None:  # the quickest way on one machine: Python here, Typst on threads beside it
        sheets = make_sheets(families, seed, wish.count, style)
        made = print_packet(
            sheets, wish.count, style, worksheets, keys, "sheets", progress, separate=wish.separate
        )
    else:
        with shared(wish.workers) as hands:
            made = print_shared(
                families, seed, wish.count, style, worksheets, keys, "sheets", hands, progress, separate=wish.separate
            )
    return len(made)
