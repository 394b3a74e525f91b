"""`waterleaf build`: the whole course at once, worksheets, keys and site."""

from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family, System
from waterleaf.commands import options
from waterleaf.draw import NoDraw
from waterleaf.faults import refuse
from waterleaf.growing.posing import pose_bank
from waterleaf.growing.system import read_growing
from waterleaf.home import Settings, find_home, load_settings, output_folder, swapped_in
from waterleaf.printing import Progress, make_sheets, print_packet
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import PressFault
from waterleaf.site.builder import build_site
from waterleaf.site.practice import SETS

# A worksheet is one sheet of paper or two, not a booklet.
_MOST_EXERCISES = 4


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
            made = _print_topics(bank, settings, worksheets, keys)
            progress(45)
            with swapped_in(place / "site") as site:
                pages = build_site(home, settings, bank, site)
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


def _print_topics(bank: dict[str, Family], settings: Settings, worksheets: Path, keys: Path) -> int:
    """A packet for each topic in the school's units and paper, and one in the other system; returns how many."""
    other: System = "us" if settings.units == "metric" else "metric"
    made = 0
    topics: dict[str, list[Family]] = {}
    for family in bank.values():
        topics.setdefault(family.topic, []).append(family)
    for topic, families in topics.items():
        for part, start in enumerate(range(0, len(families), _MOST_EXERCISES), start=1):
            chosen = families[start : start + _MOST_EXERCISES]
            number = f"-{part}" if len(families) > _MOST_EXERCISES else ""
            for system, paper in ((settings.units, settings.paper), (other, "letter" if other == "us" else "a4")):
                style = Style(settings.school, f"{topic.capitalize()}: worksheet", paper, system)
                sheets = make_sheets(chosen, settings.seed, settings.copies, style)
                print_packet(sheets, settings.copies, style, worksheets, keys, f"{topic}{number}-{system}")
                made += 1
    return made
