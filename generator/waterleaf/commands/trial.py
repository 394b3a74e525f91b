"""`waterleaf trial`: from a plan file to a report."""

import datetime
import json
import re
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

from waterleaf.faults import Faults, refuse
from waterleaf.home import find_home, load_settings, swapped_in
from waterleaf.sheets.paper import Style
from waterleaf.trial import fieldsheets
from waterleaf.trial.answers import panel_of, take_in_answers
from waterleaf.trial.datatable import REHEARSAL, write_tables
from waterleaf.trial.document import to_pdf
from waterleaf.trial.frozen import differences, fingerprint, freeze, frozen_path, short, thaw
from waterleaf.trial.intake import as_text as intake_text
from waterleaf.trial.intake import listed, take_in
from waterleaf.trial.layout import Unit, lay_out
from waterleaf.trial.origin import Origin
from waterleaf.trial.panel import answer_sheets, consent_sheet, serve, server_key, write_answers
from waterleaf.trial.plan import Plan, load_plan
from waterleaf.trial.planning import as_text, examine, measured_amount
from waterleaf.trial.rehearse import invent_readings, invent_truth
from waterleaf.trial.tasting_rehearse import invent_answers, invent_panel_truth
from waterleaf.writing import written_whole


def start_trial(file: Path) -> str:
    """Lay down a commented plan; a file that is there is never touched."""
    path = file if file.suffix else file.with_suffix(".yaml")
    name = re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-")[:49] or "trial"
    text = files("waterleaf.trial").joinpath("new_trial.yaml").read_text(encoding="utf-8")
    try:
        with path.open("x", encoding="utf-8") as out:
            out.write(text.replace("{name}", name).replace("{file}", path.name))
    except FileExistsError:
        raise refuse(path.as_posix(), "is there already. Choose another name, or edit that file.") from None
    except OSError as error:
        raise refuse(path.as_posix(), f"cannot be written ({error.strerror}). Choose another folder.") from None
    return f"{path}\nChange what stands there, then: waterleaf trial plan {path}"


def plan_trial(file: Path, freeze_it: bool, show_layout: bool) -> str:
    """What the plan can show; with `freeze_it` the plan is put beyond change."""
    plan = load_plan(file)
    lines = [as_text(plan, examine(plan)), ""]
    if show_layout:
        lines += ["Layout (for those who may know the codes):"]
        lines += [f"  {unit.code}  {unit.place:<24} {unit.method}" for unit in lay_out(plan)] + [""]
    if freeze_it:
        path, mark = freeze(plan, file, datetime.date.today().isoformat())
        return "\n".join([*lines, f"Frozen as {path} with the fingerprint {mark}. Write its first part, {short(mark)}, "
                          "into the class diary: whoever doubts the plan later can compare."])  # fmt: skip
    earlier = thaw(file)
    if earlier is None:
        return "\n".join([*lines, f"Not frozen yet. When it stands: waterleaf trial plan {file} --freeze"])
    changed = differences(earlier, plan)
    lines += [f"Frozen on {earlier.date} as {frozen_path(file).name}, fingerprint {earlier.fingerprint}."]
    lines += (
        ["Since then:", *(f"  - {sentence}" for sentence in changed)] if changed else ["Nothing has changed since."]
    )
    return "\n".join(lines)


def rehearse_trial(file: Path, seed: int | None, out: Path | None) -> str:
    """Simulated data for a plan beside it; the truth lies in a file of its own until somebody asks for it."""
    plan = load_plan(file)
    number = plan.seed if seed is None else seed
    place = out or file.parent
    truth, units = invent_truth(plan, number), lay_out(plan)
    hidden = place / f"{file.stem}-rehearsal-truth.json"
    known: dict[str, Any] = {"seed": number, **truth.data()}
    try:
        place.mkdir(parents=True, exist_ok=True)
        made = write_tables(plan, units, place, f"{file.stem}-rehearsal", invent_readings(plan, units, truth, number))
        answers = _rehearse_panel(plan, units, place / f"{file.stem}-rehearsal-answers", number, known)
        written_whole(hidden, json.dumps(known, ensure_ascii=False, indent=1) + "\n")
    except OSError as error:
        raise refuse(place.as_posix(), f"cannot be written ({error.strerror}). Choose another folder.") from None
    names = "\n".join(str(path) for path in [*made, *answers])
    tasting = f"\nThe answers of the panel: waterleaf trial taste {file} {answers[0]}" if answers else ""
    return (
        f"Rehearsal data, invented from seed {number}:\n{names}\nAnalyse them as if they were yours: "
        f"waterleaf trial report {file} {made[0]}{tasting}\nThe truth is kept apart. When everybody has said what they "
        f"believe: waterleaf trial rehearse {file} --reveal"
    )


