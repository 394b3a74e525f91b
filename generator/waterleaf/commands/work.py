"""`waterleaf work`: one exercise with its worked answer, in the terminal."""

import json
from pathlib import Path
from typing import Any

from waterleaf.bank.family import Family
from waterleaf.bank.models import Given
from waterleaf.calc.quantity import Quantity
from waterleaf.commands import options
from waterleaf.draw import NoDraw, draw, draw_with
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.growing.posing import pose_bank
from waterleaf.growing.system import read_growing
from waterleaf.home import find_home, load_settings
from waterleaf.sheets.paper import accepted
from waterleaf.working.units import behind


def worked_exercise(
    name: str, words: list[str], seed: str | None, units: str | None, as_json: bool, growing: Path | None = None
) -> str:
    """The exercise drawn for a seed, or posed with typed values or those of a growing file, and its working."""
    home = find_home()
    settings = load_settings(home)
    family = options.family(name, home / "question_bank")
    number = options.seed(seed, settings.seed)
    own = options.values(words, _quantities(family))
    notes: list[str] = []
    if growing is not None:
        [family], notes = pose_bank([family], read_growing(growing), [(number, 1)])
    try:
        found = draw_with(family, own, number) if own else draw(family, number)
    except NoDraw as error:
        raise refuse("work", str(error)) from None
    exercise = pose(found, options.units(units, settings.units))
    if as_json:
        return json.dumps(_data(exercise) | ({"growing": notes} if growing else {}), ensure_ascii=False, indent=2)
    return "\n\n".join([exercise_text(exercise), *notes])


def _quantities(family: Family) -> dict[str, Quantity]:
    """The givens of a family as quantities, so that typed values are read like those of `calc`."""
    found = {}
    for name, given in family.file.given.items():
        if isinstance(given, Given):
            found[name] = Quantity(name, given.unit, name.replace("_", " "))
        else:
            found[name] = Quantity(name, given.unit, name.replace("_", " "), many=1)
    return found


def exercise_text(exercise: Exercise) -> str:
    """An exercise with its working, as plain text."""
    lines = [f"{exercise.family.file.title}  ({exercise.draw.seed}, {exercise.system})", "", exercise.story]
    if exercise.table:
        lines += ["", exercise.table.caption, "  ".join(f"{heading:>14}" for heading in exercise.table.headings)]
        lines += ["  ".join(f"{cell:>14}" for cell in row) for row in exercise.table.rows]
    if exercise.caution:
        lines += ["", f"Take care. {exercise.caution}"]
    for index, part in enumerate(exercise.parts):
        lines += ["", f"({chr(97 + index)}) {part.ask}"]
        lines += [f"      {option.letter}  {option.text}" for option in part.options]
        lines += [f"    {line.piece.plain} {behind(line.unit)}".rstrip() for line in part.working]
        lines.append(f"    Answer: {part.answer}   {accepted(part)}".rstrip())
        if part.reason:
            lines.append(f"    {part.reason}")
        lines += [f"    {slip.text}: the student {slip.turn}" for slip in part.slips]
    return "\n".join(lines)


def _data(exercise: Exercise) -> dict[str, Any]:
    return {
        "family": exercise.family.key, "version": exercise.family.file.version, "seed": exercise.draw.seed,
        "units": exercise.system, "story": exercise.story,
        "given": {name: exercise.draw.values[name] for name in exercise.family.file.given},
        "parts": [
            {
                "name": part.name, "ask": part.ask, "unit": part.unit, "key": part.key, "shown": part.answer,
                "low": part.low, "high": part.high, "working": [line.piece.plain for line in part.working],
                "slips": [{"turn": slip.turn, "value": slip.value} for slip in part.slips],
            }
            for part in exercise.parts
        ],
    }
