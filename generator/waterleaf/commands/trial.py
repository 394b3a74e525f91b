"""`waterleaf trial`: from a plan file to a report."""

import datetime
import re
from importlib.resources import files
from pathlib import Path

from waterleaf.faults import refuse
from waterleaf.trial.frozen import differences, freeze, frozen_path, short, thaw
from waterleaf.trial.layout import lay_out
from waterleaf.trial.plan import load_plan
from waterleaf.trial.planning import as_text, examine


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
