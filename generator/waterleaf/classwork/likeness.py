"""How alike two draws are as questions of parallel papers: what must match, and what would make one of them easier."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from waterleaf.bank.family import PartSpec
from waterleaf.bank.models import Given
from waterleaf.exercise import Exercise, PosedPart
from waterleaf.working.units import money, written

# An answer on one paper may be this many times as large as on another, and a given number may have this many figures
# more; beyond, one paper is more work than the other (both common practice, no source).
LARGEST_RATIO: Final = 3.0
FIGURES_APART: Final = 1
# A grid with fewer values than this cannot avoid its round ones.
_FEW_VALUES: Final = 6


@dataclass(frozen=True, slots=True)
class PartShape:
    """What must be the same on all papers for one part."""

    kind: str
    marks: tuple[int, int, int]
    steps: int  # printed lines of working
    changes: int  # changes of unit among them
    asked: str  # figures or decimals of the answer
    options: int

    @property
    def work(self) -> "PartShape":
        """The shape without the figures asked for, which may differ between two families and is then said."""
        return replace(self, asked="")


def shape_of(exercise: Exercise) -> tuple[PartShape, ...]:
    """The shapes of all parts of an exercise."""
    return tuple(
        PartShape(
            part.kind, (part.marks.method, part.marks.result, part.marks.unit), len(part.working),
            changes_of_unit(exercise, part), asked_of(exercise.family.parts[part.name]), len(part.options),
        )
        for part in exercise.parts
    )


def changes_of_unit(exercise: Exercise, part: PosedPart) -> int:
    """How many values of a part have to be brought into another unit before or after its relation is used."""
    spec = exercise.family.parts[part.name]
    if spec.relation is None:
        return 0
    used = [
        name for argument, name in spec.plain_names.items()
        if name in exercise.shown and exercise.shown[name].unit != written(spec.relation.parameters[argument].unit)
    ]
    return len(used) + (bool(part.unit) and written(part.unit) != written(spec.relation.result.unit))


def asked_of(spec: PartSpec) -> str:
    """How finely the answer is asked for."""
    file = spec.file
    if file.kind == "number":
        count, noun = (file.figures, "figure") if file.figures else (file.decimals, "decimal")
        return f"{count} {noun}{'' if count == 1 else 's'}"
    return {"whole": "a count", "times": "clock times", "choice": "one letter", "order": "letters in order"}[file.kind]


def figures_carried(text: str) -> int:
    """Figures that a student carries for a printed number: 20 has one, 23.5 three, 0.04 one.

    Examples
    --------
    >>> [figures_carried(text) for text in ("20", "23.5", "0.04", "1\N{NO-BREAK SPACE}200", "105")]
    [1, 3, 1, 2, 3]
    """
    digits = re.sub(r"[^\d]", "", text)
    return max(1, len(digits.strip("0")))


def drawn_numbers(exercise: Exercise) -> dict[str, str]:
    """The single numbers that are drawn anew for each paper, as they are printed."""
    found = {}
    for name, given in exercise.family.file.given.items():
        if isinstance(given, Given) and not given.fixed and given.to > given.from_:
            found[name] = exercise.shown[name].number
    return found


def too_easy(exercise: Exercise) -> str:
    """Why a draw is easier than its kind; nothing where it is not: a factor of 1, 10 or 100 is no sum to do."""
    for name, text in drawn_numbers(exercise).items():
        given = exercise.family.file.given[name]
        few = isinstance(given, Given) and (given.to - given.from_) / given.step + 1 < _FEW_VALUES
        if not few and re.sub(r"[^\d]", "", text).strip("0") == "1":
            return f"{name} would be {text}, which makes the sum easy"
    return ""


def unlike(first: Exercise, second: Exercise) -> str:
    """Why two questions cannot stand for one another on parallel papers; nothing where they can."""
    ours, theirs = shape_of(first), shape_of(second)
    if [shape.work for shape in ours] != [shape.work for shape in theirs]:
        return "parts, marks, steps or changes of unit differ"
    if first.family.key != second.family.key:
        return ""  # other stories have other numbers; what they ask for is the same work
    mine = drawn_numbers(second)
    for name, text in drawn_numbers(first).items():
        if abs(figures_carried(text) - figures_carried(mine[name])) > FIGURES_APART:
            return f"{name} has more figures on one paper ({text} and {mine[name]})"
    for one, other in zip(first.parts, second.parts, strict=True):
        if one.kind == "times" and ("later" in one.key_text or "next" in one.key_text) != (
            "later" in other.key_text or "next" in other.key_text
        ):
            return f"the times of {one.name} pass midnight on one paper alone"
        if ratio(one, other) > LARGEST_RATIO:
            return f"the answer to {one.name} is over {LARGEST_RATIO:g} times as large on one paper"
    return ""


def ratio(one: PosedPart, other: PosedPart) -> float:
    """How many times as large the larger of two answers is; 1 where they are no sizes, infinite where signs differ."""
    if one.kind not in ("number", "whole") or one.key == other.key:
        return 1.0
    if one.key * other.key <= 0:
        return float("inf")
    large, small = sorted((abs(one.key), abs(other.key)), reverse=True)
    return float(large / small)


def copyable(first: Exercise, second: Exercise) -> list[int]:
    """The places of the parts in which an answer copied from the other paper could be marked right."""
    return [
        place for place, (one, other) in enumerate(zip(first.parts, second.parts, strict=True))
        if one.unit == other.unit and one.kind == other.kind and _touch(one, other)
    ]


def _touch(one: PosedPart, other: PosedPart) -> bool:
    if one.options:
        return one.key_text == other.key_text
    if one.kind == "times":
        return one.key_text == other.key_text or _all_touch(zip(one.low, one.high, other.low, other.high, strict=False))
    return bool(one.low <= other.high and other.low <= one.high)


def _all_touch(ends: Iterator[tuple[float, float, float, float]]) -> bool:
    return all(low <= top and bottom <= high for low, high, bottom, top in ends)


def range_texts(exercises: Mapping[str, Exercise]) -> list[str]:
    """For each drawn number the least and the greatest over the papers; where families differ, for each by itself."""
    by_family: dict[str, list[Exercise]] = {}
    names: dict[str, list[str]] = {}
    for paper, exercise in exercises.items():
        by_family.setdefault(exercise.family.key, []).append(exercise)
        names.setdefault(exercise.family.key, []).append(paper)
    if len(by_family) == 1:
        return _ranges(next(iter(by_family.values())))
    return [f"{' and '.join(names[key])}: {', '.join(_ranges(own))}" for key, own in by_family.items()]


def _ranges(same: list[Exercise]) -> list[str]:
    texts = []
    for name in drawn_numbers(same[0]):
        low, *_, high = sorted([*same, *same], key=lambda exercise: float(exercise.draw.values[name]))
        least, most = low.shown[name], high.shown[name]
        start = money(least.number) if least.whole.startswith("$") else least.number
        label = name.replace("_", " ")
        texts.append(f"{label} {most.whole}" if least.number == most.number else f"{label} {start} to {most.whole}")
    return texts