def _rehearse_panel(plan: Plan, units: Sequence[Unit], stem: Path, number: int, known: dict[str, Any]) -> list[Path]:
    """Invented answers of the panel, if the plan has one; their truth goes into `known`."""
    if plan.panel is None:
        return []
    truth, cups = invent_panel_truth(plan, plan.panel, number), serve(plan, plan.panel)
    known["panel"] = truth.data()
    filled = invent_answers(plan, plan.panel, cups, truth, number)
    return write_answers(stem.parent, stem.name, short(fingerprint(plan, units)), cups, filled, REHEARSAL)


def reveal_truth(file: Path, out: Path | None) -> str:
    """The truth behind a rehearsal, in words."""
    hidden = (out or file.parent) / f"{file.stem}-rehearsal-truth.json"
    plan = load_plan(file)
    try:
        data = json.loads(hidden.read_text(encoding="utf-8"))
        means = {str(method): float(mean) for method, mean in data["means"].items()}
        number = int(data["seed"])
        tasted = _panel_truth(data["panel"]) if "panel" in data else []
    except FileNotFoundError:
        raise refuse(hidden.name, f"no rehearsal was made yet. Run: waterleaf trial rehearse {file}") from None
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        raise refuse(hidden.name, "cannot be read. Make the rehearsal again.") from None
    lines = [f"The truth behind the rehearsal (invented, seed {number}):"]
    lines += [f"  {method:<16} {measured_amount(mean, plan)}" for method, mean in means.items()]
    far = max(means.values()) - min(means.values())
    verdict = "no method differs" if far == 0 else f"the methods differ by up to {measured_amount(far, plan)}"
    return "\n".join([*lines, f"In truth {verdict}.", *tasted, "What did the report say, and was it entitled to?"])


def _panel_truth(data: dict[str, Any]) -> list[str]:
    liking = ", ".join(f"{product} {float(mark):.1f}" for product, mark in data["liking"].items())
    first = next(iter(data["liking"]))
    return [
        f"Of the panel, {100 * float(data['share who tell apart']):.0f} % truly tell the products apart, "
        f"{100 * float(data['share who prefer the first']):.0f} % prefer {first}. Liking in points of nine: {liking}."
    ]


def read_trial(file: Path, data: Path) -> tuple[str, bool]:
    """What the table holds against the plan, and whether all is well."""
    plan, units, _ = settled(file)
    intake = take_in(plan, units, data)
    return intake_text(intake), not intake.findings


def settled(file: Path) -> tuple[Plan, tuple[Unit, ...], list[str]]:
    """The plan to analyse by, its layout, and what differs from the frozen one.

    The layout is the frozen one where there is one: beds do not move when somebody edits a file. So is everything that
    the table was printed from; what was changed since is said, not followed.
    """
    now, frozen = load_plan(file), thaw(file)
    changed = differences(frozen, now)
    return (frozen.plan, frozen.layout, changed) if frozen else (now, lay_out(now), changed)


def report_trial(file: Path, data: Path, html: Path | None, pdf: Path | None) -> tuple[str, bool]:
    """Write the report; returns what may be said, and whether data and plan agree in everything."""
    from waterleaf.trial.analysis import analyse  # the analysis is slow to load
    from waterleaf.trial.report import write_report
    from waterleaf.trial.statement import make_statement

    plan, units, changes = settled(file)
    frozen = thaw(file)
    origin = Origin(tuple(changes), fingerprint(plan, units), frozen.date if frozen else "", data.name)
    intake = take_in(plan, units, data)
    analysis = analyse(plan, units, intake.readings, margin_stands=origin.margin_stands)
    made: list[Path] = []
    if html is not None or pdf is not None:
        made = _put(html, pdf, *write_report(analysis, intake, origin, _style()))
    said = make_statement(analysis, margin_stands=origin.margin_stands)
    lines = _said(said.may, said.may_not)
    lines.append(_counted(changes, intake.findings))
    return "\n".join([*lines, *map(str, made)]), not changes and not intake.count("held")


