"""`waterleaf growing`: the class's own system, its file, its findings sheet and its duties."""

import csv
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from waterleaf.calc.quantity import OutOfRange
from waterleaf.faults import refuse
from waterleaf.growing import ahead_page, cropplan_page, cropplan_words, report
from waterleaf.growing.ahead import LONGEST, Ahead, data, look_ahead, text
from waterleaf.growing.check import check
from waterleaf.growing.crew import read_crew
from waterleaf.growing.cropplan import Impossible, choose
from waterleaf.growing.duties import plan
from waterleaf.growing.dutyfiles import LOG_COLUMNS, calendar, log_sheet
from waterleaf.growing.log import drifts, picture, read_log, summary
from waterleaf.growing.model import IN_THE_LOOP
from waterleaf.growing.system import System, read_growing
from waterleaf.growing.term_events import read_events
from waterleaf.growing.watch import Watch
from waterleaf.home import find_home, load_settings, output_folder, swapped_in
from waterleaf.sheets.ahead import ahead_sheet
from waterleaf.sheets.crops import crops_sheet
from waterleaf.sheets.duties import duty_pages
from waterleaf.sheets.findings import findings_sheet
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import Press, PressFault
from waterleaf.sheets.watch import booklet, instructors_key
from waterleaf.writing import written_whole

_STARTER = Path(__file__).parents[1] / "growing" / "new_growing.yaml"


def start(path: Path) -> str:
    """Lay down a commented growing file; nothing that exists is touched."""
    if path.suffix not in (".yaml", ".yml"):
        raise refuse(path.as_posix(), "a growing file is YAML. Give a name that ends in .yaml.")
    if path.exists():
        raise refuse(path.as_posix(), "this file exists already. Choose another name, or edit the file.")
    written_whole(path, _STARTER.read_text(encoding="utf-8").replace("{file}", path.as_posix()))
    return f"{path}\nEdit it, then run: waterleaf growing check {path}"


def check_system(path: Path, html: Path | None, pdf: Path | None, as_json: bool) -> tuple[str, bool]:
    """The findings on a growing file, and whether nothing has to be mended."""
    system = read_growing(path)
    findings = check(system)
    if html is not None:
        written_whole(html, report.html(system, findings))
    if pdf is not None:
        _print_to(pdf, "findings", findings_sheet(system, findings, _style_of(system)))
    told = report.data(system, findings) if as_json else report.text(system, findings)
    return told, all(one.standing != "mend" for one in findings)


@contextmanager
def _workable(path: Path) -> Iterator[None]:
    """Tell in one line of numbers with which a relation cannot be worked out."""
    try:
        yield
    except OutOfRange as error:
        raise refuse(path.as_posix(), f"the numbers of this system cannot be worked out. {error}") from None


def _print_to(pdf: Path, template: str, packet: Mapping[str, Any]) -> None:
    """Print a document into a file.

    Raises Faults where it cannot be printed or written.
    """
    try:
        printed = Press(template).pdf(packet)
    except PressFault as error:
        raise refuse(pdf.as_posix(), str(error)) from None
    written_whole(pdf, printed)


def ahead_of(path: Path, days: int, typed: Sequence[str]) -> Ahead:
    """The look ahead for a growing file and typed events.

    Raises Faults with everything that is wrong in them.
    """
    if not 1 <= days <= LONGEST:
        raise refuse("--days", f"{days} days cannot be looked ahead. Give 1 to {LONGEST}.")
    with _workable(path):
        return look_ahead(read_growing(path), days, read_events(typed, days))


def tell_ahead(path: Path, days: int, typed: Sequence[str], html: Path | None, pdf: Path | None, as_json: bool) -> str:
    """What becomes of a growing system in some days, as planned and if something goes wrong."""
    ahead = ahead_of(path, days, typed)
    if html is not None:
        written_whole(html, ahead_page.html(ahead))
    if pdf is not None:
        _print_to(pdf, "ahead", ahead_sheet(ahead, _style_of(ahead.system)))
    return data(ahead) if as_json else text(ahead)


def _style_of(system: System) -> Style:
    """The school's paper."""
    settings = load_settings(find_home())
    return Style(settings.school, system.file.name, settings.paper)


