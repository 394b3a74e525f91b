"""`waterleaf build`: the whole course at once, worksheets, keys and site."""

from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.commands import options
from waterleaf.commands.packets import Tray, print_packets
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.posing import pose_bank
from waterleaf.growing.system import read_growing
from waterleaf.home import find_home, load_settings, output_folder, swapped_in
from waterleaf.printing import Progress
from waterleaf.sheets.press import PressFault
from waterleaf.site.builder import build_site
from waterleaf.site.practice import SETS
from waterleaf.site.store import Shelf


def build_all(
    out: Path | None, seed: str | None, units: str | None, progress: Progress, growing: Path | None = None
) -> str:
    """Build everything into `build/` and say what was made and how to open it."""
    home = find_home()
    settings = load_settings(home)
    number = options.seed(seed, settings.seed)
    settings = settings.model_copy(update={"seed": number, "units": options.units(units, settings.units)})
    bank = load_bank(home / "question_bank")
    notes: list[str] = []
    if growing is not None:
        wanted: list[tuple[str | int, int]] = [(number, settings.copies), (f"practice-{number}", SETS)]
        families, notes = pose_bank(bank.values(), read_growing(growing), wanted)
        bank = {family.key: family for family in families}
    place = out or output_folder(home)
    progress(5)
    try:
        with swapped_in(place / "worksheets") as worksheets, swapped_in(place / "keys") as keys:
            shelf = Shelf(output_folder(home) / ".kept" / "packets.json")
            tray = Tray(worksheets, keys, place / "worksheets", place / "keys")
            made = print_packets(home, bank, settings, tray, shelf)
            progress(45)
            with swapped_in(place / "site") as site:
                pages = build_site(home, settings, bank, site)
        shelf.close()
        progress(50)
    except (NoDraw, PressFault) as error:
        raise refuse("build", str(error)) from None
    return "\n".join((
        f"Built from {len(bank)} families of exercises, seed {number}.",
        f"  site        {pages} pages   open {place / 'site' / 'index.html'} in a browser; no network is needed",
        f"  worksheets  {made} files   {place / 'worksheets'}: print and hand out",
        f"  keys        {made} files   {place / 'keys'}: for instructors only",
        *(f"  {note}" for note in notes),
    ))
