"""`waterleaf growing`: the class's own system, its file, its findings sheet and its duties."""

from pathlib import Path

from waterleaf.faults import refuse
from waterleaf.growing import report
from waterleaf.growing.check import check
from waterleaf.growing.crew import read_crew
from waterleaf.growing.duties import plan
from waterleaf.growing.dutyfiles import calendar, log_sheet
from waterleaf.growing.log import drifts, picture, read_log, summary
from waterleaf.growing.system import System, read_growing
from waterleaf.home import find_home, load_settings, swapped_in
from waterleaf.sheets.duties import duty_pages
from waterleaf.sheets.findings import findings_sheet
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import Press, PressFault

_STARTER = Path(__file__).parents[1] / "growing" / "new_growing.yaml"


def start(path: Path) -> str:
    """Lay down a commented growing file; nothing that exists is touched."""
    if path.suffix not in (".yaml", ".yml"):
        raise refuse(path.as_posix(), "a growing file is YAML. Give a name that ends in .yaml.")
    if path.exists():
        raise refuse(path.as_posix(), "this file exists already. Choose another name, or edit the file.")
    write(path, _STARTER.read_text(encoding="utf-8").replace("{file}", path.as_posix()))
    return f"{path}\nEdit it, then run: waterleaf growing check {path}"


def check_system(path: Path, html: Path | None, pdf: Path | None, as_json: bool) -> tuple[str, bool]:
    """The findings on a growing file, and whether nothing has to be mended."""
    system = read_growing(path)
    findings = check(system)
    if html is not None:
        write(html, report.html(system, findings))
    if pdf is not None:
        style = style_of(system)
        try:
            write(pdf, Press("findings").pdf(findings_sheet(system, findings, style)))
        except PressFault as error:
            raise refuse(pdf.as_posix(), str(error)) from None
    text = report.data(system, findings) if as_json else report.text(system, findings)
    return text, all(one.standing != "mend" for one in findings)


def style_of(system: System) -> Style:
    """The school's paper."""
    settings = load_settings(find_home())
    return Style(settings.school, system.file.name, settings.paper)


def write(path: Path, content: str | bytes) -> None:
    """Put a file in place whole.

    Raises Faults where it cannot be written.
    """
    fresh = path.with_name(f".{path.name}.new")
    try:
        if isinstance(content, str):
            fresh.write_text(content, encoding="utf-8", newline="\n")
        else:
            fresh.write_bytes(content)
        fresh.replace(path)
    except OSError as error:
        fresh.unlink(missing_ok=True)
        raise refuse(
            path.as_posix(), f"cannot be written ({error.strerror}). Choose another place, or mend the permissions."
        ) from None


def make_duties(path: Path, weeks: int, crew_file: Path, out: Path | None) -> str:
    """Plan the duties, print board and cards, write the log sheet and the calendar, and say who does how much."""
    system, crew = read_growing(path), read_crew(crew_file)
    made = plan(system, crew, weeks)
    style = style_of(system)
    place = out or find_home() / "build" / "duties"
    try:
        printed = Press("duties").pdf(duty_pages(made, system.file.name, style))
    except PressFault as error:
        raise refuse(crew_file.as_posix(), str(error)) from None
    with swapped_in(place) as fresh:
        write(fresh / "board-and-cards.pdf", printed)
        write(fresh / "log.csv", log_sheet(made))
        write(fresh / "duties.ics", calendar(made, system.file.name))
    lines = [f"{len(made.shifts)} duties over {weeks} weeks from {crew.start.isoformat()}: {place}"]
    lines += [f"  {name}: {minutes} min" for name, minutes in made.minutes.items()]
    lines += [f"  not planned: {line}" for line in made.left_out]
    return "\n".join(lines)


def read_back(path: Path, svg: Path | None) -> tuple[str, bool]:
    """What a filled log says, and whether nothing drifted."""
    log = read_log(path)
    if svg is not None and log:
        write(svg, picture(log))
    return summary(log), not drifts(log)
