"""`waterleaf sheets`: worksheets with keys, each with its own numbers."""

from contextlib import nullcontext
from pathlib import Path

from waterleaf.commands import options
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.posing import pose_bank
from waterleaf.growing.system import read_growing
from waterleaf.home import find_home, load_settings, output_folder, swapped_in
from waterleaf.printing import Progress, make_sheets, print_packet, print_shared
from waterleaf.sharing import shared
from waterleaf.sheets.paper import Style, counted, system_in_words
from waterleaf.sheets.press import PressFault


def make_packets(
    count: int,
    names: str,
    seed: str | None,
    paper: str | None,
    units: str | None,
    title: str,
    separate: bool,
    out: Path | None,
    progress: Progress,
    growing: Path | None = None,
    workers: str | None = None,
) -> str:
    """Print the packets and say what was made."""
    home = find_home()
    settings = load_settings(home)
    families = options.families(names, home / "question_bank")
    number = options.seed(seed, settings.seed)
    style = Style(settings.school, title, options.paper(paper, settings.paper), options.units(units, settings.units))
    notes: list[str] = []
    if growing is not None:
        families, notes = pose_bank(families, read_growing(growing), [(number, count)])
    place = out or output_folder(home) / "sheets"
    try:
        with nullcontext() if workers is None else shared(workers) as hands, swapped_in(place) as fresh:
            worksheets, keys = fresh / "worksheets", fresh / "keys"
            worksheets.mkdir()
            keys.mkdir()
            if hands is None:  # the quickest way on one machine: Python here, Typst on threads beside it
                sheets = make_sheets(families, number, count, style)
                made = print_packet(sheets, count, style, worksheets, keys, "sheets", progress, separate=separate)
            else:
                made = print_shared(
                    families, number, count, style, worksheets, keys, "sheets", hands, progress, separate=separate
                )
    except (NoDraw, PressFault) as error:
        raise refuse("sheets", str(error)) from None
    return "\n".join((
        f"{counted(count, 'worksheet')} of {counted(len(families), 'exercise')} each, "
        f"{system_in_words(style.system)} units, seed {number}: {counted(len(made), 'PDF file')}",
        f"  for students    {place / 'worksheets'}",
        f"  for instructors {place / 'keys'}",
        *(f"  {note}" for note in notes),
    ))