def taste_trial(file: Path, data: Path, html: Path | None, pdf: Path | None) -> tuple[str, bool]:
    """Hold a panel's answers against the serving plan, analyse them; what may be said, and whether all agrees."""
    from waterleaf.trial.tasting import analyse_answers
    from waterleaf.trial.tasting_report import write_tasting_report
    from waterleaf.trial.tasting_statement import make_tasting_statement

    plan, units, changes = settled(file)
    panel, frozen = panel_of(plan, file.name), thaw(file)
    answers = take_in_answers(plan, units, data)
    origin = Origin(tuple(changes), fingerprint(plan, units), frozen.date if frozen else "", data.name)
    tasting = analyse_answers(plan, panel, answers, margin_stands=origin.margin_stands)
    made: list[Path] = []
    if html is not None or pdf is not None:
        made = _put(html, pdf, *write_tasting_report(tasting, answers, origin, _style()))
    said = make_tasting_statement(tasting)
    lines = [*listed(answers.findings), *([""] if answers.findings else []), *_said(said.may, said.may_not)]
    lines.append(_counted(changes, answers.findings))
    return "\n".join([*lines, *map(str, made)]), not changes and not answers.count("held")


def _said(may: Sequence[str], may_not: Sequence[str]) -> list[str]:
    """What may and may not be said, as lines."""
    return ["May be said:", *(f"  - {line}" for line in may), "May not be said:", *(f"  - {line}" for line in may_not)]


def _counted(changes: Sequence[object], findings: Sequence[object]) -> str:
    """How much differs, in words."""
    first = f"{len(changes)} difference{'s' * (len(changes) > 1)}" if changes else "No difference"
    second = f"{len(findings)} finding{'s' * (len(findings) > 1)}" if findings else "nothing amiss"
    return f"{first} from the frozen plan, {second} in the table."


def _put(html: Path | None, pdf: Path | None, page: str, printed: bytes) -> list[Path]:
    """Write the web page and the PDF where they are wanted."""
    made = [path for path in (html, pdf) if path is not None]
    for path in made:
        written_whole(path, printed if path is pdf else page)
    return made


def _style() -> Style:
    """The school's name and paper, or the defaults where the command runs outside the kit."""
    try:
        settings = load_settings(find_home())
        return Style(settings.school, paper=settings.paper, size="10pt")
    except Faults:
        return Style(size="10pt")


_FOLDERS: Final = {
    "panel": "for whoever runs the tasting; a sheet for each assessor, and the table of answers",
    "readers": "for whoever reads the instrument; codes only, and the table for the readings",
    "secret": "which code hides what. Keep it apart, with those named in codes_known_to",
}


def print_trial(file: Path, out: Path) -> str:
    """Everything on paper that a trial needs, in three folders: for readers, for the panel, and the secret keys."""
    plan, units, changes = settled(file)
    if changes:
        raise refuse(
            file.name,
            f"{changes[0]} Freeze the plan before you print: waterleaf trial plan {file} --freeze. A plan that was "
            "changed needs its old text back, or a new name.",
        )
    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise refuse(out.as_posix(), "is not empty; someone may have typed into its table. Choose another.")
    style = _style()
    readers, secret = out / "readers", out / "secret"
    with swapped_in(out) as fresh:
        for folder in (readers, secret):
            (fresh / folder.name).mkdir()
        sheets = {
            "readers/map": ("Map", fieldsheets.bed_map(plan, units)),
            "readers/tags": ("Tags", fieldsheets.tags(plan, units)),
            "readers/protocol": ("Protocol", fieldsheets.protocol(plan)),
            "readers/reading-sheets": ("Readings", fieldsheets.reading_sheets(plan, units)),
            "secret/layout-key": ("Secret key", fieldsheets.layout_key(plan, units)),
        }
        if plan.panel is not None:
            (fresh / "panel").mkdir()
            cups = serve(plan, plan.panel)
            write_answers(fresh / "panel", "answers", short(fingerprint(plan, units)), cups)
            sheets |= {
                "panel/answer-sheets": ("Panel", answer_sheets(plan, plan.panel, cups)),
                "panel/consent": ("Consent", consent_sheet(plan, plan.panel)),
                "secret/server-key": ("Secret key", server_key(plan, plan.panel, cups)),
            }
        for name, (kind, blocks) in sheets.items():
            printed = to_pdf(f"{kind}: {plan.name}", f"{kind}, {plan.name}", blocks, style)
            (fresh / f"{name}.pdf").write_bytes(printed)
        write_tables(plan, units, fresh / "readers", "readings")
        made = sorted(path.relative_to(fresh).as_posix() for path in fresh.rglob("*") if path.is_file())
    told = [f"  {folder}: {_FOLDERS[folder]}" for folder in dict.fromkeys(name.partition("/")[0] for name in made)]
    return "\n".join([f"In {out}:", *(f"  {name}" for name in made), "Who gets which:", *told])
