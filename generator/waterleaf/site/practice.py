"""Practice data: for each family fifty drawn sets in both unit systems, with everything that is shown made here.

The browser only reads, compares and shows. Each file is a script that hands its sets over, since a page opened from a
folder may load scripts and nothing else. A page loads the file with the set that it shows. Texts that differ in their
numbers alone are stored once in a file, as a pattern, with the numbers of each set beside it.
"""

import json
import re
from typing import Any, Final, get_args

from waterleaf.bank.family import Family, System
from waterleaf.draw import distinct_draws
from waterleaf.exercise import Exercise, PosedPart, pose
from waterleaf.marking.expectations import expectations, letters_expected
from waterleaf.marking.expected import Expected
from waterleaf.site.maths import working_html
from waterleaf.working.units import label

SETS: Final = 50
# A student does a few sets in one go; the fewer in a file, the lighter the page.
IN_A_FILE: Final = 25
FOLDER: Final = "assets/sets"
# Digits with what holds them together in print; the pattern keeps everything else.
_NUMBER: Final = re.compile(r"\d[\d.\u202f]*")
GAP: Final = "\x01"


class Patterns:
    """Texts taken apart into patterns, each stored once, and their numbers."""

    def __init__(self) -> None:
        """Start with no patterns."""
        self._places: dict[str, int] = {}

    def pack(self, text: str) -> list[Any]:
        """The number of the text's pattern, then the numbers that fill its gaps."""
        pattern = _NUMBER.sub(GAP, text)
        place = self._places.setdefault(pattern, len(self._places))
        return [place, *_NUMBER.findall(text)]

    @property
    def all(self) -> list[str]:
        """Every pattern, in order."""
        return list(self._places)


def practice_files(family: Family, seed: int, sets: int = SETS) -> dict[str, str]:
    """Path inside the course and script of every file with drawn sets of a family.

    Raises NoDraw where the family has too few different values.
    """
    draws = list(distinct_draws(family, f"practice-{seed}", sets))
    files: dict[str, str] = {}
    for system in get_args(System):
        posed = [pose(drawn, system) for drawn in draws]
        for place, start in enumerate(range(0, sets, IN_A_FILE), start=1):
            data = _file(family, system, posed, start)
            files[f"{FOLDER}/{family.key}-{system}-{place}.js"] = f"Waterleaf.take({script_text(data)});\n"
    return files


def _file(family: Family, system: System, posed: list[Exercise], start: int) -> dict[str, Any]:
    """One file's sets; what is the same in every set stands once, in `same`, part by part."""
    patterns = Patterns()
    data = {
        "family": family.key, "system": system, "from": start,
        "caution": family.caution,
        "same": [_same(part, patterns) for part in posed[0].parts],
        "sets": [_posed(exercise, patterns) for exercise in posed[start : start + IN_A_FILE]],
    }
    return {**data, "patterns": patterns.all}


def _same(part: PosedPart, patterns: Patterns) -> dict[str, Any]:
    if part.options:
        return {"unit": "", "hint": patterns.pack(part.hint), "kind": part.kind}
    return {
        "kind": part.kind,
        "unit": "" if part.kind == "times" else label(part.unit),
        "hint": patterns.pack(part.hint),
        "see": [slip.see for slip in part.slips],
        "says": [slip.say for slip in part.slips],
        "expected": {
            name: value for name, value in expectations(part)[0].to_json().items() if name not in _DIFFERENT
        },
    }


# Fields of what is expected that change from set to set.
_DIFFERENT: Final = ("low", "high", "coarse", "slips", "figures", "zero_ok")


def _posed(exercise: Exercise, patterns: Patterns) -> dict[str, Any]:
    data: dict[str, Any] = {
        "seed": exercise.draw.seed,
        "story": patterns.pack(exercise.story),
        "parts": [_part(part, patterns) for part in exercise.parts],
    }
    if exercise.table:
        data["table"] = {
            "caption": exercise.table.caption, "headings": exercise.table.headings, "rows": exercise.table.rows,
        }
    return data


def _part(part: PosedPart, patterns: Patterns) -> dict[str, Any]:
    data: dict[str, Any] = {"ask": patterns.pack(part.ask), "working": patterns.pack(working_html(part))}
    if part.options:
        return data | {
            "options": [[option.letter, patterns.pack(option.text)] for option in part.options],
            "expected": [letters_expected(part)],
        }
    return data | {
        "expected": [_numbers(expected) for expected in expectations(part)],
    }


def _numbers(expected: Expected) -> dict[str, Any]:
    """The numbers of one expected answer; the judge allows a hair more than is lost by shortening them."""
    data: dict[str, Any] = {
        "low": _short(expected.low), "high": _short(expected.high), "figures": expected.figures,
        "slips": [[_short(low), _short(high)] for low, high, _ in expected.slips],
    }
    if expected.coarse:
        data["coarse"] = [[_short(value), kept] for value, kept in expected.coarse]
    if expected.zero_ok:
        data["zero_ok"] = True
    return data


def _short(value: float) -> float:
    return float(f"{value:.12g}")


def script_text(data: dict[str, Any]) -> str:
    """JSON that may stand inside a script."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