def make_duties(path: Path, weeks: int, crew_file: Path, out: Path | None) -> str:
    """Plan the duties, print board and cards, write the log sheet and the calendar, and say who does how much."""
    system, crew = read_growing(path), read_crew(crew_file)
    with _workable(path):
        made = plan(system, crew, weeks)
    style = _style_of(system)
    place = out or output_folder(find_home()) / "duties"
    _refuse_filled_log(place / "log.csv")
    try:
        printed = Press("duties").pdf(duty_pages(made, system.file.name, style))
    except PressFault as error:
        raise refuse(crew_file.as_posix(), str(error)) from None
    with swapped_in(place) as fresh:
        written_whole(fresh / "board-and-cards.pdf", printed)
        written_whole(fresh / "log.csv", log_sheet(made))
        written_whole(fresh / "duties.ics", calendar(made, system.file.name))
    lines = [f"{len(made.shifts)} duties over {weeks} weeks from {crew.start.isoformat()}: {place}"]
    lines += [f"  {name}: {minutes} min" for name, minutes in made.minutes.items()]
    lines += [f"  not planned: {line}" for line in made.left_out]
    return "\n".join(lines)


def _refuse_filled_log(path: Path) -> None:
    """A log that somebody has written into is a record; it is not replaced by a blank one."""
    try:
        lines = path.read_text(encoding="utf-8-sig", errors="replace").splitlines() if path.exists() else []
    except OSError as error:
        raise refuse(path.as_posix(), f"cannot be read ({error.strerror}). Check the permissions.") from None
    done = LOG_COLUMNS.index("done")
    for number, cells in enumerate(csv.reader(lines), start=1):
        if number > 1 and any(cell.strip() for cell in (*cells[done : done + 1], *cells[done + 2 :])):
            raise refuse(
                f"{path.as_posix()}:{number}", "this log is filled in, and a new one would take its place. Move it "
                "away, or choose another folder with --out."
            )


def read_back(path: Path, svg: Path | None) -> tuple[str, bool]:
    """What a filled log says, and whether nothing drifted."""
    log = read_log(path)
    if svg is not None and log:
        written_whole(svg, picture(log))
    return summary(log), not drifts(log)


def print_watch(path: Path, seed: int, decisions: int, out: Path | None) -> str:
    """Print the crew's game and its key, each in a folder of its own, and say where they lie."""
    watch = Watch(read_growing(path), seed, decisions)
    style = _style_of(watch.system)
    place = out or output_folder(find_home()) / "crew-game"
    with _workable(path), swapped_in(place) as fresh:
        (fresh / "keys").mkdir()
        _print_to(fresh / "booklet.pdf", "watch", booklet(watch, style))
        _print_to(fresh / "keys" / "key.pdf", "watch", instructors_key(watch, style))
    days = ", ".join(f"day {decision.day} {decision.situation.title}" for decision in watch.decisions)
    made = f"{decisions} decisions over {watch.last} days, seed {seed}: {place}"
    return f"{made}\n  {days}\n  keys/key.pdf is for instructors only"


def choose_crops(
    path: Path, kinds: str, as_json: bool, html: Path | None = None, pdf: Path | None = None
) -> tuple[str, bool]:
    """Which crops earn the space, and whether there is a plan at all."""
    known = ("raft", "media", "film", "soil")
    wanted = [kind.strip() for kind in kinds.split(",") if kind.strip()] or list(IN_THE_LOOP)
    unknown = [kind for kind in wanted if kind not in known]
    if unknown:
        raise refuse("--beds", f"{', '.join(unknown)} is no kind of bed. Give {', '.join(known)}.")
    system = read_growing(path)
    try:
        made = choose(system, wanted)
    except Impossible as error:
        return f"There is no plan: {error}. Promise less, or find more of what is short.", False
    if html is not None:
        written_whole(html, cropplan_page.html(system, made))
    if pdf is not None:
        _print_to(pdf, "crops", crops_sheet(system, made, _style_of(system)))
    return (cropplan_words.data if as_json else cropplan_words.text)(system, made), True
