"""`waterleaf bank new, show, schema, map`: what an instructor needs to write an exercise."""

import json
import re
from pathlib import Path

from waterleaf.bank.builder import load_bank
from waterleaf.bank.models import FamilyFile
from waterleaf.calc import TOPICS
from waterleaf.commands import options
from waterleaf.commands.work import exercise_text
from waterleaf.draw import NoDraw, draw
from waterleaf.exercise import pose
from waterleaf.faults import nearest, refuse
from waterleaf.home import PACKED, find_home, load_settings
from waterleaf.proof import coverage
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press, PressFault
from waterleaf.writing import written_whole

_STARTER = Path(__file__).parents[1] / "bank" / "new_family.yaml"
_SHOWN = 3


def new_family(name: str) -> str:
    """Lay down a commented starting file for a family; nothing that exists is touched."""
    if not re.fullmatch(r"[a-z]+/[a-z][a-z0-9_]{2,40}", name):
        raise refuse("bank new", f"{name!r} is not topic/name in small letters, as in feed/new_bed.")
    topic = name.split("/")[0]
    if topic not in TOPICS:
        raise refuse(
            "bank new", f"{topic!r} is no topic.{nearest(topic, TOPICS)} Topics are {', '.join(TOPICS)}."
        )
    home = find_home()
    if home == PACKED:
        raise refuse(
            "bank new", "the installed bank stays as it is. Lay down your own: waterleaf start FOLDER --course."
        )
    path = home / "question_bank" / f"{name}.yaml"
    if path.exists():
        raise refuse(path.as_posix(), "this family exists already. Choose another name, or edit the file.")
    try:
        path.parent.mkdir(exist_ok=True)
        written_whole(path, _STARTER.read_text(encoding="utf-8").replace("{key}", name))
    except OSError as error:
        raise refuse(
            path.as_posix(), f"cannot be written ({error.strerror}). Mend the permissions of the folder."
        ) from None
    return f"{path}\nEdit it, then run: waterleaf bank check --families {name}"


def show_family(name: str, seed: str | None, units: str | None, pdf: Path | None) -> str:
    """Three draws with their keys, in the terminal and, if wished, on a proof sheet."""
    home = find_home()
    settings = load_settings(home)
    family = options.family(name, home / "question_bank")
    first = options.seed(seed, settings.seed)
    system = options.units(units, settings.units)
    try:
        exercises = [pose(draw(family, first + place), system) for place in range(_SHOWN)]
        if pdf is not None:
            style = Style(settings.school, f"Proof of {family.key}", settings.paper, system)
            written_whole(pdf, Press("key").pdf(paper.keys([Sheet((exercise,)) for exercise in exercises], style)))
    except (NoDraw, PressFault) as error:
        raise refuse("bank show", str(error)) from None
    return ("\n\n" + "-" * 72 + "\n\n").join(exercise_text(exercise) for exercise in exercises)


def schema() -> str:
    """JSON Schema of a family file, for editors that complete and check YAML."""
    return json.dumps(FamilyFile.model_json_schema(by_alias=True), indent=2)


def coverage_map() -> str:
    """Families by topic and level, with the goals, and the holes."""
    bank = load_bank(find_home() / "question_bank")
    found = coverage(bank)
    lines = [f"{'topic':<12}{'one step':>10}{'several':>10}{'decision':>10}"]
    holes = []
    for topic in TOPICS:
        levels = found.get(topic, {1: 0, 2: 0, 3: 0})
        lines.append(f"{topic:<12}{levels[1]:>10}{levels[2]:>10}{levels[3]:>10}")
        holes += [f"{topic}: no family at level {level}" for level, count in levels.items() if not count]
        lines += [
            f"    {f.file.level}  {f.key.split('/')[1]}: {f.file.goal}" for f in bank.values() if f.topic == topic
        ]
    return "\n".join([*lines, "", f"{len(bank)} families", *holes])
